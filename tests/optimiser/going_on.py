"""What a plan that goes on from a yard must keep: the rules for what it does, and the past as it was."""

from __future__ import annotations

from bisect import bisect_right
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.stacked import Stacked
from blockrun.optimiser.state import Span, State, Turn
from tests.optimiser.quick import kept


def broken(problem: Problem, begun: State, plan: State) -> list[str]:
    """What a finished plan does not keep."""
    n_turns, n_batches = len(begun.turns), len(begun.batches)
    made = State(plan.day, plan.turns[n_turns:], plan.batches[n_batches:])
    return [
        *_past(problem, begun, plan),
        *kept._asked(problem, plan),
        *_work(problem, plan),
        *kept._turns(problem, made),
        *_emptied(problem, begun, plan),
        *_waited(begun, plan),
        *_shared(problem, plan, made),
        *_stock(problem, plan, made),
        *_sets(problem, begun, made),
    ]


def _past(problem: Problem, begun: State, plan: State) -> Iterator[str]:
    for batch, before in zip(plan.batches, begun.batches, strict=False):
        if (batch.start, batch.load, batch.content) != (before.start, before.load, before.content):
            yield "a batch of the past is another"
    for turn, before in zip(plan.turns, begun.turns, strict=False):
        if (turn.mould, turn.start, turn.poured, turn.blocks) != (
            before.mould,
            before.start,
            before.poured,
            before.blocks,
        ):
            yield "a turn of the past is another"
        if [number for number, _ in turn.fills] != [number for number, _ in before.fills]:
            yield "a turn of the past holds something else"
        for now, then in ((turn.sides, before.sides), (turn.strip, before.strip), (turn.clean, before.clean)):
            if then is not None and now != then:
                yield "what was done is done again"
            if now is not None and now.start < problem.opens and then is None:
                yield "something is done in the past"
    if any(batch.start < problem.opens for batch in plan.batches[len(begun.batches) :]):
        yield "a batch is poured in the past"


def _work(problem: Problem, plan: State) -> Iterator[str]:
    """People, as for a whole plan, but for what was done before."""
    tasks = [task for task in kept._tasks(problem, plan) if task[0] >= problem.opens]
    for start, end, _ in tasks:
        if not any(opens <= start and end <= closes for opens, closes in problem.windows):
            yield f"a task from {start} to {end} lies in no window"
    last = max(batch.start // MINUTES_A_DAY for batch in plan.batches)
    for day in problem.days:
        chores = [(chore.start, chore.end, chore.people) for chore in day.chores if day.number <= last]
        if kept._most([*(task for task in tasks if task[0] // MINUTES_A_DAY == day.number), *chores]) > day.people:
            yield f"too few people on day {day.number}"
        for batch in plan.batches:
            if day.opens <= batch.start < day.closes and batch.foam_at > day.last_foam:
                yield "foam goes in too late"


def _emptied(problem: Problem, begun: State, plan: State) -> Iterator[str]:
    """What stood in the yard is emptied by the rules, as far as it was not yet."""
    for turn, before in zip(plan.turns, begun.turns, strict=False):
        mould = problem.moulds[turn.mould]
        if before.strip is None:
            assert turn.strip is not None
            if not 0 <= problem.ripe_strip[turn.mould][turn.poured] <= turn.strip.start:
                yield "stripped too young"
            if turn.strip.end - turn.strip.start != mould.strip:
                yield "a strip is wrong"
            if not turn.caught and turn.strip.end // MINUTES_A_DAY > problem.clear_until[turn.start // MINUTES_A_DAY]:
                yield "stands in the frost"
            if before.sides is None:
                yield from kept._sides(problem, turn)
            elif turn.strip.start < before.sides.end:
                yield "stripped before its sides are off"
        if before.clean is None:
            assert turn.strip is not None
            assert turn.clean is not None
            if turn.clean.start < turn.strip.end or turn.clean.end - turn.clean.start != mould.clean:
                yield "a clean is wrong"


def _waited(begun: State, plan: State) -> Iterator[str]:
    """What sets slowly is waited for."""
    for turn, before in zip(plan.turns, begun.turns, strict=False):
        done = ((before.sides, turn.sides), (before.strip, turn.strip))
        for (was, now), least in zip(done, before.waits, strict=True):
            if was is None and now is not None and now.start < least:
                yield "not waited for what sets slowly"


def _shared(problem: Problem, plan: State, made: State) -> Iterator[str]:
    yield from kept._shared(
        replace(problem, moulds=tuple(replace(m, count=99_999, bases=m.bases and 99_999) for m in problem.moulds)),
        State(made.day, made.turns, made.batches),
    )
    for turn in made.turns:
        mould, others = problem.moulds[turn.mould], [each for each in plan.turns if each.mould == turn.mould]
        if sum(each.start <= turn.start < kept._free(each) for each in others) > mould.count:
            yield "a mould is in two turns"
        if mould.bases and sum(each.start <= turn.start < _clean(each) for each in others) > mould.bases:
            yield "a base is in two turns"
    for turn in plan.turns:
        assert turn.strip is not None
        if problem.rack_for and turn.strip.start >= problem.opens and turn.blocks:
            at = turn.strip.end
            if sum(blocks for since, leaves, blocks in _stays(problem, plan) if since <= at < leaves) > problem.places:
                yield "the rack is too full"
    yield from _stack(problem, plan)


def _stack(problem: Problem, plan: State) -> Iterator[str]:
    """There is room on the stack for what comes to it; what stood there takes what it takes."""
    if problem.stack is None:
        return
    before = [turn for turn in plan.turns if turn.strip is not None and turn.strip.start < problem.opens]
    there, all_ = (Stacked.of(problem, problem.stack, turns) for turns in (before, plan.turns))
    for day in range(problem.horizon):
        if problem.stack.columns(all_.on(day)) > max(problem.stack.places, problem.stack.columns(there.on(day))):
            yield f"the stack is too full on day {day}"


def _stays(problem: Problem, plan: State) -> Iterator[tuple[int, int, int]]:
    for turn in plan.turns:
        if turn.strip is not None:
            yield turn.strip.end, problem.leaves_rack(turn.strip.end), turn.blocks


def _clean(turn: Turn) -> int:
    assert isinstance(turn.clean, Span)
    return turn.clean.end


def _stock(problem: Problem, plan: State, made: State) -> Iterator[str]:
    for batch in made.batches:
        day = batch.start // MINUTES_A_DAY
        by_then = [each for each in plan.batches if each.start // MINUTES_A_DAY <= day]
        if sum(each.load.cement for each in by_then) > problem.cement.by(day):
            yield "cement runs out"
        if sum(each.load.agent for each in by_then) > problem.agent.by(day):
            yield "agent runs out"


def _sets(problem: Problem, begun: State, made: State) -> Iterator[str]:
    """Where lots begin by date each gives one set, on the first day on which any of it is made, or gave it before."""
    if problem.cubes is None or problem.cubes.lots:
        return
    begins = problem.cubes.days
    days = [batch.start // MINUTES_A_DAY for batch in made.batches]
    first: dict[tuple[int, int], int] = {}
    for batch, day in sorted(zip(made.batches, days, strict=True), key=lambda of: of[1]):
        first.setdefault((batch.load.mix, bisect_right(begins, day)), day)
    given = Counter[tuple[int, int]]()
    for batch in begun.batches:
        given[batch.load.mix, bisect_right(begins, batch.start // MINUTES_A_DAY)] += batch.cubes
    due = Counter({(mix, day): 1 for (mix, lot), day in first.items() if not given[mix, lot]})
    now = Counter[tuple[int, int]]()
    for batch, day in zip(made.batches, days, strict=True):
        now[batch.load.mix, day] += batch.cubes
    if +now != due:
        yield f"sets of mixes by day are {dict(+now)}; due are {dict(due)}"
