"""The batches of a day, one after the other: what each pours, in which mixer, from which minute on."""

from __future__ import annotations

from collections.abc import Iterable
from random import Random

from blockrun.optimiser.problem import Load
from blockrun.optimiser.quick.fill import Fill
from blockrun.optimiser.quick.policy import Policy
from blockrun.optimiser.quick.promise import deadline, promise, take_back
from blockrun.optimiser.quick.shift import Shift
from blockrun.optimiser.quick.slots import Slot, Slots
from blockrun.optimiser.quick.urgency import Rank, Urgency
from blockrun.optimiser.quick.yard import Yard
from blockrun.optimiser.state import Batch, Turn


class Chosen:
    """A batch that could be poured: its load and start, the slots it fills, and their volume.

    ``hurried`` is whether somebody is in a hurry for it, ``last`` whether nothing of its mix is left after it.
    """

    def __init__(self, load: Load, start: int, used: list[Slot], volume: int, *, hurried: bool, last: bool) -> None:
        self.load, self.start, self.used, self.volume = load, start, used, volume
        self.hurried, self.last = hurried, last

    @property
    def pour_to(self) -> int:
        """Minute the last block is poured."""
        return self.start + self.load.to_poured


class Pouring:
    """A day's batches. ``waited`` is for how many days on end a mix has been held back; ``held`` are those today.

    A batch that would not be full waits until nothing more comes free today; then it is poured, or held back.
    """

    def __init__(
        self, yard: Yard, shift: Shift, policy: Policy, urgency: Urgency, dice: Random, waited: dict[int, int]
    ) -> None:
        self.yard, self.shift, self.policy, self.urgency, self.dice = yard, shift, policy, urgency, dice
        self.ground, self.problem = yard.ground, yard.problem
        self.number = shift.day.number
        self.slots = Slots(yard, shift, policy, dice)
        self.waited, self.held = waited, set[int]()
        self._wait, self._waiting, self._too_little = bool(policy.full), set[int](), set[int]()
        self._lots = yard.lots()
        self._small = policy.small >= 1 or dice.random() < policy.small
        self._frost_comes = self.ground.must_strip_by(self.number) is not None

    def last_call(self) -> bool:
        """Batches that have waited for more moulds in vain; whether there were any."""
        if not self._waiting:
            return False
        self._wait = False
        poured = self.batches()
        self._wait = bool(self.policy.full)
        return poured

    def batches(self) -> bool:
        """Batches as long as there are moulds, blocks, minutes and cement for them; whether there were any."""
        poured = False
        self._waiting.clear()
        while (chosen := self._next()) is not None:
            poured = self._pour(chosen) or poured
        return poured

    # which batch

    def _next(self) -> Chosen | None:
        """The next batch: of the most urgent mix of which there can be one."""
        self._too_little.clear()
        for mix in self._mixes():
            loads = [load for mixer in self._mixers(mix) for load in self._loads(mixer, mix)]
            options = [option for load in loads if (option := self._option(load, mix))]
            if options:
                best = min(options, key=self._merit)
                if not self._hold_back(mix, best):
                    return best
            elif mix in self._too_little:
                self._waiting.add(mix)
        return None

    def _mixers(self, mix: int) -> Iterable[int]:
        """Mixers that may make a batch of a mix today."""
        return range(self.problem.n_mixers) if self._small else self.ground.biggest_mixers[mix]

    def _mixes(self) -> list[int]:
        """Mixes not held back today, the most urgent first."""
        ranks: dict[int, Rank] = {}
        for block, count in enumerate(self.yard.left):
            mix = self.problem.formats[block].mix
            if count and mix not in self.held and mix not in self._waiting:
                rank = self.urgency.block(block, count, self.number)
                ranks[mix] = min(rank, ranks.get(mix, rank))
        return sorted(ranks, key=lambda mix: ranks[mix])

    def _merit(self, option: Chosen) -> tuple[int, int, int]:
        """Smaller is better."""
        if self.policy.fullest:
            return (-option.volume, option.pour_to, option.load.cement)
        return (option.pour_to, -option.volume, option.load.cement)

    def _loads(self, mixer: int, mix: int) -> list[Load]:
        """The biggest load of a mix in a mixer, and those that heat of today leaves time to pour where it does not."""
        load = self.ground.biggest(mixer, mix, *self.yard.in_stock())
        if load is None:
            return []
        found = [load]
        if self.shift.day.hot and not load.hardy:
            for keeps in sorted({keeps for _, _, keeps in self.shift.day.hot}, reverse=True):
                quicker = self.ground.quicker(found[-1], keeps)
                if quicker is not None and quicker is not found[-1]:
                    found.append(quicker)
        return found

    def _option(self, load: Load, mix: int) -> Chosen | None:
        """The batch of a mix that is made next, up to the size of a load."""
        cubes = self._cubes(load)
        until = 1 << 40
        if cubes < load.room and self._surely_waits(mix):
            self._too_little.add(mix)
            return None
        while cubes < load.room and (slots := self.slots.of(load, mix, until)):
            if self._wait and self._would_wait(slots, mix):
                self._too_little.add(mix)
                return None
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
            chosen = Chosen(made, start, used, fill.volume, hurried=fill.hurried, last=fill.done)
            too_late = {slot.kind for slot in used if chosen.pour_to > self._last_poured(slot.kind)}
            if not too_late:
                return chosen
            self.slots.close(too_late)
        return None

    def _surely_waits(self, mix: int) -> bool:
        """Whether all moulds of today together hold too little, which is sooner seen than what those of a load hold."""
        if not self._wait or self.policy.ragged:
            return False
        return 0 < self.slots.most(mix) < self.policy.full * self.ground.whole[mix]

    def _would_wait(self, slots: list[Slot], mix: int) -> bool:
        """Whether these moulds hold too little for a batch that need not wait for more, whatever fills them."""
        enough = self.policy.full * self.ground.whole[mix]
        for slot in slots:
            enough -= slot.cavities * self.ground.most_volume[slot.kind][mix]
            if enough <= 0:
                return False
        return True

    def _last_poured(self, kind: int) -> int:
        return self.ground.last_poured(kind, self.yard.position)

    def _hold_back(self, mix: int, chosen: Chosen) -> bool:
        """Hold a mix back where its batch would not be full: for more moulds of today, and then for tomorrow."""
        if chosen.volume >= self.policy.full * self.ground.whole[mix]:
            return False
        if self._wait:
            self._waiting.add(mix)
            return True
        if self._for_tomorrow(mix, chosen):
            self.held.add(mix)
            return True
        return False

    def _for_tomorrow(self, mix: int, chosen: Chosen) -> bool:
        """Whether a batch had better be poured tomorrow: nobody is in a hurry, and more is to come."""
        if chosen.hurried or chosen.last or self.waited.get(mix, 0) >= self.policy.patience:
            return False
        no_more_days = self.yard.position + 1 >= len(self.problem.days)
        return not no_more_days and self.dice.random() < self.policy.hold

    # pouring it

    def _pour(self, chosen: Chosen) -> bool:
        """Pour a batch; not where a strip that must come before a frost cannot be promised."""
        memory = self.yard.as_is() if self._frost_comes else None
        begun = [(slot.turn, slot.turn.fills, slot.turn.blocks) for slot in chosen.used if slot.turn is not None]
        for turn, _, _ in begun:
            take_back(self.yard, turn)
        batch = self._batch(chosen)
        turns = [self._filled(slot, batch) for slot in chosen.used]
        self.shift.take_batch(chosen.load, chosen.start)
        if memory is not None and not self._all_promised(turns):
            self.yard.back_to(memory)
            for turn, fills, blocks in begun:
                turn.fill(fills, blocks)
                self.slots.filling.pop(id(turn), None)
            return False
        self._given(batch)
        for slot, turn in zip(chosen.used, turns, strict=True):
            self.slots.fill(slot, turn)
            self.yard.stand(turn, slot.chosen)
        self.yard.pour(batch)
        return True

    def _batch(self, chosen: Chosen) -> Batch:
        content: dict[int, int] = {}
        for slot in chosen.used:
            for number in slot.chosen:
                content[number] = content.get(number, 0) + 1
        return Batch(chosen.load, chosen.start, content, self._sets(chosen.load))

    def _sets(self, load: Load) -> int:
        """Sets of test cubes that a batch gives: one for each lot that it begins."""
        return self._lots[load.mix].fewest(load.cement) if self._lots else 0

    def _cubes(self, load: Load) -> int:
        """Volume of these."""
        return self._sets(load) * self.problem.cubes.volume if self.problem.cubes is not None else 0

    def _given(self, batch: Batch) -> None:
        if self._lots:
            self._lots[batch.load.mix] = self._lots[batch.load.mix].after(batch.load.cement, batch.cubes)

    def _filled(self, slot: Slot, batch: Batch) -> Turn:
        turn = slot.turn or Turn(slot.kind, [])
        fills = [*turn.fills, *((number, batch) for number in slot.chosen)]
        blocks = sum(self.problem.castings[number].blocks for number, _ in fills)
        turn.fill(sorted(fills, key=lambda fill: (fill[1].start, fill[0])), blocks)
        return turn

    def _all_promised(self, turns: list[Turn]) -> bool:
        """Whether all can be stripped before the frost, if that is near; else fewer moulds of the kind are filled."""
        for number, turn in enumerate(turns):
            by = deadline(self.yard, turn, self.number, self.policy.wary)
            if by is not None and not promise(self.yard, turn, by):
                self.slots.allow(turn.mould, sum(other.mould == turn.mould for other in turns[:number]))
                return False
        return True
