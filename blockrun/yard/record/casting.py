"""Until blocks are on a rack: poured, sides, stripped, moved."""

from __future__ import annotations

from collections.abc import Iterable

from blockrun import units
from blockrun.errors import BadInput
from blockrun.planner.as_planned import PlannedCast
from blockrun.yard.journal.events import AnyEvent, Blocks, Fill, Moved, Poured, SidesOff, Stripped
from blockrun.yard.now import Standing
from blockrun.yard.record.blocks import blocks_of, blocks_typed, counts_of, without
from blockrun.yard.record.extra import EXTRA, OF_NO_PLAN, filled_extra, next_extra
from blockrun.yard.record.known import Known
from blockrun.yard.record.words import Words


def poured(words: Words, known: Known) -> list[AnyEvent]:
    """``7``, ``7 gang-4/1 gang-4/2``, ``7 without gang-4/3``, ``7 gang-4/3=gang-4/5``, ``7 again``, ``extra ...``."""
    if words.take_if(EXTRA):
        mix, fills = filled_extra(words, known)
        return [_poured(known, OF_NO_PLAN, next_extra(known), mix, fills)]
    number = words.number("the number of a batch, or extra")
    batches = known.plan.batches
    if number not in batches:
        todo = (
            f"It has the batches {min(batches)} to {max(batches)}. One that no plan has: blockrun record DIR poured "
            "extra MOULD MARK ... mix NAME"
        )
        raise BadInput(f"the plan has no batch {number}", todo)
    again = words.take_if("again") or known.again
    if (before := known.poured(number)) and not again:
        todo = f"If it was made a second time: blockrun record DIR poured {number} again"
        raise BadInput(f"batch {number} was poured already, {before[-1]:%Y-%m-%d %H:%M}{_by(number, known)}", todo)
    fills = _changed(words, known, _fills(batches[number]))
    return [_poured(known, known.plan.id, number, batches[number][0].mix, fills)]


def _by(number: int, known: Known) -> str:
    """Who recorded a batch, where that is told."""
    batch = known.plan.recorded_as(number)
    of = (one for one in known.entries if isinstance(one.event, Poured) and batch == (one.event.plan, one.event.batch))
    entry = max(of, key=lambda one: one.number, default=None)
    return "" if entry is None else f", entry {entry.number}{f', by {entry.event.who}' * bool(entry.event.who)}"


def _poured(known: Known, plan: str, number: int, mix: str, fills: Iterable[Fill]) -> Poured:
    taken = known.measured
    return Poured(
        batch=number,
        plan=plan,
        mix=mix,
        fills=tuple(fills),
        foam_g_l=_density(taken.foam, "foam"),
        wet_density_kg_m3=_density(taken.weight, "wet mix"),
        mix_degc=None if taken.temperature is None else units.read(taken.temperature, "temperature").value,
    )


def _fills(casts: Iterable[PlannedCast]) -> list[Fill]:
    """What the plan pours into each mould; one whose cavity is sawn into several blocks is named for each of them."""
    moulds: dict[tuple[str, str], list[dict[int, str]]] = {}
    for cast in sorted(casts, key=lambda one: (one.mould, one.base, one.cavity)):
        layers = moulds.setdefault((cast.mould, cast.base), [])
        free = next((layer for layer in layers if cast.cavity not in layer), None)
        if free is None:
            free = {}
            layers.append(free)
        free[cast.cavity] = cast.mark
    return [
        Fill(mould=mould, base=base, marks=tuple(layer.get(cavity, "") for cavity in range(1, max(layer) + 1)))
        for (mould, base), layers in moulds.items()
        for layer in layers
    ]


def _changed(words: Words, known: Known, fills: list[Fill]) -> list[Fill]:
    """Fills as planned but for moulds that are named: only these, or without them, or another in the place of one."""
    but = words.take_if("without")
    named: dict[str, str] = {}
    others: dict[str, str] = {}
    while words.peek:
        mould, _, other = words.take("a mould").partition("=")
        name = known.mould(mould)
        if name not in {part for fill in fills for part in (fill.mould, fill.base)}:
            filled = ", ".join(sorted({fill.base or fill.mould for fill in fills}))
            raise BadInput(f"the plan does not pour this batch into {name}", f"It fills {filled}.")
        (others if other else named)[name] = known.mould(other) if other else name
    kept = [fill for fill in fills if not named or ({fill.mould, fill.base}.isdisjoint(named) == but)]
    if not kept:
        raise BadInput("no mould is left to pour into")
    return [_renamed(fill, others) for fill in kept]


def _renamed(fill: Fill, others: dict[str, str]) -> Fill:
    mould, base = others.get(fill.mould, fill.mould), others.get(fill.base, fill.base)
    return fill.model_copy(update={"mould": mould, "base": base})


def _density(written: str | None, what: str) -> float | None:
    if written is None:
        return None
    try:
        return units.read(written, "density").value
    except BadInput as fault:
        fault.todo = f"Write the density of the {what}, such as 806kg/m3; blockrun check makes one of what it weighs."
        raise


def sides(words: Words, known: Known) -> list[AnyEvent]:
    """``tray-3/2``: the sides come off the base they are on."""
    here = known.standing(words.take("a mould"))
    if not here.base:
        raise BadInput(f"{here.mould} has no base: its sides come off with the strip", "Record the strip: stripped.")
    if not here.sides_on:
        raise BadInput(f"the sides are off {here.base} already")
    return [SidesOff(mould=here.mould, base=here.base)]


def stripped(words: Words, known: Known) -> list[AnyEvent]:
    """``gang-4/3``, ``gang-4/3 1 C broken``, ``... to west``, ``... stays``: the move to the rack follows at once."""
    here = known.standing(words.take("a mould"))
    there = here.blocks.counts
    told: dict[str, tuple[Blocks, ...]] = {}
    while words.is_number:
        blocks = blocks_typed(words, there.keys())
        how = "broken" if words.take_if("broken") else "whole" if words.take_if("whole") else ""
        if not how:
            raise BadInput("whole or broken?", "Write it behind the number, such as: 1 broken.")
        told[how] = (*told.get(how, ()), *blocks)
    broken, whole = counts_of(told.get("broken", ())), counts_of(told.get("whole", ()))
    if "whole" not in told:
        whole = without(there, broken)
    elif "broken" not in told:
        broken = without(there, whole)
    strip = Stripped(mould=here.mould, base=here.base, whole=blocks_of(whole), broken=blocks_of(broken))
    return [strip, *_to_rack(words, known, here, strip)]


def _to_rack(words: Words, known: Known, here: Standing, strip: Stripped) -> list[AnyEvent]:
    """The move that follows a strip, unless the blocks stay."""
    if words.take_if("stays", "stay"):
        return []
    rack = known.rack(words.take("a rack")) if words.take_if("to") else None
    if not strip.whole:
        return []
    return [Moved(rack=rack or known.rack_for(here.place, here.batches), blocks=strip.whole, mould=here.place)]


def moved(words: Words, known: Known) -> list[AnyEvent]:
    """``gang-4/3``, ``gang-4/3 to west``, ``4 full to west``."""
    place = "" if words.is_number else known.mould(words.take("a mould, or so many blocks"))
    out = known.state.out.get(place)
    if place and not out:
        todo = f"If it is stripped just now: blockrun record DIR stripped {place}"
        raise BadInput(f"nothing lies beside {place} to be moved", todo)
    kinds = known.kinds if out is None else out.counts.keys()
    blocks = blocks_typed(words, kinds)
    batches = [] if out is None else [lot.batch for _, lot in out.lots()]
    to = words.take_if("to") or bool(words.peek)
    rack = known.rack(words.take("a rack")) if to else known.rack_for(place, batches)
    return [Moved(rack=rack, blocks=blocks or blocks_of(out.counts if out else {}), mould=place)]
