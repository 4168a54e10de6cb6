"""What a plan of a problem must keep, minute by minute, written from the meanings of a problem alone."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator
from itertools import zip_longest

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.state import Batch, State, Turn

Stay = tuple[int, int, int]
"""From a minute to another, so many."""


def broken(problem: Problem, state: State) -> list[str]:
    """What a finished plan does not keep."""
    return [
        *_asked(problem, state),
        *_work(problem, state),
        *_turns(problem, state),
        *_shared(problem, state),
        *_stock(problem, state),
    ]


def _asked(problem: Problem, state: State) -> Iterator[str]:
    if any(state.left_to_pour(problem)):
        yield "something is left to pour"
    for batch in state.batches:
        poured = Counter(number for turn in state.turns for number, of in turn.fills if of is batch)
        cubes = problem.cubes.volume * batch.cubes if problem.cubes is not None else 0
        volume = cubes + sum(problem.castings[number].volume * count for number, count in batch.content.items())
        if poured != Counter(batch.content) or volume > batch.load.room:
            yield "a batch pours something else than it holds"
        if any(problem.castings[number].mix != batch.load.mix for number in batch.content):
            yield "a batch pours another mix"


def _tasks(problem: Problem, state: State) -> Iterator[Stay]:
    for batch in state.batches:
        yield batch.start, batch.end, batch.load.crew
    for turn in state.turns:
        assert turn.strip is not None
        assert turn.clean is not None
        yield turn.strip.start, turn.strip.end + problem.move[turn.blocks], 1
        yield turn.clean.start, turn.clean.end, 1
        if turn.sides is not None:
            yield turn.sides.start, turn.sides.end, 1


def _work(problem: Problem, state: State) -> Iterator[str]:
    tasks = list(_tasks(problem, state))
    for start, end, _ in tasks:
        if not any(opens <= start and end <= closes for opens, closes in problem.windows):
            yield f"a task from {start} to {end} lies in no window"
    poured = [batch.start // MINUTES_A_DAY for batch in state.batches]
    for day in problem.days:
        chores = [(chore.start, chore.end, chore.people) for chore in day.chores]
        of_day = [task for task in tasks if task[0] // MINUTES_A_DAY == day.number]
        if _most(of_day + (chores if min(poured) <= day.number <= max(poured) else [])) > day.people:
            yield f"too few people on day {day.number}"
        for batch in state.batches:
            if batch.start // MINUTES_A_DAY == day.number and batch.foam_at > day.last_foam:
                yield "foam goes in too late"
            takes = batch.load.foam + batch.load.pour
            hot = (keeps for first, end, keeps in day.hot if first <= batch.foam_at < end)
            if any(keeps < takes for keeps in hot) and not batch.load.hardy:
                yield "a batch sets before it is poured"


def _turns(problem: Problem, state: State) -> Iterator[str]:
    for turn in state.turns:
        mould = problem.moulds[turn.mould]
        assert turn.strip is not None
        assert turn.clean is not None
        if len(turn.fills) > mould.cavities or {number for number, _ in turn.fills} - mould.casts:
            yield "a mould casts what it cannot"
        if turn.blocks != sum(problem.castings[number].blocks for number, _ in turn.fills):
            yield "blocks are miscounted"
        lengths = (turn.strip.end - turn.strip.start, turn.clean.end - turn.clean.start)
        if lengths != (mould.strip, mould.clean) or turn.clean.start < turn.strip.end:
            yield "a strip or a clean is wrong"
        if not 0 <= problem.ripe_strip[turn.mould][turn.poured] <= turn.strip.start:
            yield "stripped too young"
        if turn.strip.end // MINUTES_A_DAY > problem.clear_until[turn.start // MINUTES_A_DAY]:
            yield "stands in the frost"
        if len({batch.start // MINUTES_A_DAY for _, batch in turn.fills}) != 1:
            yield "a turn is poured on two days"
        yield from _sides(problem, turn)


def _sides(problem: Problem, turn: Turn) -> Iterator[str]:
    table = problem.ripe_sides[turn.mould]
    if table is None:
        if turn.sides is not None:
            yield "sides come off a mould without bases"
        return
    assert turn.strip is not None
    assert turn.sides is not None
    if turn.sides.start < table[turn.poured] or turn.strip.start < turn.sides.end:
        yield "sides come off too soon, or too late"


def _shared(problem: Problem, state: State) -> Iterator[str]:
    for mixer in range(problem.n_mixers):
        if _most((batch.start, batch.end, 1) for batch in state.batches if batch.load.mixer == mixer) > 1:
            yield "a mixer has two batches"
    if problem.n_mixers > 1 and _most((batch.foam_at, batch.pour_from, 1) for batch in state.batches) > 1:
        yield "foam is made for two"
    for kind, mould in enumerate(problem.moulds):
        turns = [turn for turn in state.turns if turn.mould == kind]
        if mould.bases and _most((turn.start, turn.clean.end, 1) for turn in turns if turn.clean) > mould.bases:
            yield "a base is in two turns"
        if _most((turn.start, _free(turn), 1) for turn in turns) > mould.count:
            yield "a mould is in two turns"
    if problem.rack_for:
        stays = [
            (turn.strip.end, problem.leaves_rack(turn.strip.end), turn.blocks) for turn in state.turns if turn.strip
        ]
        if _most(stays) > problem.places:
            yield "the rack is too full"
    yield from _stack(problem, state)


def _stack(problem: Problem, state: State) -> Iterator[str]:
    """Every day from the first to the last on which anything is on the stack."""
    if problem.stack is None:
        return
    stays = [list(_stays(problem, state, block)) for block in range(len(problem.formats))]
    for day in range(max(laid for of_format in stays for _, laid in of_format) + 1):
        there = [sum(came <= day <= laid for came, laid in of_format) for of_format in stays]
        if sum(math.ceil(blocks / problem.stack.layers) for blocks in there) > problem.stack.places:
            yield f"the stack is too full on day {day}"


def _stays(problem: Problem, state: State, block: int) -> Iterator[tuple[int, int]]:
    """Days on which each block of a format comes to the stack and is laid: ready first where it is needed first."""
    blocks = sorted(
        (problem.ready(batch.pour_to, turn.strip.end) // MINUTES_A_DAY, problem.leaves_rack(turn.strip.end))
        for turn in state.turns
        for number, batch in turn.fills
        for _ in range(problem.castings[number].of(block))
        if turn.strip
    )
    due = [day for day, count in problem.formats[block].needs for _ in range(count)]
    for (ready, came), needed in zip_longest(blocks, due, fillvalue=-1):
        yield came // MINUTES_A_DAY, max(ready, needed)


def _free(turn: Turn) -> int:
    span = turn.sides or turn.clean
    assert span is not None
    return span.end


def _stock(problem: Problem, state: State) -> Iterator[str]:
    for day in problem.days:
        by_then: list[Batch] = [batch for batch in state.batches if batch.start // MINUTES_A_DAY <= day.number]
        if sum(batch.load.cement for batch in by_then) > problem.cement.by(day.number):
            yield "cement runs out"
        if sum(batch.load.agent for batch in by_then) > problem.agent.by(day.number):
            yield "agent runs out"


def _most(stays: Iterable[Stay]) -> int:
    """The most there are at one minute."""
    changes: Counter[int] = Counter()
    for start, end, number in stays:
        changes[start] += number
        changes[end] -= number
    most = now = 0
    for minute in sorted(changes):
        now += changes[minute]
        most = max(most, now)
    return most
