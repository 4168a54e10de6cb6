"""What is left of a material, how far it goes, and what of it nobody recorded, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import day_name
from blockrun.mix.batches import in_bags
from blockrun.planner.supplies import SPECK
from blockrun.planner.uses import CEMENT, UNITS
from blockrun.show.measures import by_mass, by_volume
from blockrun.show.page import ALARM, HEADING, Part, glued
from blockrun.units import listed

if TYPE_CHECKING:
    from blockrun.planner.progress import Reserve
    from blockrun.planner.supplies import Supply

_QUARTERS: Final = 4
_TENTHS: Final = 10


def reserve_said(reserve: Reserve, units: str) -> Iterator[Sequence[Part]]:
    """Say what is left of a material, and until when."""
    if reserve.amount < -SPECK:
        short = amount_said(reserve.material, -reserve.amount, units)
        said = f"{short} more drawn than was there. Count it, or record what came"
        yield [(f"{reserve.material}: ", HEADING), (said, ALARM)]
    else:
        counted = f" (counted {glued(day_name(reserve.counted.date()))})" if reserve.counted else ""
        left = amount_said(reserve.material, max(0.0, reserve.amount), units)
        yield [(f"{reserve.material}: ", HEADING), f"{left} left{counted}, ", *_until(reserve, units)]
    yield from ([said] for said in _untold(reserve, units))


def runs_out(reserves: Iterable[Reserve]) -> str:
    """``cement and foaming agent out from Mon 19 Apr``; empty where none of them runs out."""
    out = [(reserve.out_on, reserve.material) for reserve in reserves if reserve.out_on is not None]
    if not out:
        return ""
    return f"{listed([name for _, name in out])} out from {glued(day_name(min(day for day, _ in out)))}"


def _until(reserve: Reserve, units: str) -> list[Part]:
    """Until when it lasts, and what to order."""
    if not reserve.used:
        return ["none needed any more"]
    need = f"{amount_said(reserve.material, reserve.used, units)} still needed: "
    if reserve.out_on is None:
        return [need, f"lasts to the last pour{_to_come(reserve, units)}"]
    out = (f"runs out {glued(day_name(reserve.out_on))}", ALARM)
    if reserve.missing < SPECK:
        return [need, out, f", before {_supplies(reserve.to_come, reserve.material, units)}"]
    short = f", {amount_said(reserve.material, reserve.missing, units)} short"
    return [need, out, short, (f", order {_when(reserve)}", ALARM)]


def _when(reserve: Reserve) -> str:
    if reserve.at_once:
        return "at once"
    return f"by {glued(day_name(reserve.order_by))}" if reserve.order_by else "more"


def _to_come(reserve: Reserve, units: str) -> str:
    """What must come for it, where what is left does not do by itself."""
    if reserve.amount >= reserve.used - SPECK:
        return ""
    return f", with {_supplies(reserve.to_come, reserve.material, units)}"


def _supplies(supplies: tuple[Supply, ...], name: str, units: str) -> str:
    return listed([f"{amount_said(name, one.amount, units)} on {_day(one)}" for one in supplies])


def _day(supply: Supply) -> str:
    assert supply.day is not None
    return glued(day_name(supply.day))


def _untold(reserve: Reserve, units: str) -> Iterator[str]:
    if reserve.untold and reserve.used:
        said = _supplies(reserve.untold, reserve.material, units)
        if reserve.believed:
            yield f"{said}: taken as come, for nobody records or counts {reserve.material}"
        else:
            yield f"{said}: not recorded, so not in it; if it came, record it"


def amount_said(name: str, amount: float, units: str) -> str:
    """Say so much of a material in what it is counted in; bags to quarters, else to tenths."""
    if name != CEMENT:
        return by_mass(amount, units) if UNITS[name] == "kg" else by_volume(amount, units)
    quarters = round(amount * _QUARTERS)
    if abs(amount * _QUARTERS - quarters) < SPECK:
        return glued(in_bags(Fraction(quarters, _QUARTERS)))
    tenths = Fraction(round(amount * _TENTHS), _TENTHS)
    return glued(in_bags(tenths) if tenths.denominator == 1 else f"{float(tenths):.1f} bags")
