"""Sweeps over time: what overlaps, and how much there is at once. All spans are half-open."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from typing import TypeVar

T = TypeVar("T")


def overlaps(spans: Iterable[tuple[int, int, T]]) -> Iterator[tuple[T, T]]:
    """Pairs that overlap in time: each thing with the one before it that lasts longest, if that is still going on.

    Parameters
    ----------
    spans : start, end and the thing, in any order; spans without length overlap nothing.

    Yields
    ------
    The earlier and the later thing. None is yielded exactly when no two overlap.
    """
    lasting: tuple[int, T] | None = None
    for start, end, thing in sorted((span for span in spans if span[0] < span[1]), key=lambda span: span[:2]):
        if lasting is not None and start < lasting[0]:
            yield lasting[1], thing
        if lasting is None or end > lasting[0]:
            lasting = (end, thing)


def levels(changes: Iterable[tuple[int, int]]) -> Iterator[tuple[int, int]]:
    """Follow a running sum over time.

    Parameters
    ----------
    changes : minute and what is added then, in any order.

    Yields
    ------
    Each minute at which something changes, with the sum after all changes of that minute.
    """
    net: Counter[int] = Counter()
    for minute, change in changes:
        net[minute] += change
    level = 0
    for minute in sorted(net):
        level += net[minute]
        yield minute, level
