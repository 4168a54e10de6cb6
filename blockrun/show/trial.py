"""A trial batch: its card in small, then what it really was and what to change."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.mix import Proportions, notes
from blockrun.mix.card import Card, card_of_bags
from blockrun.mix.causes import causes
from blockrun.mix.seen import Seen
from blockrun.mix.trial import BY_HAND, LEAST_SLURRY_WATER, Next, Tried, tried
from blockrun.mix.typed import USUAL, Typed, read_seen, read_tolerances
from blockrun.order.mixes_alone import load_mixes
from blockrun.planner.mixes import mix_proportions
from blockrun.show.batch_asked import mix_named, read_bags
from blockrun.show.buckets import buckets_of
from blockrun.show.causes import foam_weight, slurry_check
from blockrun.show.cautions import SHORT
from blockrun.show.check import seen_said, write_causes
from blockrun.show.load import foam_check, mix_check
from blockrun.show.measures import LITRES_PER_M3, by_density, by_mass, by_volume
from blockrun.show.page import ALARM, HEADING, QUIET, Page
from blockrun.site import load_site
from blockrun.units import read

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.site import Site

INDENT: Final = 2
LEAST_L: Final = 0.5
MOST_L: Final = 1000.0
ASKED_FOR: Final = "Make a trial when the cement or the foaming agent comes from another lot."


def trial_text(site_file: Path, order_file: Path, typed: Typed, width: int) -> Text:
    """Write the card of a trial batch; once something of it was measured, what it was and what to change.

    Parameters
    ----------
    site_file, order_file : as they were typed.
    typed : ``mix``, and ``bucket`` or ``bags``, and what was measured as
        :func:`blockrun.mix.typed.read_seen` takes it.
    width : characters a line.

    Raises
    ------
    BadInput, OutOfRange : a file, an option or a measurement is wrong.
    """
    site, order = load_site(site_file), load_mixes(order_file)
    spec = mix_named(order, typed.get("mix"))
    card = _card(site, mix_proportions(site, order, spec.name)[spec.name], typed)
    seen = read_seen(typed, site.units, site.buckets)
    page = Page(width)
    page.rule(f"trial of {spec.name}: {by_volume(card.makes_l, site.units)}")
    for line in _put_in(card, site):
        page.line(line)
    if seen == Seen():
        for note in notes(card.mix, card.foam_density_kg_m3, units=site.units):
            page.line((note, ALARM))
        page.line("Weigh foam and mix, mark the level, look after an hour; then add what you saw, such as")
        page.line("--foam 102g/L --weight 8.6kg --sank 3mm --of 200mm", indent=INDENT)
    else:
        _write_result(page, tried(card, seen, read_tolerances(typed, site.buckets), units=site.units), site)
    page.line(ASKED_FOR)
    page.line((SHORT, QUIET))
    return page.text()


def _card(site: Site, mix: Proportions, typed: Typed) -> Card:
    bucket_said, bags = typed.get("bucket"), typed.get("bags")
    if bags is not None:
        if bucket_said is not None:
            raise BadInput("--bucket and --bags are two sizes of one trial", "Leave one of them out.", name="--bags")
        return card_of_bags(site, mix, read_bags(bags))
    text = bucket_said or USUAL[site.units]
    makes_l = read(text, "volume").value
    if not LEAST_L <= makes_l <= MOST_L:
        raise BadInput(f"--bucket {text} is no trial batch", "Write how much mix to make, such as 10L.", value=text)
    return Card(mix, makes_l, site.foam_generator)


def _put_in(card: Card, site: Site) -> Iterator[str]:
    units = site.units
    slurry, foam_kg = card.slurry, card.whole.mass_kg - card.slurry.mass_kg
    further = [
        f"{by_mass(kg * card.makes_l / LITRES_PER_M3, units)} of {name}" for name, kg in card.mix.further.items()
    ]
    dry = ", ".join([f"{by_mass(slurry.cement_kg, units)} of cement", *further])
    yield f"{dry}, {by_volume(slurry.water_kg, units)} of water"
    weighs = f"{by_mass(foam_kg, units)}, {foam_weight(card.foam_density_kg_m3, units)}"
    dilution = f"{by_volume(card.agent_l, units)} of agent in {by_volume(foam_kg - card.agent_l, units)} of water"
    yield f"foam {by_volume(card.foam_l, units)} ({weighs}): {dilution}"
    empty = "with the bucket" if buckets_of(site).empty_kg else "without the bucket"
    yield f"{empty}: {slurry_check(card.mix, site)}, {foam_check(site)}, {mix_check(card.mix, site)}"


def _write_result(page: Page, trial: Tried, site: Site) -> None:
    units = site.units
    page.blank()
    page.line(("what it was", HEADING))
    for line in (*seen_said(trial.checked, units), *_after_hour(trial, units)):
        page.line(line, indent=INDENT)
    page.line(("what to change", HEADING))
    for line in _changes(trial, units):
        page.line(line, indent=INDENT)
    write_causes(page, causes(trial.checked, BY_HAND), trial.checked.card, site)


def _after_hour(trial: Tried, units: str) -> Iterator[str]:
    found, after, sank = trial.checked.found, trial.after_hour, trial.checked.seen.sank
    if sank is not None:
        yield f"sank {sank:.1%} of its height in an hour"
    if found is not None and after is not None:
        lost = (found.volume_l - after.volume_l) / found.air_l
        yield f"after it {by_density(after.wet_density_kg_m3, units)}: {lost:.0%} of the air in it had gone"


def _changes(trial: Tried, units: str) -> Iterator[str]:
    card, following = trial.checked.card, trial.after
    if following is None:
        lost = trial.checked.air_lost
        yield (
            "Weigh foam and mix; without them nothing can be said."
            if lost is None
            else f"Find the cause first: {lost:.0%} of the foam's air is lost. Do not make it larger."
        )
        return
    if following.too_dry:
        yield (
            f"Dry the foam: it brings so much water that under {LEAST_SLURRY_WATER:.2f} of the powder would be left "
            f"for the slurry. {foam_weight(card.foam_density_kg_m3, units)} is due."
        )
        return
    yield from _amounts(following, card, units)


def _amounts(following: Next, card: Card, units: str) -> Iterator[str]:
    water, foam = following.slurry_water_kg / card.slurry_water_kg - 1, following.foam_l / card.foam_l - 1
    if abs(water) < 0.01 and abs(foam) < 0.02:
        yield "Nothing: it was as on the card."
        return
    yield (
        f"Next time {by_volume(following.slurry_water_kg, units)} of water ({water:+.1%}) and "
        f"{by_volume(following.foam_l, units)} of foam ({foam:+.1%}); the same shares on every size of batch."
    )
    if following.stiffer:
        yield f"That takes {following.stiffer:.2f} off the water to cement, since it sank; see after an hour again."
    if abs(following.foam_kg_m3 / card.foam_density_kg_m3 - 1) > 0.01:
        due, now = foam_weight(card.foam_density_kg_m3, units), foam_weight(following.foam_kg_m3, units)
        yield f"Or bring the foam back to {due}; if it stays, write weighed: {now} in the site's foam_generator."
    yield (
        f"It then makes {by_volume(following.made.volume_l, units)} of "
        f"{by_density(following.made.wet_density_kg_m3, units)}, water to cement "
        f"{following.made.total_water_cement:.2f}, if as much foam is lost again."
    )
