"""Individuals and moving-range chart: limits of what is usual, and signals that something has changed."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import Enum
from typing import Final

from blockrun.errors import OutOfRange

D2: Final = 2 / math.sqrt(math.pi)
"""Mean range of two normal values, in standard deviations: 1.128."""

D3: Final = math.sqrt(2 - D2**2)
"""Standard deviation of that range, in standard deviations: 0.8525."""

D4: Final = 1 + 3 * D3 / D2
"""Upper limit of a moving range over its mean: 3.267."""

SIGMAS: Final = 3
RUN: Final = 8
TREND: Final = 6
SETTLED: Final = 20
"""With fewer values the limits are still loose (our choice; textbooks say twenty to twenty-five)."""

ENOUGH: Final = 10
"""With fewer values nothing can be said to be chance (our choice)."""


class Signal(Enum):
    """Why a point, or a row of points, is not chance."""

    BEYOND = "beyond"
    JUMP = "jump"
    RUN_ABOVE = "run above"
    RUN_BELOW = "run below"
    RISING = "rising"
    FALLING = "falling"


@dataclass(frozen=True)
class Found:
    """A signal and the points it is of, as indexes of the values, from first to last."""

    signal: Signal
    first: int
    last: int


@dataclass(frozen=True)
class Chart:
    """Limits of values recorded one after the other, and what is unusual in them."""

    values: tuple[float, ...]
    mean: float
    mean_range: float
    lower: float
    upper: float
    upper_range: float
    found: tuple[Found, ...]
    base: int
    """So many values, from the first on, the limits are from."""

    @property
    def is_enough(self) -> bool:
        """Whether there are so many values that no signal means chance."""
        return len(self.values) >= ENOUGH

    @property
    def is_settled(self) -> bool:
        """Whether there are enough values for limits to rely on."""
        return self.base >= SETTLED


def chart(values: Sequence[float]) -> Chart:
    """Limits of the values and of the steps between them, and the signals.

    The limits are from a base: the first twenty values, or as many of them, ten at least, as hold no signal. So a
    drift does not pull the mean after it. Where the first ten hold one already, the base is the first twenty.

    Limits: mean +- 3 x mean moving range / 1.128; of the moving range 3.267 x its mean. Signals: a point beyond
    its limits, a moving range beyond its limit, 8 points in a row on one side of the mean, 6 in a row each higher
    (or each lower) than the one before.

    Parameters
    ----------
    values : at least two, in the order they were recorded, finite.

    Returns
    -------
    The chart; its signals in the order in which they end.

    Raises
    ------
    OutOfRange : fewer than two values, or one that is not a number.

    Source
    ------
    Individuals chart: NIST/SEMATECH e-Handbook of Statistical Methods 6.3.2.2 (second-hand), checked in
    tests/published/test_individuals_chart.py. 1.128 = 2/sqrt(pi) and 3.267 follow from the normal law. The runs of 8
    and of 6 are textbook rules (second-hand: quality courses that list them; other books take 7 or 9).
    """
    if len(values) < 2 or not all(math.isfinite(value) for value in values):
        raise OutOfRange(
            "a chart needs two values or more, all of them numbers", "Record more batches.", value=len(values), limit=2
        )
    most = min(SETTLED, len(values))
    lengths = range(most, ENOUGH - 1, -1)
    base = next((length for length in lengths if not _charted(values[:length], length).found), most)
    return _charted(values, base)


def _charted(values: Sequence[float], base: int) -> Chart:
    """Limits from the first values, and signals in all of them."""
    steps = [abs(later - earlier) for earlier, later in itertools.pairwise(values)]
    mean, mean_range = math.fsum(values[:base]) / base, math.fsum(steps[: base - 1]) / (base - 1)
    reach = SIGMAS * mean_range / D2
    lower, upper, upper_range = mean - reach, mean + reach, D4 * mean_range
    found = [*_beyond(values, lower, upper), *_jumps(steps, upper_range), *_runs(values, mean), *_trends(values)]
    found.sort(key=lambda one: (one.last, one.first, one.signal.value))
    return Chart(tuple(values), mean, mean_range, lower, upper, upper_range, tuple(found), base)


def _beyond(values: Sequence[float], lower: float, upper: float) -> Iterator[Found]:
    slack = 1e-9 * max(1.0, abs(lower), abs(upper))
    for index, value in enumerate(values):
        if not lower - slack <= value <= upper + slack:
            yield Found(Signal.BEYOND, index, index)


def _jumps(steps: Sequence[float], upper_range: float) -> Iterator[Found]:
    for index, step in enumerate(steps):
        if step > upper_range * (1 + 1e-9):
            yield Found(Signal.JUMP, index, index + 1)


def _runs(values: Sequence[float], mean: float) -> Iterator[Found]:
    for side, first, last in _stretches([_sign(value - mean) for value in values]):
        if side and last - first + 1 >= RUN:
            yield Found(Signal.RUN_ABOVE if side > 0 else Signal.RUN_BELOW, first, last)


def _trends(values: Sequence[float]) -> Iterator[Found]:
    """Six points in a row are five steps one way."""
    steps = [_sign(later - earlier) for earlier, later in itertools.pairwise(values)]
    for way, first, last in _stretches(steps):
        if way and last - first + 2 >= TREND:
            yield Found(Signal.RISING if way > 0 else Signal.FALLING, first, last + 1)


def _stretches(signs: Sequence[int]) -> Iterator[tuple[int, int, int]]:
    """Equal neighbours: their sign, the first and the last of them."""
    first = 0
    for sign, group in itertools.groupby(signs):
        length = len(list(group))
        yield sign, first, first + length - 1
        first += length


def _sign(value: float) -> int:
    return (value > 0) - (value < 0)
