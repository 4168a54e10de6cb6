"""What is known when somebody types what happened: the plan, where every block is, and the moment."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput, BlockrunError
from blockrun.files.day_names import moment_name
from blockrun.files.days import Span
from blockrun.planner.as_planned import found_name
from blockrun.site.mould_names import kind_named
from blockrun.yard.called import called_in
from blockrun.yard.journal import Entry, standing
from blockrun.yard.journal.events import Poured, Stripped
from blockrun.yard.now import BatchNo, Kind, Pile, Pour, Standing, State
from blockrun.yard.ready.apart import set_apart
from blockrun.yard.record.fillers import if_filler
from blockrun.yard.record.named import is_mould, mould_named, moulds_named, names_one, one_meant
from blockrun.yard.record.ripening import Ripening
from blockrun.yard.record.said import entry_said, sentence
from blockrun.yard.record.words import Words

if TYPE_CHECKING:
    from blockrun.mix.off_card import OffCard
    from blockrun.planner.as_planned import AsPlanned, PlannedCast
    from blockrun.yard.ready.ripe import Ripe


BEFORE: Final = timedelta(days=31)
"""What is recorded may have happened so long before a plan begins, and no sooner (our choice)."""


def span_of(plan: AsPlanned, now: date) -> Span:
    """Days that a yard talks of: from shortly before its plan begins to its end, or to today."""
    return Span(plan.site.calendar.start - BEFORE, max(now, plan.last_ready))


@dataclass(frozen=True)
class Measured:
    """What was measured of a batch, as typed."""

    foam: str | None = None
    weight: str | None = None
    temperature: str | None = None


@dataclass(frozen=True)
class Known:
    """What is known at a moment.

    Parameters
    ----------
    plan : as saved.
    state : where every block is at the moment.
    at : when what is typed happened.
    entries : all of the journal.
    measured : what was told beside the words.
    again : whether somebody says that it happened a second time.
    ripening : tells when blocks are old enough.
    counted : what stands of the entries until the moment; worked out where nobody has it at hand.
    """

    plan: AsPlanned
    state: State
    at: datetime
    entries: Sequence[Entry] = ()
    measured: Measured = field(default_factory=Measured)
    again: bool = False
    ripening: Ripening = field(default_factory=Ripening)
    counted: Sequence[Entry] | None = None

    @property
    def span(self) -> Span:
        """Days of the journal and the plan, in which one lies that is said without its year."""
        return span_of(self.plan, self.at.date())

    @property
    def kinds(self) -> frozenset[Kind]:
        """All kinds of block of the plan."""
        return self.plan.kinds

    def mould(self, word: str) -> str:
        """The mould or base that is meant."""
        return mould_named(word, self.plan.moulds)

    def moulds(self, words: Words) -> list[str]:
        """All moulds that are named next, one at least."""
        return moulds_named(words, self.plan.moulds)

    def names_one_mould(self, word: str) -> bool:
        """Whether a word by itself names one mould, and not a run of them."""
        return names_one(word, self.plan.moulds)

    def is_mould(self, word: str) -> bool:
        """Whether a word is meant to name a mould."""
        return is_mould(word, self.plan.moulds)

    def standing(self, word: str) -> Standing:
        """What stands in the mould, or on the base, that is meant.

        Raises
        ------
        BadInput : nothing does, at that moment.
        """
        name = self.mould(word)
        here = self.state.standing_in(name)
        if here is None:
            out = None if self._is_planned_since(name) else self._out_of(name)
            todo = out or if_filler(name, self.plan) or self._poured(name)
            raise BadInput(f"nothing stands in {name} at {self.at:%Y-%m-%d %H:%M}", todo, value=word)
        return here

    def _is_planned_since(self, name: str) -> bool:
        """Whether the plan has a batch for a mould since it was emptied, and nobody recorded its pour."""
        turn = next((turn for turn in reversed(self.state.turns) if name in {turn.mould, turn.base}), None)
        since, last = turn.stripped if turn else None, self._last_planned(name)
        return since is not None and last is not None and since < last.poured and not self.poured(last.batch)

    def _last_planned(self, name: str) -> PlannedCast | None:
        """What the plan pours into a mould last before the moment."""
        before = [cast for cast in self.plan.casts if name in {cast.mould, cast.base} and cast.poured <= self.at]
        return max(before, key=lambda cast: cast.poured, default=None)

    def _out_of(self, name: str) -> str | None:
        """The entry that has emptied a mould, last before the moment."""
        turn = next((turn for turn in reversed(self.state.turns) if name in {turn.mould, turn.base}), None)
        if turn is None or turn.stripped is None:
            return None
        for one in self.entries:
            event = one.event
            if isinstance(event, Stripped) and (one.happened, event.base or event.mould) == (turn.stripped, turn.place):
                said = sentence(one, {}, self.plan.site.units, called=called_in(self.plan))
                return f"It is recorded as out of it, {entry_said(one.number)}: {said}"
        return None

    def _poured(self, name: str) -> str | None:
        """The batch that the plan has for a mould last before the moment, to be recorded first."""
        last = self._last_planned(name)
        if last is None:
            return "By the plan nothing was to be poured into it until then."
        batch = last.batch
        if self.poured(batch):
            return f"Batch {batch}, the last that the plan has for it until then, {self._became(batch, name)}"
        when = f'--at "{moment_name(last.poured)}"'
        return f"By the plan batch {batch} is in it. If it was poured then: blockrun record DIR poured {batch} {when}"

    def _became(self, batch: int, name: str) -> str:
        """What is recorded of a batch that was to be in a mould and is not."""
        of = self.plan.recorded_as(batch)
        if any(of in turn.batches for turn in self.state.turns if name in {turn.mould, turn.base}):
            return "is recorded, and out of it again."
        pours = [one.event for one in self.told if isinstance(one.event, Poured)]
        if any(event.filled for event in pours if (event.plan, event.batch) == of):
            return "is recorded, and not as poured into it."
        again = f"blockrun record DIR poured {batch} again"
        return f"is recorded as thrown away alone. If it was made a second time: {again} --at WHEN"

    def poured(self, batch: int) -> list[datetime]:
        """When a batch of this plan was poured; none where nobody recorded it."""
        return self.state.poured.get(self.plan.recorded_as(batch), [])

    def rack(self, word: str) -> str:
        """The rack that is meant."""
        return one_meant(word, [rack.name for rack in self.plan.site.racks], "rack")

    def is_rack(self, word: str) -> bool:
        """Whether a word names a rack."""
        return found_name(word, (rack.name for rack in self.plan.site.racks)) is not None

    def rack_for(self, place: str, batches: Sequence[BatchNo]) -> str:
        """The rack that the plan has for what stood in a place, or in another of its kind; the only one there is.

        Raises
        ------
        BadInput : the plan does not tell.
        """
        racks = [rack.name for rack in self.plan.site.racks]
        casts = [cast for cast in self.plan.casts if self.plan.recorded_as(cast.batch) in batches]
        here = {cast.rack for cast in casts if cast.place == place}
        of_kind = {cast.rack for cast in casts if place and kind_named(cast.place) == kind_named(place)}
        found = next((some for some in (here, of_kind) if len(some) == 1), {*racks})
        if len(found) != 1:
            raise BadInput(f"the plan has no rack for what stood in {place}", f"Add to which: to {racks[0]}.")
        return found.pop()

    def strip_typed(self, place: str, batches: Sequence[BatchNo]) -> str:
        """What to type for the strip of a place; with a rack, where the plan has none for what stands there."""
        try:
            self.rack_for(place, batches)
        except BadInput:
            return f"blockrun record DIR stripped {place} to RACK"
        return f"blockrun record DIR stripped {place}"

    @cached_property
    def apart(self) -> Mapping[Pour, OffCard]:
        """Pours outside their cards for which nothing speaks, by what is recorded until the moment."""
        return set_apart(self.plan, self.told, self._cubes_say, self.ripening.against)

    @cached_property
    def told(self) -> Sequence[Entry]:
        """What stands of the journal until the moment."""
        if self.counted is not None:
            return self.counted
        return [one for one in standing(self.entries) if one.happened <= self.at]

    def _cubes_say(self, batch: BatchNo, mix: str, since: datetime) -> bool | None:
        try:
            return self.ripe().cubes_say(batch, mix, since)
        except BlockrunError:  # a plan made anew may lack what it takes to tell: then no cubes speak for the batch
            return None

    def ripe(self) -> Ripe:
        """When blocks are old enough."""
        return self._ripe

    @cached_property
    def _ripe(self) -> Ripe:
        return self.ripening.at(self.plan, self.state, self.told)

    def off_rack(self, since: datetime) -> datetime:
        """When blocks leave their rack that have been there since a moment."""
        return self.plan.site.off_rack(since)

    def due(self, pile: Pile) -> dict[Kind, int]:
        """Blocks of a rack that have been there long enough."""
        found: dict[Kind, int] = {}
        for kind, lot in pile.lots():
            if self.off_rack(lot.since) <= self.at:
                found[kind] = found.get(kind, 0) + lot.n_blocks
        return found
