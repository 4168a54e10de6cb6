"""What is to be cast in all, by the order and by what had happened."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.order import OrderLine
    from blockrun.planner.begun.facts import Begun

MarkAndMix = tuple[str, str]


def lines_left(lines: Sequence[OrderLine], begun: Begun) -> list[OrderLine]:
    """Blocks ordered, soonest needed first, without those for which there are some that nobody had cast."""
    return [left for _, left in _by_found(lines, begun) if left.count]


def lines_found(lines: Sequence[OrderLine], begun: Begun) -> list[OrderLine]:
    """The others: blocks ordered, and nothing is cast for them since a count found that they are there.

    What was found is good for what is not laid yet: courses that stand were laid of what was cast.

    Parameters
    ----------
    lines : ordered, soonest needed first.
    """
    return [replace(line, count=line.count - left.count) for line, left in _by_found(lines, begun) if left != line]


def found_of(ordered: Callable[[], Iterable[OrderLine]], begun: Begun | None) -> tuple[OrderLine, ...]:
    """Blocks ordered that are not among the casts of a plan: a count had found that they are there.

    Parameters
    ----------
    ordered : lines of the order; asked for only where something was found, as few plans need them.
    """
    if begun is None or not begun.found:
        return ()
    return tuple(lines_found(soonest_first(ordered()), begun))


def soonest_first(lines: Iterable[OrderLine]) -> list[OrderLine]:
    """Lines of an order as blocks are given to them: by need date, then by part, course and mark."""
    far = date.max
    return sorted(lines, key=lambda line: (line.needed or far, line.part, line.course or 0, line.mark, line.mix))


def _by_found(lines: Iterable[OrderLine], begun: Begun) -> Iterator[tuple[OrderLine, OrderLine]]:
    """Lines, each with what is left of it."""
    found = Counter({(mark, mix): count for mark, mix, count in begun.found})
    laid = Counter((block.mark, block.mix) for turn in begun.turns for block in turn.blocks if block.laid)
    for line in lines:
        kind = line.mark, line.mix
        stands = min(laid[kind], line.count)
        taken = min(found[kind], line.count - stands)
        laid[kind] -= stands
        found[kind] -= taken
        yield line, replace(line, count=line.count - taken) if taken else line


def spares_begun(ordered: Iterable[OrderLine], left: Iterable[OrderLine], begun: Begun) -> list[OrderLine]:
    """Spares to be had in the end: those told, and blocks there are already beyond what is left of their mark.

    Parameters
    ----------
    ordered, left : all lines of the order, and what is left of them without blocks that were found.
    """
    asked = Counter({(mark, mix): count for mark, mix, count in begun.spares})
    there = Counter((block.mark, block.mix) for turn in begun.turns for block in turn.blocks)
    wanted: Counter[MarkAndMix] = Counter()
    for line in left:
        wanted[line.mark, line.mix] += line.count
    one_of = {(line.mark, line.mix): line for line in ordered}
    return list(_spares(one_of, {kind: max(asked[kind], there[kind] - wanted[kind]) for kind in one_of}))


def _spares(one_of: dict[MarkAndMix, OrderLine], counts: dict[MarkAndMix, int]) -> Iterator[OrderLine]:
    for kind, line in sorted(one_of.items()):
        if counts[kind] > 0:
            yield replace(line, part="", course=None, needed=None, cut="", count=counts[kind])


def to_cast(lines: Iterable[OrderLine], begun: Begun | None) -> list[OrderLine]:
    """What is still to be cast of all that is wanted: without the good blocks there are, which go to the first."""
    if begun is None:
        return list(lines)
    there = Counter((block.mark, block.mix) for turn in begun.turns for block in turn.blocks)
    return list(_without(lines, there))


def _without(lines: Iterable[OrderLine], there: Counter[MarkAndMix]) -> Iterator[OrderLine]:
    """Lines without so many of each mark and mix."""
    for line in lines:
        taken = min(there[line.mark, line.mix], line.count)
        there[line.mark, line.mix] -= taken
        if taken < line.count:
            yield replace(line, count=line.count - taken)
