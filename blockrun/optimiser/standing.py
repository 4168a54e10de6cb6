"""When what stands in the yard can be stripped, is free and may be laid, at the soonest."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.reach import Reach
from blockrun.optimiser.state import State, Turn
from blockrun.optimiser.when import When


def strip_from(reach: Reach, turn: Turn, now: int) -> int | None:
    """Earliest end of stripping a turn that stands, from minute ``now`` on."""
    off, now = sides_from(reach, turn, now), max(now, turn.waits[1])
    return reach.stripped(turn.mould, turn.poured, blocks=turn.blocks, now=now, sides_off=off)


def sides_from(reach: Reach, turn: Turn, now: int) -> int | None:
    """Earliest minute the sides of a turn that stands on a base are free."""
    if turn.sides is not None:
        return turn.sides.end
    return reach.sides_off(turn.mould, turn.poured, now=max(now, turn.waits[0]))


def mould_from(reach: Reach, turn: Turn, now: int) -> int | None:
    """Earliest minute the whole mould, or the base, of a turn is clean again."""
    stripped = strip_from(reach, turn, now) if turn.strip is None else turn.strip.end
    return reach.cleaned(turn.mould, stripped, now=now)


def busy_until(reach: Reach, kind: int, state: State, now: int, *, base: bool) -> list[int | None]:
    """Earliest minute each busy mould of a kind is free; ``None`` past the horizon.

    With ``base`` the whole mould, or its base, is meant, else its sides.
    """
    turns = [turn for turn in state.open_turns if turn.mould == kind]
    if base:
        return [mould_from(reach, turn, now) for turn in turns]
    return [sides_from(reach, turn, now) for turn in turns if turn.sides is None and turn.strip is None]


def ready_days(reach: Reach, state: State, now: int) -> list[list[int]]:
    """Of each format the numbers of the earliest days on which the blocks poured already may be laid."""
    problem = reach.problem
    found: list[list[int]] = [[] for _ in problem.formats]
    for turn in state.turns:
        stripped = turn.strip.end if turn.strip else strip_from(reach, turn, now)
        for place, (casting, _) in enumerate(turn.fills):
            ready = None if stripped is None else turn.ready(problem, place, stripped)
            day = problem.horizon if ready is None else ready // MINUTES_A_DAY
            for block, count in problem.castings[casting].gives:
                found[block] += [day] * count
    return found


def of_use(free: Iterable[int | None], too_many: int) -> list[int | None]:
    """Minutes at which moulds come free, without the first of them where there are more than the yard still has."""
    soonest = sorted(free, key=lambda at: math.inf if at is None else at)
    return soonest[max(0, too_many) :]


@dataclass(frozen=True)
class Standing:
    """Where the moulds of one kind stand when the counted days begin, each by its earliest slot.

    There may be more of them than the yard has, where some are no longer in use: so many then set nothing free. Of
    those not stripped some may be ``empty``, without a good block, and some ``caught`` by frost.
    """

    free: int
    free_sides: int
    bare: int
    to_clean: int
    empty: int
    caught: int
    strip_slots: tuple[int, ...]
    blocks: tuple[int, ...]
    free_slots: tuple[int, ...]
    free_sides_slots: tuple[int, ...]

    @property
    def to_strip(self) -> int:
        """Turns not stripped yet."""
        return len(self.strip_slots)

    def ripe_by(self, slot: int) -> int:
        """Turns that may have been stripped by the end of a slot."""
        return sum(at <= slot for at in self.strip_slots)

    @property
    def blocks_in_moulds(self) -> int:
        """Blocks of these."""
        return sum(self.blocks)

    def blocks_ripe_by(self, slot: int) -> int:
        """Blocks of the turns that may have been stripped by the end of a slot."""
        return sum(blocks for at, blocks in zip(self.strip_slots, self.blocks, strict=True) if at <= slot)

    def free_by(self, slot: int) -> int:
        """Busy moulds, or bases, that may have been poured again by the end of a slot."""
        return sum(at <= slot for at in self.free_slots)

    def sides_by(self, slot: int) -> int:
        """Busy sides that may have been poured in again by the end of a slot."""
        return sum(at <= slot for at in self.free_sides_slots)

    @classmethod
    def of(cls, when: When, kind: int, state: State) -> Standing:
        """Of one kind, at the opening of the state's day."""
        problem, reach, slots = when.problem, when.reach, when.slots
        mould, now = problem.moulds[kind], problem.days[state.day].opens
        turns = [turn for turn in state.open_turns if turn.mould == kind]
        in_mould = [turn for turn in turns if turn.strip is None]
        strips = [strip_from(reach, turn, now) for turn in in_mould]
        bases = busy_until(reach, kind, state, now, base=True)
        sides = busy_until(reach, kind, state, now, base=False) if mould.bases else []
        on_sides = [turn for turn in in_mould if turn.sides is None]
        free, free_sides = (mould.bases or mould.count) - len(turns), mould.count - len(on_sides)
        return cls(
            free=max(0, free),
            free_sides=max(0, free_sides),
            bare=len(in_mould) - len(on_sides),
            to_clean=len(turns) - len(in_mould),
            empty=sum(not turn.blocks for turn in in_mould),
            caught=sum(turn.caught for turn in in_mould),
            strip_slots=tuple(slots.index(strip) for strip in strips),
            blocks=tuple(turn.blocks for turn in in_mould),
            free_slots=tuple(slots.index(reach.poured_from(kind, at)) for at in of_use(bases, -free)),
            free_sides_slots=tuple(slots.index(reach.poured_from(kind, at)) for at in of_use(sides, -free_sides)),
        )
