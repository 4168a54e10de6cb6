"""Marks of blocks that no list names: by the length of what is cast, so that equal blocks have one mark everywhere."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterable

from blockrun.order.laid import Laid, Role
from blockrun.order.shape import Shape

Kind = tuple[str, Shape, str]
"""What tells one mark from another: the letter of its part, what is cast, and what it is for.

How a block is sawn does not: for moulds, racks and spares it is the block that is cast.
"""


def kind_of(letter: str, laid: Laid) -> Kind:
    """What a block's mark stands for."""
    return (letter, laid.shape, laid.role.value)


def marks_for(kinds: Iterable[Kind], taken: Collection[str]) -> dict[Kind, str]:
    """A mark for each kind of block, such as ``W600``.

    Parameters
    ----------
    kinds : of all walls and domes of an order.
    taken : marks of its lists, which no other block may have.

    Returns
    -------
    The letter and the length in mm; where several share these, plain blocks come first and the others are
    numbered from 2: ``W600``, ``W600-2``.
    """
    alike: defaultdict[str, list[Kind]] = defaultdict(list)
    for kind in sorted(set(kinds), key=_plain_first):
        alike[f"{kind[0]}{kind[1].length_mm:.0f}"].append(kind)
    marks: dict[Kind, str] = {}
    for stem, of_stem in sorted(alike.items()):
        number = 1
        for kind in of_stem:
            while (mark := stem if number == 1 else f"{stem}-{number}") in taken:
                number += 1
            marks[kind] = mark
            number += 1
    return marks


def _plain_first(kind: Kind) -> tuple[str, bool, str, Shape]:
    letter, shape, role = kind
    return (letter, role != Role.PLAIN.value, role, shape)
