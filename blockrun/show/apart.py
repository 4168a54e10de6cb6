"""Batches outside their cards, which are set apart and not laid: their blocks, and what is said where they are named.

Which batches these are the journal tells, and `blockrun.yard.apart` works it out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable
from dataclasses import dataclass
from typing import Final

from blockrun.show.page import LIMIT, Part, glued
from blockrun.units import listed

DO_NOT_LAY: Final = "DO NOT LAY"
SET_APART: Final = "SET APART"
OUTSIDE: Final = "outside its card"
_UNTIL: Final = "until its cubes pass or somebody answers for it"


@dataclass(frozen=True)
class Apart:
    """Blocks of one such batch: how many of each."""

    batch: int
    blocks: tuple[tuple[str, int], ...]

    @property
    def count(self) -> int:
        """Blocks of all kinds."""
        return sum(count for _, count in self.blocks)

    @property
    def said(self) -> str:
        """``5 W600-2 and 1 W560 of batch 12, outside its card``."""
        blocks = listed([glued(f"{count} {block}") for block, count in self.blocks])
        return f"{blocks} of {glued(f'batch {self.batch}')}, {OUTSIDE}"

    @property
    def and_until(self) -> str:
        """The same, and what ends it."""
        return f"{self.said}, {_UNTIL}"

    @property
    def not_to_lay(self) -> tuple[Part, ...]:
        """Where they would be ready."""
        return (DO_NOT_LAY, LIMIT), f" {self.and_until}"

    @property
    def to_set_apart(self) -> tuple[Part, ...]:
        """Where they come out of a mould, or leave a rack."""
        return (SET_APART, LIMIT), f" {self.said}"


def apart_of(blocks: Iterable[tuple[int, str]], apart: Container[int]) -> tuple[Apart, ...]:
    """Those among some blocks that are set apart, batch by batch.

    Parameters
    ----------
    blocks : the batch of each, and what it is called.
    apart : batches outside their cards.
    """
    of: dict[int, Counter[str]] = {}
    for batch, block in blocks:
        if batch in apart:
            of.setdefault(int(batch), Counter())[block] += 1
    return tuple(Apart(batch, tuple(sorted(counts.items()))) for batch, counts in sorted(of.items()))


def count_said(count: int, of: int, batches: Iterable[int]) -> str:
    """``5 of batch 12`` of so many blocks together; ``batch 12`` where it is all of them."""
    numbers = [*batches]
    named = glued(f"{'batch' if len(numbers) == 1 else 'batches'} {listed(list(map(str, numbers)))}")
    return named if count == of else f"{count} of {named}"
