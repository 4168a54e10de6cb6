"""From words to entries of the journal: read, held against all that is recorded, and kept."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta
from pathlib import Path
from typing import TYPE_CHECKING, Any

from blockrun.errors import BadInput, JournalError
from blockrun.files.day_names import moment_name
from blockrun.files.days import Span
from blockrun.yard.called import called_in, clash_said
from blockrun.yard.journal import Entry, open_journal, open_or_create
from blockrun.yard.journal.entry import AND, together
from blockrun.yard.journal.events import Event
from blockrun.yard.journal.faults import OthersWroteError
from blockrun.yard.journal.limits import told_in_words
from blockrun.yard.now import State, state_of
from blockrun.yard.record.carried import Carried, clashes_since
from blockrun.yard.record.clashed import todo_of
from blockrun.yard.record.dates import years_of
from blockrun.yard.record.grammar import events_typed
from blockrun.yard.record.known import Known, Measured
from blockrun.yard.record.ripening import Ripening
from blockrun.yard.record.said import sentence
from blockrun.yard.record.slips import slips_of
from blockrun.yard.record.twice import Told, is_again, without_again
from blockrun.yard.record.when import days_so_far, moment_told

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
    warnings : of what is unsafe or surely a slip, and of other entries that cannot have been, now.
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
        self._slips: list[str] = []
        self._read()

    def _read(self) -> None:
        self._take(_entries_of(self.path))
        self._carried, self._ripening = Carried(self.entries), Ripening()

    def _take(self, entries: list[Entry]) -> None:
        self.entries = entries
        self._told: Told | None = None  # by what: made when it is first asked
        self._of_one: dict[str, list[Entry]] = {}
        for entry in entries:
            self._of_one.setdefault(together(entry.key), []).append(entry)

    @property
    def state(self) -> State:
        """Where every block is, by all that is recorded."""
        return self._carried.at()

    @property
    def span(self) -> Span:
        """Days that people here talk of without a year."""
        return days_so_far(self.plan, self.now)

    def record(self, typed: Typed) -> Recorded:
        """Record one thing that happened.

        Raises
        ------
        BadInput : it is not understood, cannot have been, or is recorded already.
        JournalError : it cannot be kept.
        """
        return self.keep(lambda: self.drafted(typed))

    def drafted(self, typed: Typed, row: int = 0) -> list[Entry]:
        """The entries that something typed makes, held against all others; from then on they count for the next.

        Parameters
        ----------
        row : of a sheet, so that what happened in one minute keeps its order.

        Raises
        ------
        BadInput : it is not understood, cannot have been, or is recorded already.
        JournalError : its key is there already, for something else.
        """
        before = self._of_one.get(typed.key)
        if before:
            return self._again(typed, before)
        at = self.moment(typed.at)
        state, again = self._carried.at(at), is_again(typed.words)
        known = Known(self.plan, state, at, self.entries, typed.measured, again, self._ripening, self._carried.counted)
        new = self._entries(typed, known, row)
        if not again:
            self._told = self._told or Told(self.entries)
            for entry in new:
                self._told.check_new(entry, typed.words, self.plan)
        slips = slips_of(new, known)  # by where every block is before they count
        clashes = self._carried.add(new)
        if clashes:
            todo = todo_of(clashes[0], replace(known, state=self._carried.at(at)))
            raise BadInput(clash_said(clashes[0], self.plan), todo)
        self.entries = [*self.entries, *new]
        self._slips += slips
        return new

    def moment(self, written: str | None) -> datetime:
        """The moment that is meant, now unless told.

        Raises
        ------
        BadInput : it is no moment, or still to come.
        """
        return self.now if written is None else moment_told(written, self.now, self.plan)

    def keep(self, draft: Callable[[], Sequence[Entry]]) -> Recorded:
        """Write entries, all or none, and say them.

        Parameters
        ----------
        draft : makes them; once more where somebody else wrote in the meantime.

        Raises
        ------
        JournalError : they cannot be kept.
        """
        while True:
            before, self._slips = self.entries, []
            new = draft()
            try:
                return self._kept(new, before)
            except OthersWroteError:
                self._read()

    def _kept(self, new: Sequence[Entry], before: Sequence[Entry]) -> Recorded:
        with open_or_create(self.path) as journal:
            added = journal.append(new, after=max((entry.number for entry in before), default=0))
            kept = [journal.entry(entry.key) for entry in new]
        by_key = {entry.key: entry for entry in [*before, *kept]}
        self._take(list(by_key.values()))
        units, years = self.plan.site.units, years_of(self.plan)
        warnings = [*dict.fromkeys(self._slips), *self._warned(before, kept)] if added else []
        said = tuple(sentence(entry, by_key, units, years, called_in(self.plan)) for entry in kept)
        return Recorded(tuple(kept), said, not added, tuple(warnings))

    def _warned(self, before: Sequence[Entry], kept: Sequence[Entry]) -> Iterator[str]:
        for clash in clashes_since(before, kept):
            entry = f"entry {clash.entry.number}, {moment_name(clash.entry.happened)}"
            yield f"{entry}, cannot have been so: {clash_said(clash, self.plan)}"

    def _again(self, typed: Typed, before: list[Entry]) -> list[Entry]:
        """What was recorded under the same key: it was sent twice, and counts once."""
        at = before[0].happened if typed.at is None else self.moment(typed.at)
        others = [entry for entry in self.entries if entry not in before]
        try:
            events = events_typed(
                without_again(typed.words), Known(self.plan, state_of(others, at), at, others, typed.measured)
            )
        except BadInput:
            return before  # what was recorded since leaves no room for it: it is the one that is there
        if at == before[0].happened and [_bare(event) for event in events] == [_bare(one.event) for one in before]:
            return before
        what = f"the key {typed.key} is there already, for something else (entry {before[0].number})"
        raise JournalError(what, "Nothing of this was recorded. Give the new entry a key of its own.", name="--key")

    def _entries(self, typed: Typed, known: Known, row: int) -> list[Entry]:
        events = [_told_of(one, typed) for one in events_typed(without_again(typed.words), known)]
        written = self.written + timedelta(microseconds=row)
        return [
            Entry(typed.key if number == 1 else f"{typed.key}{AND}{number}", known.at, written, event)
            for number, event in enumerate(events, 1)
        ]


def _told_of(event: Event, typed: Typed) -> Any:
    """An event with who did it, and a remark beside what was kept of the words."""
    remark = ", ".join(filter(None, (event.remark, typed.remark)))
    with told_in_words():
        return type(event).model_validate(event.model_dump() | {"who": typed.who, "remark": remark})


def _bare(event: Event) -> dict[str, Any]:
    """What was typed of it, without what was reckoned then."""
    return event.model_dump(exclude={"who", "remark", "stood", "apart"})


def _entries_of(path: Path) -> list[Entry]:
    if not path.exists():
        return []
    with open_journal(path) as journal:
        return journal.entries()
