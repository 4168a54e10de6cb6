"""A trial batch: its card in small, then what it really was and what to change."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput, OutOfRange
from blockrun.mix import Proportions, notes
from blockrun.mix.batches import SLACK_L
from blockrun.mix.bucket_of_foam import LEAST_S, dilution_of, foam_bucket_l, usual_l
from blockrun.mix.card import Card, card_of_bags
from blockrun.mix.causes import causes
from blockrun.mix.check import Checked
from blockrun.mix.refusals import LEAST_TAP_WATER
from blockrun.mix.seen import Seen
from blockrun.mix.tolerances import Tolerances
from blockrun.mix.trial import BY_HAND, STIFFER, Advice, Next, Tried, tried
from blockrun.mix.typed import USUAL, Typed, read_seen, read_tolerances
from blockrun.mix.volume import LITRES_PER_M3
from blockrun.order.mixes_alone import load_mixes
from blockrun.planner.mixes import mix_proportions
from blockrun.show.batch.asked import mix_named, read_bags
from blockrun.show.batch.buckets import buckets_of, small_l
from blockrun.show.batch.causes import foam_weight, write_causes
from blockrun.show.batch.check import IN_THE_YARD, seen_said
from blockrun.show.batch.load import dilution_said, foam_check, mix_check, slurry_check, solids_said
from blockrun.show.measures import by_density, by_mass, by_volume, in_percent
from blockrun.show.page import ALARM, GLUE, HEADING, INDENT, QUIET, Page, glued
from blockrun.site import load_site
from blockrun.units import digits, in_unit, read

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.site import Site

LEAST_LOSS: Final = 0.15
"""Air lost that is named before the sinking (our choice)."""

LEAST_L: Final = 0.5
MOST_L: Final = 1000.0
BY_HAND_L: Final = 20.0
"""More than this is not mixed in a bucket (our choice)."""

SANK: Final = {
    "SI": "--sank 3mm --of 200mm",
    "US": "--sank 0.1in --of 8in",
}
ASKED_FOR: Final = "Make a trial when the cement or the foaming agent comes from another lot."


def trial_text(site_file: Path, order_file: Path, typed: Typed, width: int) -> Text:
    """Write the card of a trial batch; once something of it was measured, what it was and what to change.

    Parameters
    ----------
    site_file, order_file : as they were typed.
    typed : ``mix``, and ``bucket`` or ``bags``, and what was measured as
        :func:`blockrun.mix.typed.read_seen` takes it.

    Raises
    ------
    BadInput, OutOfRange : a file, an option or a measurement is wrong.
    """
    site, order = load_site(site_file), load_mixes(order_file)
    spec = mix_named(order, typed.get("mix"))
    card = _card(site, mix_proportions(site, order, spec.name)[spec.name], typed)
    _check_held(card, site)
    seen = read_seen(typed, site.units, site.buckets)
    page = Page(width)
    page.rule(f"trial of {spec.name}: {by_volume(card.makes_l, site.units)}")
    if seen == Seen():
        for line in _put_in(card, site):
            page.line(line)
        for note in notes(card.mix, card.foam_density_kg_m3, units=site.units, asked=spec):
            page.line((note, ALARM))
        page.line("Weigh foam and mix, mark the level, look after an hour; then add what you saw, such as")
        page.line(_example(card, site), indent=INDENT)
    else:
        allowed = read_tolerances(typed, site.buckets)
        _write_result(page, tried(card, seen, allowed, units=site.units), allowed, site)
    page.line(ASKED_FOR)
    page.line((IN_THE_YARD, QUIET))
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
    dry = [f"{by_mass(slurry.cement_kg, units)} of cement", *solids_said(card.mix, card.makes_l, units)]
    yield f"{', '.join(dry)}, {by_volume(card.tap_water_kg, units)} of water"
    weighs = f"{by_mass(foam_kg, units)}, {foam_weight(card.foam_density_kg_m3, units)}"
    bucket_l = foam_bucket_l(site)
    weighed_l = bucket_l if bucket_l <= card.foam_l * (1 + 1e-9) else small_l(units)
    made_up = dilution_of((card.foam_l + weighed_l) * card.foam_density_kg_m3 / LITRES_PER_M3, card.generator)
    dilution = f"{dilution_said(made_up, units)}, for {by_volume(weighed_l, units)} of foam to weigh too"
    seconds = card.foam_l / card.generator.rate_l_min * 60
    runs = (
        f"; run the generator {glued(f'{seconds:.0f} s')}"
        if seconds >= LEAST_S
        else ", by the mark: too little to time"
    )
    yield f"foam {by_volume(card.foam_l, units)} ({weighs}): {dilution}{runs}"
    checks = (
        slurry_check(card.mix, site, slurry.volume_l),
        foam_check(site, card.foam_l),
        mix_check(card.mix, site, card.makes_l),
    )
    empty = "with the bucket" if any("and bucket" in check for check in checks) else "without the container"
    yield f"{empty}: {', '.join(checks)}"
    if card.makes_l > BY_HAND_L:
        yield "Too much to mix by hand: mix it in a drum, washed."


def _check_held(card: Card, site: Site) -> None:
    """Refuse a trial that no mixer of the yard holds."""
    most_l = max(mixer.usable_volume_l for mixer in site.mixers)
    if card.makes_l > most_l + SLACK_L:
        makes, holds = (by_volume(litres, site.units) for litres in (card.makes_l, most_l))
        what = f"a trial of {makes} is more than any mixer of the site holds, {holds}"
        raise OutOfRange(
            what, "Make less: a bucket is enough.", name="bucket", value=card.makes_l, limit=most_l, unit="L"
        )


def _example(card: Card, site: Site) -> str:
    """What to type for this very card, as if all were as due and a little had sunk."""
    units = site.units
    unit, litre = ("lb", "gal") if units == "US" else ("kg", "L")
    bucket_l = buckets_of(site).mix_l or usual_l(units)
    in_litres = bucket_l if bucket_l <= card.makes_l * (1 + 1e-9) else small_l(units)
    mass = in_unit(card.mix.wet_density_kg_m3 * in_litres / LITRES_PER_M3, "mass", unit)
    size = digits(float(f"{in_unit(in_litres, 'volume', litre):.3g}"))
    foam = foam_weight(card.foam_density_kg_m3, units).replace(GLUE, "").replace(" ", "")
    return f"--foam {foam} --weight {mass:.2f}{unit}/{size}{litre} {SANK[units]}"


def _write_result(page: Page, trial: Tried, allowed: Tolerances, site: Site) -> None:
    units = site.units
    page.line(("what to do", HEADING))
    for line in _advised(trial, units):
        page.line(line, indent=INDENT)
    page.line(("what it was", HEADING))
    for line in (*seen_said(trial.checked, units), *_after_hour(trial, units)):
        page.line(line, indent=INDENT)
    write_causes(page, causes(trial.checked, BY_HAND, allowed), trial.checked.card, site)


def _after_hour(trial: Tried, units: str) -> Iterator[str]:
    found, after, sank = trial.checked.found, trial.after_hour, trial.checked.seen.sank
    if sank is not None:
        yield f"sank {in_percent(sank, 1)} of its height in an hour"
    if found is not None and after is not None:
        lost = (found.volume_l - after.volume_l) / found.air_l
        yield f"after it {by_density(after.wet_density_kg_m3, units)}: {in_percent(lost)} of the air in it had gone"


def _advised(trial: Tried, units: str) -> Iterator[str]:
    """One thing at a time: whatever was not as on the card first."""
    checked, following = trial.checked, trial.after
    if following is not None:
        yield from _amounts(trial.advice, following, checked.card, units)
        return
    over = checked.slurry.water_kg - checked.card.slurry_water_kg
    due = foam_weight(checked.card.foam_density_kg_m3, units)
    side = "over" if over > 0 else "short"
    said = {
        Advice.NOTHING: "Nothing: it was as on the card.",
        Advice.WEIGH: "Weigh foam and mix; without them nothing can be said.",
        Advice.COUNT: "Weigh again: it holds more air than any foam brings. Is it this mix?",
        Advice.REPEAT_WATER: f"Repeat the card before you change it: its water was {by_volume(abs(over), units)} "
        f"{side}.",
        Advice.REPEAT_FOAM: f"Bring the foam to {due} and repeat the card. If it stays as it is, write "
        f"weighed: {foam_weight(checked.foam_kg_m3, units)} in the site's foam_generator; the card then follows.",
        Advice.REPEAT_WARM: "Repeat the card with a slurry neither cold nor hot.",
        Advice.CAUSE: f"Find the cause first: {_went_wrong(checked)}. Do not make it larger.",
    }
    yield said[trial.advice]


def _went_wrong(checked: Checked) -> str:
    """What became of the foam."""
    lost, sank = checked.air_lost or 0.0, checked.seen.sank
    if sank and lost < LEAST_LOSS:
        return f"it sank {in_percent(sank, 1)}"
    return f"{in_percent(lost)} of the foam's air is lost"


def _amounts(advice: Advice, following: Next, card: Card, units: str) -> Iterator[str]:
    tap_kg = following.slurry_water_kg - card.sand_water_kg
    if tap_kg < LEAST_TAP_WATER * following.slurry_water_kg:
        brings, due = (by_volume(kg, units) for kg in (card.sand_water_kg, following.slurry_water_kg))
        yield f"Let the sand dry and repeat the card: it brings {brings} of water, and the next slurry takes {due}."
        return
    water, foam = tap_kg / card.tap_water_kg - 1, following.foam_l / card.foam_l - 1
    yield (
        f"Next time {by_volume(tap_kg, units)} of water ({in_percent(water, 1, signed=True)}) and "
        f"{by_volume(following.foam_l, units)} of foam ({in_percent(foam, 1, signed=True)}); "
        "the same shares on every size of batch."
    )
    wet = by_density(following.made.wet_density_kg_m3, units)
    ratio = f"water to cement {following.made.total_water_cement:.2f} with the foam's"
    if advice is Advice.STIFFER:
        stiffer = card.mix.slurry_water_cement - STIFFER
        yield (
            f"The slurry is {STIFFER:.2f} stiffer, since it sank: write slurry_water_cement: {stiffer:.2f} in the "
            f"order, and card and check follow. It then weighs {wet}, lighter by that water, {ratio}."
        )
        return
    yield f"It then makes {by_volume(following.made.volume_l, units)} of {wet}, {ratio}, if foam behaves as it did."
