"""The answer to the check of a batch: the verdict first, then what to do, then why."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blockrun.mix.card import Card, Mixing
from blockrun.mix.causes import Cause, causes
from blockrun.mix.check import Added, Checked, Correction, Reject, Tolerances, Verdict, check
from blockrun.mix.seen import Seen
from blockrun.mix.typed import Typed, read_seen, read_tolerances
from blockrun.show.batch_asked import batch_asked
from blockrun.show.causes import PRACTICE_SAID, cause_said, foam_weight
from blockrun.show.cautions import SHORT
from blockrun.show.load import mix_check
from blockrun.show.measures import by_density, by_mass, by_volume
from blockrun.show.page import ALARM, HEADING, QUIET, Page, glued
from blockrun.units import digits, show

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.site import Site

INDENT: Final = 2
STYLES: Final = {Verdict.PASS: HEADING, Verdict.CORRECT: ALARM, Verdict.REJECT: ALARM}


def check_text(places: Sequence[Path], typed: Typed, width: int) -> Text:
    """Check a batch and say what to do with it.

    Parameters
    ----------
    places : the folder of a saved plan, with ``batch`` typed; or site and order, with ``bags`` typed, and ``mix`` and
        ``mixer`` where there are several.
    typed : the options, as :func:`blockrun.mix.typed.read_seen` and :func:`~blockrun.mix.typed.read_tolerances` take
        them.
    width : characters a line.

    Raises
    ------
    BadInput, OutOfRange, BadPlan : a file, an option or a measurement is wrong.
    """
    asked = batch_asked(places, typed)
    site = asked.site
    allowed, seen = read_tolerances(typed, site.buckets), read_seen(typed, site.units, site.buckets)
    checked = check(asked.card, asked.mixing, seen, allowed, units=site.units)
    return _text(asked.heading, checked, asked.mixing, allowed, site, width)


def _text(heading: str, checked: Checked, mixing: Mixing, allowed: Tolerances, site: Site, width: int) -> Text:
    page = Page(width)
    page.rule(heading)
    page.line((f"{checked.verdict.value.upper()}: ", STYLES[checked.verdict]), _in_short(checked))
    for line in (*_rejected(checked, mixing, allowed), *_what_to_do(checked, mixing, site)):
        page.line(line, indent=INDENT)
    for line in seen_said(checked, site.units):
        page.line(line)
    write_causes(page, causes(checked, mixing, allowed), checked.card, site)
    page.line(_allowed(allowed), indent=0)
    page.line((SHORT, QUIET))
    return page.text()


def write_causes(page: Page, found: list[Cause], card: Card, site: Site) -> None:
    """Write causes in order, those measured apart from those to look into."""
    if not found:
        return
    page.blank()
    page.line(("likely causes, the likeliest first", HEADING))
    for number, cause in enumerate(found, 1):
        page.line(cause_said(cause, card, site), label=f"{number}.", indent=3)
    if any(cause.is_practice for cause in found):
        page.line((PRACTICE_SAID, QUIET))
    page.blank()


def seen_said(checked: Checked, units: str) -> Iterator[str]:
    """What was measured, against what is due, and what the batch so is."""
    card, seen = checked.card, checked.seen
    pairs = (
        ("foam", seen.foam_kg_m3, card.foam_density_kg_m3, foam_weight),
        ("slurry", seen.slurry_kg_m3, card.mix.slurry_density_kg_m3, by_density),
        ("mix", seen.wet_kg_m3, card.mix.wet_density_kg_m3, by_density),
    )
    for what, value, due, said in pairs:
        if value is not None:
            yield f"{what} {said(value, units)}, due {said(due, units)} ({value / due - 1:+.1%})"
    found = checked.found
    if found is None:
        return
    lost = checked.air_lost or 0.0
    yield (
        f"so it is: {by_volume(found.volume_l, units)}, air {found.air_fraction:.0%}, water to cement "
        f"{found.total_water_cement:.2f}, dries to {by_density(found.oven_dry_density_kg_m3, units)} (due "
        f"{by_density(card.mix.oven_dry_density_kg_m3, units)}); "
        + (f"{lost:.0%} of the foam's air is lost" if lost >= 0 else f"{-lost:.0%} more air than the foam held")
    )


def _in_short(checked: Checked) -> str:
    if checked.verdict is Verdict.REJECT:
        if checked.is_poured:
            return "set its blocks aside: they are not what was ordered."
        return "do not pour it for this order; empty it where it does no harm."
    if checked.verdict is Verdict.CORRECT:
        before = "put it right before foam and slurry come together."
        return before if checked.found is None else "add, blend in, and weigh again before pouring."
    if checked.is_poured:
        return "its blocks may stay."
    return "go on." if checked.found is None else "pour it."


def _rejected(checked: Checked, mixing: Mixing, allowed: Tolerances) -> Iterator[str]:
    lost, sank = checked.air_lost or 0.0, checked.seen.sank or 0.0
    gone = digits(checked.seen.since_foam_min or 0.0)
    said = {
        Reject.SANK: f"{sank:.1%} of its height in an hour, over {allowed.sank:.1%}: it went flat",
        Reject.OFF: f"a mix off by more than {allowed.wet:.1%} dries to another density than was ordered",
        Reject.FOAM_LOST: f"{lost:.0%} of its air is lost, over {allowed.foam_lost:.0%}; more would go the same way",
        Reject.TOO_LATE: f"{gone} of {digits(mixing.pour_life_min)} min are gone since the foam went in",
        Reject.NO_TIME: f"{gone} of {digits(mixing.pour_life_min)} min are gone, and the pour alone takes "
        f"{digits(mixing.pour_time_min)}",
        Reject.NO_FOAM: "this foam is heavier than the mix is to be: it is water",
    }
    for reason in checked.rejected:
        yield f"{reason.value}: {said[reason]}."


def _what_to_do(checked: Checked, mixing: Mixing, site: Site) -> Iterator[str]:
    units = site.units
    for step in checked.corrections:
        yield _step(step, checked, units)
    if checked.corrections:
        last = checked.corrections[-1]
        weighs = mix_check(checked.card.mix, site)
        holds = by_volume(mixing.usable_l, units)
        yield f"it then makes {by_volume(last.after.volume_l, units)} (the mixer holds {holds}), and {weighs}"
        dries = by_density(last.after.oven_dry_density_kg_m3, units)
        yield f"water to cement {last.after.total_water_cement:.2f}, dries to {dries}"
        yield _time(last, checked.seen)
    elif checked.verdict is Verdict.PASS and checked.found is not None and not checked.is_poured:
        yield from _time_left(checked.seen, mixing)


def _step(step: Correction, checked: Checked, units: str) -> str:
    first = f"first take out {by_volume(step.take_out_l, units)}, then " if step.take_out_l else ""
    added, card = step.added, checked.card
    if step.what is Added.WATER:
        return f"{first}add {by_volume(added.water_kg, units)} of water to the slurry"
    if step.what is Added.CEMENT:
        return f"{first}add {by_mass(added.cement_kg, units)} of cement to the slurry"
    if step.what is Added.SLURRY:
        parts = [f"{by_mass(added.cement_kg, units)} of cement", f"{by_volume(added.water_kg, units)} of water"]
        further = {name: kg / card.mix.cement_kg * added.cement_kg for name, kg in card.mix.further.items()}
        parts += [f"{by_mass(kg, units)} of {name}" for name, kg in further.items()]
        return f"{first}add {by_volume(added.volume_l, units)} of slurry, mixed apart: {', '.join(parts)}"
    runs = glued(f"{round(added.volume_l / card.generator.rate_l_min * 60)} s")
    if checked.found is None:
        return (
            f"{first}put in {by_volume(added.volume_l, units)} of this foam (the card says "
            f"{by_volume(card.foam_l, units)}): run the generator {runs}"
        )
    return f"{first}add {by_volume(added.volume_l, units)} of foam: run the generator {runs}"


def _time(step: Correction, seen: Seen) -> str:
    takes = glued(f"{step.takes_min} min")
    if seen.since_foam_min is None:
        return f"it takes {takes}: there is time until {glued(f'{digits(step.latest_min)} min')} after the foam went in"
    left = glued(f"{digits(step.latest_min - seen.since_foam_min)} min")
    return f"it takes {takes}: begin within {left}, and the pour life holds"


def _time_left(seen: Seen, mixing: Mixing) -> Iterator[str]:
    if seen.since_foam_min is None:
        return
    left, pour = mixing.pour_life_min - seen.since_foam_min, mixing.pour_time_min
    yield f"{glued(f'{digits(left)} min')} of its pour life are left, and the pour takes {glued(f'{digits(pour)} min')}"
    if left < pour:
        yield "that is not enough for all of it: pour at once, and weigh again half way"


def _allowed(allowed: Tolerances) -> str:
    return (
        f"allowed (our choice): mix {_percent(allowed.wet)}, foam {_percent(allowed.foam)}, slurry "
        f"{_percent(allowed.slurry)} off; sinking {_percent(allowed.sank)} in an hour"
    )


def _percent(share: float) -> str:
    return glued(show(share, "fraction"))
