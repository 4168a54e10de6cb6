"""Numbers of batches that were poured before a plan was made anew, by those under which they are recorded."""

from __future__ import annotations

from collections.abc import Container, Iterable
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.planner.begun.facts import BatchPoured


def numbers_before(batches: Iterable[BatchPoured], filled: Container[int]) -> dict[tuple[str, int], int]:
    """The number of each batch that was poured, by the digits of the plan that recorded it and its number there.

    Of one that was poured several times each pour has a number: it is the least of those of which there are blocks.

    Parameters
    ----------
    batches : that were poured.
    filled : numbers of those of which there are blocks.
    """
    by_rank = sorted(batches, key=lambda one: (one.number in filled, -one.number))
    return {(one.plan, one.was): one.number for one in by_rank}
