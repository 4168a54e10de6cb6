"""A clash told in the numbers of its yard."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from blockrun.planner.brief import Brief
from blockrun.planner.rounded import AGENT_UNITS_A_LITRE
from blockrun.planner.stopped import why_stopped
from blockrun.planner.wanted import format_of
from blockrun.planner.why.clash import Clash, Filter
from blockrun.planner.why.facts import (
    Age,
    Cold,
    Explained,
    Fact,
    Ground,
    Lower,
    Mixers,
    Moulds,
    Nights,
    People,
    Racks,
    Stock,
    Wanted,
)
from blockrun.planner.why.goals import Goal
from blockrun.planner.why.ground import at_once
from blockrun.planner.why.rules import Rule, Thing, rules_of
from blockrun.planner.why.shortage import Shortage


def explained(finder: Filter, clash: Clash) -> Explained:
    """Put a clash into plain numbers: those of its own rules, with plenty of all else, as ``at_most`` is."""
    asked, goal, yard = finder.asked, clash.goal, finder.alone(clash.rules, clash.goal)
    in_all = min(clash.at_most, finder.relaxed(()).at_most(goal))
    useful = finder.alone((rule for rule in rules_of(asked, goal) if rule.thing is Thing.age), goal).last_pour(goal)
    return Explained(
        by=_date(asked, goal.day),
        ready=goal.ready,
        blocks=goal.blocks,
        at_most=clash.at_most,
        in_all=in_all,
        lower=tuple(_lower(finder, clash)) if in_all < clash.at_most else (),
        last_pour=None if clash.last_pour is None else _date(asked, asked.problem.days[clash.last_pour].number),
        wanted=tuple(wanted_of(asked, goal)),
        facts=tuple(_Told(finder, yard, clash, useful).fact(rule) for rule in clash.rules),
    )


def _lower(finder: Filter, clash: Clash) -> Iterator[Lower]:
    """Rules each of which, kept with those of a clash, leaves fewer blocks by arithmetic."""
    goal = clash.goal
    for rule in rules_of(finder.asked, goal):
        if rule not in clash.rules:
            most = goal.blocks - finder.alone((*clash.rules, rule), goal).by_arithmetic(goal)
            if most < clash.at_most:
                yield Lower(rule.thing, None if rule.kind is None else finder.asked.moulds[rule.kind].kind)


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
        theirs = (line for line in asked.lines if line.part == part and (line.course in courses or not courses))
        yield Wanted(part, first, last, sum(line.count for line in of_part), sum(line.count for line in theirs))


def _date(asked: Brief, number: int) -> date:
    return asked.site.calendar.start + timedelta(days=number)


@dataclass(frozen=True)
class _Told:
    """What tells each rule of a clash.

    Attributes
    ----------
    yard : with plenty of all that is none of the rules.
    useful : position of the last working day on which pouring would be of use were there plenty of everything.
    """

    finder: Filter
    yard: Shortage
    clash: Clash
    useful: int | None

    @property
    def asked(self) -> Brief:
        return self.finder.asked

    @property
    def days(self) -> range:
        """Positions of the days up to the last pour that is of use."""
        last = self.clash.last_pour
        return range(0 if last is None else last + 1)

    def fact(self, rule: Rule) -> Fact:
        """The rule in numbers."""
        if rule.kind is not None:
            return self._moulds(rule)
        match rule.thing:
            case Thing.cold:
                return Cold(self.asked.ages.strip_h)
            case Thing.frost | Thing.weather:
                least_c = self.asked.site.curing.least_air_c
                return Nights(rule.thing, tuple(self._frosty() if rule.thing is Thing.frost else self._wet()), least_c)
            case Thing.racks:
                return Racks(self.asked.problem.places, self.asked.problem.rack_for)
            case Thing.stack:
                return _ground(self.asked, self.clash.goal)
            case Thing.mixers:
                return self._mixers()
            case Thing.people:
                return _people(self.asked, self.days)
            case Thing.cement | Thing.agent:
                return _stock(self.asked, rule.thing, self.days)
            case _:
                return self._age()

    def _age(self) -> Age:
        problem = self.asked.problem
        first = min(self.finder.relaxed(()).limits.when.ready_from, default=problem.horizon)
        by = None if self.useful is None else _date(self.asked, problem.days[self.useful].number)
        return Age(problem.rack_for, problem.lay_at, by, _date(self.asked, first) if first < problem.horizon else None)

    def _moulds(self, rule: Rule) -> Moulds:
        problem, kind, days = self.asked.problem, rule.kind or 0, self.days
        mould = problem.moulds[kind]
        base = rule.thing is not Thing.sides
        until = problem.days[days[-1]].number if days else -1
        turns = len(self.yard.limits.reach.chain(kind, problem.days[0].opens, base=base, until=until))
        ripe = problem.ripe_strip[kind] if base else problem.ripe_sides[kind]
        assert ripe is not None
        noons = [(problem.days[day].opens + problem.days[day].closes) // 2 for day in days]
        waits = [round((int(ripe[noon]) - noon) / 60) for noon in noons if ripe[noon] >= 0]
        count = mould.bases if rule.thing is Thing.bases else mould.count
        wait_h = (min(waits), max(waits)) if waits else ()
        mild_h = self.asked.ages.strip_h if base else self.asked.ages.sides_h(self.asked.moulds[kind]) or 0.0
        return Moulds(rule.thing, mould.name, count, problem.most_blocks(kind), turns, wait_h, mild_h)

    def _mixers(self) -> Mixers:
        limits, mixers = self.yard.limits, self.asked.site.mixers
        of_days = [
            sum(limits.mixing.batches_of(limits.slots.day(day), mixer) for mixer in range(len(mixers)))
            for day in self.days
        ]
        biggest_l = max(mixer.usable_volume_l for mixer in mixers)
        return Mixers(tuple(mixer.name for mixer in mixers), max(of_days, default=0), sum(of_days), biggest_l)

    def _frosty(self) -> Iterator[date]:
        """Days of frost up to the strip of what would be poured last."""
        clear = self.asked.problem.clear_until
        last = self.clash.goal.day if self.useful is None else self._stripped(self.useful)
        yield from (_date(self.asked, day) for day in range(last + 1) if int(clear[day]) < 0)

    def _stripped(self, position: int) -> int:
        """Number of the day on which all that is poured first thing on a working day is stripped."""
        problem = self.asked.problem
        poured = problem.days[position].opens + min(load.slurry + load.foam + load.pour for load in problem.loads)
        ripe = [int(of_kind[poured]) for of_kind in problem.ripe_strip]
        if min(ripe) < 0:
            return problem.horizon - 1
        return next((day.number for day in problem.days if day.closes > max(ripe)), problem.horizon - 1)

    def _wet(self) -> Iterator[date]:
        """Working days too hot or too wet, for hours at least, up to the last one that would be of use."""
        problem, goal = self.asked.problem, self.clash.goal
        last = goal.day if self.useful is None else problem.days[self.useful].number
        for day in problem.days:
            on = _date(self.asked, day.number)
            if day.number <= last and (day.hot or why_stopped(self.asked.site, on)):
                yield on


def _ground(asked: Brief, goal: Goal) -> Ground:
    stack, formats = asked.problem.stack, sum(map(bool, goal.counts))
    assert stack is not None
    together = at_once(asked.problem, goal)
    if not goal.ready or together.most == together.wanted:
        return Ground(stack.places, stack.layers, formats)
    return Ground(stack.places, stack.layers, formats, _date(asked, together.day), together.wanted, together.most)


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
