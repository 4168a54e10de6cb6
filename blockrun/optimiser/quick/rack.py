"""Places on the rack over time: a block keeps its place from the end of its strip until it leaves."""

from __future__ import annotations

from blockrun.optimiser.problem import Problem


class Rack:
    """Blocks on the rack."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.stays: list[tuple[int, int, int]] = []
        self._held = 0

    def forget(self, now: int) -> None:
        """Leave out what has left by now."""
        self.stays = [stay for stay in self.stays if stay[1] > now]
        self._held = sum(blocks for _, _, blocks in self.stays)

    def take(self, stripped: int, blocks: int) -> None:
        """Blocks come to the rack."""
        leaves = self.problem.leaves_rack(stripped)
        if self.problem.rack_for and leaves > stripped:
            self.stays.append((stripped, leaves, blocks))
            self._held += blocks

    def release(self, stripped: int, blocks: int) -> None:
        """Blocks that were to come do not."""
        stay = (stripped, self.problem.leaves_rack(stripped), blocks)
        if stay in self.stays:
            self.stays.remove(stay)
            self._held -= blocks

    def give_back(self, stays: list[tuple[int, int, int]]) -> None:
        """Have it as it was."""
        self.stays = stays
        self._held = sum(blocks for _, _, blocks in stays)

    def room_from(self, stripped: int, blocks: int) -> int:
        """The same minute where the rack has the places from then on, else the next at which it may have."""
        if self._held + blocks <= self.problem.places or not self.problem.rack_for:
            return stripped
        leaves = self.problem.leaves_rack(stripped)
        moments = [stripped, *(start for start, _, _ in self.stays if stripped < start < leaves)]
        for moment in moments:
            there = [stay for stay in self.stays if stay[0] <= moment < stay[1]]
            if sum(held for _, _, held in there) + blocks > self.problem.places:
                return min((stay[1] for stay in there), default=1 << 30)
        return stripped

    def free_at(self, minute: int) -> int:
        """Places free at a minute, as far as is known."""
        return self.problem.places - sum(blocks for start, leaves, blocks in self.stays if start <= minute < leaves)
