"""Every plan worth having that goes on from a tiny yard in the middle of its plan."""

from __future__ import annotations

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.state import State
from tests.optimiser.tiny import Key, OneBatch, OneTurn, Trial, Tuple4, _batches, _castings, _turns


class _GoingOn(Trial):
    """The same, with what is done already at the minutes at which it was."""

    def _leaves(self, t: int, start: int) -> int:
        return self.problem.leaves_rack(start + self._strip_of(t))


def outcomes_from(problem: Problem, begun: State) -> set[Tuple4]:
    """(late, finish, batches, cement) of every plan tried that pours what is left of single blocks."""
    cast = [number for turn in begun.turns for number, _ in turn.fills]
    made, stood, starts = _history(begun)
    waits = tuple(turn.waits for turn in begun.turns)
    found: set[Tuple4] = set()
    for castings in _castings(problem, begun.left_to_pour(problem)):
        for batches in _batches(problem, castings):
            more = tuple(OneBatch(batch.load, _shifted(batch.blocks, len(cast))) for batch in batches)
            for turns in _turns(problem, castings):
                also = tuple(OneTurn(turn.kind, _shifted(turn.blocks, len(cast))) for turn in turns)
                for last in _last_days(problem, begun, pours=bool(more)):
                    trial = _GoingOn(problem, [*cast, *castings], (*made, *more), (*stood, *also), last, waits)
                    trial._go(dict(starts))
                    found |= trial.found
    return found


def _history(begun: State) -> tuple[tuple[OneBatch, ...], tuple[OneTurn, ...], dict[Key, int]]:
    starts: dict[Key, int] = {("batch", b): batch.start for b, batch in enumerate(begun.batches)}
    of_batch: dict[int, list[int]] = {id(batch): [] for batch in begun.batches}
    turns, at = [], 0
    for t, turn in enumerate(begun.turns):
        for place, (_, batch) in enumerate(turn.fills, start=at):
            of_batch[id(batch)].append(place)
        turns.append(OneTurn(turn.mould, tuple(range(at, at + len(turn.fills)))))
        at += len(turn.fills)
        spans = {"sides": turn.sides, "strip": turn.strip, "clean": turn.clean}
        starts |= {(name, t): span.start for name, span in spans.items() if span is not None}
    batches = tuple(OneBatch(batch.load, tuple(of_batch[id(batch)])) for batch in begun.batches)
    return batches, tuple(turns), starts


def _shifted(blocks: tuple[int, ...], by: int) -> tuple[int, ...]:
    return tuple(block + by for block in blocks)


def _last_days(problem: Problem, begun: State, *, pours: bool) -> list[int]:
    """Positions of days that the last batch may be poured on; -1 for none of those to come."""
    today = any(batch.start // MINUTES_A_DAY == problem.days[0].number for batch in begun.batches)
    pour_days = [position for position, day in enumerate(problem.days) if day.last_foam >= day.opens]
    return list(range(max(pour_days, default=-1) + 1)) if pours else [0 if today else -1]
