"""What blocks of a wall are called in its pictures: mark, what they are for, and how they are sawn."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from string import ascii_lowercase
from typing import Final

from blockrun.order.laid import Laid
from blockrun.order.walls import WallLayout
from blockrun.order.walls.cut import has_sizes
from blockrun.show.pictures.paper import SAWN, kind_of
from blockrun.show.piece_numbers import cut_numbers

_LETTERS: Final = "".join(letter for letter in ascii_lowercase if letter not in "clprsx")
"""Letters that stand for marks: none that tells a kind of block in capitals, and no x, which numbers cuts."""


class WallNames:
    """Names of the blocks of one wall, the same on all its sheets.

    Parameters
    ----------
    mark : what a block is called in lists and plans.

    Attributes
    ----------
    short : a letter or two for each mark, where a block is too small for the mark.
    sawn : a number such as ``x3`` for each cut that has sizes.
    counts : how many blocks of each mark are cut so.
    """

    def __init__(self, layout: WallLayout, mark: Callable[[Laid], str]) -> None:
        self.mark = mark
        marks = sorted({mark(block) for block in layout.blocks})
        self.short = {name: _letters(index) for index, name in enumerate(marks)}
        self.counts = Counter((mark(block), block.cut) for block in layout.blocks if has_sizes(block.cut))
        self._n_marks = Counter(cut for _, cut in sorted(self.counts))
        self.sawn = cut_numbers(self.counts)

    def full(self, block: Laid) -> str:
        """Mark, letter of what it is for, and number of its cut."""
        kind, mark = kind_of(block), self.mark(block)
        letter = "" if kind is SAWN else kind.letter
        return " ".join(word for word in (mark, letter, self.sawn.get(block.cut, "")) if word)

    def least(self, block: Laid) -> str:
        """The shortest that tells the block: the number of a cut of its mark alone, else letters for its mark."""
        mark = self.mark(block)
        if self._n_marks[block.cut] == 1:
            return self.sawn[block.cut]
        return f"{self.short[mark]} {self.sawn.get(block.cut, '')}".strip()


def _letters(index: int) -> str:
    """Letters from ``a`` on, then ``aa``, ``ab`` and so on."""
    first, last = divmod(index, len(_LETTERS))
    return (_LETTERS[first - 1] if first else "") + _LETTERS[last]
