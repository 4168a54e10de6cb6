"""Batches outside their cards, which are set apart and not laid: their blocks, and what is said where they are named.

Which batches these are the journal tells, and `blockrun.yard.apart` works it out.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.show.page import LIMIT, Part, glued
from blockrun.show.words import batches_said, named_together
from blockrun.units import listed

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan

DO_NOT_LAY: Final = "DO NOT LAY"
SET_APART: Final = "SET APART"
OUTSIDE: Final = "outside its card"
_UNTIL: Final = "until its cubes pass or somebody answers for it"


@dataclass(frozen=True)
class Apart:
    """Blocks of one such batch: how many of each; ``among`` how many in all, and what they are told from these by."""

    batch: int
    blocks: tuple[tuple[str, int], ...]
    among: tuple[int, ...] = ()
    places: tuple[tuple[str, str], ...] = ()

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
    def which_of_these(self) -> str:
        """``12 of these 24 plinth, from ring-5/03-04 turn 1: batch 8, outside its card``.

        Said beside all that comes out of moulds, or leaves a rack: they are counted there already.
        """
        said = [_of_these(*one) for one in zip(self.blocks, self.among, strict=True)]
        turns: dict[str, list[str]] = {}
        for name, turn in self.places:
            turns.setdefault(turn, []).append(name)
        places = [named_together(names) + glued(f" {turn}" if turn else "") for turn, names in turns.items()]
        return f"{listed(said)}, from {listed(places)}: {glued(f'batch {self.batch}')}, {OUTSIDE}"

    @property
    def to_set_apart(self) -> tuple[Part, ...]:
        """Where they come out of a mould, or leave a rack."""
        return (SET_APART, LIMIT), f" {self.which_of_these}"


def _of_these(block: tuple[str, int], among: int) -> str:
    name, count = block
    if count < among:
        return glued(f"{count} of these {among} {name}")
    return glued(f"all {count} {name}" if count > 1 else f"the {name}")


Place = tuple[str, str]
"""Mould or base that a block is cast in, and where that does not tell it, ``turn 2``."""


def apart_of(blocks: Iterable[tuple[int, str, Place]], apart: Container[int]) -> tuple[Apart, ...]:
    """Those among some blocks that are set apart, batch by batch.

    Parameters
    ----------
    blocks : the batch of each, what it is called, and what it is cast in.
    """
    every: Counter[str] = Counter()
    of: dict[int, Counter[str]] = {}
    places: dict[int, dict[Place, None]] = {}
    for batch, block, place in blocks:
        every[block] += 1
        if batch in apart:
            of.setdefault(batch, Counter())[block] += 1
            places.setdefault(batch, {})[place] = None
    return tuple(
        Apart(
            batch, tuple(sorted(counts.items())), tuple(every[block] for block in sorted(counts)), tuple(places[batch])
        )
        for batch, counts in sorted(of.items())
    )


def apart_in(plan: Plan, apart: Container[int]) -> tuple[Apart, ...]:
    """Those among all blocks of a plan."""
    casts = plan.tables.casts
    turns = zip(casts["mould"], casts["turn"], strict=True)
    return apart_of(zip(casts["batch"], casts["mark"], turns, strict=True), apart)


def count_said(count: int, of: int, batches: Iterable[int]) -> str:
    """``5 of batch 12`` of so many blocks together; ``batch 12`` where it is all of them."""
    numbers = [*batches]
    named = batches_said(numbers)
    return named if count == of else f"{count} of {named}"
