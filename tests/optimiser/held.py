"""The counts held to what a real plan does: if these rules relax the minutes, every real plan keeps them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from ortools.sat.python import cp_model

from blockrun.optimiser.counts import Counts
from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.state import Batch, Span, State, Turn
from blockrun.planner.brief import Brief
from tests.bench.rule import Worked


def state_of(brief: Brief, worked: Worked) -> State:
    """A plan of the foreman's in the optimiser's numbers."""
    loads = {(mixer.name, mix, size.bags): brief.problem.loads[n] for n, (mixer, mix, size) in enumerate(brief.loads)}
    formats = {key[:4]: n for n, key in enumerate(brief.formats)}
    batches = {
        id(batch): Batch(
            loads[batch.mixer.name, batch.mix, batch.size.bags],
            batch.start or 0,
            dict(Counter(formats[size] for size in batch.blocks)),
        )
        for batch in worked.batches
    }
    turns = [
        Turn(
            brief.moulds.index(turn.kind),
            [(formats[size], batches[id(batch)]) for size, batch in turn.fills],
            _span(turn.sides, turn.sides_off),
            _span(turn.strip, turn.stripped),
            _span(turn.clean, turn.cleaned),
        )
        for turn in worked.turns
    ]
    last = max((turn.clean.end for turn in turns if turn.clean), default=0) // MINUTES_A_DAY
    day = sum(on.number <= last for on in brief.problem.days)
    return State(day, turns, sorted(batches.values(), key=lambda batch: batch.start))


def _span(start: int | None, end: int | None) -> Span | None:
    return None if start is None or end is None else Span(start, end)


def morning(state: State, brief: Brief, day: int) -> State:
    """The yard as it stood on the morning of the day at this position among the working days."""
    opens = brief.problem.days[day].number * MINUTES_A_DAY

    def done(span: Span | None) -> Span | None:
        return span if span and span.end <= opens else None

    turns = [
        Turn(turn.mould, turn.fills, done(turn.sides), done(turn.strip), done(turn.clean), turn.blocks)
        for turn in state.turns
        if turn.start < opens
    ]
    return State(day, turns, [batch for batch in state.batches if batch.start < opens])


def hold(counts: Counts, state: State) -> None:
    """Add to the counts that all of it is as in a plan; blocks poured after the last day are left for later."""
    slots, first = counts.when.slots, counts.slots[0]
    opens = slots.all[first].first

    def slot(minute: int) -> int:
        return slots.index(minute)

    turns = [turn for turn in state.turns if slot(turn.poured) in counts.pour_slots]
    batches = [batch for batch in state.batches if slot(batch.pour_to) in counts.pour_slots]
    for kind in counts.kinds:
        of_kind = [turn for turn in turns if turn.mould == kind]
        standing = [turn for turn in state.turns if turn.mould == kind and turn.start < opens] + of_kind
        _fix(counts, counts.turns[kind].of, (slot(turn.poured) for turn in of_kind))
        spans = {
            "stripped": [(turn.strip, 1) for turn in standing],
            "cleaned": [(turn.clean, 1) for turn in standing],
            "bare": [(turn.sides, 1) for turn in standing],
            "racked": [(turn.strip, turn.blocks) for turn in standing],
        }
        for name, done in spans.items():
            running = getattr(counts, name)
            if kind in running:
                ends = [slot(span.end) for span, n in done if span and span.end > opens for _ in range(n)]
                _fix(counts, running[kind].of, [end for end in ends if end in counts.slots])
    poured = Counter((slot(batch.pour_to), turn.mould, block) for turn in state.turns for block, batch in turn.fills)
    for at in counts.slots:
        for (kind, block), number in counts.filled[at].items():
            counts.model.add(number == poured.pop((at, kind, block), 0))
    left = Counter(block for (at, _, block), n in poured.items() if at >= first for _ in range(n))
    for block, number in counts.later.items():
        counts.model.add(number == left.get(block, 0))
    _hold_batches(counts, batches)


def _hold_batches(counts: Counts, batches: list[Batch]) -> None:
    number: Counter[tuple[int, int]] = Counter()
    cement: Counter[tuple[int, int]] = Counter()
    for batch in batches:
        at = counts.when.slots.index(batch.pour_to)
        load = counts.problem.loads.index(batch.load)
        maker = next(m for m, maker in enumerate(counts.limits.mixing.makers) if load in maker.loads)
        number[at, maker] += 1
        cement[at, maker] += batch.load.cement
    for at, of_slot in counts.batches.items():
        for maker, variable in of_slot.items():
            counts.model.add(variable == number.pop((at, maker), 0))
            counts.model.add(counts.cement_in[at][maker] == cement[at, maker])
    _nowhere(counts, number)


def _fix(counts: Counts, variables: dict[int, cp_model.IntVar], slots: Iterable[int]) -> None:
    found = Counter(slots)
    for at, variable in variables.items():
        counts.model.add(variable == found.pop(at, 0))
    _nowhere(counts, found)


def _nowhere(counts: Counts, left: Counter[int] | Counter[tuple[int, int]]) -> None:
    """What is done where the counts know of no such thing keeps no rule."""
    if left.total():
        counts.model.add_bool_or([])
