"""The moulds that can be filled on a day: those begun already, those that stand free, those that come free."""

from __future__ import annotations

from bisect import bisect_left
from operator import attrgetter
from random import Random

from blockrun.optimiser.problem import Load
from blockrun.optimiser.quick.policy import Policy
from blockrun.optimiser.quick.shift import Shift
from blockrun.optimiser.quick.yard import Yard
from blockrun.optimiser.state import Turn

_free = attrgetter("free")


class Slot:
    """A mould that can be filled from a minute on: so many cavities of it, in a ``turn`` begun already or a new one.

    ``chosen`` is what goes into it. No dataclass, for plays make thousands and its ``__init__`` is not compiled.
    """

    def __init__(self, kind: int, free: int, cavities: int, turn: Turn | None = None) -> None:
        self.kind, self.free, self.cavities, self.turn = kind, free, cavities, turn
        self.chosen: list[int] = []


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
        if self.policy.share_rack:
            self._share_rack(found)
        start = self.shift.first_batch(load, min(slot.free for slot in found) - load.to_pour)
        if start is None:
            return found[:1]
        latest = start + load.to_pour + self.policy.wait
        return [slot for slot in found if slot.free <= latest]

    def most(self, mix: int) -> int:
        """Volume of a mix that they all hold at the most, without looking at each; with no ragged ones only."""
        volume = 0
        most_volume, closes = self.yard.ground.most_volume, self.shift.day.closes
        for kind in self.yard.ground.kinds_of[mix]:
            if kind not in self._closed:
                units = bisect_left(self.yard.units.free(kind), closes)
                allowed = self._allowed.get(kind, units)
                cavities = min(units, allowed) * self._filled(kind)
                for turn, spare in self.filling.values():
                    if turn.mould == kind and turn.start < closes:
                        cavities += spare
                volume += cavities * most_volume[kind][mix]
        return volume

    def _filled(self, kind: int) -> int:
        """Cavities of a mould that are to be filled."""
        return max(1, round(self.problem.fillable[kind] * self.policy.portion))

    def _all(self, mix: int, until: int) -> list[Slot]:
        begun: list[Slot] = []
        new: list[Slot] = []
        for kind in self.yard.ground.kinds_of[mix]:
            if kind not in self._closed:
                for turn, spare in self.filling.values():
                    if turn.mould == kind and turn.start < until:
                        begun.append(Slot(kind, turn.start, spare, turn))
                fillable, filled = self.problem.fillable[kind], self._filled(kind)
                for free in self.yard.units.free(kind)[: self._allowed.get(kind)]:
                    if free >= until:
                        break
                    new.append(Slot(kind, free, self._ragged(fillable, filled) if self.policy.ragged else filled))
        begun.sort(key=_free)
        new.sort(key=_free)
        return begun + new

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
