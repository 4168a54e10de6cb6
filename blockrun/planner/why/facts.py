"""A clash in the numbers of the yard, as plain facts; whoever shows them puts them into words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from blockrun.planner.brief import AGENT_UNITS_A_LITRE, Brief
from blockrun.planner.stopped import why_stopped
from blockrun.planner.wanted import format_of
from blockrun.planner.why.clash import Clash
from blockrun.planner.why.goals import Goal
from blockrun.planner.why.ground import at_once
from blockrun.planner.why.rules import Rule, Thing
from blockrun.planner.why.shortage import Shortage


@dataclass(frozen=True)
class Wanted:
    """Blocks of one part that are wanted by the day: of its courses from the first to the last, ``None`` without."""

    part: str
    first: int | None
    last: int | None
    blocks: int


@dataclass(frozen=True)
class Moulds:
    """Moulds of a kind, or their sides or bases.

    Attributes
    ----------
    thing : which of the three.
    count, cavities : how many there are, and the blocks that one casts in a turn at the most.
    turns : how often one can be filled by the last pour of use, at the most.
    wait_h : hours from a pour until they are ripe to come off: the fewest and the most, by the days up to then;
        empty where no pour is.
    mild_h : the same at 20 degC all the time.
    """

    thing: Thing
    kind: str
    count: int
    cavities: int
    turns: int
    wait_h: tuple[int, int] | tuple[()]
    mild_h: float


@dataclass(frozen=True)
class Cold:
    """Blocks that set so slowly that moulds are waited for; ``strip_h`` is the wait at 20 degC, in hours."""

    strip_h: float


@dataclass(frozen=True)
class Nights:
    """Working days on which nothing may be poured, for frost or (``thing`` says) for heat and rain."""

    thing: Thing
    days: tuple[date, ...]
    least_c: float


@dataclass(frozen=True)
class Racks:
    """Places, and for how many minutes a block keeps one."""

    places: int
    rack_for_min: int


@dataclass(frozen=True)
class Ground:
    """A stack, in places for columns of so many layers, each of one size and mix.

    Attributes
    ----------
    formats : sizes and mixes of the blocks that are asked for.
    day : on which ``wanted`` of them would have to stand there, and ``most`` at the most can; ``None`` where none are
        too many for it at once.
    """

    places: int
    layers: int
    formats: int
    day: date | None = None
    wanted: int = 0
    most: int = 0


@dataclass(frozen=True)
class Mixers:
    """What the mixers make: batches on a whole day, and by the last pour of use, at the most."""

    names: tuple[str, ...]
    a_day: int
    batches: int
    biggest_l: float


@dataclass(frozen=True)
class People:
    """People on most days, and the hours they all have together by the last pour of use.

    ``away`` are the working days until then on which there are fewer.
    """

    people: int
    away: int
    hours: int
    batch_people: int
    batch_min: int


@dataclass(frozen=True)
class Stock:
    """Bags of cement, or litres of foaming agent.

    ``there`` have come by the last pour of use, ``at_first`` of them are there on the first day; ``last_came`` is the
    day of the last delivery among them, ``None`` without one.
    """

    thing: Thing
    there: float
    at_first: float
    last_came: date | None


@dataclass(frozen=True)
class Age:
    """Minutes on the rack, from pour to laying (0 where a strength says when), and the soonest first block."""

    rack_for_min: int
    lay_min: int
    first_ready: date | None


Fact = Moulds | Cold | Nights | Racks | Ground | Mixers | People | Stock | Age


@dataclass(frozen=True)
class Explained:
    """A clash in plain numbers.

    Attributes
    ----------
    by : the day by which so many ``blocks`` are wanted, ``ready`` to lay or just poured.
    at_most : how many of them can be had, by these facts alone.
    in_all : how many can be had with all that limits the yard, at the most.
    last_pour : the last day on which pouring is of use for them; ``None`` where no day is.
    """

    by: date
    ready: bool
    blocks: int
    at_most: int
    in_all: int
    last_pour: date | None
    wanted: tuple[Wanted, ...]
    facts: tuple[Fact, ...]


def explained(asked: Brief, clash: Clash, yard: Shortage) -> Explained:
    """Put a clash into plain numbers; ``yard`` is its problem with no rule relaxed."""
    last = yard.last_pour(clash.goal)
    return Explained(
        by=_date(asked, clash.goal.day),
        ready=clash.goal.ready,
        blocks=clash.goal.blocks,
        at_most=clash.at_most,
        in_all=min(clash.at_most, yard.at_most(clash.goal)),
        last_pour=None if last is None else _date(asked, asked.problem.days[last].number),
        wanted=tuple(wanted_of(asked, clash.goal)),
        facts=tuple(_fact(asked, rule, yard, last, clash.goal) for rule in clash.rules),
    )


def wanted_of(asked: Brief, goal: Goal) -> Iterator[Wanted]:
    """What a goal asks for, part by part as they are built; what is for no part, spares, comes last."""
    by = _date(asked, goal.day)
    lines = [
        line
        for line in asked.lines
        if goal.counts[asked.formats.index(format_of(line))]
        and (not goal.ready or (line.needed is not None and line.needed <= by))
    ]
    for part in dict.fromkeys(line.part for line in lines):
        of_part = [line for line in lines if line.part == part]
        courses = [line.course for line in of_part if line.course is not None]
        first, last = (min(courses), max(courses)) if courses else (None, None)
        yield Wanted(part, first, last, sum(line.count for line in of_part))


def _date(asked: Brief, number: int) -> date:
    return asked.site.calendar.start + timedelta(days=number)


def _fact(asked: Brief, rule: Rule, yard: Shortage, last: int | None, goal: Goal) -> Fact:
    """The rule in numbers, up to the day at position ``last``; where none is of use, nights up to that of the goal."""
    site, problem = asked.site, asked.problem
    days = range(0 if last is None else last + 1)
    if rule.kind is not None:
        return _moulds(asked, rule, yard, days)
    match rule.thing:
        case Thing.cold:
            return Cold(asked.ages.strip_h)
        case Thing.frost | Thing.weather:
            before = days or range(sum(day.number <= goal.day for day in problem.days))
            return Nights(rule.thing, tuple(_stopped(asked, rule.thing, before)), site.curing.least_air_c)
        case Thing.racks:
            return Racks(problem.places, problem.rack_for)
        case Thing.stack:
            return _ground(asked, goal)
        case Thing.mixers:
            return _mixers(asked, yard, days)
        case Thing.people:
            return _people(asked, days)
        case Thing.cement | Thing.agent:
            return _stock(asked, rule.thing, days)
        case _:
            first = min(yard.limits.when.ready_from, default=problem.horizon)
            ready = _date(asked, first) if first < problem.horizon else None
            return Age(problem.rack_for, problem.lay_at, ready)


def _moulds(asked: Brief, rule: Rule, yard: Shortage, days: range) -> Moulds:
    problem, kind = asked.problem, rule.kind or 0
    mould = problem.moulds[kind]
    base = rule.thing is not Thing.sides
    opens = problem.days[0].opens
    until = problem.days[days[-1]].number if days else -1
    turns = len(yard.limits.reach.chain(kind, opens, base=base, until=until))
    ripe = problem.ripe_strip[kind] if base else problem.ripe_sides[kind]
    assert ripe is not None
    noons = [(problem.days[day].opens + problem.days[day].closes) // 2 for day in days]
    waits = [round((int(ripe[noon]) - noon) / 60) for noon in noons if ripe[noon] >= 0]
    count = mould.bases if rule.thing is Thing.bases else mould.count
    wait_h = (min(waits), max(waits)) if waits else ()
    mild_h = asked.ages.strip_h if base else asked.ages.sides_h(asked.moulds[kind]) or 0.0
    return Moulds(rule.thing, mould.name, count, problem.most_blocks(kind), turns, wait_h, mild_h)


def _ground(asked: Brief, goal: Goal) -> Ground:
    stack, formats = asked.problem.stack, sum(map(bool, goal.counts))
    assert stack is not None
    together = at_once(asked.problem, goal)
    if not goal.ready or together.most == together.wanted:
        return Ground(stack.places, stack.layers, formats)
    return Ground(stack.places, stack.layers, formats, _date(asked, together.day), together.wanted, together.most)


def _stopped(asked: Brief, thing: Thing, days: range) -> Iterator[date]:
    for position in days:
        number = asked.problem.days[position].number
        on = _date(asked, number)
        frost = int(asked.problem.clear_until[number]) < 0
        if frost if thing is Thing.frost else why_stopped(asked.site, on):
            yield on


def _mixers(asked: Brief, yard: Shortage, days: range) -> Mixers:
    limits, problem = yard.limits, asked.problem
    of_days = [
        sum(limits.mixing.batches_of(limits.slots.day(day), mixer) for mixer in range(problem.n_mixers)) for day in days
    ]
    biggest_l = max(mixer.usable_volume_l for mixer in asked.site.mixers)
    return Mixers(tuple(mixer.name for mixer in asked.site.mixers), max(of_days, default=0), sum(of_days), biggest_l)


def _people(asked: Brief, days: range) -> People:
    minutes = 0
    for position in days:
        day = asked.problem.days[position]
        chores = sum((chore.end - chore.start) * chore.people for chore in day.chores)
        minutes += day.people * sum(end - start for start, end in day.windows) - chores
    people = asked.site.crew.people
    away = sum(asked.problem.days[position].people < people for position in days)
    least = min(asked.problem.loads, key=lambda load: (load.crew * load.length, load.length))
    return People(people, away, max(0, minutes) // 60, least.crew, least.length)


def _stock(asked: Brief, thing: Thing, days: range) -> Stock:
    problem = asked.problem
    number = problem.days[days[-1]].number if days else 0
    supply, unit = (
        (problem.cement, asked.steps_a_bag) if thing is Thing.cement else (problem.agent, AGENT_UNITS_A_LITRE)
    )
    came = [day for day, _ in supply.steps if 0 < day <= number]
    last_came = _date(asked, came[-1]) if came else None
    return Stock(thing, float(supply.by(number) / unit), float(supply.by(0) / unit), last_came)
