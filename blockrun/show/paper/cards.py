"""The batch cards of a day: for the hands at the mixer, in the order in which they need each figure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any, Final

from blockrun.cure.pour_life import OUR_CHOICE
from blockrun.files.day_names import clock, full_day_name
from blockrun.show.batch.buckets import buckets_of, counted_in
from blockrun.show.batch.load import BY_THE_MARK, Measures, foam_weighs, measures, mix_weighs, most_to_weigh_l
from blockrun.show.cautions import BURNS
from blockrun.show.jobs import fills_said, kept_said, left_said, short_of_time
from blockrun.show.lots import trial_asked
from blockrun.show.measures import WATER_KG_L, bags_of, by_volume
from blockrun.show.page import GLUE
from blockrun.show.paper.press import Sheet
from blockrun.show.paper.too_heavy import too_heavy
from blockrun.show.words import capital
from blockrun.units import digits

if TYPE_CHECKING:
    from blockrun.show.batch.buckets import Weighs
    from blockrun.show.day import Day, Pour
    from blockrun.show.paper.asked import Asked
    from blockrun.site import Mixer, Site

STOP: Final = "STOP"


@dataclass(frozen=True)
class Step:
    """One thing to do at the mixer.

    Attributes
    ----------
    do : what, in a word or two.
    figure : how much, in the marks of the vessel, the scale or the clock: the large print of the card.
    aside : what goes with it, in small print.
    measured : unit of what is measured really; empty where there is nothing to write down.
    stop : nothing goes on before this is right.
    """

    do: str
    figure: str
    aside: str = ""
    measured: str = ""
    stop: bool = False


def batch_cards(asked: Asked, day: Day) -> Iterator[Sheet]:
    """The cards of a day, two to a page; nothing on a day without a batch."""
    if day.pours:
        cards = [_card(pour, asked.plan.site) | _trials(pour, day) for pour in day.pours]
        yield Sheet("cards", {"cards": cards, "caution": BURNS})


def _trials(pour: Pour, day: Day) -> dict[str, list[str]]:
    """Trials that are to come before this batch: it is the first of another lot."""
    return {"trials": [trial_asked(new) for new in day.new_lots if new.batch == pour.batch.batch]}


def _card(pour: Pour, site: Site) -> dict[str, Any]:
    batch = pour.batch
    mixer = next(mixer for mixer in site.mixers if mixer.name == batch.mixer)
    return {
        "batch": str(batch.batch),
        "mix": batch.mix,
        "mixer": batch.mixer,
        "day": full_day_name(batch.start.date()),
        "start": clock(batch.start),
        "short": short_of_time(pour),
        "steps": [asdict(step) for step in _steps(pour, mixer, site)],
        "heavy": asdict(too_heavy(pour, mixer, site)),
        "pour": _pouring(pour, site),
        "moulds": [{"names": names, "contents": contents} for names, contents in fills_said(pour.fills, site.units)],
        "cubes": [cubes.said(site) for cubes in pour.cubes],
        "left": [capital(said) for said in left_said(pour.left, site.units)],
    }


def _steps(pour: Pour, mixer: Mixer, site: Site) -> Iterator[Step]:
    """All up to the weighed mix, in the order of the hands: foam is weighed before cement is wetted for it.

    By the time that is mixed what was weighed is too old to go in: it is thrown away.
    """
    load = measures(pour.batch, bags_of(pour.batch.bags), pour.mix, site)
    yield from _dilution(pour, load, site)
    yield _weighing("foam", foam_weighs(site), ", then throw the foam away")
    yield _water(pour, load, site)
    yield Step("Cement", load.bags, load.cement, "bags")
    yield from (Step(capital(what), weight, "", _unit(weight)) for what, weight in load.solids)
    yield Step("Mix", f"{mixer.slurry_time_min} min", "with charging", "min")
    yield _foam_in(load, mixer)
    yield _weighing("mix", mix_weighs(pour.mix, site, most_to_weigh_l(pour.batch.yield_l)))


def _foam_in(load: Measures, mixer: Mixer) -> Step:
    """By the clock of the generator; so little of it that nobody can time it by the mark of a bucket."""
    timed = load.by_the_clock
    aside = f"{load.foam if timed else BY_THE_MARK}; blend {mixer.foam_time_min} min"
    figure, measured = (load.generator, "s") if timed else (load.foam, _unit(load.foam))
    return Step("Foam in", figure, f"{aside}; tank: {load.refills}" if load.refills else aside, measured)


def _water(pour: Pour, load: Measures, site: Site) -> Step:
    """By the bucket where the yard counts it so: ``5 x 10 L + 2.5 L``."""
    bucket_l = buckets_of(site).water_l
    counted = counted_in(pour.batch.slurry_water_kg / WATER_KG_L, bucket_l, site.units)
    if counted is None:
        return Step("Water", load.water, "", _unit(load.water))
    rest = f" + {counted.rest}" if counted.rest else ""
    return Step("Water", f"{counted.full} \u00d7 {counted.size}{rest}", f"{load.water} in all", _unit(load.water))


def _dilution(pour: Pour, load: Measures, site: Site) -> Iterator[Step]:
    """Agent and water for the generator: for this batch and the foam weighed, or a tank that is to be filled first."""
    share, units = site.foam_generator.agent_share, site.units
    if site.foam_generator.tank_l is None:
        yield Step("Agent", f"{load.agent} in {load.agent_water}", f"in water, {load.in_all}")
    elif pour.tank_fills:
        fill_l = pour.tank_fills[0]
        parts = f"{by_volume(fill_l * share, units)} in {by_volume(fill_l * (1 - share), units)}"
        yield Step("Fill tank", parts, f"agent in water: {by_volume(fill_l, units)} in all")


def _unit(amount: str) -> str:
    """``kg`` of ``37.5 kg``."""
    return amount.rpartition(GLUE)[2]


def _weighing(what: str, weighs: Weighs, then: str = "") -> Step:
    bucket = f"{weighs.size}{' and bucket' if weighs.gross else ''}{then}"
    return Step(f"weigh {what}", weighs.limits, bucket, weighs.unit, stop=True)


def _pouring(pour: Pour, site: Site) -> dict[str, str]:
    """The limit of a pour by the clock that starts with its foam; times of the plan in small print."""
    kept = kept_said(pour, site)
    return {
        "within": f"{digits(pour.pour_life.minutes)} min",
        "by": clock(pour.pour_by),
        "foam": clock(pour.batch.foam_at),
        "heat": f"{kept} ({OUR_CHOICE})" if kept else "",
    }
