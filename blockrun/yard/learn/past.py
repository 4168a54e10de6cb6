"""What was recorded, beside what the plan had: pours with their batches, and turns that are over."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Final

from blockrun.yard.journal import standing
from blockrun.yard.journal.events import Blocks, Poured, Stripped
from blockrun.yard.now import state_of

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned, PlannedCast
    from blockrun.planner.planned_batches import PlannedBatch
    from blockrun.site import MouldKind
    from blockrun.yard.journal import Entry
    from blockrun.yard.now import State

AT_ONCE: Final = timedelta(minutes=5)
"""An entry written later than this after it happened, at the very minute of the plan, was answered "as planned": it
tells that something was done, not when (our choice)."""


@dataclass(frozen=True)
class Pour:
    """A batch of this plan that was poured."""

    entry: Entry
    event: Poured
    planned: PlannedBatch

    @property
    def timed(self) -> bool:
        """Whether somebody looked at a clock."""
        return _timed(self.entry, self.planned.pour_to)


@dataclass(frozen=True)
class Turn:
    """What stood in a mould, or on a base, and was stripped.

    Attributes
    ----------
    entry : of the strip.
    place, kind : where, and the kind of mould.
    poured : when the last of it was.
    whole, broken : blocks.
    thumbs : pressed before, with their moments.
    cast : a block of it in this plan; None where it is not of this plan.
    """

    entry: Entry
    place: str
    kind: MouldKind
    poured: datetime
    whole: int
    broken: int
    thumbs: tuple[tuple[datetime, str], ...]
    cast: PlannedCast | None

    @property
    def blocks(self) -> int:
        """All that were in it."""
        return self.whole + self.broken

    @property
    def who(self) -> str:
        """Who stripped it; empty where nobody said."""
        return self.entry.event.who

    @property
    def began(self) -> datetime:
        """When the strip began: it is recorded when it is done."""
        return self.entry.happened - timedelta(minutes=self.kind.strip_and_saw_min)

    @property
    def timed(self) -> bool:
        """Whether somebody looked at a clock."""
        return self.cast is None or _timed(self.entry, self.cast.strip)


@dataclass(frozen=True)
class Past:
    """All that counts of a journal.

    Parameters
    ----------
    plan : by which blocks were cast.
    batches : of it, by number.
    told : entries of its journal, in any order.
    """

    plan: AsPlanned
    batches: dict[int, PlannedBatch]
    told: Iterable[Entry] = field(repr=False)

    @cached_property
    def entries(self) -> list[Entry]:
        """Those that count, by when they happened."""
        return standing(self.told)

    @cached_property
    def state(self) -> State:
        """Where all blocks are."""
        return state_of(self.entries)

    @cached_property
    def pours(self) -> list[Pour]:
        """Pours of this plan's own batches, each batch once: of one made again the last."""
        found: dict[int, Pour] = {}
        for entry in self.entries:
            event = entry.event
            if isinstance(event, Poured) and event.plan == self.plan.id and event.batch in self.batches:
                found[event.batch] = Pour(entry, event, self.batches[event.batch])
        return sorted(found.values(), key=lambda pour: pour.entry.place)

    @cached_property
    def turns(self) -> list[Turn]:
        """Turns that are over, of moulds that the site still has, by when they were stripped."""
        strips = {
            (event.base or event.mould, entry.happened): (entry, event)
            for entry in self.entries
            if isinstance(event := entry.event, Stripped)
        }
        return sorted(self._turns(strips), key=lambda turn: turn.entry.place)

    def _turns(self, strips: dict[tuple[str, datetime], tuple[Entry, Stripped]]) -> Iterator[Turn]:
        kinds = {kind.kind: kind for kind in self.plan.site.moulds}
        for here in self.state.turns:
            strip = None if here.stripped is None else strips.get((here.place, here.stripped))
            kind = kinds.get(here.mould.rsplit("/", 1)[0])
            if strip is not None and kind is not None:
                entry, event = strip
                cast = next(filter(None, (self._casts.get((batch, here.place)) for batch in here.batches)), None)
                thumbs = tuple(here.thumbs)
                yield Turn(
                    entry, here.place, kind, here.poured, count_of(event.whole), count_of(event.broken), thumbs, cast
                )

    @cached_property
    def _casts(self) -> dict[tuple[tuple[str, int], str], PlannedCast]:
        """A block of each batch in each place."""
        return {((self.plan.id, cast.batch), cast.place): cast for cast in self.plan.casts}


def count_of(blocks: Iterable[Blocks]) -> int:
    """How many blocks, of whatever mark."""
    return sum(some.count for some in blocks)


def _timed(entry: Entry, planned: datetime) -> bool:
    return entry.happened != planned or entry.written.replace(tzinfo=None) - entry.happened <= AT_ONCE
