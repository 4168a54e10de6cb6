"""What to add to a batch in the mixer, in amounts that can be measured there, and until when."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

from blockrun.mix.bucket_of_foam import dilution_of
from blockrun.mix.card import Card, Mixing
from blockrun.mix.check import Checked
from blockrun.mix.contents import Contents
from blockrun.mix.corrections import BUCKETFUL_L, Added, Correction
from blockrun.mix.seen import Seen
from blockrun.mix.volume import LITRES_PER_M3
from blockrun.show.batch.load import mix_check, slurry_check, solids_said
from blockrun.show.measures import by_density, by_volume, measured_out, weighed_out
from blockrun.show.page import glued
from blockrun.units import digits

if TYPE_CHECKING:
    from blockrun.site import Site


def what_to_do(checked: Checked, mixing: Mixing, site: Site) -> Iterator[str]:
    """Say what to add to a batch, what comes of it, and how long there is to do it and to pour."""
    units = site.units
    for step in checked.corrections:
        yield _step(step, checked, units)
    if checked.corrections and checked.found is not None:
        last = checked.corrections[-1]
        holds, makes = by_volume(mixing.usable_l, units), by_volume(last.after.volume_l, units)
        yield f"it then makes {makes} (the mixer holds {holds}), and {mix_check(checked.card.mix, site)}"
        dries = by_density(last.after.oven_dry_density_kg_m3, units)
        yield f"water to cement {last.after.total_water_cement:.2f} with the foam's, dries to {dries}"
        yield _time(last, checked, mixing)
    elif checked.corrections:
        yield f"count the bags; {slurry_check(checked.card.mix, site)} if right"
    elif checked.found is not None and not (checked.is_poured or checked.rejected or checked.waits):
        yield from _time_left(checked.seen, mixing)


def _step(step: Correction, checked: Checked, units: str) -> str:
    first = f"first take out {measured_out(step.take_out_l, units)}, then " if step.take_out_l else ""
    added, card = step.added, checked.card
    again = f", mix {glued(f'{step.takes_min} min')} and weigh the slurry again"
    if step.what is Added.WATER:
        water = f"{measured_out(added.water_kg, units)} of water ({weighed_out(added.water_kg, units)})"
        return f"add {water} to the slurry, half of it first{again}"
    if step.what is Added.CEMENT:
        return f"add {weighed_out(added.cement_kg, units)} of cement to the slurry{again}"
    if step.what is Added.SLURRY:
        return f"{first}add {_slurry_said(added, card, units)}"
    runs = runs_said(added.volume_l, card)
    if checked.found is None:
        out = f"take {measured_out(step.take_out_l, units)} of the slurry out, " if step.take_out_l else ""
        return (
            f"once that is right, {out}put in {measured_out(added.volume_l, units)} of foam in place of "
            f"{measured_out(card.foam_l, units)}: run the generator {runs}"
        )
    foam = f"{measured_out(added.volume_l, units)} of foam ({weighed_out(added.mass_kg, units)})"
    dilution = dilution_of(added.mass_kg, card.generator)
    takes = f"{measured_out(dilution.volume_l, units)} of dilution, {by_volume(dilution.agent_l, units)} of it agent"
    return f"{first}add {foam}: run the generator {runs}; it takes {takes}"


def runs_said(foam_l: float, card: Card) -> str:
    """How long the generator runs for so much foam: ``12 s``."""
    return glued(f"{round(foam_l / card.generator.rate_l_min * 60)} s")


def _slurry_said(added: Contents, card: Card, units: str) -> str:
    mix, m3 = card.mix, added.cement_kg / card.mix.cement_kg
    parts = [
        f"{weighed_out(added.cement_kg, units)} of cement",
        f"{weighed_out(mix.tap_water_kg * m3, units)} of water",
    ]
    parts += solids_said(mix, m3 * LITRES_PER_M3, units)
    weighs = weighed_out(added.mass_kg, units)
    where = "a bucket with a drill" if added.volume_l <= BUCKETFUL_L else "another mixer or tub"
    return f"{measured_out(added.volume_l, units)} of slurry ({weighs}), mixed apart in {where}: {', '.join(parts)}"


def _time(step: Correction, checked: Checked, mixing: Mixing) -> str:
    takes = glued(f"{step.takes_min} min")
    if checked.seen.since_foam_min is None:
        latest, least = _whole_min(step.latest_min), glued(f"{digits(checked.since_min(mixing))} min")
        return (
            f"it takes {takes}: begin by {latest} after the foam went in, and the pour life holds (taken as {least} "
            "ago, the time to blend it in; give --since)"
        )
    left = _whole_min(step.latest_min - checked.since_min(mixing))
    return f"it takes {takes}: begin within {left}, and the pour life holds"


def _time_left(seen: Seen, mixing: Mixing) -> Iterator[str]:
    takes = glued(f"{digits(mixing.pour_time_min)} min")
    if seen.since_foam_min is None:
        by = _whole_min(mixing.pour_by_min)
        yield f"begin by {by} after the foam went in: the pour takes {takes} (give --since to be told what is left)"
        return
    yield f"begin within {_whole_min(mixing.pour_by_min - seen.since_foam_min)}: the pour takes {takes}"


def _whole_min(left_min: float) -> str:
    """Whole minutes that are left, begun ones not counted."""
    return glued(f"{math.floor(left_min + 1e-9)} min")
