"""Numbers of cuts: by them pictures, lists, days and a pencil on each piece tell sawn blocks apart."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from itertools import groupby
from typing import TYPE_CHECKING

from blockrun.order import DomePart, WallPart
from blockrun.order.parts import part_names

if TYPE_CHECKING:
    from blockrun.order import Order, OrderLine

Sawn = tuple[str, str]
"""The mark of a block that is cast, and what is sawn off it, in words; of two alike in both either will do."""

CutOf = tuple[str, str, str]
"""A part, a mark, and what is sawn off."""


def piece_numbers(pieces: Iterable[tuple[int, str, str]]) -> Mapping[Sawn, str]:
    """``x1``, ``x2`` and so on for each way that blocks of a dome are sawn, from the bottom course up.

    Parameters
    ----------
    pieces : course, mark and cut of its blocks in any order; those without a cut get no number.
    """
    sawn = dict.fromkeys((mark, cut) for _, mark, cut in sorted(pieces) if cut)
    return {one: f"x{number}" for number, one in enumerate(sawn, start=1)}


def cut_numbers(sawn: Iterable[Sawn]) -> dict[str, str]:
    """``x1``, ``x2`` and so on for each cut of a wall that has sizes, whatever mark it is sawn from."""
    cuts = dict.fromkeys(cut for _, cut in sorted(sawn) if any(char.isdigit() for char in cut))
    return {cut: f"x{number}" for number, cut in enumerate(cuts, start=1)}


def numbers_of_cuts(order: Order, lines: Sequence[OrderLine]) -> Mapping[CutOf, str]:
    """The numbers of all cuts of walls and domes, the same as in their pictures; lists have none."""
    kinds = dict(zip(part_names(order), order.parts, strict=True))
    found: dict[CutOf, str] = {}
    for part, group in groupby(sorted(lines, key=lambda line: line.part), key=lambda line: line.part):
        sawn = [line for line in group if line.cut]
        if isinstance(kinds.get(part), DomePart):
            numbers = piece_numbers((line.course or 0, line.mark, line.cut) for line in sawn)
            found |= {(part, mark, cut): number for (mark, cut), number in numbers.items()}
        elif isinstance(kinds.get(part), WallPart):
            of_cut = cut_numbers((line.mark, line.cut) for line in sawn)
            found |= {(part, line.mark, line.cut): of_cut[line.cut] for line in sawn if line.cut in of_cut}
    return found
