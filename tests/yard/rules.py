"""The rules of the audit that hold for what really happens too, checked on the events of a run.

Nothing here is taken from the run but what it says it did: people, mixers, moulds, bases, racks, ages and stock are
followed again, minute by minute.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import pairwise, zip_longest
from typing import Final

from blockrun.cure import AgeClock
from blockrun.cure.pour_life import pour_life_of
from blockrun.cure.rates import rule_of
from blockrun.planner.ages import ages_of
from blockrun.planner.clocks import Clocks
from blockrun.planner.plan import Plan
from blockrun.planner.risk.rates import Rates
from blockrun.planner.wanted import format_of, wanted
from blockrun.site.weather import DayWeather, Weather
from blockrun.units import MINUTES_A_DAY
from blockrun.yard.luck import Draws, Luck
from blockrun.yard.run import Event, Outcome, Run
from blockrun.yard.setting import NEVER, Setting

ONE_PERSON: Final = {"sides", "strip", "move", "clean"}


@dataclass(frozen=True)
class Told:
    """A run, and all it says it did."""

    plan: Plan
    setting: Setting
    rates: Rates
    run: Run
    outcome: Outcome
    events: Sequence[Event]

    @property
    def cold(self) -> Sequence[bool]:
        return self.run.luck.cold


@dataclass(frozen=True)
class AsItWas(Weather):
    """The air of a run: a day colder where it was."""

    start: date = date.min
    cold: tuple[bool, ...] = ()
    by_k: float = 0.0

    def day(self, day: date) -> DayWeather:
        air, number = super().day(day), (day - self.start).days
        by_k = self.by_k if number < len(self.cold) and self.cold[number] else 0.0
        sky = air.sky._replace(air_c=tuple(value - by_k for value in air.sky.air_c))
        return DayWeather(air.min_c - by_k, air.max_c - by_k, air.forecast, air.typical, sky)


def as_it_was(of: Told) -> AsItWas:
    site = of.plan.site
    given = {key: getattr(site.weather, key) for key in Weather.__dataclass_fields__}
    return AsItWas(**given, start=site.calendar.start, cold=tuple(of.cold), by_k=of.rates.cold_snaps.colder_c)


def told(plan: Plan, setting: Setting, rates: Rates, seed: int, number: int, *, with_spares: bool = True) -> Told:
    events: list[Event] = []
    run = Run(setting, Luck(Draws(setting, seed, number), rates), with_spares=with_spares, told=events)
    return Told(plan, setting, rates, run, run.play(), events)


def breaches(of: Told) -> list[str]:
    """All that is against the rules; empty for a run that keeps them."""
    rules = (
        working_minutes,
        people,
        moulds,
        bases,
        mixers,
        strips_old_enough,
        racks,
        stack,
        stock,
        batch_sizes,
        cavities,
        cold_days,
        pour_life_in_heat,
    )
    return [f"{rule.__name__}: {breach}" for rule in rules for breach in rule(of)]


def working_minutes(of: Told) -> Iterator[str]:
    windows, days = of.setting.windows, {day.number for day in of.setting.days}
    for event in of.events:
        day = event.start // MINUTES_A_DAY
        if event.task in {"fill", "rack", "stack"} or event.start == event.end:
            continue
        start, end = event.start - day * MINUTES_A_DAY, event.end - day * MINUTES_A_DAY
        if day not in days or not any(opens <= start and end <= closes for opens, closes in windows):
            yield f"{event.task} at {event.start}"
        if of.run.luck.is_lost(day):
            yield f"{event.task} on day {day}, which is lost"


def people(of: Told) -> Iterator[str]:
    there = {day.number: day.people - of.run.luck.away_on(day.number, of=day.people) for day in of.setting.days}
    changes: Counter[int] = Counter()
    for event in of.events:
        assert event.people == 1 or event.task not in ONE_PERSON
        changes[event.start] += event.people
        changes[event.end] -= event.people
    busy = 0
    for minute in sorted(changes):
        busy += changes[minute]
        if busy > max(0, there.get(minute // MINUTES_A_DAY, 0)):
            yield f"{busy} busy at {minute}"


def turns(of: Told) -> dict[int, dict[str, Event]]:
    found: defaultdict[int, dict[str, Event]] = defaultdict(dict)
    for event in of.events:
        if event.turn is not None:
            assert event.task not in found[id(event.turn)], f"{event.task} twice in one turn"
            found[id(event.turn)][event.task] = event
    return found


def moulds(of: Told) -> Iterator[str]:
    spans: defaultdict[tuple[int, int], list[tuple[int, int]]] = defaultdict(list)
    for jobs in turns(of).values():
        turn = jobs["fill"].turn
        assert turn is not None
        free = jobs.get("sides") or jobs.get("clean")
        spans[turn.kind, turn.unit].append((jobs["fill"].start, free.end if free else NEVER))
    yield from _overlaps(spans)


def bases(of: Told) -> Iterator[str]:
    spans: defaultdict[tuple[int, int], list[tuple[int, int]]] = defaultdict(list)
    for jobs in turns(of).values():
        turn = jobs["fill"].turn
        assert turn is not None
        if of.setting.kinds[turn.kind].bases:
            spans[turn.kind, turn.base].append((jobs["fill"].start, jobs["clean"].end if "clean" in jobs else NEVER))
    yield from _overlaps(spans)


def _overlaps(spans: dict[tuple[int, int], list[tuple[int, int]]]) -> Iterator[str]:
    for thing, of_thing in spans.items():
        for first, second in pairwise(sorted(of_thing)):
            if second[0] < first[1]:
                yield f"{thing} filled at {second[0]}, free at {first[1]}"


def mixers(of: Told) -> Iterator[str]:
    batches: list[Event] = [event for event in of.events if event.task == "batch"]
    by_mixer: defaultdict[tuple[int, int], list[tuple[int, int]]] = defaultdict(list)
    foam: list[tuple[int, int]] = []
    last_foam = {day.number: day.last_foam for day in of.setting.days}
    for event in batches:
        assert event.load is not None
        by_mixer[event.load.mixer, 0].append((event.start, event.end))
        foam_at = event.start + event.load.slurry
        foam.append((foam_at, foam_at + event.load.foam))
        if foam_at % MINUTES_A_DAY > last_foam[foam_at // MINUTES_A_DAY]:
            yield f"foam at {foam_at}"
    yield from _overlaps(by_mixer)
    yield from _overlaps({(-1, -1): foam})


def strips_old_enough(of: Told) -> Iterator[str]:
    """By the air as it was; where blocks have a warmth of their own, at least as old as without any snap."""
    site = of.plan.site
    ages = ages_of(site, of.plan.order, of.setting.mixes)
    clock = AgeClock(as_it_was(of), site.calendar.start, rule=rule_of(site.curing))
    warm = Clocks(site, of.plan.order, wanted(site, of.plan.order))
    for event in of.events:
        is_over = event.start < of.setting.before.opens  # whatever it was: what is thrown out waits for no age
        if event.turn is not None and event.task in {"strip", "sides"} and not is_over:
            kind = site.moulds[event.turn.kind]
            asked = ages.strip_h if event.task == "strip" else ages.sides_h(kind)
            assert asked is not None
            ripe = (warm.of(kind) if warm.modelled else clock).when(event.turn.last_pour, asked)
            if event.start < ripe:
                yield f"{event.task} at {event.start} of what was poured at {event.turn.last_pour}"


def pour_life_in_heat(of: Told) -> Iterator[str]:
    """By the air as it was; not asked of a mix that every hour of a year is too hot for."""
    site = of.plan.site.model_copy(update={"weather": as_it_was(of)})
    for event in of.events:
        if event.load is not None and not event.load.hardy:
            foam_at = site.calendar.moment_of(event.start + event.load.slurry)
            if event.load.foam + event.load.pour > pour_life_of(site, foam_at=foam_at).minutes:
                yield f"batch at {event.start}"


def racks(of: Told) -> Iterator[str]:
    changes: Counter[int] = Counter()
    for event in of.events:
        if event.task == "rack":
            changes[event.start] += int(event.amount)
            changes[event.end] -= int(event.amount)
    held, places = 0, sum(rack.places for rack in of.plan.site.racks)
    for minute in sorted(changes):
        held += changes[minute]
        if held > places:
            yield f"{held} on the rack at {minute}"


def stack(of: Told) -> Iterator[str]:
    """By mark what is ready first is laid where it is needed first; columns are of one size and mix."""
    site = of.plan.site
    if site.stack is None:
        return
    lines = {(line.mark, line.mix): line for line in wanted(site, of.plan.order)}
    shapes = [format_of(lines[key]) for key in sorted(lines)]
    came: defaultdict[int, list[tuple[int, int]]] = defaultdict(list)
    for event in of.events:
        if event.task == "stack":
            came[int(event.amount)].append((event.end // MINUTES_A_DAY, event.start // MINUTES_A_DAY))
    there: defaultdict[int, Counter[object]] = defaultdict(Counter)
    for mark, blocks in came.items():
        needs = [day for day, _ in of.setting.needs[mark]]
        for (ready, comes), needed in zip_longest(sorted(blocks), needs[: len(blocks)]):
            for day in range(comes, max(ready, needed or ready) + 1):
                there[day][shapes[mark]] += 1
    for day, of_day in sorted(there.items()):
        taken = sum(-(-count // site.stack.layers) for count in of_day.values())
        if taken > site.stack.places:
            yield f"{taken} places of the stack taken on day {day}"


def stock(of: Told) -> Iterator[str]:
    cement = of.plan.site.stock.cement
    start, used = of.plan.site.calendar.start, 0.0
    for event in sorted(event for event in of.events if event.task == "batch"):
        assert event.load is not None
        day = event.start // MINUTES_A_DAY
        used += event.load.bags
        on = start + timedelta(days=day)
        come = cement.on_hand_bags + sum(each.amount for each in cement.deliveries if each.day <= on)
        if used > come + 1e-6 and day < of.run.state.cement.bought:
            yield f"{used} bags used by {event.start}, of {come}"


def batch_sizes(of: Told) -> Iterator[str]:
    for event in of.events:
        if event.load is not None and event.amount > event.load.room_l + 1e-3:
            yield f"{event.amount} L poured at {event.start} of {event.load.room_l} L"


def cavities(of: Told) -> Iterator[str]:
    for jobs in turns(of).values():
        turn = jobs["fill"].turn
        assert turn is not None
        if len(turn.fills) > of.setting.kinds[turn.kind].cavities:
            yield f"{len(turn.fills)} fills in {turn.kind}/{turn.unit}"
        for fill, _ in turn.fills:
            if not all(_cast_in(of.setting, mark, turn.kind) for mark in fill.marks):
                yield f"{fill.marks} in a mould of kind {turn.kind}"


def _cast_in(setting: Setting, mark: int, kind: int) -> bool:
    return any(of == kind for of, _ in setting.casts[mark])


def cold_days(of: Told) -> Iterator[str]:
    for event in of.events:
        day = event.start // MINUTES_A_DAY
        by_k = of.rates.cold_snaps.colder_c if of.cold[day] else 0.0
        if event.task == "batch" and of.setting.lowest_c[day] - by_k < of.setting.least_c:
            yield f"batch on day {day}"


def tasks_of(events: Iterable[Event]) -> list[tuple[int, int, str, int]]:
    """What is written in a table of tasks."""
    return sorted(event[:4] for event in events if event.task not in {"fill", "rack", "stack"})
