"""What goes into one batch: what is wanted first, then whatever fills it best."""

from __future__ import annotations

from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.slots import Slot
from blockrun.optimiser.quick.urgency import UNWANTED, Rank, Urgency

NOTHING = -1
_SOON = 3


class Swap:
    """Volume gained in a slot by a block, or nothing, in place of another, or of nothing."""

    def __init__(self, gain: int, slot: Slot, out: int, into: int) -> None:
        self.gain, self.slot, self.out, self.into = gain, slot, out, into


class Fill:
    """Chooses castings of one mix for slots, up to a volume; ``left`` is what is left of each block after it."""

    def __init__(self, ground: Ground, urgency: Urgency, mix: int, left: list[int], today: int) -> None:
        self.ground, self.urgency, self.mix, self.today = ground, urgency, mix, today
        self.castings, self.formats = ground.problem.castings, ground.problem.formats
        self.left = list(left)
        self.volume = 0
        self._ranks = [urgency.block(block, count, today) for block, count in enumerate(left)]
        self.hurried = False

    def choose(self, slots: list[Slot], room: int, enough: int) -> list[Slot]:
        """The slots filled until there is enough, and with what: wanted first, choosy moulds before others."""
        waiting: dict[int, list[Slot]] = {}
        for slot in reversed(slots):
            waiting.setdefault(slot.kind, []).append(slot)
        used: list[Slot] = []
        while waiting and self.volume < enough:
            best = self._best(waiting, room - self.volume)
            if best is None:
                break
            kind, number = best
            slot = waiting[kind][-1]
            if not slot.chosen:
                used.append(slot)
            self._take(number)
            slot.chosen.append(number)
            if len(slot.chosen) == slot.cavities:
                waiting[kind].pop()
                if not waiting[kind]:
                    del waiting[kind]
        if self.volume < enough or enough >= room:
            spare = [of_kind[-1] for of_kind in waiting.values() if not of_kind[-1].chosen]
            self._fill_up([*used, *spare], room)
            used += [slot for slot in spare if slot.chosen]
        return used

    @property
    def done(self) -> bool:
        """Whether nothing of the mix is left after it."""
        return not any(count > 0 and self.formats[block].mix == self.mix for block, count in enumerate(self.left))

    def rank(self, number: int) -> Rank:
        """Rank of a casting: of the most urgent block it gives."""
        if number < len(self.formats):
            return self._ranks[number]
        return min(self._ranks[block] for block, _ in self.castings[number].gives)

    def worth(self, number: int) -> float:
        """How many of the most urgent block a casting gives, or what share of it is still wanted."""
        casting = self.castings[number]
        if number < len(self.formats):
            return 1.0
        if self.urgency.policy.most_wanted:
            _, most = min((self._ranks[block], min(count, self.left[block])) for block, count in casting.gives)
            return float(most)
        of_use = sum(min(count, self.left[block]) * self.formats[block].volume for block, count in casting.gives)
        return of_use / casting.volume

    def _best(self, waiting: dict[int, list[Slot]], room: int) -> tuple[int, int] | None:
        best: tuple[Rank, float, int, int] | None = None
        found = None
        for kind, slots in waiting.items():
            castings, free = self.ground.casts[kind][self.mix], slots[-1].free
            for number in castings:
                if self.castings[number].volume <= room:
                    rank = self.rank(number)
                    if rank < UNWANTED and (best is None or rank <= best[0]):
                        key = (rank, -self.worth(number), len(castings), free)
                        if best is None or key < best:
                            best, found = key, (kind, number)
        return found

    def _take(self, number: int, times: int = 1) -> None:
        casting = self.castings[number]
        self.volume += times * casting.volume
        for block, count in casting.gives:
            self.hurried = self.hurried or self._ranks[block][0] == 0
            self.left[block] -= times * count
            self._ranks[block] = self.urgency.block(block, self.left[block], self.today)

    def _fill_up(self, slots: list[Slot], room: int) -> None:
        """Swap castings, one or two at a time, as long as that fills the batch better."""
        while self.volume < room:
            swaps = self._best_swaps(self._swaps(slots), room - self.volume)
            if not swaps:
                return
            for swap in swaps:
                self._swap(swap)

    def _swaps(self, slots: list[Slot]) -> list[Swap]:
        """A block for another in its place or for none, or one more in a cavity to spare; one of each kind."""
        found: dict[tuple[int, int, int], Swap] = {}
        n_formats = len(self.formats)
        for slot in slots:
            may_wait = {number for number in slot.chosen if number < n_formats and self._may_wait(number)}
            spare = {NOTHING} if len(slot.chosen) < slot.cavities else set()
            into = {of for of in self.ground.casts[slot.kind][self.mix] if of < n_formats and self.left[of] > 0}
            for out in may_wait | spare:
                for other in into | ({NOTHING} if len(slot.chosen) > 1 else set()):
                    if other != out and (slot.kind, out, other) not in found:
                        gain = self._volume(other) - self._volume(out)
                        found[slot.kind, out, other] = Swap(gain, slot, out, other)
        return list(found.values())

    def _volume(self, number: int) -> int:
        return 0 if number == NOTHING else self.castings[number].volume

    def _may_wait(self, block: int) -> bool:
        """Whether the next block of a format may be poured some days later and still be there in time."""
        poured = self.formats[block].demand - self.left[block]
        return self.ground.due(block, poured - 1) - self.ground.lead - self.today >= _SOON

    def _best_swaps(self, swaps: list[Swap], room: int) -> tuple[Swap, ...]:
        """One or two that gain most and still go in."""
        gains = sorted(swaps, key=lambda swap: swap.gain)
        best: tuple[Swap, ...] = ()
        most = 0
        for swap in gains:
            if most < swap.gain <= room:
                best, most = (swap,), swap.gain
        high = len(gains) - 1
        for low, swap in enumerate(gains):
            while high > low and swap.gain + gains[high].gain > room:
                high -= 1
            partner = next((other for other in reversed(gains[low + 1 : high + 1]) if self._both(swap, other)), None)
            if partner is not None and swap.gain + partner.gain > most:
                best, most = (swap, partner), swap.gain + partner.gain
        return best

    def _both(self, one: Swap, other: Swap) -> bool:
        """Whether two swaps can be made together."""
        if one.slot is other.slot and one.out == other.out:
            return False
        if one.slot is other.slot and NOTHING in (one.into, other.into):
            return False
        return one.into != other.into or one.into == NOTHING or self.left[one.into] > 1

    def _swap(self, swap: Swap) -> None:
        if swap.out != NOTHING:
            swap.slot.chosen.remove(swap.out)
            self._take(swap.out, -1)
        if swap.into != NOTHING:
            swap.slot.chosen.append(swap.into)
            self._take(swap.into)
