"""What goes into one batch: what is wanted first, then whatever fills it best."""

from __future__ import annotations

from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.slots import Slot
from blockrun.optimiser.quick.urgency import UNWANTED, Rank, Urgency


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
            self._fill_up(used, room)
        return used

    @property
    def done(self) -> bool:
        """Whether nothing of the mix is left after it."""
        return not any(count > 0 and self.formats[block].mix == self.mix for block, count in enumerate(self.left))

    def rank(self, number: int) -> Rank:
        """Rank of a casting: of the most urgent block it gives."""
        gives = self.castings[number].gives
        if len(gives) == 1:
            return self._ranks[gives[0][0]]
        return min(self._ranks[block] for block, _ in gives)

    def of_use(self, number: int) -> float:
        """Share of a casting that is still wanted."""
        casting = self.castings[number]
        if number < len(self.formats):
            return 1.0
        of_use = sum(min(count, self.left[block]) * self.formats[block].volume for block, count in casting.gives)
        return of_use / casting.volume

    def _best(self, waiting: dict[int, list[Slot]], room: int) -> tuple[int, int] | None:
        best: tuple[Rank, float, int, int] | None = None
        found = None
        for kind, slots in waiting.items():
            castings = self.ground.casts[kind][self.mix]
            for number in castings:
                if self.castings[number].volume <= room:
                    rank = self.rank(number)
                    if rank < UNWANTED:
                        key = (rank, -self.of_use(number), len(castings), slots[-1].free)
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

    def _fill_up(self, used: list[Slot], room: int) -> None:
        """Swap a casting for a bigger one as long as that fills the batch better."""
        while self.volume < room:
            swap = max(self._swaps(used, room - self.volume), key=lambda swap: swap[0], default=None)
            if swap is None:
                return
            _, slot, out, into = swap
            slot.chosen.remove(out)
            slot.chosen.append(into)
            self._take(out, -1)
            self._take(into)

    def _swaps(self, used: list[Slot], room: int) -> list[tuple[int, Slot, int, int]]:
        """(Volume gained, where, what goes out, what comes in), blocks only."""
        found = []
        seen = set()
        n_formats = len(self.formats)
        for slot in used:
            for out in set(slot.chosen):
                if (slot.kind, out) in seen or out >= n_formats or self._ranks[out][0] == 0:
                    continue
                seen.add((slot.kind, out))
                for into in self.ground.casts[slot.kind][self.mix]:
                    gain = self.castings[into].volume - self.castings[out].volume
                    if into < n_formats and self.left[into] > 0 and 0 < gain <= room:
                        found.append((gain, slot, out, into))
        return found
