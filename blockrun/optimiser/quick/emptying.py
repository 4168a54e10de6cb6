"""Sides, strips and cleans of a day, each as early as it can be, in the order of a policy."""

from __future__ import annotations

from collections.abc import Collection
from operator import attrgetter
from random import Random

from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.quick.policy import Policy
from blockrun.optimiser.quick.shift import Shift
from blockrun.optimiser.quick.yard import Yard
from blockrun.optimiser.state import Span, Turn

_poured = attrgetter("poured")


class Emptying:
    """The turns that stand on a day.

    ``not_before`` has minutes before which a task of a turn is not to begin, by the turn's id and the task's name.
    """

    def __init__(self, yard: Yard, shift: Shift, policy: Policy, dice: Random) -> None:
        self.yard, self.shift, self.policy, self.dice = yard, shift, policy, dice
        self.problem = yard.problem
        self._ends = (shift.day.number + 1) * MINUTES_A_DAY
        self.not_before: dict[tuple[int, str], int] = {}
        self._given_up: set[tuple[int, str]] = set()
        self._not_today: set[int] = set()

    def promises(self, but: Collection[int] = ()) -> None:
        """What was promised for today is done, but for some, by id."""
        for turn in self.yard.standing:
            promised = self.yard.promised.get(id(turn))
            if promised is not None and id(turn) not in but:
                sides, strip = promised
                if sides is not None and turn.sides is None and sides.start < self._ends:
                    turn.sides = sides
                    self.yard.units.mould_free(turn.mould, sides.end)
                if strip.start < self._ends:
                    turn.strip = strip
                    self.clean(turn)
                    del self.yard.promised[id(turn)]

    def some(self, volume: int, but: Collection[int] = ()) -> bool:
        """Empty moulds that hold so much, as far as can be today, but some, by id; whether anything was done."""
        done = False
        stuck = False
        for turn in self._in_order():
            if id(turn) in but or id(turn) in self._not_today:
                continue
            if self._one(turn, stuck=stuck):
                done = True
                volume -= sum(self.problem.castings[number].volume for number, _ in turn.fills)
                if volume <= 0:
                    break
            elif self.policy.in_line and (id(turn), "rack") in self._given_up:
                stuck = True
        return done

    def _in_order(self) -> list[Turn]:
        by, yard = self.policy.strip_by, self.yard
        if by == "dice":
            keys = {id(turn): self.dice.random() for turn in yard.standing}
            return sorted(yard.standing, key=lambda turn: keys[id(turn)])
        if by == "due":
            return sorted(yard.standing, key=lambda turn: (yard.due[id(turn)], turn.poured))
        if by == "blocks":
            return sorted(yard.standing, key=lambda turn: (-turn.blocks, turn.poured))
        return sorted(yard.standing, key=_poured)

    def _one(self, turn: Turn, *, stuck: bool) -> bool:
        """Sides, strip and clean, what is still to do and can be today; whether anything was done."""
        mould = self.problem.moulds[turn.mould]
        sides, strip, clean = turn.sides, turn.strip, turn.clean
        if id(turn) not in self.yard.promised:
            self.sides(turn)
            if turn.strip is None and not stuck and (not mould.bases or turn.sides is not None):
                self.strip(turn)
        self.clean(turn)
        return turn.sides is not sides or turn.strip is not strip or turn.clean is not clean

    def sides(self, turn: Turn) -> None:
        """Take its sides off, if it has any and they can be today."""
        mould = self.problem.moulds[turn.mould]
        if mould.bases and turn.sides is None and turn.strip is None:
            turn.sides = self._task(turn, "sides", turn.sides_ripe(self.problem), mould.sides)
            if turn.sides is not None:
                self.yard.units.mould_free(turn.mould, turn.sides.end)

    def _task(self, turn: Turn, name: str, at: int, length: int) -> Span | None:
        """A task of one person today, if it can be; one that cannot is not tried again."""
        if at < 0 or at >= self._ends or (id(turn), name) in self._given_up:
            return None
        start = self.shift.first(max(at, self.not_before.get((id(turn), name), at)), length)
        if start is None:
            self._given_up.add((id(turn), name))
            return None
        self.shift.take(start, start + length)
        return Span(start, start + length)

    def strip(self, turn: Turn) -> None:
        """Strip it, if it is ripe today and the rack has room."""
        mould, rack = self.problem.moulds[turn.mould], self.yard.rack
        ripe = turn.strip_ripe(self.problem)
        if ripe < 0 or ripe >= self._ends:
            # nothing else is to do for it either, and a mould that is filled further ripens later
            self._not_today.add(id(turn))
            return
        if (id(turn), "strip") in self._given_up:
            return
        length = mould.strip + self.problem.move[turn.blocks]
        at = max(ripe, turn.sides.end if turn.sides else 0, self.not_before.get((id(turn), "strip"), 0))
        start = self.shift.first(at, length)
        while start is not None:
            room = rack.room_from(turn, start + mould.strip)
            if room == start + mould.strip:
                self.shift.take(start, start + length)
                rack.take(turn, room)
                turn.strip = Span(start, room)
                return
            self._given_up.add((id(turn), "rack"))
            start = self.shift.first(room - mould.strip, length)
        self._given_up.add((id(turn), "strip"))

    def clean(self, turn: Turn) -> None:
        """Clean its mould, if it is stripped and somebody has time today."""
        if turn.strip is None or turn.clean is not None:
            return
        mould = self.problem.moulds[turn.mould]
        turn.clean = self._task(turn, "clean", turn.strip.end, mould.clean)
        if turn.clean is not None:
            free = self.yard.units.base_free if mould.bases else self.yard.units.mould_free
            free(turn.mould, turn.clean.end)
