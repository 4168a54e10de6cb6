"""Batch cards: what to weigh, draw and time for every size of batch of every mix."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from blockrun.mix import BatchSize, Proportions, batch_sizes, notes, proportions_of, why_no_batch
from blockrun.show.cautions import CAUTIONS
from blockrun.show.measures import LITRES_PER_M3, bucket, by_density, by_volume, measures
from blockrun.show.page import ALARM, HEADING, QUIET, Page, glued

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.order import Order
    from blockrun.site import Mixer, Site

INDENT: Final = 4


def cards_text(site: Site, order: Order, width: int) -> Text:
    """Write a card for each mix of an order in each mixer of a site.

    Parameters
    ----------
    site, order : as they were read.
    width : characters a line.

    Returns
    -------
    The mix by the cubic metre with its notes, then every size of batch, smallest first, then the cautions.

    Raises
    ------
    OutOfRange : a mix that cannot be made; the reason is said.
    """
    page = Page(width)
    for spec in order.mixes:
        mix = proportions_of(spec, site.foam_generator.foam_density_kg_m3)
        _write_mix(page, spec.name, mix, site)
        for mixer in site.mixers:
            _write_mixer(page, spec.name, mix, mixer, site)
    for caution in CAUTIONS:
        page.line((caution, QUIET))
    return page.text()


def _write_mix(page: Page, name: str, mix: Proportions, site: Site) -> None:
    wet, dry, slurry, foam = (
        by_density(density, site.units)
        for density in (
            mix.wet_density_kg_m3,
            mix.oven_dry_density_kg_m3,
            mix.slurry_density_kg_m3,
            site.foam_generator.foam_density_kg_m3,
        )
    )
    page.rule(f"mix {name}")
    page.line(f"{wet} wet, {dry} oven-dry, slurry {slurry}, foam {foam}")
    weights = (
        bucket(density / LITRES_PER_M3, what, site.units)
        for density, what in (
            (mix.slurry_density_kg_m3, "slurry"),
            (site.foam_generator.foam_density_kg_m3, "foam"),
            (mix.wet_density_kg_m3, "mix"),
        )
    )
    page.line(f"to check, without the bucket: {', '.join(weights)}")
    page.line(
        f"water to cement: {mix.slurry_water_cement:.2f} in the slurry, {mix.total_water_cement:.2f} with the foam's; "
        f"foam {mix.foam_volume_m3:.0%} and air {mix.air_fraction:.0%} of the volume"
    )
    for note in notes(mix, site.foam_generator.foam_density_kg_m3, units=site.units):
        page.line((note, ALARM))
    page.blank()


def _write_mixer(page: Page, mix_name: str, mix: Proportions, mixer: Mixer, site: Site) -> None:
    page.line((f"{mix_name} in the {mixer.name}", HEADING))
    sizes = batch_sizes(site, mixer, mix)
    if none := why_no_batch(site, mixer, mix):
        page.line((f"No batch can be made: {none.what}. {none.todo}", ALARM))
    for size in sizes:
        _write_size(page, size, site)
    page.blank()


def _write_size(page: Page, size: BatchSize, site: Site) -> None:
    load = measures(size, size.bags, site.foam_generator, site.units)
    room = by_volume(size.room_l, site.units)
    page.line((load.bags, HEADING), f" of cement ({load.cement}), {load.slurry_water} of water")
    page.line(
        f"foam {load.foam} ({load.foam_mass}): run the generator {load.generator}; "
        f"{load.agent} of agent in {load.dilution_water} of water",
        indent=INDENT,
    )
    page.line(
        f"makes {load.makes}, of it {room} for cavities with overfill; {glued(f'{size.length_min} min')} in all",
        indent=INDENT,
    )
