"""A plan cut in the middle of the job: the yard as it stands then, and what the plan still had to do."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from random import Random

from blockrun.optimiser.problem import MINUTES_A_DAY, Day, Problem
from blockrun.optimiser.state import Batch, Span, State


@dataclass(frozen=True)
class Cut:
    """The problem of the days from a minute on, the yard at that minute, and the rest of the plan.

    The turns of ``old`` that pour nothing any more are those that stand in the yard, in their order, as the plan was to
    empty them.
    """

    problem: Problem
    begun: State
    old: State


def cut(problem: Problem, plan: State, minute: int) -> Cut:
    """What is under way at the minute counts as done; no batch is cut, nor a mould between two that fill it."""
    minute = _not_half_full(plan, minute)
    begun = State(
        0,
        [
            replace(turn, sides=_by(turn.sides, minute), strip=_by(turn.strip, minute), clean=_by(turn.clean, minute))
            for turn in plan.turns
            if turn.start < minute
        ],
        [batch for batch in plan.batches if batch.start < minute],
    )
    standing = [turn for turn in plan.turns if turn.start < minute and _by(turn.clean, minute) is None]
    to_pour = [turn for turn in plan.turns if turn.start >= minute]
    old = State(0, [*standing, *to_pour], [batch for batch in plan.batches if batch.start >= minute])
    return Cut(from_minute(problem, minute), begun, old)


def from_minute(problem: Problem, minute: int) -> Problem:
    """The problem with the days from a minute on alone."""
    days = tuple(rest for day in problem.days if (rest := _rest(day, minute)) is not None)
    earlier = tuple((start, min(end, minute)) for start, end in problem.windows if start < minute)
    return replace(problem, days=days, earlier=earlier)


def some_minute(problem: Problem, plan: State, rng: Random) -> int:
    """A minute of the days of a plan, after its first batch."""
    first, last = (of(batch.start for batch in plan.batches) for of in (min, max))
    return rng.randint(first + 1, last + MINUTES_A_DAY)


def _rest(day: Day, minute: int) -> Day | None:
    windows = tuple((max(start, minute), end) for start, end in day.windows if end > minute)
    chores = tuple(chore for chore in day.chores if chore.start >= minute)
    return replace(day, windows=windows, chores=chores) if windows else None


def _by(span: Span | None, minute: int) -> Span | None:
    return span if span is not None and span.start < minute else None


def _not_half_full(plan: State, minute: int) -> int:
    """The minute, or a later one at which no batch is made and no mould is between two of them."""
    while True:
        of_turns = [(turn.fills[0][1].start, turn.poured) for turn in plan.turns]
        of_batches = [(batch.start, batch.pour_to) for batch in plan.batches]
        later = [until for since, until in (*of_turns, *of_batches) if since < minute < until]
        if not later:
            return minute
        minute = max(later)


# what goes wrong


def flat(of: Cut, batch: Batch) -> Cut:
    """A batch came to nothing: its moulds are free at once, but for what other batches poured into them."""
    begun = of.begun
    batches = [replace(each, content={}) if each is batch else each for each in begun.batches]
    same = dict(zip(map(id, begun.batches), batches, strict=True))
    turns = [
        replace(turn, fills=fills, blocks=_blocks(of.problem, fills))
        for turn in begun.turns
        if (fills := [(number, same[id(other)]) for number, other in turn.fills if other is not batch])
    ]
    return _with(of, State(0, turns, batches))


def broken(of: Cut, rng: Random) -> Cut:
    """A few blocks break, of those that are in the yard."""
    turns, batches = (
        list(of.begun.turns),
        {id(batch): replace(batch, content=dict(batch.content)) for batch in of.begun.batches},
    )
    for at, turn in enumerate(turns):
        fills = [(number, batches[id(batch)]) for number, batch in turn.fills]
        if len(fills) > 1 and rng.random() < 0.3:
            number, batch = fills.pop(rng.randrange(len(fills)))
            batch.content[number] -= 1
            turn = replace(turn, since=(turn.start, turn.poured))
        turns[at] = replace(turn, fills=fills, blocks=_blocks(of.problem, fills))
    return _with(of, State(0, turns, list(batches.values())))


def a_mould_less(of: Cut, rng: Random) -> Cut:
    """One of the moulds, and a base of it, is no longer of use."""
    moulds = list(of.problem.moulds)
    kind = rng.randrange(len(moulds))
    if moulds[kind].count > 1:
        moulds[kind] = replace(moulds[kind], count=moulds[kind].count - 1, bases=max(0, moulds[kind].bases - 1))
    return replace(of, problem=replace(of.problem, moulds=tuple(moulds)))


def a_day_closed(of: Cut, rng: Random) -> Cut:
    """Nobody works on one of the next days."""
    at = rng.randrange(min(4, len(of.problem.days) - 1))
    days = of.problem.days
    return replace(of, problem=replace(of.problem, days=(*days[:at], *days[at + 1 :])))


def people_away(of: Cut, rng: Random) -> Cut:
    """One of the people is away for the next two days, if there are others."""
    fewer = (replace(day, people=max(_needed(of.problem, day), day.people - 1)) for day in of.problem.days[:2])
    return replace(of, problem=replace(of.problem, days=(*fewer, *of.problem.days[2:])))


def _needed(problem: Problem, day: Day) -> int:
    return max(1, *(chore.people for chore in day.chores), *(load.crew for load in problem.loads))


def a_slow_turn(of: Cut, rng: Random) -> Cut:
    """What stands in a mould sets slowly: its sides and its strip wait for as much as a day and a half more.

    Never into a frost, for of what it catches no rule says when it is stripped.
    """
    standing = [turn for turn in of.begun.turns if turn.strip is None]
    if not standing:
        return of
    slow, later = rng.choice(standing), rng.randrange(1, MINUTES_A_DAY * 3 // 2)
    sides = of.problem.ripe_sides[slow.mould]
    tables = (None if slow.sides is not None else sides, of.problem.ripe_strip[slow.mould])
    sides_at, strip_at = (0 if table is None else int(table[slow.poured]) + later for table in tables)
    if strip_at // MINUTES_A_DAY >= of.problem.clear_until[slow.start // MINUTES_A_DAY]:
        return of
    turns = [replace(turn, waits=(sides_at, strip_at)) if turn is slow else turn for turn in of.begun.turns]
    return _with(of, State(0, turns, of.begun.batches))


def a_worthless_turn(of: Cut, rng: Random) -> Cut:
    """All blocks of a turn that stands are found to be no good; it is still to be stripped."""
    standing = [turn for turn in of.begun.turns if turn.strip is None]
    if not standing:
        return of
    bad = rng.choice(standing)
    batches = {id(batch): replace(batch, content=dict(batch.content)) for batch in of.begun.batches}
    for number, batch in bad.fills:
        batches[id(batch)].content[number] -= 1
    turns = [
        replace(bad, fills=[], blocks=0, since=(bad.start, bad.poured))
        if turn is bad
        else replace(turn, fills=[(number, batches[id(batch)]) for number, batch in turn.fills])
        for turn in of.begun.turns
    ]
    return _with(of, State(0, turns, list(batches.values())))


def _blocks(problem: Problem, fills: Iterable[tuple[int, Batch]]) -> int:
    return sum(problem.castings[number].blocks for number, _ in fills)


def _with(of: Cut, begun: State) -> Cut:
    """Another yard; what stands in it is no longer what the plan had there, turn by turn."""
    standing = len(begun.open_turns) == len(of.begun.open_turns)
    poured = {id(batch) for batch in of.old.batches}
    turns = [turn for turn in of.old.turns if standing or any(id(batch) in poured for _, batch in turn.fills)]
    return replace(of, begun=begun, old=replace(of.old, turns=turns))
