"""Where every block of the yard is, and what is known of moulds, air and thumbs."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import NamedTuple

from blockrun.yard.journal.entry import Entry
from blockrun.yard.journal.events import WeatherSeen
from blockrun.yard.now.piles import BatchNo, Kind, Pile


@dataclass(frozen=True)
class Clash:
    """What an entry says and cannot have been, by all the others: it was done as far as it could be.

    Attributes
    ----------
    what : in words, but for the batches that it tells of.
    of : these.
    """

    entry: Entry
    what: str
    of: tuple[BatchNo, ...] = ()


class Filled(NamedTuple):
    """A block in a cavity, counted from 1, or at a place of a slab, and the batch that it is of."""

    cavity: int
    kind: Kind
    batch: BatchNo
    poured: datetime


@dataclass
class Standing:
    """What stands, or stood, in a mould, or on a base.

    Attributes
    ----------
    mould, base : where; base is empty without one.
    blocks : in it now.
    key : of the entry that filled it last.
    poured : when that was.
    sides_on : whether the sides of a mould with bases are still on.
    filled : all that was poured into it, in order.
    thumbs : when a thumb was pressed into it since, and what it showed.
    sides_off : when its sides came off; None where they have not, or there is no base, or nobody said.
    stripped : when it was; None while it stands.
    lost : blocks that were thrown out of it, or broke at the strip.
    """

    mould: str
    base: str
    blocks: Pile
    key: str
    poured: datetime
    sides_on: bool
    filled: list[Filled] = field(default_factory=list)
    thumbs: list[tuple[datetime, str]] = field(default_factory=list)
    sides_off: datetime | None = None
    stripped: datetime | None = None
    lost: Pile = field(default_factory=Pile)

    @property
    def cavities(self) -> set[int]:
        """Those that are filled."""
        return {one.cavity for one in self.filled}

    @property
    def batches(self) -> list[BatchNo]:
        """All that filled it, in order."""
        return list(dict.fromkeys(one.batch for one in self.filled))

    @property
    def place(self) -> str:
        """Where its blocks stand until the strip."""
        return self.base or self.mould


def _piles() -> defaultdict[str, Pile]:
    return defaultdict(Pile)


@dataclass
class State:
    """Where every block is.

    Attributes
    ----------
    moulds : what stands in moulds, or on bases, by their names.
    turns : all that ever stood in one, in the order in which they were begun.
    out : blocks that are out of their mould and on no rack yet, by where they stood.
    racks, stacks : blocks by the name of a rack, and by where a stack is.
    laid : by part and course; course 0 where none was told.
    broken, rejected : of all the time.
    missing : blocks that a count did not find.
    cast : how many of each kind were ever poured.
    found : how many of each kind a count found that nobody had recorded.
    sides : by mould with bases, the base its sides are on.
    out_of_use : moulds and bases, and since when.
    air : the least and the most of days as somebody read them.
    lost : days on which nobody works.
    poured : moments at which each batch was poured, by its plan and its number.
    clashes : in the order of time.
    """

    moulds: dict[str, Standing] = field(default_factory=dict)
    turns: list[Standing] = field(default_factory=list)
    out: defaultdict[str, Pile] = field(default_factory=_piles)
    racks: defaultdict[str, Pile] = field(default_factory=_piles)
    stacks: defaultdict[str, Pile] = field(default_factory=_piles)
    laid: defaultdict[tuple[str, int], Pile] = field(default_factory=lambda: defaultdict(Pile))
    broken: Pile = field(default_factory=Pile)
    rejected: Pile = field(default_factory=Pile)
    missing: Pile = field(default_factory=Pile)
    cast: Counter[Kind] = field(default_factory=Counter)
    found: Counter[Kind] = field(default_factory=Counter)
    sides: dict[str, str] = field(default_factory=dict)
    out_of_use: dict[str, datetime] = field(default_factory=dict)
    air: dict[date, WeatherSeen] = field(default_factory=dict)
    lost: set[date] = field(default_factory=set)
    poured: defaultdict[BatchNo, list[datetime]] = field(default_factory=lambda: defaultdict(list))
    clashes: list[Clash] = field(default_factory=list)

    def to_lay(self) -> Iterator[Pile]:
        """Every place in which good blocks are that are not laid."""
        yield from (standing.blocks for standing in self.moulds.values())
        for places in (self.out, self.racks, self.stacks):
            yield from places.values()

    def standing_in(self, name: str) -> Standing | None:
        """What stands in a mould or on a base; a mould with bases is known by its sides."""
        return self.moulds.get(name) or self.moulds.get(self.sides.get(name, ""))
