"""What is to be cast in all, by the order and by what had happened."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.order import OrderLine
    from blockrun.planner.begun.facts import Begun

MarkAndMix = tuple[str, str]


def lines_left(lines: Sequence[OrderLine], begun: Begun) -> list[OrderLine]:
    """Blocks ordered, soonest needed first, without those that were found and that nobody had cast."""
    return list(_without(lines, Counter({(mark, mix): count for mark, mix, count in begun.found})))


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
