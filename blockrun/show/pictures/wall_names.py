"""What blocks of a wall are called in its pictures: mark, what they are for, and how they are sawn."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from string import ascii_lowercase

from blockrun.order.laid import Laid
from blockrun.order.walls import WallLayout
from blockrun.show.pictures.paper import SAWN, kind_of


class WallNames:
    """Names of the blocks of one wall, the same on all its sheets.

    Parameters
    ----------
    layout : the wall.
    mark : what a block is called in lists and plans.

    Attributes
    ----------
    short : a letter or two for each mark, where a block is too small for the mark.
    sawn : a number such as ``x3`` for each mark and cut that has sizes.
    counts : how many blocks each of `sawn` stands for.
    """

    def __init__(self, layout: WallLayout, mark: Callable[[Laid], str]) -> None:
        self.mark = mark
        marks = sorted({mark(block) for block in layout.blocks})
        self.short = {name: _letters(index) for index, name in enumerate(marks)}
        self.counts = Counter((mark(block), block.cut) for block in layout.blocks if _has_sizes(block))
        self.sawn = {pair: f"x{number}" for number, pair in enumerate(sorted(self.counts), 1)}

    def full(self, block: Laid) -> str:
        """Mark, letter of what it is for, and number of its cut."""
        kind, mark = kind_of(block), self.mark(block)
        letter = "" if kind is SAWN else kind.letter
        return " ".join(word for word in (mark, letter, self.sawn.get((mark, block.cut), "")) if word)

    def least(self, block: Laid) -> str:
        """The shortest that tells the block: number of its cut, else letters that stand for its mark."""
        mark = self.mark(block)
        return self.sawn.get((mark, block.cut)) or self.short[mark]


def _has_sizes(block: Laid) -> bool:
    return any(char.isdigit() for char in block.cut)


def _letters(index: int) -> str:
    """``a`` to ``z``, then ``aa``, ``ab`` and so on, without ``x``, which numbers cuts."""
    letters = ascii_lowercase.replace("x", "")
    first, last = divmod(index, len(letters))
    return (letters[first - 1] if first else "") + letters[last]
