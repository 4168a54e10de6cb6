"""Whether young moulds broke more than old ones, and under which age."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import log
from typing import TYPE_CHECKING, Final

from blockrun.planner.risk.counted import Chance
from blockrun.yard.learn.spread import SURE, chance_of_so_many

if TYPE_CHECKING:
    from blockrun.yard.learn.past import Turn

LIKELY: Final = 7.35 / 2
"""How far the logarithm of the likelihood falls to the ends of the interval of a step: half of what its ratio stays
under in 95 of 100, where (1 - exp(-x/2))^2 = 0.95 (B. E. Hansen, Econometrica 68 (2000) 575-603, from memory; the tests
say how often it holds)."""


@dataclass(frozen=True)
class Aged:
    """A mould that was stripped: its age then in hours at 20 degC, and whether any of it broke."""

    turn: Turn
    age_h: float

    @property
    def broke(self) -> bool:
        """Whether any block of it broke."""
        return self.turn.broken > 0


@dataclass(frozen=True)
class Step:
    """The age in hours under which moulds broke more, where that is likely to lie, and how they broke on both sides."""

    age_h: float
    low_h: float
    high_h: float
    young: Chance
    old: Chance


def step_of(aged: Sequence[Aged]) -> Step | None:
    """The age under which moulds broke more; None where that is no more than chance.

    Parameters
    ----------
    aged : the youngest first.

    Source
    ------
    Each age between two moulds is tried as a step between two shares, the likeliest taken; its exact test is held to
    the level divided by the number of ages tried (Bonferroni).
    """
    tried = [nth for nth in range(1, len(aged)) if aged[nth].age_h - aged[nth - 1].age_h > 0]
    if not tried:
        return None
    logs = {nth: _log_likelihood(aged, nth) for nth in tried}
    best = max(tried, key=lambda nth: logs[nth])
    young, old = _broke(aged[:best]), _broke(aged[best:])
    if chance_of_so_many(young.held, young.runs, old.held, old.runs) * len(tried) > 1 - SURE:
        return None
    likely = [nth for nth in tried if logs[best] - logs[nth] <= LIKELY]
    return Step(aged[best].age_h, aged[likely[0] - 1].age_h, aged[likely[-1]].age_h, young, old)


def _broke(aged: Sequence[Aged]) -> Chance:
    """Moulds with broken blocks: those of one mould break together, so each mould counts once."""
    return Chance(sum(one.broke for one in aged), len(aged))


def _log_likelihood(aged: Sequence[Aged], nth: int) -> float:
    return sum(_of_share(_broke(part)) for part in (aged[:nth], aged[nth:]))


def _of_share(part: Chance) -> float:
    kept = part.runs - part.held
    return sum(count * log(count / part.runs) for count in (part.held, kept) if count)
