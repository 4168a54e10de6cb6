"""Which block is wanted first, as a policy sees it."""

from __future__ import annotations

from random import Random

from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.policy import Policy

Rank = tuple[int, float, float]
UNWANTED: Rank = (2, 0.0, 0.0)
_FOG_DAYS = 4


class Urgency:
    """Ranks of blocks and castings, the most urgent least; the fog of the dice is the same all through a play."""

    def __init__(self, ground: Ground, policy: Policy, dice: Random) -> None:
        self.ground, self.policy = ground, policy
        n = len(ground.problem.formats)
        self._factor = [dice.lognormvariate(0, policy.fog) if policy.fog else 1.0 for _ in range(n)]
        self._known: list[tuple[int, int, Rank]] = [(-1, -1, UNWANTED)] * n
        self._later = [round(_FOG_DAYS * (factor - 1)) for factor in self._factor]

    def block(self, block: int, left: int, today: int) -> Rank:
        """Rank of a block of which so many are left to pour."""
        if left <= 0:
            return UNWANTED
        known_left, known_today, rank = self._known[block]
        if left != known_left or today != known_today:
            rank = self._rank(block, left, today)
            self._known[block] = left, today, rank
        return rank

    def _rank(self, block: int, left: int, today: int) -> Rank:
        of_block = self.ground.problem.formats[block]
        due = self.ground.due(block, of_block.demand - left)
        work = -left * self._factor[block] / self.ground.cavities[block]
        if due - self.ground.lead - today < self.policy.slack:
            return (0, due + self._later[block], work)
        if self.policy.first == "work":
            return (1, work, -of_block.volume)
        volume = of_block.volume * self._factor[block]
        return (1, -volume if self.policy.first == "big" else volume, -of_block.volume)
