"""Likely causes of a batch that is off, each with its arithmetic, in the words of the yard."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.mix.bucket_of_foam import LEAST_S, dilution_of, to_weigh_foam
from blockrun.mix.causes import Cause, one_does_most
from blockrun.mix.out_of_line import Why
from blockrun.mix.volume import LITRES_PER_M3
from blockrun.show.batch.load import slurry_check
from blockrun.show.measures import by_density, by_volume, in_percent
from blockrun.show.page import HEADING, QUIET, Page, glued
from blockrun.units import digits, show

if TYPE_CHECKING:
    from blockrun.mix.card import Card
    from blockrun.site import Site

PRACTICE_MARK: Final = "[practice]"
PRACTICE_SAID: Final = f"{PRACTICE_MARK} common practice, no source"

MOST_CAUSES: Final = 3
"""More than these are not read beside a mixer (our choice), unless they were measured."""

_Words = Callable[[Cause, "Card", "Site"], str]


def write_causes(page: Page, found: Sequence[Cause], card: Card, site: Site) -> None:
    """Write the first causes in order, the likeliest first."""
    if not found:
        return
    page.blank()
    page.line(("what to look at, the likeliest first", HEADING))
    told = causes_told(found)
    for number, cause in enumerate(told, 1):
        page.line(cause_said(cause, card, site), label=f"{number}.", indent=3)
    if any(cause.is_practice for cause in told):
        page.line((PRACTICE_SAID, QUIET))
    page.blank()


def causes_told(found: Sequence[Cause]) -> list[Cause]:
    """All that were measured and so many others; household soap last, where nothing measured does most of it."""
    measured = sum(cause.measured for cause in found)
    told = list(found[: max(MOST_CAUSES, measured)])
    soap = [cause for cause in found if cause.why is Why.SOAP and cause not in told]
    return told if one_does_most(found) else told + soap


def cause_said(cause: Cause, card: Card, site: Site) -> str:
    """Put a cause into words: what, and the figures behind it."""
    said = f"{cause.why.value}: {_WORDS[cause.why](cause, card, site)}"
    return f"{said} {PRACTICE_MARK}" if cause.is_practice else said


def foam_weight(density_kg_m3: float, units: str) -> str:
    """What foam weighs, to what a scale shows: grams a litre, or pounds a cubic foot."""
    to_three = float(f"{density_kg_m3:.3g}")
    return glued(show(density_kg_m3, "density", units) if units == "US" else f"{digits(to_three)} g/L")


def _foam_off(cause: Cause, card: Card, site: Site) -> str:
    units = site.units
    assert cause.found is not None
    brings = f"{_water(cause.water_kg, units)} than the card; {_makes(cause, units)}"
    return f"{foam_weight(cause.found, units)}, and {foam_weight(card.foam_density_kg_m3, units)} is due: {brings}"


def _slurry_off(cause: Cause, card: Card, site: Site) -> str:
    due, units = slurry_check(card.mix, site), site.units
    if cause.found is not None:
        damp = "; is the sand as damp as told?" if card.mix.sand_kg else ""
        said = f"{by_density(cause.found, units)}, that is {_water(cause.water_kg, units)}; {_makes(cause, units)}"
        return said + damp
    if cause.water_kg is not None:
        ratio = glued(f"{cause.total_water_cement:.2f}")
        return (
            f"{_water(cause.water_kg, units)} would do it all, water to cement {ratio} with the foam's; {due} if right"
        )
    what = "a stiff one breaks bubbles" if cause.why is Why.SLURRY_DRY else "in a thin one bubbles rise"
    return f"not weighed; {due} if right, and {what}"


def _foam_volume(cause: Cause, card: Card, site: Site) -> str:
    units = site.units
    assert cause.found is not None
    assert cause.due is not None
    off_s = round(abs(cause.found - cause.due) / card.generator.rate_l_min * 60)
    went = f"{by_volume(cause.found, units)} in place of {by_volume(cause.due, units)}"
    if cause.measured:
        return f"{went} by the seconds that ran; {_makes(cause, units)}"
    runs = f", {glued(f'{off_s} s')} of the generator" if off_s >= LEAST_S else ""
    return f"{went} would do it all{runs}; check hose and clock"


def _at_odds(cause: Cause, card: Card, site: Site) -> str:
    assert cause.found is not None
    assert cause.wet_kg_m3 is not None
    weighs, ran = by_density(cause.found, site.units), by_density(cause.wet_kg_m3, site.units)
    return f"the foam of those seconds makes {ran}, and it weighs {weighs}; weigh again, and look at hose and clock"


def _agent(cause: Cause, card: Card, site: Site) -> str:
    units = site.units
    foam = dilution_of(card.foam_l * card.foam_density_kg_m3 / LITRES_PER_M3, card.generator)
    both = foam + to_weigh_foam(site)
    parts = f"{by_volume(both.agent_l, units)} in {by_volume(both.water_l, units)} of water"
    drawn = f"this batch takes {parts}, with the bucket weighed"
    return f"{drawn}; it settles in its drum, so stir before drawing any"


def _plainly(words: str) -> _Words:
    return lambda cause, card, site: words


def _minutes(cause: Cause, card: Card, site: Site) -> str:
    assert cause.found is not None
    assert cause.due is not None
    found, due = glued(f"{digits(cause.found)} min"), glued(f"{digits(round(cause.due, 1))} min")
    if cause.why is Why.WAITED:
        if cause.due <= 0:
            return f"{found} since the foam went in, and a pour takes longer than the mix keeps"
        return f"{found} since the foam went in, and the pour is to begin by {due} to end in time"
    if cause.why is Why.MIXED_SHORT:
        return f"{found} with the foam in, and the site says {due}: look for streaks"
    return f"{found} with the foam in, and {due} are due: bubbles merge and rise"


def _temperature(cause: Cause, card: Card, site: Site) -> str:
    units = site.units
    assert cause.found is not None
    assert cause.due is not None
    found, due = (glued(show(value, "temperature", units)) for value in (cause.found, cause.due))
    if cause.why is Why.HOT:
        return f"{found}, over {due}: it stiffens early and breaks foam; shade, cool water, a shorter pour"
    return f"{found}, under {due}: it sets late and its bubbles have time to rise; warm the water"


_WORDS: Final[dict[Why, _Words]] = {
    Why.FOAM_WET: _foam_off,
    Why.FOAM_DRY: _foam_off,
    Why.SLURRY_WET: _slurry_off,
    Why.SLURRY_DRY: _slurry_off,
    Why.WAITED: _minutes,
    Why.MIXED_LONG: _minutes,
    Why.MIXED_SHORT: _minutes,
    Why.HOT: _temperature,
    Why.COLD: _temperature,
    Why.AGENT: _agent,
    Why.FOAM_SHORT: _foam_volume,
    Why.FOAM_OVER: _foam_volume,
    Why.AT_ODDS: _at_odds,
    Why.WEIGHED: _plainly("the bucket not struck off, or weighed with it; a bag too many or too few"),
    Why.DIRT: _plainly("both break bubbles; wash it, and make the foam when the slurry is ready"),
    Why.MOULD: _plainly("look for wet joints; fill in two lifts"),
    Why.SOAP: _plainly(
        "its foam breaks. Some 30 mL (1 fl oz) of glycerine mixed through it steadies it; a purpose-made agent is "
        "steadier"
    ),
    Why.PADDLE: _plainly("it merges bubbles that then rise, or draws in air"),
}


def _water(water_kg: float | None, units: str) -> str:
    """``4.73 L more water``; a kilogram of water is taken as a litre."""
    assert water_kg is not None
    return f"{by_volume(abs(water_kg), units)} {'more' if water_kg >= 0 else 'less'} water"


def _makes(cause: Cause, units: str) -> str:
    assert cause.wet_kg_m3 is not None
    share = "" if cause.share is None else f", {_share(cause.share)} the difference"
    wet = f"by itself {by_density(cause.wet_kg_m3, units)}{share}"
    return f"water to cement {cause.total_water_cement:.2f} with the foam's, {wet}"


def _share(share: float) -> str:
    return f"{in_percent(share)} of" if share <= 1 else "more than"
