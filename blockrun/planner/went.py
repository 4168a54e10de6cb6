"""What is recorded of the turns of a plan until a moment: words that `yard` fills and `planner` heeds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime


@dataclass(frozen=True)
class Stands:
    """What stands in a mould: its batches by their numbers in the plan, and when the last was poured."""

    batches: frozenset[int]
    poured: datetime


@dataclass(frozen=True)
class Went:
    """How far a plan has come.

    Parameters
    ----------
    stands : by the name of a mould or a base; of batches of other plans, without numbers.
    poured : numbers of all its batches that were poured.
    """

    stands: Mapping[str, Stands] = field(default_factory=dict)
    poured: frozenset[int] = frozenset()
