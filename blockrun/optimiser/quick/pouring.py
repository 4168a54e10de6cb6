"""The batches of a day, one after the other: what each pours, in which mixer, from which minute on."""

from __future__ import annotations

from dataclasses import dataclass
from random import Random

from blockrun.optimiser.problem import Load
from blockrun.optimiser.quick.fill import Fill, Slot
from blockrun.optimiser.quick.policy import Policy
from blockrun.optimiser.quick.promise import deadline, promise
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
    """A day's batches; ``held`` are mixes held back on the working day before."""

    def __init__(
        self, yard: Yard, shift: Shift, policy: Policy, urgency: Urgency, dice: Random, held: frozenset[int]
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
        self._caps = [self._cap(mould.cavities) for mould in self.problem.moulds]
        self._critical = self.ground.must_strip_by(self.number) is not None

    def _may_pour(self, kind: int) -> bool:
        return self.ground.last_poured(kind, self.yard.position) > self.shift.day.opens

    def _cap(self, cavities: int) -> int:
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
            used = fill.choose(slots, load.room - cubes)
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
            cap = self._caps[kind]
            found += [Slot(kind, free, cap) for free in self.yard.units.free(kind) if free < closes]
        if not found:
            return found
        found.sort(key=lambda slot: (slot.turn is None, slot.free))
        first = min(slot.free for slot in found)
        start = self.shift.first_batch(load, first - load.to_pour)
        if start is None:
            return found[:1]
        latest = start + load.to_pour + self.policy.wait
        return [slot for slot in found if slot.free <= latest]

    def _hold_back(self, mix: int, chosen: Chosen) -> bool:
        """Hold a mix back for today, where its batch would not be full, nobody is in a hurry and more is to come."""
        policy = self.policy
        if not policy.full or chosen.hurried or not chosen.leaves or mix in self.held_before:
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
        turns = [self._filled(slot, batch) for slot in chosen.used]
        memory = self.yard.as_is() if self._critical else None
        self.shift.take_batch(chosen.load, chosen.start)
        if memory is not None and not all(self._promised(turn) for turn in turns):
            # pour none of it, and these moulds not today
            self.yard.back_to(memory)
            self._closed |= {slot.kind for slot in chosen.used}
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
        spare = slot.cavities - len(slot.chosen)
        if spare and not self._critical:
            self.filling[id(turn)] = (turn, spare)
        else:
            self.filling.pop(id(turn), None)

    def _promised(self, turn: Turn) -> bool:
        """Whether a turn can be stripped before the frost, if that is near."""
        by = deadline(self.yard, turn, self.number, self.policy.wary)
        return by is None or promise(self.yard, turn, by)
