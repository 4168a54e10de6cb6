"""The foreman's rule, played well: fill every mould that can be filled today, soonest needed first.

It needs no look ahead, and so is never far wrong where moulds are what is scarce.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from blockrun.optimiser.day_counts import DayCounts
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import MINUTES_A_DAY, Mould, Problem
from blockrun.optimiser.standing import mould_from, sides_from
from blockrun.optimiser.state import State, Turn

Rank = tuple[int, float, int]
Urgency = Callable[[int], Rank]


@dataclass(frozen=True)
class Chance:
    """A mould that can be filled today: as it stands, when it has been stripped, or once more."""

    kind: int
    free: int
    wave: int


@dataclass
class Foreman:
    """Chooses what a day pours from the state it finds.

    ``latest`` is how long after opening a mould may come free and still be counted on today.
    """

    problem: Problem
    limits: Limits
    latest: int

    def chances(self, state: State) -> list[Chance]:
        """Moulds that can be filled today, free ones first, then in the order they come free.

        A mould that must be stripped first counts only where the rack has room for its blocks.
        """
        now = self.problem.days[state.day].opens
        free: list[Chance] = []
        coming: list[tuple[int, int, Turn]] = []
        for kind, mould in enumerate(self.problem.moulds):
            if self.limits.slots.first_poured(kind, state.day) is not None:
                open_turns = [turn for turn in state.open_turns if turn.mould == kind]
                free += [Chance(kind, now, 0)] * self._free_now(mould, open_turns)
                coming += [
                    (minute, kind, turn) for turn in open_turns if (minute := self._again(turn, now)) is not None
                ]
        room = self.problem.places - state.left_on_rack(self.problem, self.limits.slots.day(state.day).last)
        for minute, kind, turn in sorted(coming, key=lambda item: (item[0], item[1], item[2].start)):
            needed = 0 if turn.strip is not None or self._by_sides(turn, state) else turn.blocks
            pour = self.limits.reach.next_pour(kind, minute)
            today = pour is not None and pour // MINUTES_A_DAY == now // MINUTES_A_DAY
            if today and minute <= now + self.latest and needed <= room:
                room -= needed
                free.append(Chance(kind, minute, 1))
        return free + self._again_today(free, room, now)

    def _again_today(self, chances: list[Chance], room: int, now: int) -> list[Chance]:
        """Second and later turns of the day in moulds that ripen within it."""
        found = []
        for chance in chances:
            mould = self.problem.moulds[chance.kind]
            chain = self.limits.reach.chain(chance.kind, chance.free, base=not mould.bases, until=now // MINUTES_A_DAY)
            for _ in chain[1:]:
                blocks = self.problem.most_blocks(chance.kind)
                if blocks <= room or mould.bases:
                    room -= 0 if mould.bases else blocks
                    found.append(Chance(chance.kind, chance.free, 2))
        return found

    def _free_now(self, mould: Mould, open_turns: list[Turn]) -> int:
        if not mould.bases:
            return mould.count - len(open_turns)
        on = sum(turn.sides is None and turn.strip is None for turn in open_turns)
        return min(mould.count - on, mould.bases - len(open_turns))

    def _by_sides(self, turn: Turn, state: State) -> bool:
        """Whether taking the sides off is enough, for there are bases to spare."""
        mould = self.problem.moulds[turn.mould]
        standing = sum(other.mould == turn.mould for other in state.open_turns)
        return bool(mould.bases) and turn.sides is None and turn.strip is None and standing < mould.bases

    def _again(self, turn: Turn, now: int) -> int | None:
        """Earliest minute a turn lets another be poured: its sides off where bases are spare, else all of it."""
        mould = self.problem.moulds[turn.mould]
        if mould.bases and turn.sides is None and turn.strip is None:
            return sides_from(self.limits.reach, turn, now)
        return mould_from(self.limits.reach, turn, now)

    def day(self, state: State) -> DayCounts:
        """Castings and turns of the day: as many moulds as there is something to cast in."""
        urgency = self._urgency(state)
        left = state.left_to_pour(self.problem)
        waves: tuple[dict[tuple[int, int], int], ...] = ({}, {}, {})
        for chance in sorted(self.chances(state), key=self._choosy_first):
            mould, wave = self.problem.moulds[chance.kind], waves[chance.wave]
            for _ in range(self.problem.fillable[chance.kind]):
                chosen = self._most_urgent(mould, left, urgency)
                if chosen is not None:
                    for block, count in self.problem.castings[chosen].gives:
                        left[block] = max(0, left[block] - count)
                    wave[chance.kind, chosen] = wave.get((chance.kind, chosen), 0) + 1
        return DayCounts(waves, {kind: 1 << 20 for kind in range(len(self.problem.moulds))})

    def _most_urgent(self, mould: Mould, left: list[int], urgency: Urgency) -> int | None:
        """What a mould had best cast: the most urgent block, and of the slabs that give it the most useful."""
        best: tuple[Rank, int, int] | None = None
        for number in mould.casts:
            wanted = [(block, min(count, left[block])) for block, count in self.problem.castings[number].gives]
            ranks = [urgency(block) for block, count in wanted if count]
            if ranks:
                of_use = sum(count * self.problem.formats[block].volume for block, count in wanted)
                rank = (min(ranks), -of_use, number)
                best = rank if best is None else min(best, rank)
        return None if best is None else best[2]

    def _choosy_first(self, chance: Chance) -> tuple[bool, int, int]:
        """Moulds that cast few things choose first, but none its second turn before others have had one."""
        return (chance.wave == 2, len(self.problem.moulds[chance.kind].casts), chance.free)

    def worth(self, state: State) -> dict[int, int]:
        """Weights of the castings, the more urgent the heavier."""
        urgency, castings = self._urgency(state), self.problem.castings
        ranks = [min(urgency(block) for block, _ in casting.gives) for casting in castings]
        order = sorted(range(len(castings)), key=lambda number: ranks[number], reverse=True)
        return {number: 3 + position for position, number in enumerate(order)}

    def _urgency(self, state: State) -> Urgency:
        """Smaller is more urgent: the next need date, then the most mould work left, then the biggest."""
        problem = self.problem
        left = state.left_to_pour(problem)
        cavities = [0.0] * len(problem.formats)
        for mould in problem.moulds:
            for number in mould.casts:
                for block, count in problem.castings[number].gives:
                    cavities[block] += mould.count * mould.cavities / len(mould.casts) * count

        def rank(block: int) -> Rank:
            of_block = problem.formats[block]
            due = _next_due(of_block.needs, of_block.demand - left[block])
            return (due, -left[block] / max(cavities[block], 1e-9), -of_block.volume)

        return rank


def _next_due(needs: tuple[tuple[int, int], ...], poured: int) -> int:
    for due, count in needs:
        poured -= count
        if poured < 0:
            return due
    return 1 << 30
