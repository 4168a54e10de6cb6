"""Rules on one batch: its size, its weights, its minutes, and what is poured from it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

from blockrun.cure.pour_life import pour_life_of
from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import BAG, ROUNDING, figure, near
from blockrun.planner.audit.finding import Rule, Said
from blockrun.planner.audit.working import DAY, clock_text


def bag_steps(case: Case) -> Iterator[Said]:
    """Make a batch of a whole number of the mixer's bag steps, at least one."""
    for batch in case.planned_batches:
        bags, step = batch.row.bags, batch.mixer.bag_step
        n_steps = round(bags / float(step))
        if n_steps < 1 or not near(bags, float(n_steps * step), BAG):
            yield (
                batch.name,
                f"{batch.name} takes {figure(bags)} bags, but the {batch.mixer.name} takes steps of {step}",
            )


def batch_volume(case: Case) -> Iterator[Said]:
    """Make at least what the paddle needs and at most what the mixer holds."""
    for batch in case.planned_batches:
        makes = f"{batch.name} makes {figure(batch.yield_l)} L"
        if batch.yield_l < batch.mixer.least_volume_l - ROUNDING:
            yield batch.name, f"{makes}, but the {batch.mixer.name} needs {figure(batch.mixer.least_volume_l)} L to mix"
        if batch.yield_l > batch.mixer.usable_volume_l + ROUNDING:
            yield batch.name, f"{makes}, but the {batch.mixer.name} holds {figure(batch.mixer.usable_volume_l)} L"


def batch_weights(case: Case) -> Iterator[Said]:
    """Weigh cement, water, foam and agent, and what they make, as the bags and the mix of the batch give."""
    for batch in case.batches.values():
        for column, words in _WEIGHED.items():
            written, right = getattr(batch.row, column), getattr(batch, column)
            if not near(written, right):
                says, gives = (words.format(figure(number)) for number in (written, right))
                yield batch.name, f"{batch.name} says {says}, but its bags give {gives}"


_WEIGHED: Final = {
    "cement_kg": "{} kg of cement",
    "slurry_water_kg": "{} kg of water in the slurry",
    "foam_l": "{} L of foam",
    "foam_kg": "{} kg of foam",
    "agent_l": "{} L of foaming agent",
    "yield_l": "{} L of mix",
}


def poured_volume(case: Case) -> Iterator[Said]:
    """Write as poured the volume of the cavities of the batch with overfill."""
    for batch in case.batches.values():
        if not near(batch.row.poured_l, batch.poured_l):
            yield (
                batch.name,
                f"{batch.name} says {figure(batch.row.poured_l)} L are poured, but its cavities take "
                f"{figure(batch.poured_l)} L",
            )


def enough_for_its_cavities(case: Case) -> Iterator[Said]:
    """Fit cavities, overfill included, and what stays in the drum in what the batch makes."""
    for batch in case.planned_batches:
        left = batch.mixer.left_behind_l
        if batch.poured_l + left > batch.yield_l + ROUNDING:
            yield (
                batch.name,
                f"{batch.name} makes {figure(batch.yield_l)} L, but its cavities take {figure(batch.poured_l)} L "
                f"and {figure(left)} L stays in the drum",
            )


def batch_times(case: Case) -> Iterator[Said]:
    """Foam, pour and wash without waiting from the start of a batch on."""
    for batch in case.batches.values():
        for column, words in _STEPS.items():
            written, right = getattr(batch.row, column), getattr(batch, column)
            if written != right:
                yield (
                    batch.name,
                    f"{words} of {batch.name} is written {case.at(written)}, but a start at {case.at(batch.start)} "
                    f"gives {case.at(right)}",
                )


_STEPS: Final = {
    "foam_at": "the foam",
    "pour_from": "the start of the pour",
    "pour_to": "the end of the pour",
    "end": "the end of washing",
}


def pour_life(case: Case) -> Iterator[Said]:
    """Fill the last cavity within the pour life of the foam."""
    for batch in case.planned_batches:
        minutes = batch.pour_to - batch.foam_at
        if minutes > case.site.pour_life_min:
            yield (
                batch.name,
                f"{batch.name} is poured {minutes} min after its foam went in; the pour life is "
                f"{figure(case.site.pour_life_min)} min",
            )


def pour_life_in_heat(case: Case) -> Iterator[Said]:
    """Fill the last cavity within what heat leaves of the pour life at the hour of the foam.

    Not asked of a mix of which no batch ever is, at whatever hour: its plans say so.
    """
    for batch in case.planned_batches:
        minutes, life = batch.pour_to - batch.foam_at, pour_life_of(case.site, foam_at=case.moment(batch.foam_at))
        if life.hot_c is not None and minutes > life.minutes and batch.row.mix in case.poured_in_time:
            yield (
                batch.name,
                f"{batch.name} is poured {minutes} min after its foam went in at {case.at(batch.foam_at)}; at "
                f"{figure(life.hot_c)} degC it keeps {figure(life.minutes)} min",
            )


def last_foam(case: Case) -> Iterator[Said]:
    """Put no foam in after the last foam of the day."""
    last = case.site.calendar.last_foam_min
    for batch in case.planned_batches:
        if batch.foam_at % DAY > last:
            yield (
                batch.name,
                f"foam goes into {batch.name} at {case.at(batch.foam_at)}, after the last foam at {clock_text(last)}",
            )


def one_mix_a_batch(case: Case) -> Iterator[Said]:
    """Pour a block from a batch of its mix."""
    for batch in case.batches.values():
        for cast in batch.casts:
            if cast.mix != batch.row.mix:
                yield (
                    f"block {cast.cast}",
                    f"block {cast.cast} is of mix {cast.mix}, but {batch.name} is {batch.row.mix}",
                )


BATCHES: tuple[Rule, ...] = (
    bag_steps,
    batch_volume,
    batch_weights,
    poured_volume,
    enough_for_its_cavities,
    batch_times,
    pour_life,
    pour_life_in_heat,
    last_foam,
    one_mix_a_batch,
)
