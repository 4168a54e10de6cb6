"""What foam and mix weigh, against what they should."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from blockrun.mix.weighing import foam_said
from blockrun.planner.learned import Change, Finding
from blockrun.units import show
from blockrun.yard.learn.spread import LEAST, Median, median_of

if TYPE_CHECKING:
    from blockrun.mix import Proportions
    from blockrun.yard.learn.past import Past

OTHER_CARDS = "All cards change with it: foam of another weight brings other water, and other volume."
HEAVY = "foam is lost in the mixer or too little of it went in: see blockrun check, and blockrun chart"
LIGHT = "too much foam, or too little slurry: see blockrun check, and blockrun chart"


def foam_weight(past: Past) -> Finding:
    """What foam weighs."""
    site = past.plan.site
    weighed = [pour.event.foam_g_l for pour in past.foamed if pour.event.foam_g_l is not None]
    key = "foam_density" if site.foam_generator.weighed_kg_m3 is None else "weighed"
    now = site.foam_generator.density_kg_m3
    about, says = "Foam", f"{key} {foam_said(now, site.units)}"
    if len(weighed) < LEAST:
        verdict = f"too few to tell ({len(weighed)} of {LEAST})"
        return Finding(about, says, f"weighed {_times(len(weighed))}", verdict, notes=past.other_foam)
    found = median_of(weighed)
    low, middle, high = (foam_said(value, site.units) for value in (found.low, found.middle, found.high))
    seen = f"weighed {_times(found.n)}: {middle}, likely {low.partition(' ')[0]} to {high}"
    new = float(round(found.middle))
    if not found.excludes(now) or new == now:
        return Finding(about, says, seen, "as the site says", notes=past.other_foam)
    change = Change(key, ("foam_generator", key), "density", now, new)
    return Finding(about, says, seen, "", change, (OTHER_CARDS, *past.other_foam))


def mix_weights(past: Past, mixes: dict[str, Proportions]) -> Iterator[Finding]:
    """What wet mix weighs, and so how much a batch makes."""
    for name in sorted({pour.planned.mix for pour in past.foamed} & mixes.keys()):
        planned = mixes[name].wet_density_kg_m3
        weighed = [
            pour.event.wet_density_kg_m3
            for pour in past.foamed
            if pour.planned.mix == name and pour.event.wet_density_kg_m3 is not None
        ]
        about, says = f"What a batch of {name} makes", f"{_mix_said(planned, past)} as poured"
        if len(weighed) < LEAST:
            seen = f"weighed {_times(len(weighed))}"
            yield Finding(about, says, seen, f"too few to tell ({len(weighed)} of {LEAST})")
        else:
            yield _of_mix(about, says, median_of([kg_m3 / planned for kg_m3 in weighed]), planned, past)


def _of_mix(about: str, says: str, found: Median, planned: float, past: Past) -> Finding:
    low, middle, high = (_mix_said(planned * share, past) for share in (found.low, found.middle, found.high))
    seen = f"weighed {_times(found.n)}: {middle}, likely {low.partition(' ')[0]} to {high}"
    percent = round(abs(1 / found.middle - 1) * 100)
    if not found.excludes(1) or not percent:
        return Finding(about, says, seen, "as planned")
    heavy = found.middle > 1
    verdict = f"makes {percent} % {'less' if heavy else 'more'} than planned: {HEAVY if heavy else LIGHT}"
    return Finding(about, says, seen, verdict)


def _times(count: int) -> str:
    return "once" if count == 1 else f"{count} times"


def _mix_said(kg_m3: float, past: Past) -> str:
    return show(round(kg_m3), "density", past.plan.site.units)
