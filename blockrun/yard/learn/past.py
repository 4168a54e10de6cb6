"""What was recorded, beside what the plan had: pours with their batches, and turns that are over."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Final

from blockrun.planner.saved_rows import planned_batches
from blockrun.site.mould_names import kind_named
from blockrun.yard.journal import standing
from blockrun.yard.journal.events import Blocks, Poured, Stripped
from blockrun.yard.now import state_of

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned, PlannedCast
    from blockrun.planner.saved_rows import PlannedBatch
    from blockrun.site import Mixer, MouldKind
    from blockrun.yard.journal import Entry
    from blockrun.yard.now import State

AT_ONCE: Final = timedelta(minutes=5)
"""An entry written later than this after it happened, at the very minute of the plan, was answered "as planned": it
tells that something was done, not when (our choice)."""


@dataclass(frozen=True)
class Pour:
    """A batch that was poured, and the plan by which it has its number."""

    entry: Entry
    event: Poured
    plan: AsPlanned
    planned: PlannedBatch

    @property
    def casts(self) -> list[PlannedCast]:
        """Blocks that the plan has for it."""
        return self.plan.batches.get(self.event.batch, [])

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
    cast : a block of it by the plan it was poured by; None where that is not known.
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
    plan : the one in hand.
    told : entries of its journal, in any order.
    before : plans of the same job before it.
    """

    plan: AsPlanned
    told: Iterable[Entry] = field(repr=False)
    before: tuple[AsPlanned, ...] = ()

    @cached_property
    def plans(self) -> dict[str, AsPlanned]:
        """Plans by their digits."""
        return {plan.id: plan for plan in (*self.before, self.plan)}

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
        """Pours of batches of these plans, each batch once: of one made again the last."""
        found: dict[tuple[str, int], Pour] = {}
        for entry in self.entries:
            event = entry.event
            if isinstance(event, Poured) and (planned := self._batches.get((event.plan, event.batch))) is not None:
                found[event.plan, event.batch] = Pour(entry, event, self.plans[event.plan], planned)
        return sorted(found.values(), key=lambda pour: pour.entry.place)

    @cached_property
    def foamed(self) -> list[Pour]:
        """Pours by plans with the foam generator of the site in hand, so that they compare."""
        now = self.plan.site.foam_generator
        return [pour for pour in self.pours if pour.plan.site.foam_generator == now]

    @property
    def other_foam(self) -> tuple[str, ...]:
        """How many others there are, for what is learnt without them."""
        left_out = len(self.pours) - len(self.foamed)
        batches = "1 batch was" if left_out == 1 else f"{left_out} batches were"
        return (f"{batches} poured by a plan with another foam_generator: left out.",) if left_out else ()

    def mixed_in(self, mixer: Mixer) -> list[Pour]:
        """Those of a mixer, by plans with its times and volumes as they are now."""
        return [pour for pour in self.foamed if pour.planned.mixer == mixer.name and mixer in pour.plan.site.mixers]

    def is_alike(self, plan: AsPlanned, kind: str) -> bool:
        """Whether a plan was made with a kind of mould as it is now, however many of it there were."""
        return kind in self._alike[plan.id]

    @cached_property
    def _alike(self) -> dict[str, set[str]]:
        now = set(map(_one_of, self.plan.site.moulds))
        return {
            name: {kind.kind for kind in plan.site.moulds if _one_of(kind) in now} for name, plan in self.plans.items()
        }

    @cached_property
    def _batches(self) -> dict[tuple[str, int], PlannedBatch]:
        return {(name, one.batch): one for name, plan in self.plans.items() for one in planned_batches(plan.directory)}

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
            kind = kinds.get(kind_named(here.mould))
            if strip is not None and kind is not None:
                entry, event = strip
                cast = next(filter(None, (self._casts.get((batch, here.place)) for batch in here.batches)), None)
                thumbs = tuple(here.thumbs)
                yield Turn(
                    entry, here.place, kind, here.poured, count_of(event.whole), count_of(event.broken), thumbs, cast
                )

    @cached_property
    def _casts(self) -> dict[tuple[tuple[str, int], str], PlannedCast]:
        """A block of each batch in each place, by plans that strip and move it in the times of the site in hand."""
        move = self.plan.site.move_time_min
        return {
            ((name, cast.batch), cast.place): cast
            for name, plan in self.plans.items()
            if plan.site.move_time_min == move
            for cast in plan.casts
            if self.is_alike(plan, kind_named(cast.mould))
        }


def count_of(blocks: Iterable[Blocks]) -> int:
    """How many blocks, of whatever mark."""
    return sum(some.count for some in blocks)


def _one_of(kind: MouldKind) -> MouldKind:
    """A kind of mould, whatever its number."""
    return kind.model_copy(update={"count": 1, "bases": None})


def _timed(entry: Entry, planned: datetime) -> bool:
    return entry.happened != planned or entry.written.replace(tzinfo=None) - entry.happened <= AT_ONCE
