"""Batch cards: what to weigh, draw and time for every size of batch of every mix."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput, OutOfRange
from blockrun.mix import BatchSize, Proportions, batch_sizes, notes, why_no_batch
from blockrun.mix.bucket_of_foam import to_weigh_foam
from blockrun.mix.dilution import tank_of
from blockrun.planner.mixes import mix_proportions
from blockrun.show.batch.buckets import buckets_of
from blockrun.show.batch.load import foam_check, measures, mix_check, slurry_check, tank_said
from blockrun.show.cautions import CAUTIONS
from blockrun.show.measures import by_density, by_scale, by_volume, in_percent
from blockrun.show.page import ALARM, HEADING, QUIET, Page, glued
from blockrun.units import counted, show

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.order import MixSpec
    from blockrun.planner.mixes import HasMixes
    from blockrun.site import Mixer, Site

INDENT: Final = 4


def cards_text(site: Site, order: HasMixes, width: int) -> Text:
    """Write a card for each mix of an order in each mixer of a site.

    Parameters
    ----------
    site, order : as they were read; of the order, its mixes are enough.

    Returns
    -------
    The mix by the cubic metre with its notes, then every size of batch, smallest first, then the cautions.
    A mix that cannot be made has the reason in place of its card.
    """
    page = Page(width, site.units)
    for spec in order.mixes:
        page.rule(f"mix {spec.name}")
        try:
            mix = mix_proportions(site, order, spec.name)[spec.name]
        except (BadInput, OutOfRange) as fault:
            page.line((f"It cannot be made: {fault.what}. {fault.todo}", ALARM))
            page.blank()
            continue
        _write_mix(page, mix, spec, order, site)
        for mixer in site.mixers:
            _write_mixer(page, spec.name, mix, mixer, site)
    for caution in CAUTIONS:
        page.line((caution, QUIET))
    return page.text()


def _write_mix(page: Page, mix: Proportions, spec: MixSpec, order: HasMixes, site: Site) -> None:
    wet, dry, slurry = (
        by_density(density, site.units)
        for density in (mix.wet_density_kg_m3, mix.oven_dry_density_kg_m3, mix.slurry_density_kg_m3)
    )
    if spec.strength_mpa is not None:
        asked = glued(show(spec.strength_mpa, "strength", site.units))
        page.line(f"for {asked} at 28 days at {glued(show(20, 'temperature', site.units))}, by the cubes of this yard")
    page.line(f"{wet} wet, {dry} oven-dry, slurry {slurry}, foam {_foam(site)}")
    page.line(_to_check(mix, site))
    if tank := tank_said(site.foam_generator, site.units):
        page.line(f"a full tank of dilution, {tank}")
    page.line(
        f"water to cement: {mix.slurry_water_cement:.2f} in the slurry, {mix.total_water_cement:.2f} with the foam's; "
        f"{_to_powder(mix)}foam {in_percent(mix.foam_volume_m3)} and air {in_percent(mix.air_fraction)} of the volume"
    )
    for note in notes(mix, site.foam_generator.density_kg_m3, units=site.units, asked=spec):
        page.line((note, ALARM))
    if spec.strength_mpa is not None:
        from blockrun.planner.whose_cubes import at_lightest_said, whose_cubes_said  # loads fits, for strengths

        for note in (
            *whose_cubes_said(site, order.mixes, {spec.name: None}),
            *at_lightest_said(site, spec, mix.oven_dry_density_kg_m3),
        ):
            page.line((note, ALARM))
    page.blank()


def _foam(site: Site) -> str:
    generator = site.foam_generator
    said = by_density(generator.density_kg_m3, site.units)
    if generator.weighed_kg_m3 is None:
        return said
    return f"{said} as last weighed; nominal {by_density(generator.foam_density_kg_m3, site.units)}"


def _to_check(mix: Proportions, site: Site) -> str:
    """What full buckets weigh, low and high."""
    buckets = buckets_of(site)
    empty = (
        f"with an empty one of {by_scale(buckets.empty_kg, site.units)}" if buckets.empty_kg else "without the bucket"
    )
    return f"to check, {empty}: {slurry_check(mix, site)}, {foam_check(site)}, {mix_check(mix, site)}"


def _to_powder(mix: Proportions) -> str:
    """Water to all that wants water, where that is more than cement."""
    if mix.powder_kg == mix.cement_kg:
        return ""
    return f"to cement, ash and lime {mix.slurry_water_powder:.2f} and {mix.total_water_powder:.2f}; "


def _write_mixer(page: Page, mix_name: str, mix: Proportions, mixer: Mixer, site: Site) -> None:
    page.line((f"{mix_name} in the {mixer.name}", HEADING))
    sizes = batch_sizes(site, mixer, mix)
    if none := why_no_batch(site, mixer, mix):
        page.line((f"No batch can be made: {none.what}. {none.todo}", ALARM))
    for size in sizes:
        _write_size(page, size, mix, site)
    page.blank()


def _write_size(page: Page, size: BatchSize, mix: Proportions, site: Site) -> None:
    load = measures(size, size.bags, mix, site)
    room = by_volume(size.room_l, site.units)
    page.line((load.bags, HEADING), f" {load.slurry}")
    dilution = load.dilution + _refill(size, site)
    page.line(f"foam {load.foam} ({load.foam_mass}): {load.runs}; {dilution}", indent=INDENT)
    page.line(
        f"makes {load.makes}, of it {room} for cavities with overfill; {glued(f'{size.length_min} min')} in all",
        indent=INDENT,
    )


def _refill(size: BatchSize, site: Site) -> str:
    """After how many such batches the tank of dilution is to be filled; nothing where it does not do one."""
    tank = tank_of(site.foam_generator)
    does = tank.batches(size.foam_kg + to_weigh_foam(site).volume_l) if tank else 0
    return f": fill it after {glued(counted(does, 'such batch'))}" if does else ""
