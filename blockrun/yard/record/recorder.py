"""From words to entries of the journal: read, held against all that is recorded, and kept."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blockrun.errors import BadInput, JournalError
from blockrun.files.moments import moment_meant
from blockrun.yard.journal import Entry, create_journal, open_journal
from blockrun.yard.journal.events import Event
from blockrun.yard.now import Clash, state_of
from blockrun.yard.record.grammar import events_typed
from blockrun.yard.record.known import Known, Measured
from blockrun.yard.record.people import AND, together
from blockrun.yard.record.said import moment_said, sentence

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned


@dataclass(frozen=True)
class Typed:
    """What somebody typed of one thing that happened.

    Parameters
    ----------
    words : what, and what of it.
    key : made by whoever records, once.
    at : when, as written; None for now.
    who, remark : as they are.
    measured : of a batch.
    """

    words: tuple[str, ...]
    key: str
    at: str | None = None
    who: str = ""
    remark: str = ""
    measured: Measured = field(default_factory=Measured)


@dataclass(frozen=True)
class Recorded:
    """What was recorded.

    Attributes
    ----------
    entries : as they stand in the journal now.
    said : a sentence of each.
    known : whether they were there before, under the same key.
    warnings : of other entries that cannot have been, now.
    """

    entries: tuple[Entry, ...]
    said: tuple[str, ...]
    known: bool = False
    warnings: tuple[str, ...] = ()


class Recorder:
    """Records what people type.

    Parameters
    ----------
    plan : by which what nobody types is filled in.
    path : of the journal; it is made with the first entry.
    now : by the clock of the yard, to the minute.
    written : the same moment, with the offset of the clock.
    """

    def __init__(self, plan: AsPlanned, path: Path, now: datetime, written: datetime) -> None:
        self.plan, self.path, self.now, self.written = plan, path, now, written
        self.entries: list[Entry] = _read(path)
        self.state = state_of(self.entries)
        self._warnings: list[str] = []

    def record(self, typed: Typed) -> Recorded:
        """Record one thing that happened.

        Raises
        ------
        BadInput : it is not understood, or cannot have been.
        JournalError : it cannot be kept.
        """
        return self.keep(self.drafted(typed))

    def drafted(self, typed: Typed, row: int = 0) -> list[Entry]:
        """The entries that something typed makes, held against all others; from then on they count for the next.

        Parameters
        ----------
        row : of a sheet, so that what happened in one minute keeps its order.

        Raises
        ------
        BadInput : it is not understood, or cannot have been.
        JournalError : its key is there already, for something else.
        """
        before = [entry for entry in self.entries if together(entry.key) == typed.key]
        if before:
            return self._again(typed, before)
        at = self.moment(typed.at)
        last = max((entry.happened for entry in self.entries), default=at)
        state = self.state if at >= last else state_of(self.entries, at)
        new = self._entries(typed, Known(self.plan, state, at, self.entries, typed.measured), row)
        self._check(new)
        return new

    def moment(self, written: str | None) -> datetime:
        """The moment that is meant.

        Raises
        ------
        BadInput : it is no moment, or still to come. A plan that has not begun may be tried out, at whatever time.
        """
        if written is None:
            return self.now
        moment = moment_meant(written, self.now)
        if moment > self.now and self.now.date() >= self.plan.site.calendar.start:
            todo = f'It is {self.now:%Y-%m-%d %H:%M} now. Say when it happened, such as "yesterday 16:00".'
            raise BadInput(f"{moment:%Y-%m-%d %H:%M} is still to come", todo, name="--at", value=written)
        return moment

    def keep(self, new: Sequence[Entry]) -> Recorded:
        """Write entries, all or none, and say them.

        Raises
        ------
        JournalError : they cannot be kept.
        """
        if not self.path.exists():
            create_journal(self.path)
        with open_journal(self.path) as journal:
            added = journal.append(new)
            kept = [journal.entry(entry.key) for entry in new]
        by_key = {entry.key: entry for entry in [*self.entries, *kept]}
        warnings, self._warnings = tuple(self._warnings), []
        self.entries = list(by_key.values())
        return Recorded(tuple(kept), tuple(sentence(entry, by_key) for entry in kept), not added, warnings)

    def _again(self, typed: Typed, before: list[Entry]) -> list[Entry]:
        """What was recorded under the same key: it was sent twice, and counts once."""
        at = before[0].happened if typed.at is None else self.moment(typed.at)
        others = [entry for entry in self.entries if entry not in before]
        try:
            events = events_typed(typed.words, Known(self.plan, state_of(others, at), at, others, typed.measured))
        except BadInput:
            return before  # what was recorded since leaves no room for it: it is the one that is there
        if at == before[0].happened and [_bare(event) for event in events] == [_bare(one.event) for one in before]:
            return before
        what = f"the key {typed.key} is there already, for something else (entry {before[0].number})"
        raise JournalError(what, "Nothing of this was recorded. Give the new entry a key of its own.", name="--key")

    def _entries(self, typed: Typed, known: Known, row: int) -> list[Entry]:
        told = {"who": typed.who, "remark": typed.remark}
        events = [type(one).model_validate(one.model_dump() | told) for one in events_typed(typed.words, known)]
        written = self.written + timedelta(microseconds=row)
        return [
            Entry(typed.key if number == 1 else f"{typed.key}{AND}{number}", known.at, written, event)
            for number, event in enumerate(events, 1)
        ]

    def _check(self, new: Sequence[Entry]) -> None:
        """Refuse what cannot have been, and warn of what else cannot have been then; let it count for the next."""
        entries = [*self.entries, *new]
        after = state_of(entries)
        before = {(clash.entry.key, clash.what) for clash in self.state.clashes}
        found = [clash for clash in after.clashes if (clash.entry.key, clash.what) not in before]
        own = next((clash for clash in found if not clash.entry.number), None)
        if own is not None:
            todo = "Correct it, or record first what happened before it. Nothing was recorded."
            raise BadInput(own.what, todo)
        self._warnings += [_warned(clash) for clash in found]
        self.entries, self.state = entries, after


def _bare(event: Event) -> dict[str, Any]:
    """What was typed of it, without what was reckoned then."""
    return event.model_dump(exclude={"who", "remark", "stood"})


def _read(path: Path) -> list[Entry]:
    if not path.exists():
        return []
    with open_journal(path) as journal:
        return journal.entries()


def _warned(clash: Clash) -> str:
    return f"entry {clash.entry.number}, {moment_said(clash.entry.happened)}, cannot have been so: {clash.what}"
