"""What the search finds on tiny yards, once for all tests of a yard."""

from __future__ import annotations

from functools import cache

from blockrun.optimiser.best import Found
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.search import Search
from tests.optimiser.tiny import CUBED_SEEDS, KINDS, SAWN_SEEDS, SEEDS

YARDS = [
    (seed, kind) for kind, seeds in (("plain", SEEDS), ("sawn", SAWN_SEEDS), ("cubed", CUBED_SEEDS)) for seed in seeds
]
"""Seed and kind of each yard all of whose plans are tried."""
EFFORT = Effort(1.0, lambda: False)


@cache
def searched(seed: int, kind: str) -> Found | None:
    """The best plan of a seed's yard, and what is claimed of it."""
    problem = KINDS[kind](seed)
    return Search(problem, Limits(problem), EFFORT, lambda _: None, rounds=1).run()
