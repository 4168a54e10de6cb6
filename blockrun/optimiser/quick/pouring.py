"""The batches of a day, one after the other: what each pours, in which mixer, from which minute on."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from blockrun.optimiser.problem import Load
from blockrun.optimiser.quick.fill import Fill, Slot
from blockrun.optimiser.quick.policy import Policy
from blockrun.optimiser.quick.promise import deadline, promise, take_back
from blockrun.optimiser.quick.shift import Shift
from blockrun.optimiser.quick.urgency import Urgency
from blockrun.optimiser.quick.yard import Yard, next_due
from blockrun.optimiser.state import Batch, Turn


@dataclass
class Chosen:
    """A batch that could be poured: its load and start, the slots it fills, and whether somebody is in a hurry."""

    load: Load
    start: int
    used: list[Slot]
    volume: int
    hurried: bool
    leaves: bool
    """Whether blocks of its mix are left after it."""

    @property
    def pour_to(self) -> int:
        """Minute the last block is poured."""
        return self.start + self.load.to_poured


class Pouring:
    """A day's batches; ``held`` is for how many days on end a mix has been held back."""

    def __init__(
        self, yard: Yard, shift: Shift, policy: Policy, urgency: Urgency, dice: Random, held: dict[int, int]
    ) -> None:
        self.yard, self.shift, self.policy, self.urgency, self.dice = yard, shift, policy, urgency, dice
        self.ground, self.problem = yard.ground, yard.problem
        self.number = shift.day.number
        self.cubes = yard.owed()
        self.filling: dict[int, tuple[Turn, int]] = {}
        """Turns of today with cavities to spare, and how many."""
        self.held_before, self.held = held, set[int]()
        self._closed = {kind for kind in range(len(self.problem.moulds)) if not self._may_pour(kind)}
        self._short = [dice.random() < policy.skip for _ in self.problem.moulds] if policy.skip else None
        self._allowed: dict[int, int] = {}
        """Of some kinds, how many more moulds may be filled today."""
        self._critical = self.ground.must_strip_by(self.number) is not None

    def _may_pour(self, kind: int) -> bool:
        return self.ground.last_poured(kind, self.yard.position) > self.shift.day.opens

    def _cap(self, kind: int) -> int:
        """Cavities of a mould that may be filled."""
        cavities = self.problem.moulds[kind].cavities
        if self.policy.ragged and self.dice.random() < self.policy.ragged:
            return self.dice.randint(1, cavities)
        return max(1, round(cavities * self.policy.portion))

    def batches(self) -> bool:
        """Batches as long as there are moulds, blocks, minutes and cement for them; whether there were any."""
        poured = False
        while (chosen := self._next()) is not None:
            poured = self._pour(chosen) or poured
        return poured

    # which batch

    def _next(self) -> Chosen | None:
        """The next batch: of the most urgent mix of which there can be one."""
        for mix in self._mixes():
            options = [option for mixer in range(self.problem.n_mixers) if (option := self._option(mixer, mix))]
            if options:
                best = min(options, key=self._merit)
                if not self._hold_back(mix, best):
                    return best
        return None

    def _mixes(self) -> list[int]:
        """Mixes not held back today, the most urgent first."""
        left, ranks = self.yard.left, {}
        for block, count in enumerate(left):
            mix = self.problem.formats[block].mix
            if count and mix not in self.held:
                rank = self.urgency.block(block, count, self.number)
                ranks[mix] = min(rank, ranks.get(mix, rank))
        return sorted(ranks, key=lambda mix: ranks[mix])

    def _merit(self, option: Chosen) -> tuple[int, int, int]:
        """Smaller is better."""
        if self.policy.fullest:
            return (-option.volume, option.pour_to, option.load.cement)
        return (option.pour_to, -option.volume, option.load.cement)

    def _option(self, mixer: int, mix: int) -> Chosen | None:
        """The batch of a mix that a mixer would make next."""
        load = self.ground.biggest(mixer, mix, *self.yard.in_stock())
        cubes, until = self.cubes.get(mix, 0), 1 << 40
        while load is not None and cubes < load.room and (slots := self._slots(load, mix, until)):
            fill = Fill(self.ground, self.urgency, mix, self.yard.left, self.number)
            used = fill.choose(slots, load.room - cubes, round(load.room * self.policy.share))
            if not used:
                return None
            made, last = self.ground.smallest(load, fill.volume + cubes), max(slot.free for slot in used)
            start = self.shift.first_batch(made, last - made.to_pour)
            if start is None:
                # too late today for what comes free last
                until = last
                continue
            chosen = Chosen(made, start, used, fill.volume, fill.hurried, self._leaves(mix, fill))
            too_late = self._too_late(chosen)
            if not too_late:
                return chosen
            self._closed |= too_late
        return None

    def _leaves(self, mix: int, fill: Fill) -> bool:
        return any(count > 0 and self.problem.formats[block].mix == mix for block, count in enumerate(fill.left))

    def _too_late(self, chosen: Chosen) -> set[int]:
        """Kinds of mould that must not be poured as late, for a frost comes."""
        kinds = {slot.kind for slot in chosen.used}
        return {kind for kind in kinds if chosen.pour_to > self.ground.last_poured(kind, self.yard.position)}

    def _slots(self, load: Load, mix: int, until: int) -> list[Slot]:
        """Moulds for a mix, soonest free first, of those the batch waits for."""
        closes, found = min(self.shift.day.closes, until), []
        for kind in self.ground.kinds_of[mix]:
            if kind in self._closed or (self._short and self._short[kind]):
                continue
            for turn, spare in self.filling.values():
                if turn.mould == kind and turn.start < until:
                    found.append(Slot(kind, turn.start, spare, turn))
            units = self.yard.units.free(kind)[: self._allowed.get(kind)]
            found += [Slot(kind, free, self._cap(kind)) for free in units if free < closes]
        if not found:
            return found
        found.sort(key=lambda slot: (slot.turn is None, slot.free))
        if self.policy.share_rack:
            self._share_rack(found)
        first = min(slot.free for slot in found)
        start = self.shift.first_batch(load, first - load.to_pour)
        if start is None:
            return found[:1]
        latest = start + load.to_pour + self.policy.wait
        return [slot for slot in found if slot.free <= latest]

    def _share_rack(self, slots: list[Slot]) -> None:
        """Fill no mould further than the rack will have places for when it is stripped, where it will have any."""
        yard, now = self.yard, self.shift.day.opens
        waiting = sum(turn.blocks for turn in yard.standing if turn.strip is None and id(turn) not in yard.promised)
        room: dict[int, int] = {}
        for slot in slots:
            if slot.turn is None:
                if slot.kind not in room:
                    ripe = int(self.problem.ripe_strip[slot.kind].item(max(now, slot.free)))
                    room[slot.kind] = self.yard.rack.free_at(ripe) - waiting
                if room[slot.kind] > 0:
                    slot.cavities = min(slot.cavities, room[slot.kind])
                room[slot.kind] -= slot.cavities

    def _hold_back(self, mix: int, chosen: Chosen) -> bool:
        """Hold a mix back for today, where its batch would not be full, nobody is in a hurry and more is to come."""
        policy = self.policy
        if not policy.full or chosen.hurried or not chosen.leaves or self.held_before.get(mix, 0) >= policy.patience:
            return False
        biggest = max(loads[-1].room for (_, of), loads in self.ground.loads.items() if of == mix and loads)
        whole = min(biggest, self.ground.most[mix])
        last = self.yard.position + 1 >= len(self.problem.days)
        if last or chosen.volume >= policy.full * whole or self.dice.random() >= policy.hold:
            return False
        self.held.add(mix)
        return True

    # pouring it

    def _pour(self, chosen: Chosen) -> bool:
        """Pour a batch; not where a strip that must come before a frost cannot be promised."""
        mix = chosen.load.mix
        content: dict[int, int] = {}
        for slot in chosen.used:
            for number in slot.chosen:
                content[number] = content.get(number, 0) + 1
        batch = Batch(chosen.load, chosen.start, content, self.cubes.get(mix, 0))
        memory = self.yard.as_is() if self._critical else None
        before = [(slot.turn, slot.turn.fills, slot.turn.blocks) for slot in chosen.used if slot.turn is not None]
        for turn, _, _ in before:
            take_back(self.yard, turn)
        turns = [self._filled(slot, batch) for slot in chosen.used]
        self.shift.take_batch(chosen.load, chosen.start)
        if memory is not None and not self._all_promised(turns):
            self.yard.back_to(memory)
            for turn, turn.fills, turn.blocks in before:
                self.filling.pop(id(turn), None)
            return False
        self.cubes.pop(mix, None)
        dues = {id(turn): self._due(turn, batch) for turn in turns}
        for slot, turn in zip(chosen.used, turns, strict=True):
            self._stand(slot, turn, dues[id(turn)])
        self.yard.pour(batch)
        return True

    def _filled(self, slot: Slot, batch: Batch) -> Turn:
        fills = [(number, batch) for number in slot.chosen]
        turn = slot.turn or Turn(slot.kind, [])
        turn.fills = sorted([*turn.fills, *fills], key=lambda fill: (fill[1].start, fill[0]))
        turn.blocks = sum(self.problem.castings[number].blocks for number, _ in turn.fills)
        return turn

    def _due(self, turn: Turn, batch: Batch) -> int:
        left, formats = self.yard.left, self.problem.formats
        blocks = {block for number, of in turn.fills if of is batch for block, _ in self.problem.castings[number].gives}
        due = min(next_due(self.ground, block, formats[block].demand - left[block]) for block in blocks)
        return min(due, self.yard.due.get(id(turn), due))

    def _stand(self, slot: Slot, turn: Turn, due: int) -> None:
        """A mould stands filled from now on."""
        self.yard.due[id(turn)] = due
        if slot.turn is None:
            self.yard.units.take(slot.kind, turn.start)
            self.yard.turns.append(turn)
            self.yard.standing.append(turn)
            if slot.kind in self._allowed:
                self._allowed[slot.kind] -= 1
        spare = slot.cavities - len(slot.chosen)
        if spare:
            self.filling[id(turn)] = (turn, spare)
        else:
            self.filling.pop(id(turn), None)

    def _all_promised(self, turns: list[Turn]) -> bool:
        """Whether all can be stripped before the frost, if that is near; else fewer moulds of the kind are filled."""
        for number, turn in enumerate(turns):
            by = deadline(self.yard, turn, self.number, self.policy.wary)
            if by is not None and not promise(self.yard, turn, by):
                self._allowed[turn.mould] = sum(other.mould == turn.mould for other in turns[:number])
                return False
        return True
