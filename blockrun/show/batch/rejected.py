"""Why a batch is rejected, in words: each reason with its figures, and what of it was only reckoned."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from blockrun.mix.card import Mixing
from blockrun.mix.check import Checked, Reject
from blockrun.mix.corrections import Added
from blockrun.mix.tolerances import Tolerances
from blockrun.show.measures import by_density, in_percent, measured_out
from blockrun.show.page import glued
from blockrun.units import digits

_OF_WHAT_COMES_OUT: Final = frozenset({Reject.OFF, Reject.DRY, Reject.WATER})


def rejected_said(checked: Checked, mixing: Mixing, allowed: Tolerances, units: str) -> Iterator[str]:
    """Say each reason why a batch is rejected; of one that would need a correction, that it is so with that."""
    said = _reasons(checked, mixing, allowed, units)
    for reason in checked.rejected:
        if checked.needed and reason in _OF_WHAT_COMES_OUT:
            yield f"no correction makes it right: with {_needed(checked, units)} it would have {said[reason]}."
        else:
            yield f"{reason.value}: {said[reason]}."
    if checked.rejected == (Reject.NO_TIME,) and checked.found is not None:
        dries = by_density(checked.found.oven_dry_density_kg_m3, units)
        yield f"as it is, it dries to {dries}: poured now, it is only for blocks that may be so."


def _reasons(checked: Checked, mixing: Mixing, allowed: Tolerances, units: str) -> dict[Reject, str]:
    lost, sank = checked.air_lost or 0.0, checked.seen.sank or 0.0
    gone, pour = _gone(checked, mixing), f"the pour takes {glued(f'{digits(mixing.pour_time_min)} min')}"
    dry, water = _dries(checked, units), _water(checked, allowed)
    wet = f"a mix off by more than {in_percent(allowed.wet, 1)} dries to another density than was ordered"
    if not checked.needed:
        dry += ", though the wet mix weighs what it should"
    return {
        Reject.SANK: f"{in_percent(sank, 1)} of its height in an hour, over {in_percent(allowed.sank, 1)}: it went "
        "flat",
        Reject.OFF: wet,
        Reject.DRY: dry,
        Reject.WATER: water,
        Reject.FOAM_LOST: f"{in_percent(lost)} of its air is lost, over {in_percent(allowed.foam_lost)}; more would go "
        "the same way",
        Reject.TOO_LATE: f"{gone}, and {pour}",
        Reject.NO_TIME: f"{gone}; {_needs(checked, units)}, and {pour}",
    }


def _gone(checked: Checked, mixing: Mixing) -> str:
    since = digits(checked.since_min(mixing))
    of = glued(f"{digits(mixing.pour_life_min)} min")
    if checked.seen.since_foam_min is None:
        return f"at least {since} of {of} are gone, the time to blend the foam in (give --since)"
    return f"{since} of {of} are gone"


def _dries(checked: Checked, units: str) -> str:
    """``an oven-dry density of 470 kg/m3, due 500 kg/m3 (-6.0 %)``."""
    out, due = checked.comes_out, checked.card.mix.oven_dry_density_kg_m3
    if out is None:
        return ""
    dry = out.oven_dry_density_kg_m3
    off = in_percent(dry / due - 1, 1, signed=True)
    return f"an oven-dry density of {by_density(dry, units)}, due {by_density(due, units)} ({off})"


def _water(checked: Checked, allowed: Tolerances) -> str:
    out, due = checked.comes_out, checked.card.mix.total_water_cement
    if out is None:
        return ""
    ratio = out.total_water_cement
    return (
        f"water to cement {ratio:.2f} with the foam's, due {due:.2f} "
        f"({in_percent(ratio / due - 1, 1, signed=True)}, over {in_percent(allowed.water)}): weak, and its bubbles rise"
    )


def _needed(checked: Checked, units: str) -> str:
    """``the 13.6 L of foam that its weight takes``."""
    step = checked.needed[-1]
    what = "slurry" if step.what is Added.SLURRY else "foam"
    return f"the {measured_out(step.added.volume_l, units)} of {what} that its weight takes"


def _needs(checked: Checked, units: str) -> str:
    """What it would take and until when, where there is no time left for it."""
    if not checked.needed:
        return ""
    step = checked.needed[-1]
    if step.latest_min < 0:
        return f"{_needed(checked, units)}, {glued(f'{step.takes_min} min')}, can never be added in time"
    by = glued(f"{int(step.latest_min + 1e-9)} min")
    return f"{_needed(checked, units)}, {glued(f'{step.takes_min} min')}, had to be begun by {by} after the foam"
