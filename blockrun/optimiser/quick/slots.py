"""The moulds that can be filled on a day: those begun already, those that stand free, those that come free."""

from __future__ import annotations

from dataclasses import dataclass, field
from random import Random

from blockrun.optimiser.problem import Load
from blockrun.optimiser.quick.policy import Policy
from blockrun.optimiser.quick.shift import Shift
from blockrun.optimiser.quick.yard import Yard
from blockrun.optimiser.state import Turn


@dataclass(eq=False)
class Slot:
    """A mould that can be filled from a minute on: so many cavities of it, in a ``turn`` begun already or a new one."""

    kind: int
    free: int
    cavities: int
    turn: Turn | None = None
    chosen: list[int] = field(default_factory=list)


class Slots:
    """Of a day. ``filling`` are turns begun on it with cavities to spare, and how many, by id."""

    def __init__(self, yard: Yard, shift: Shift, policy: Policy, dice: Random) -> None:
        self.yard, self.shift, self.policy, self.dice = yard, shift, policy, dice
        self.problem = yard.problem
        self.filling: dict[int, tuple[Turn, int]] = {}
        self._allowed: dict[int, int] = {}
        self._closed = {kind for kind in range(len(self.problem.moulds)) if self._is_closed(kind)}

    def _is_closed(self, kind: int) -> bool:
        """Whether a kind is passed over today, or a frost comes too soon."""
        if self.policy.skip and self.dice.random() < self.policy.skip:
            return True
        return self.yard.ground.last_poured(kind, self.yard.position) <= self.shift.day.opens

    def close(self, kinds: set[int]) -> None:
        """Fill no more of these kinds today."""
        self._closed |= kinds

    def allow(self, kind: int, more: int) -> None:
        """Fill so many more of a kind today at the most."""
        self._allowed[kind] = more

    def of(self, load: Load, mix: int, until: int) -> list[Slot]:
        """Those for a load, free before a minute and while it waits: begun ones first, then as they come."""
        found = self._all(mix, min(self.shift.day.closes, until))
        if not found:
            return found
        found.sort(key=lambda slot: (slot.turn is None, slot.free))
        if self.policy.share_rack:
            self._share_rack(found)
        start = self.shift.first_batch(load, min(slot.free for slot in found) - load.to_pour)
        if start is None:
            return found[:1]
        latest = start + load.to_pour + self.policy.wait
        return [slot for slot in found if slot.free <= latest]

    def _all(self, mix: int, until: int) -> list[Slot]:
        found = []
        for kind in self.yard.ground.kinds_of[mix]:
            if kind not in self._closed:
                begun = ((turn, spare) for turn, spare in self.filling.values() if turn.mould == kind)
                found += [Slot(kind, turn.start, spare, turn) for turn, spare in begun if turn.start < until]
                units = self.yard.units.free(kind)[: self._allowed.get(kind)]
                fillable = self.problem.fillable[kind]
                filled = max(1, round(fillable * self.policy.portion))
                if self.policy.ragged:
                    found += [Slot(kind, free, self._ragged(fillable, filled)) for free in units if free < until]
                else:
                    found += [Slot(kind, free, filled) for free in units if free < until]
        return found

    def _ragged(self, fillable: int, filled: int) -> int:
        """Cavities of a mould that are to be filled: those the others have, or any number."""
        return self.dice.randint(1, fillable) if self.dice.random() < self.policy.ragged else filled

    def _share_rack(self, slots: list[Slot]) -> None:
        """Fill no mould further than the rack will have places for when it is stripped, where it will have any."""
        yard = self.yard
        waiting = sum(turn.blocks for turn in yard.standing if turn.strip is None and id(turn) not in yard.promised)
        room: dict[int, int] = {}
        for slot in slots:
            if slot.turn is None:
                if slot.kind not in room:
                    soonest = max(self.shift.day.opens, slot.free)
                    ripe = int(self.problem.ripe_strip[slot.kind].item(soonest))
                    room[slot.kind] = yard.rack.free_at(ripe) - waiting
                if room[slot.kind] > 0:
                    slot.cavities = min(slot.cavities, room[slot.kind])
                room[slot.kind] -= slot.cavities

    def fill(self, slot: Slot, turn: Turn) -> None:
        """A mould is filled with what was chosen for it."""
        if slot.turn is None:
            self.yard.units.take(slot.kind, turn.start)
            if slot.kind in self._allowed:
                self._allowed[slot.kind] -= 1
        self.filling.pop(id(turn), None)
        if slot.cavities > len(slot.chosen):
            self.filling[id(turn)] = (turn, slot.cavities - len(slot.chosen))
