"""What the search finds on tiny yards, once for all tests of a yard."""

from __future__ import annotations

from functools import cache

from blockrun.optimiser.best import Found
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.search import Search
from tests.optimiser.tiny_yards import CUBED_SEEDS, EVERY, KINDS, SAWN_SEEDS, SEEDS

YARDS = [
    (seed, kind) for kind, seeds in (("plain", SEEDS), ("sawn", SAWN_SEEDS), ("cubed", CUBED_SEEDS)) for seed in seeds
]
"""Seed and kind of yards all of whose plans are tried."""
EVERY_YARD = [(seed, kind) for kind, seeds in EVERY.items() for seed in seeds]
"""The same and some hundreds more, for the search alone."""
EFFORT = Effort(1.0, lambda: False)


@cache
def searched(seed: int, kind: str) -> Found | None:
    """The best plan of a seed's yard, and what is claimed of it."""
    problem = KINDS[kind](seed)
    return Search(problem, Limits(problem), EFFORT, lambda _: None, rounds=1).run()
