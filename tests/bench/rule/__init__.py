"""The foreman's rule: each morning fill every free mould with what is needed soonest, batches in order, first fit.

It keeps every rule of the yard, and shares no code with the optimiser, so that the two can be held against each
other. ``work`` plays it once, in one of his ways; ``well_played`` in all of them, and keeps the best.
"""

from tests.bench.rule.played import well_played
from tests.bench.rule.things import (
    Batch,
    NoWayError,
    Size,
    Turn,
    Worked,
    late_of,
    lines_of,
    ready_by_size,
    ready_of,
    size_of,
)
from tests.bench.rule.ways import PLAIN, WAYS, Way, ways_with
from tests.bench.rule.yard import work

__all__ = [
    "PLAIN",
    "WAYS",
    "Batch",
    "NoWayError",
    "Size",
    "Turn",
    "Way",
    "Worked",
    "late_of",
    "lines_of",
    "ready_by_size",
    "ready_of",
    "size_of",
    "ways_with",
    "well_played",
    "work",
]
