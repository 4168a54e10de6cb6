"""The answer to the check of a batch: the verdict first, then what to do, then why."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blockrun.mix.card import Mixing
from blockrun.mix.causes import causes
from blockrun.mix.check import Checked, Verdict, Wait, check
from blockrun.mix.seen import Seen, check_seen
from blockrun.mix.tolerances import Tolerances
from blockrun.mix.typed import Typed, read_seen, read_tolerances, weighed_in
from blockrun.mix.weighing import Container
from blockrun.show.batch.asked import batch_asked
from blockrun.show.batch.causes import foam_weight, write_causes
from blockrun.show.batch.charted import LEAST_SHARE
from blockrun.show.batch.rejected import rejected_said
from blockrun.show.batch.what_to_do import what_to_do
from blockrun.show.measures import by_density, by_mass, by_volume, in_percent
from blockrun.show.page import ALARM, HEADING, INDENT, QUIET, Page, glued
from blockrun.units import digits, listed, show, show_degrees, show_share

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.cure.pour_life import PourLife
    from blockrun.show.batch.asked import BatchAsked
    from blockrun.site import Site

STYLES: Final = {verdict: HEADING if verdict is Verdict.PASS else ALARM for verdict in Verdict}

SAY_ALL: Final = frozenset({Wait.COUNT, Wait.WARM, Wait.COOL, Wait.WEIGH})
"""What to do first is all there is to say then: a cause would say it again, or of a figure that cannot be."""

LEAST_OF_CARD: Final = 0.5
"""A mix in doubt that weighs less than this share of its card is another one, or weighed wrong (our choice)."""

LEAST_AIR: Final = 0.005
"""Less air than this share, lost or won, is rounding."""

IN_THE_YARD: Final = "Fresh mix burns skin and eyes; keep leads dry; lift with help or a trolley."
"""The cautions in a line, for an answer read while the mixer turns."""


def check_text(places: Sequence[Path], typed: Typed, width: int) -> Text:
    """Check a batch and say what to do with it.

    Parameters
    ----------
    places : the folder of a saved plan, with ``batch`` typed; or site and order, with ``bags`` typed, and ``mix`` and
        ``mixer`` where there are several.
    typed : the options, as :func:`blockrun.mix.typed.read_seen` and :func:`~blockrun.mix.typed.read_tolerances` take
        them.

    Raises
    ------
    BadInput, OutOfRange, BadPlan : a file, an option or a measurement is wrong.
    """
    asked = batch_asked(places, typed)
    site = asked.site
    allowed, seen = read_tolerances(typed, site.buckets), read_seen(typed, site.units, site.buckets)
    check_seen(asked.card, seen, site.units)
    life = _cut_by_heat(asked, seen, allowed)
    mixing = replace(asked.mixing, pour_life_min=life.minutes) if life else asked.mixing
    checked = check(asked.card, mixing, seen, allowed, units=site.units)
    weighed = weighed_in(typed, site.units, site.buckets)
    return _text(asked, checked, mixing, life, allowed, weighed, width)


def _cut_by_heat(asked: BatchAsked, seen: Seen, allowed: Tolerances) -> PourLife | None:
    """The pour life where heat cuts it: that of the slurry measured, else of the hour of its foam in the plan."""
    at, site = asked.foam_at, asked.site
    warm_c = (seen.slurry_c, None if at is None else site.weather.day(at.date()).max_c)
    holds_c = min(allowed.warmest_c, site.pour_life_up_to_c or allowed.warmest_c)
    if not any(celsius is not None and celsius > holds_c for celsius in warm_c):
        return None
    from blockrun.cure.pour_life import pour_life_of  # ages and their library are loaded in heat alone

    life = pour_life_of(site, seen.slurry_c, at)
    return None if life.hot_c is None else life


def _heat_said(life: PourLife | None, site: Site) -> Iterator[str]:
    if life is None or life.hot_c is None:
        return
    from blockrun.cure.pour_life import OUR_CHOICE, holds_up_to_c, hot_over_c  # likewise

    keeps, usual = glued(f"{life.minutes:g} min"), glued(f"{digits(site.pour_life_min)} min")
    warm = glued(show_degrees(life.hot_c, site.units))
    of = f"its slurry is at {warm}" if life.measured else f"air of {warm} is expected for its foam; give --temperature"
    holds_c = (hot_over_c if life.measured else holds_up_to_c)(site)
    over = glued(show_degrees(holds_c, site.units))
    how = f"over {over} it sets as fast as it ages ({OUR_CHOICE})"
    yield f"the heat cuts the pour life to {keeps}, not {usual}: {of}; {how}"


def _text(
    asked: BatchAsked,
    checked: Checked,
    mixing: Mixing,
    life: PourLife | None,
    allowed: Tolerances,
    weighed: Mapping[Container, Sequence[str]],
    width: int,
) -> Text:
    page, site = Page(width, asked.site.units), asked.site
    page.rule(asked.heading)
    page.line((f"{checked.verdict.value.upper()}: ", STYLES[checked.verdict]), _in_short(checked))
    said = (
        *rejected_said(checked, mixing, allowed, site.units),
        *_first(checked, site, allowed),
        *what_to_do(checked, mixing, site),
    )
    for line in said:
        page.line(line, indent=INDENT)
    for line in (
        *_heat_said(life, site),
        *seen_said(checked, site.units),
        *_weighed_said(weighed, site.units),
    ):
        page.line(line)
    if not (set(checked.waits) & SAY_ALL or _is_of_another(checked)):
        write_causes(page, causes(checked, mixing, allowed), checked.card, site)
    page.line(_allowed(allowed), indent=0)
    page.line((IN_THE_YARD, QUIET))
    return page.text()


def _is_of_another(checked: Checked) -> bool:
    """Whether what was weighed cannot be of the card, so that its figures would explain nothing."""
    due = checked.card.mix.wet_density_kg_m3
    return (
        Wait.DOUBT in checked.waits
        and checked.seen.wet_kg_m3 is not None
        and checked.seen.wet_kg_m3 < LEAST_OF_CARD * due
    )


def _weighed_said(weighed: Mapping[Container, Sequence[str]], units: str) -> Iterator[str]:
    for container, things in weighed.items():
        off = by_mass(container.empty_kg, units) if container.empty_kg else "nothing"
        what = f"{listed(things)} " if len(weighed) > 1 else ""
        yield f"{what}weighed in {by_volume(container.volume_l, units)}, {off} taken off for it"


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
            yield f"{what} {said(value, units)}, due {said(due, units)} {_beside(value / due - 1)}"
    found = checked.found
    if found is None:
        return
    yield (
        f"so it is: {by_volume(found.volume_l, units)}, air {in_percent(found.air_fraction)}, water to cement "
        f"{found.total_water_cement:.2f} with the foam's, dries to {by_density(found.oven_dry_density_kg_m3, units)} "
        f"(due {by_density(card.mix.oven_dry_density_kg_m3, units)}){_air_said(checked.air_lost or 0.0)}"
    )


def _beside(share: float) -> str:
    return f"({in_percent(share, 1, signed=True)})" if abs(share) >= LEAST_SHARE else "(as due)"


def _air_said(lost: float) -> str:
    """Say what became of the foam's air, where it is more than a bucket shows."""
    if abs(lost) < LEAST_AIR:
        return ""
    share = in_percent(abs(lost))
    return f"; {share} of the foam's air is lost" if lost > 0 else f"; {share} more air than the foam held"


def _in_short(checked: Checked) -> str:
    if checked.verdict is Verdict.REJECT:
        return _rejected_in_short(checked)
    if checked.verdict is Verdict.WAIT:
        return f"{checked.waits[0].value}.".replace("?.", "?")
    if checked.verdict is Verdict.CORRECT:
        return "the slurry first." if checked.found is None else "add, blend in, and weigh again before pouring."
    if checked.is_poured:
        return "its blocks may stay."
    go = "go on" if checked.found is None else "pour it"
    return f"{go}, but look: {', '.join(why.value for why in checked.off)}." if checked.off else f"{go}."


def _rejected_in_short(checked: Checked) -> str:
    if checked.is_poured:
        return "set its blocks aside: they are not what was ordered."
    return "do not pour it for this order; empty it where it does no harm."


def _first(checked: Checked, site: Site, allowed: Tolerances) -> Iterator[str]:
    """What to put right before anything else, the verdict's own words left out."""
    card, units = checked.card, site.units
    due = foam_weight(card.foam_density_kg_m3, units)
    runs = glued(f"{round(card.foam_l / card.generator.rate_l_min * 60)} s")
    said = {
        Wait.COUNT: "so much water is no slip of the cup: was the bucket struck off and its weight taken off? One bag "
        "too many or too few shows so.",
        Wait.DOUBT: "no correction makes this mix of that; pour nothing until it is known.",
        Wait.FOAM: f"{due} is due: look at air, agent and water of the generator; the slurry waits, keep it turning.",
        Wait.WARM: f"{_limit(checked, site, allowed)} is the least: sun, warm water round the drum, a later hour.",
        Wait.COOL: f"{_limit(checked, site, allowed)} is the most: shade, cold water round the drum; use it soon.",
        Wait.WEIGH: "foam and slurry are together, so only the mix tells what it is.",
        Wait.RAN: f"{in_percent(checked.air_lost or 0)} of the air due is missing. Did it run short, check again with"
        f" --ran and its seconds, to be told what to add. Did it run {runs} as due, do not pour: a mix that loses over "
        f"{in_percent(allowed.foam_lost)} of its air breaks its foam, and more would go the same way.",
    }
    for place, wait in enumerate(checked.waits):
        is_said = place == 0 and checked.verdict is Verdict.WAIT
        yield said[wait] if is_said else f"{wait.value}: {said[wait]}"


def _limit(checked: Checked, site: Site, allowed: Tolerances) -> str:
    is_hot = Wait.COOL in checked.waits
    return glued(show(allowed.warmest_c if is_hot else allowed.coldest_c, "temperature", site.units))


def _allowed(allowed: Tolerances) -> str:
    return (
        f"allowed (our choice): mix {_percent(allowed.wet)}, foam {_percent(allowed.foam)}, slurry "
        f"{_percent(allowed.slurry)} off; sinking {_percent(allowed.sank)} in an hour"
    )


def _percent(share: float) -> str:
    return glued(show_share(share))
