"""The rules of a yard that may clash with what is asked, and what each would be were there plenty.

A relaxed rule allows all that the rule allows, and much more: what is impossible then is so for other reasons.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import partial
from itertools import groupby

import numpy as np

from blockrun.optimiser.problem import MINUTES_A_DAY, Load, Minutes, Problem, Stack, Supply
from blockrun.planner.brief import Brief
from blockrun.planner.why.goals import Goal, cast_in

_PLENTY = 1_000_000
_MANY_PEOPLE = 50
_MIXERS_FOR_ONE = 4
_MOST_TIMES_AS_BIG = 20
"""No drum holds more batches of before: with those of its size beside it a house is poured in an hour."""
_ENDLESS = Supply(((0, 1 << 50),))


class Thing(StrEnum):
    """What a rule is about, in the order in which rules are relaxed: what explains most comes last."""

    agent = "foaming agent"
    people = "people"
    weather = "heat and rain"
    mixers = "mixers"
    racks = "rack places"
    stack = "the stack"
    cement = "cement"
    frost = "frost"
    cold = "cold"
    bases = "bases"
    sides = "sides"
    moulds = "moulds"
    age = "age"


@dataclass(frozen=True)
class Rule:
    """A rule, of a kind of mould where it is about one (by its number in the problem); ``relax`` gives plenty of it."""

    thing: Thing
    relax: Callable[[Problem], Problem] = field(compare=False, repr=False)
    kind: int | None = None


def rules_of(asked: Brief, goal: Goal) -> tuple[Rule, ...]:
    """Rules that may keep a goal from being reached, in the order in which they are to be relaxed."""
    problem = asked.problem
    strip_h, last_foam = asked.ages.strip_h, asked.site.calendar.last_foam_min
    found = [
        Rule(Thing.agent, lambda p: replace(p, agent=_ENDLESS)),
        Rule(Thing.people, _many_people),
        Rule(Thing.mixers, partial(_many_mixers, [mixer.foam_time_min for mixer in asked.site.mixers])),
        Rule(Thing.racks, lambda p: replace(p, places=_PLENTY)),
        Rule(Thing.cement, lambda p: replace(p, cement=_ENDLESS)),
        Rule(Thing.cold, partial(_mild, strip_h, [asked.ages.sides_h(kind) for kind in asked.moulds])),
    ]
    if problem.stack is not None:
        found.append(Rule(Thing.stack, lambda p: replace(p, stack=Stack(_PLENTY, 1))))
    if goal.ready:
        found.append(Rule(Thing.age, lambda p: replace(p, lay_at=0, ripe_lay=None, rack_for=0)))
    if (problem.clear_until < 0).any():
        found.append(Rule(Thing.frost, lambda p: replace(p, clear_until=np.full_like(p.clear_until, p.horizon - 1))))
    if any(day.hot or day.last_foam < day.opens for day in problem.days):
        found.append(Rule(Thing.weather, partial(_dry, last_foam)))
    found += _of_moulds(problem, goal)
    order = list(Thing)
    return tuple(sorted(found, key=lambda rule: (order.index(rule.thing), rule.kind or 0)))


def _of_moulds(problem: Problem, goal: Goal) -> Iterable[Rule]:
    """Rules of the moulds that cast something of the goal."""
    wanted = {block for block, count in enumerate(goal.counts) if count}
    plenty = sum(block.demand for block in problem.formats)
    for kind, mould in enumerate(problem.moulds):
        if cast_in(problem, kind) & wanted:
            thing = Thing.sides if mould.bases else Thing.moulds
            yield Rule(thing, partial(_many_moulds, kind, plenty), kind)
            if mould.bases:
                yield Rule(Thing.bases, partial(_many_bases, kind, plenty), kind)


def _many_moulds(kind: int, more: int, problem: Problem) -> Problem:
    """One more for every block ordered."""
    return _mould(problem, kind, count=problem.moulds[kind].count + more)


def _many_bases(kind: int, more: int, problem: Problem) -> Problem:
    return _mould(problem, kind, bases=problem.moulds[kind].bases + more)


def _mould(problem: Problem, kind: int, **changes: int) -> Problem:
    moulds = list(problem.moulds)
    moulds[kind] = replace(moulds[kind], **changes)  # type: ignore[arg-type]
    return replace(problem, moulds=tuple(moulds))


def _many_people(problem: Problem) -> Problem:
    days = (replace(day, people=day.people + _MANY_PEOPLE, chores=()) for day in problem.days)
    return replace(problem, days=tuple(days))


def _many_mixers(foam_min: Sequence[float], problem: Problem) -> Problem:
    """Beside each mixer three that hold all that is ordered, or many batches of before, foam at its quickest.

    There stays one foam generator, as fast as the mixers; such a batch takes the cement and agent of those of before.

    Parameters
    ----------
    foam_min : to blend in foam that is there, by mixer.
    """
    n, loads = problem.n_mixers, list(problem.loads)
    ordered = sum(block.demand * block.volume for block in problem.formats)
    for _, of_maker in groupby(problem.loads, key=lambda load: (load.mixer, load.mix)):
        biggest = max(of_maker, key=lambda load: load.room)
        times = min(_MOST_TIMES_AS_BIG, 1 + ordered // biggest.room)
        foam = min(biggest.foam, math.ceil(foam_min[biggest.mixer]))
        for copy in range(1, _MIXERS_FOR_ONE):
            quick = replace(biggest, mixer=biggest.mixer + n * copy, foam=foam)
            loads += [quick] if times == 1 else [quick, _times(quick, times)]
    return replace(problem, loads=tuple(loads))


def _times(load: Load, times: int) -> Load:
    """So many batches in one."""
    return replace(load, cement=times * load.cement, agent=times * load.agent, room=times * load.room)


def _dry(last_foam: int, problem: Problem) -> Problem:
    """No day is too hot or too wet, nor any hour of one."""
    days = (
        replace(day, last_foam=max(day.last_foam, day.number * MINUTES_A_DAY + last_foam), hot=())
        for day in problem.days
    )
    return replace(problem, days=tuple(days))


def _mild(strip_h: float, sides_h: list[float | None], problem: Problem) -> Problem:
    """Blocks set as at 20 degC, or sooner where they do already."""
    return replace(
        problem,
        ripe_strip=tuple(_sooner(ripe, strip_h) for ripe in problem.ripe_strip),
        ripe_sides=tuple(
            None if ripe is None or hours is None else _sooner(ripe, hours)
            for ripe, hours in zip(problem.ripe_sides, sides_h, strict=True)
        ),
    )


def _sooner(ripe: Minutes, hours: float) -> Minutes:
    mild = np.arange(len(ripe)) + int(np.ceil(60 * hours))
    mild = np.where(mild < len(ripe), mild, -1)
    found: Minutes = np.where((ripe >= 0) & (ripe < mild), ripe, mild).astype(np.int32)
    return found
