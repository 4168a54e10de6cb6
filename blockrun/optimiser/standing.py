"""When what stands in the yard can be stripped and is free, at the soonest."""

from __future__ import annotations

from dataclasses import dataclass

from blockrun.optimiser.problem import Problem
from blockrun.optimiser.state import State, Turn
from blockrun.optimiser.when import When


def strip_from(problem: Problem, turn: Turn, now: int) -> int | None:
    """Earliest end of stripping a turn that stands, from minute ``now`` on."""
    mould = problem.moulds[turn.mould]
    ripe = int(problem.ripe_strip[turn.poured])
    if ripe < 0:
        return None
    if mould.bases and turn.sides is None:
        free = sides_from(problem, turn, now)
        if free is None:
            return None
        ripe = max(ripe, free)
    start = problem.fit(max(now, ripe), mould.strip + problem.move[turn.blocks])
    return None if start is None else start + mould.strip


def sides_from(problem: Problem, turn: Turn, now: int) -> int | None:
    """Earliest minute the sides of a turn that stands on a base are free."""
    if turn.sides is not None:
        return turn.sides.end
    table = problem.ripe_sides[turn.mould]
    if table is None or table[turn.poured] < 0:
        return None
    sides = problem.moulds[turn.mould].sides
    start = problem.fit(max(now, int(table[turn.poured])), sides)
    return None if start is None else start + sides


def busy_until(problem: Problem, kind: int, state: State, now: int, *, base: bool) -> list[int | None]:
    """Earliest minute each busy mould of a kind is free; ``None`` past the horizon.

    With ``base`` the whole mould, or its base, is meant, else its sides.
    """
    turns = [turn for turn in state.open_turns if turn.mould == kind]
    if base:
        return [mould_from(problem, turn, now) for turn in turns]
    return [sides_from(problem, turn, now) for turn in turns if turn.sides is None and turn.strip is None]


def mould_from(problem: Problem, turn: Turn, now: int) -> int | None:
    """Earliest minute the whole mould, or the base, of a turn is clean again."""
    stripped = turn.strip.end if turn.strip is not None else strip_from(problem, turn, now)
    clean = problem.moulds[turn.mould].clean
    start = None if stripped is None else problem.fit(max(now, stripped), clean)
    return None if start is None else start + clean


@dataclass(frozen=True)
class Standing:
    """Where the moulds of one kind stand when the counted days begin, each by its earliest slot."""

    free: int
    free_sides: int
    bare: int
    blocks_in_moulds: int
    to_clean: int
    strip_slots: tuple[int, ...]
    free_slots: tuple[int, ...]
    free_sides_slots: tuple[int, ...]

    @property
    def to_strip(self) -> int:
        """Turns not stripped yet."""
        return len(self.strip_slots)

    def ripe_by(self, slot: int) -> int:
        """Turns that may have been stripped by the end of a slot."""
        return sum(at <= slot for at in self.strip_slots)

    def free_by(self, slot: int) -> int:
        """Busy moulds, or bases, that may have been poured again by the end of a slot."""
        return sum(at <= slot for at in self.free_slots)

    def sides_by(self, slot: int) -> int:
        """Busy sides that may have been poured in again by the end of a slot."""
        return sum(at <= slot for at in self.free_sides_slots)

    @classmethod
    def of(cls, when: When, kind: int, state: State) -> Standing:
        """Of one kind, at the opening of the state's day."""
        problem = when.problem
        mould, now = problem.moulds[kind], problem.days[state.day].opens
        turns = [turn for turn in state.open_turns if turn.mould == kind]
        in_mould = [turn for turn in turns if turn.strip is None]
        strips = [strip_from(problem, turn, now) for turn in in_mould]
        bases = busy_until(problem, kind, state, now, base=True)
        sides = busy_until(problem, kind, state, now, base=False) if mould.bases else []
        on_sides = [turn for turn in in_mould if turn.sides is None]
        return cls(
            free=(mould.bases or mould.count) - len(turns),
            free_sides=mould.count - len(on_sides),
            bare=len(in_mould) - len(on_sides),
            blocks_in_moulds=sum(turn.blocks for turn in in_mould),
            to_clean=len(turns) - len(in_mould),
            strip_slots=tuple(when.slots.index(strip) for strip in strips),
            free_slots=tuple(when.poured_again(kind, free) for free in bases),
            free_sides_slots=tuple(when.poured_again(kind, free) for free in sides),
        )
