"""Test cubes: the mix they take, how many sets a mix has given by which day, what they are called and when crushed.

What ``test_cubes`` means stands here:

- A set is cast from one batch. Any batch of the day with room for it may give it, and may give several.
- ``every`` a volume: lots of so much of a mix follow one another without a gap. Each lot that is begun gives one set,
  on a day on which some of it is made; the first day of a mix gives one in any case.
- ``every: day``: each day on which a mix is poured gives one set of it.
- ``every: delivery``: the first day on which a mix is poured gives one set of it, and so does the first one after each
  delivery of cement, its own day included.
- Sets are numbered from 1 in the order of their batches, and cubes from 1 in each. In a plan made anew a set that was
  given keeps its number, for its cubes bear it; the others go on from the highest of these.
- Where ages are told, the cubes of a set are shared among them as evenly as can be, the first ones for the first age,
  one more each for the last ages.
- A cube is crushed on the day it is so old, or on the next that is worked.

All of it is our choice, but for the share of a set by age: one cube of three at 7 days, a hint of what two at 28 then
tell, is common practice, no source. Two at each age are better, and a plan says so.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import count as counting
from itertools import islice
from typing import Final

from blockrun.errors import OutOfRange

MM3_PER_L: Final = 1_000_000
LEAST_SIDE_MM: Final = 40.0
MOST_SIDE_MM: Final = 300.0
SLACK: Final = Fraction(1, 10**9)
"""A volume this share beyond a whole number of lots is rounding, not mix."""


def cubes_l(count: int, side_mm: float, overfill: float = 0.0) -> float:
    """Mix that a set of cubes takes.

    Parameters
    ----------
    count : cubes of a set, >= 1.
    side_mm : length of an edge, 40 to 300 mm.
    overfill : poured above the cube and struck off, a share of it, >= 0.

    Returns
    -------
    Litres.

    Raises
    ------
    OutOfRange : an argument is outside the limits above.
    """
    if count < 1:
        raise OutOfRange("a set has one cube or more", "Write 3, say.", name="count", value=count, limit=1)
    if not LEAST_SIDE_MM <= side_mm <= MOST_SIDE_MM:
        raise OutOfRange(
            f"a test cube of {side_mm:g} mm is not usual",
            "Write a side from 40 mm to 300 mm; 100 mm is usual.",
            name="size",
            value=side_mm,
            unit="mm",
        )
    if overfill < 0:
        raise OutOfRange("overfill is under nought", "Write 0 % or more.", name="overfill", value=overfill, limit=0)
    return count * side_mm**3 / MM3_PER_L * (1 + overfill)


@dataclass(frozen=True)
class SetsBy:
    """Sets that a mix has given by the end of a day: so many at the least, and so many at the most."""

    least: int
    most: int


def sets_by_volume(made_l: Sequence[float], every_l: float) -> list[SetsBy]:
    """Sets given by the end of each day where so much of a mix is a lot.

    Parameters
    ----------
    made_l : whole batches of the mix on each day on which it is made, > 0, in order.
    every_l : size of a lot, > 0.

    Returns
    -------
    One for each day. At the least the lots that are made to their end, at the most those that are begun; the last
    day has given one for each begun.

    Raises
    ------
    OutOfRange : a lot is nought, less or endless.
    """
    if not 0 < every_l < math.inf:
        raise OutOfRange("a lot of mix has a volume", "Write one, such as 5 m3.", name="every", value=every_l, unit="L")
    lot, so_far, found = Fraction(every_l), Fraction(0), []
    for litres in made_l:
        so_far += Fraction(litres)
        ended, begun = math.floor(so_far / (lot * (1 - SLACK))), math.ceil(so_far / (lot * (1 + SLACK)))
        found.append(SetsBy(max(1, min(ended, begun)), begun))
    if found:
        found[-1] = SetsBy(found[-1].most, found[-1].most)
    return found


def sets_by_date(days: Sequence[int], begins: Sequence[int]) -> list[SetsBy]:
    """Sets given by the end of each day where lots begin on certain days.

    Parameters
    ----------
    days : those on which the mix is poured, ascending.
    begins : days on which a lot begins, ascending; one that has begun before the first of them is a lot too.
    """
    found: list[SetsBy] = []
    last, given = -1, 0
    for day in days:
        lot = bisect_right(begins, day)
        given += lot != last
        last = lot
        found.append(SetsBy(given, given))
    return found


def shared_by_age(count: int, ages: int) -> list[int]:
    """Cubes of a set that are crushed at each of so many ages, youngest first; all of them where there are no ages.

    Parameters
    ----------
    count : cubes of a set, >= ages.
    ages : how many, >= 0.
    """
    each, more = divmod(count, max(1, ages))
    return [each + (number >= max(1, ages) - more) for number in range(max(1, ages))]


def numbers_of_sets(
    batches: Iterable[tuple[int, int]], given: Mapping[int, Sequence[int]]
) -> Iterator[tuple[int, int]]:
    """Each set with its batch and its number.

    Parameters
    ----------
    batches : by number, in the order of the clock, each with how many sets it gives.
    given : numbers of sets that were given before a plan was made anew, by batch; of a batch that is not told they are
        as of one to come.
    """
    more = counting(1 + max((number for numbers in given.values() for number in numbers), default=0))
    for batch, n_sets in batches:
        kept = given.get(batch, ())[:n_sets]
        for number in (*kept, *islice(more, n_sets - len(kept))):
            yield batch, number


def written_on(number: int, count: int, ages: int) -> Iterator[tuple[int, str]]:
    """For each age, youngest first, how many cubes of a set are crushed and what is written on them.

    Parameters
    ----------
    number : of the set, >= 1.
    count, ages : as for :func:`shared_by_age`.

    Returns
    -------
    Such as ``(1, "4-1")`` and ``(2, "4-2 to 4-3")`` for three cubes of set 4 and two ages.
    """
    first = 1
    for cubes in shared_by_age(count, ages):
        last = first + cubes - 1
        yield cubes, f"{number}-{first}" + (f" to {number}-{last}" if last > first else "")
        first = last + 1
