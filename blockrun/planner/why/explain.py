"""Why there is no plan on time for an order on a site, or else what holds back its last pour."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from blockrun.files.day_names import short_day_name
from blockrun.optimiser.curve import Curve
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.order import Order, OrderLine
from blockrun.planner.brief import Brief, brief
from blockrun.planner.check import LONGEST_DAYS, check_reach, check_stock
from blockrun.planner.inputs import check_inputs
from blockrun.planner.placed import aged_in
from blockrun.planner.plan import Stop, never
from blockrun.planner.sawing import Sawing, settle_sawing
from blockrun.planner.wanted import format_of, wanted
from blockrun.planner.why.clash import Clash, Filter
from blockrun.planner.why.facts import Explained
from blockrun.planner.why.frees import Way, WaysOut
from blockrun.planner.why.goals import Goal, cast_in, dated_goals, parts_of, whole_goal
from blockrun.planner.why.rules import Rule
from blockrun.planner.why.shortage import Shortage
from blockrun.planner.why.told import explained
from blockrun.site import Site
from blockrun.units import MINUTES_A_DAY

_SPARE_DAYS = 30
_MOST_CLASHES = 6
_MOST_COUNTED = 4
"""Dates that are counted where arithmetic rules none out, those with the fewest days to spare; a second each."""
_MUCH_TO_SPARE = 8
_MOST_SOONER = 4
"""Days by which counts may raise what arithmetic says of the last pour."""


@dataclass(frozen=True)
class Reason:
    """A clash in numbers, and what frees it: changes that do so alone, or else some that do together.

    Attributes
    ----------
    until : the last day for which the same is short.
    of_some : whether ways out were tried for the blocks of the clash alone, while there are others that may pay for it.
    cut_short : whether there was no time to look for all ways.
    """

    clash: Explained
    ways: tuple[Way, ...]
    until: date
    of_some: bool
    cut_short: bool


@dataclass(frozen=True)
class CourseLate:
    """Blocks of a course that cannot all be had on the day they are needed, and certainly not before ``soonest``.

    Of blocks of one size and mix those ready first are for the course that is needed first, as in a plan.
    """

    part: str
    course: int | None
    needed: date
    blocks: int
    soonest: date


@dataclass(frozen=True)
class Why:
    """What is proved of a site and an order before any plan.

    Attributes
    ----------
    late : why not all blocks can be on time, the first day first; each with another reason than those before.
    courses : courses that are late in every plan.
    finish : why the last pour is no sooner, where nothing is late.
    stopped : whether it ended early, so that there may be more.
    """

    late: tuple[Reason, ...]
    courses: tuple[CourseLate, ...]
    finish: Reason | None
    stopped: bool


def explain(site: Site, order: Order, *, stop: Stop = never, tell: Callable[[str], None] = lambda _: None) -> Why:
    """Explain what keeps an order from being on time, by arithmetic, and by counting where that says nothing.

    Parameters
    ----------
    site, order : as loaded.
    stop : asked all the time; what is known then is returned.
    tell : hears in words what is being tried.

    Raises
    ------
    BadInput, NoPlanPossible : what no search could mend, as for a plan.
    """
    lines = wanted(site, order)
    check_inputs(site, order, lines)
    effort = Effort(1.0, stop)
    tell("reading the yard")
    sawing = settle_sawing(site, order, lines, stop)
    asked, limits = _asked(site, order, lines, sawing)
    check_stock(asked, limits.weighing.least_cement, limits.weighing.least_agent)
    finder = Filter(asked, effort, tell)
    clashes = list(_clashes(finder))
    late = tuple(_reason(WaysOut(finder, sawing, *found)) for found in clashes)
    courses = tuple(_courses(finder)) if late and not stop() else ()
    finish = None if late else _finish(finder, sawing)
    return Why(late, courses, finish, stop())


def _asked(site: Site, order: Order, lines: Iterable[OrderLine], sawing: Sawing) -> tuple[Brief, Limits]:
    """The problem over so many days that, by arithmetic, all could be poured."""
    needed = [(line.needed - site.calendar.start).days for line in lines if line.needed is not None]
    days = max([0, *needed]) + _SPARE_DAYS + site.curing.rack_for_min // MINUTES_A_DAY
    while True:
        with aged_in(site):
            asked = brief(site, order, days, sawing)
        limits = Limits(asked.problem)
        if check_reach(asked, limits):
            last = len(asked.problem.days) - 1
            if Curve(asked.problem, limits).finish < last or days >= LONGEST_DAYS:
                return asked, limits
        days = min(LONGEST_DAYS, 2 * days)


def _reason(ways_out: WaysOut) -> Reason:
    finder, clash = ways_out.finder, ways_out.clash
    ways = tuple(ways_out.found())
    until = finder.asked.site.calendar.start + timedelta(days=max(goal.day for goal in ways_out.goals))
    most = sum(max(counts) for counts in zip(*(goal.counts for goal in ways_out.goals), strict=True))
    of_some = clash.goal.ready and most < sum(block.demand for block in finder.asked.problem.formats)
    return Reason(explained(finder, clash), ways, until, of_some, finder.effort.stop())


# late


def _clashes(finder: Filter) -> Iterator[tuple[Clash, tuple[Goal, ...], bool]]:
    """Clashes of dates, the first date first, each one that plenty of what the others blame would not free.

    Each with its goal and those of the same blocks that are out of reach as well, and whether one before keeps it, too.
    """
    found: list[Clash] = []
    blamed: list[Rule] = []
    for goal in _out_of_reach(finder, blamed):
        if len(found) == _MOST_CLASHES or finder.effort.stop():
            return
        if any(finder.explains(clash, goal) for clash in found if not clash.blamed):
            continue
        finder.tell(f"{_most_said(finder, goal)}: looking for the reason")
        clash = finder.clash(goal, blamed)
        if clash is None or finder.effort.stop():
            continue
        further = any(finder.explains(before, clash.goal) for before in found)
        found.append(clash)
        blamed.extend(clash.blamed)
        yield clash, (clash.goal, *_alike(finder, clash, goal)), further


def _alike(finder: Filter, clash: Clash, part: Goal) -> Iterator[Goal]:
    """What a clash keeps from its day on: blocks that its moulds cast, or all; and of these those of the part alone.

    Of what is kept by something else, too, the part's blocks may still be freed.
    """
    problem = finder.asked.problem
    cast = [cast_in(problem, rule.kind) for rule in clash.rules if rule.kind is not None]
    formats = frozenset.union(*cast) if cast else frozenset(range(len(problem.formats)))
    for goal in dated_goals(problem):
        kept = dict.fromkeys(goal.only(of) for of in (formats & part.formats, formats))
        if goal.day >= part.day:
            yield from (each for each in kept if each != clash.goal and finder.explains(clash, each))


def _most_said(finder: Filter, goal: Goal) -> str:
    """Say how many blocks can be had by a day, as far as arithmetic sees."""
    by = finder.asked.site.calendar.start + timedelta(days=goal.day)
    most = goal.blocks - finder.relaxed(()).by_arithmetic(goal)
    return f"at most {most} of {goal.blocks} blocks by {short_day_name(by)}"


def _out_of_reach(finder: Filter, blamed: Collection[Rule]) -> Iterator[Goal]:
    """Goals that cannot be reached, whatever there is of what is blamed by now, by arithmetic; else by counting."""
    goals = list(dated_goals(finder.asked.problem))
    found = False
    for goal in goals:
        for part in parts_of(finder.asked.problem, goal):
            if finder.relaxed(blamed).by_arithmetic(part):
                found = True
                yield part
    if not found:
        finder.tell("counting whether all can be on time")
        tightest = sorted(goals, key=lambda goal: _days_to_spare(finder.relaxed(()), goal))[:_MOST_COUNTED]
        yield from (goal for goal in goals if goal in tightest and finder.short(goal, blamed))


def _days_to_spare(yard: Shortage, goal: Goal) -> int:
    """By so many days a goal could be sooner before arithmetic rules it out, as far as that is of interest."""
    sooner = (n for n in range(1, _MUCH_TO_SPARE) if yard.by_arithmetic(replace(goal, day=goal.day - n)))
    return next(sooner, _MUCH_TO_SPARE)


def _courses(finder: Filter) -> Iterator[CourseLate]:
    """Courses that are late in every plan, each with the first day that arithmetic does not rule out."""
    asked = finder.asked
    start = asked.site.calendar.start
    courses: dict[tuple[str, int | None, date], list[OrderLine]] = {}
    needed_by_then = Counter[int]()
    for line in asked.lines:
        if line.needed is not None:
            courses.setdefault((line.part, line.course, line.needed), []).append(line)
    for (part, course, needed), lines in courses.items():
        needed_by_then.update(_counts_of(asked, lines))
        goal = _of_course(asked, lines, needed_by_then, (needed - start).days)
        soonest = max(_first_day(finder, of_mould) for of_mould in parts_of(asked.problem, goal))
        if soonest > goal.day:
            blocks = sum(line.count for line in lines)
            yield CourseLate(part, course, needed, blocks, start + timedelta(days=soonest))


def _counts_of(asked: Brief, lines: Iterable[OrderLine]) -> dict[int, int]:
    counts = Counter[int]()
    for line in lines:
        counts[asked.formats.index(format_of(line))] += line.count
    return counts


def _of_course(asked: Brief, lines: Iterable[OrderLine], needed_by_then: Counter[int], day: int) -> Goal:
    """What has to be there for a course: of its formats alone what is needed before it, for that is served first."""
    formats = _counts_of(asked, lines)
    return Goal(day, tuple(needed_by_then[block] if block in formats else 0 for block in range(len(asked.formats))))


def _first_day(finder: Filter, goal: Goal) -> int:
    """First day on which a goal is not ruled out by arithmetic."""
    yard, under, step = finder.relaxed(()), goal.day - 1, 1
    last = finder.asked.problem.horizon - 1
    while under + step < last and yard.by_arithmetic(replace(goal, day=under + step)):
        under, step = under + step, 2 * step
    over = min(under + step, last)
    while over - under > 1:
        middle = (under + over) // 2
        late = yard.by_arithmetic(replace(goal, day=middle))
        under, over = (middle, over) if late else (under, middle)
    return over


# the last pour


def _finish(finder: Filter, sawing: Sawing) -> Reason | None:
    """Why not all can be poured a working day sooner than the soonest there is a proof for."""
    problem, yard = finder.asked.problem, finder.relaxed(())
    finder.tell("counting how soon the last pour can be")
    position = Curve(problem, yard.limits).finish
    for _ in range(_MOST_SOONER):
        if finder.effort.stop() or not yard.of(whole_goal(problem, problem.days[position].number)):
            break
        position += 1
    if not position:
        return None
    clash = finder.clash(whole_goal(problem, problem.days[position - 1].number))
    return None if clash is None or finder.effort.stop() else _reason(WaysOut(finder, sawing, clash, (clash.goal,)))
