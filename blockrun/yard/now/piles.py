"""Blocks in one place, kept apart by mark and mix, the oldest first out."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterator
from datetime import datetime
from typing import Final, NamedTuple

Kind = tuple[str, str]
"""A mark and a mix: blocks of one kind serve any course that needs them."""


BatchNo = tuple[str, int]
"""A batch: the digits of the plan by which it has its number, and the number; 0 where nobody knows."""

UNKNOWN: Final[BatchNo] = ("", 0)

Pour = tuple[BatchNo, datetime]
"""A batch, and when it was poured: the same may be poured again, such as one that went flat."""


Wanted = Callable[[BatchNo], bool]
"""Whether blocks of a batch are wanted."""


def anything(_: BatchNo) -> bool:
    """Blocks of any batch are."""
    return True


class Lot(NamedTuple):
    """Blocks of one kind that were poured together and came to a place together.

    Attributes
    ----------
    batch : which.
    poured : when; of blocks that a count found, when they were counted, for nobody knows better.
    since : when they came to where they are; from rack to rack they take along since when they are on one.
    n_blocks : how many.
    """

    batch: BatchNo
    poured: datetime
    since: datetime
    n_blocks: int

    @property
    def pour(self) -> Pour:
        """What they are of."""
        return self.batch, self.poured


class Pile:
    """Blocks in one place."""

    __slots__ = ("_counts", "_lots")

    def __init__(self) -> None:
        self._lots: dict[Kind, deque[Lot]] = {}
        self._counts: dict[Kind, int] = {}

    def put(self, kind: Kind, lot: Lot) -> None:
        """Add blocks, behind those that are there since then or longer."""
        if not lot.n_blocks:
            return
        lots = self._lots.get(kind)
        if lots is None:
            lots = self._lots[kind] = deque()
        later = deque[Lot]()
        while lots and lots[-1].since > lot.since:
            later.appendleft(lots.pop())
        if lots and lots[-1][:3] == lot[:3]:
            lots[-1] = lot._replace(n_blocks=lots[-1].n_blocks + lot.n_blocks)
        else:
            lots.append(lot)
        lots += later
        self._counts[kind] = self._counts.get(kind, 0) + lot.n_blocks

    def take(self, kind: Kind, count: int, since: datetime | None, *, of: Wanted = anything) -> list[Lot]:
        """Take blocks away, the oldest first and no more than there are.

        Parameters
        ----------
        since : when each lot is elsewhere; None for since when it was here.
        of : whether any of a batch is to be taken.
        """
        taken: list[Lot] = []
        lots, left = self._lots.get(kind), deque[Lot]()
        while count > 0 and lots:
            lot = lots[0]
            if not of(lot.batch):
                left.append(lots.popleft())
                continue
            some = min(count, lot.n_blocks)
            if some == lot.n_blocks:
                lots.popleft()
            else:
                lots[0] = lot._replace(n_blocks=lot.n_blocks - some)
            taken.append(Lot(lot.batch, lot.poured, since or lot.since, some))
            self._counts[kind] -= some
            count -= some
        if lots is not None:
            lots.extendleft(reversed(left))
        if lots is not None and not lots:
            del self._lots[kind], self._counts[kind]
        return taken

    def copy(self) -> Pile:
        """The same blocks, in a pile of their own."""
        pile = Pile()
        pile._lots, pile._counts = {kind: deque(lots) for kind, lots in self._lots.items()}, dict(self._counts)
        return pile

    def count(self, kind: Kind) -> int:
        """How many of a kind are there."""
        return self._counts.get(kind, 0)

    @property
    def counts(self) -> dict[Kind, int]:
        """How many of each kind are there, none left out but those of which there is none."""
        return dict(self._counts)

    def lots(self) -> Iterator[tuple[Kind, Lot]]:
        """All lots, those of a kind by when they came."""
        for kind, lots in self._lots.items():
            for lot in lots:
                yield kind, lot

    def __len__(self) -> int:
        """How many blocks are there."""
        return sum(self._counts.values())

    def __bool__(self) -> bool:
        """Whether any block is there."""
        return bool(self._lots)

    def __eq__(self, other: object) -> bool:
        """Whether the same blocks lie there, in the same order."""
        return isinstance(other, Pile) and self._lots == other._lots

    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        """All lots."""
        return f"Pile({self._lots!r})"
