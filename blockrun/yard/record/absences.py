"""People who are away by what was recorded before: too many of them, or perhaps one of them told twice."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from typing import TYPE_CHECKING

from blockrun.files.day_names import day_name
from blockrun.yard.absent import n_away
from blockrun.yard.journal import standing
from blockrun.yard.journal.events import PersonAway
from blockrun.yard.record.said import entry_said

if TYPE_CHECKING:
    from blockrun.yard.journal import Entry
    from blockrun.yard.record.known import Known


def absence_doubted(event: PersonAway, known: Known) -> Iterator[str]:
    """What to say of an absence beside those that are recorded already.

    A number without names adds to them all, so whoever told it twice is to see the sum at once.
    """
    entries = [one for one in standing(known.entries) if isinstance(one.event, PersonAway)]
    others = [one.event for one in entries if isinstance(one.event, PersonAway)]
    crew = known.plan.site.crew.people
    most, ordinal = max((n_away([*others, event], day), -day.toordinal()) for day in _days(event, others))
    day = date.fromordinal(-ordinal)
    there = [one for one, away in zip(entries, others, strict=True) if away.first <= day <= away.last]
    is_named = all(away.names for away in [event, *others] if away.first <= day <= away.last)
    if most > crew:
        yield f"on {day_name(day)} {most} people are away by what is recorded, and the crew has {crew}. {_TWICE}"
    elif there and not is_named:
        yield f"on {day_name(day)} {most} people are away by what is recorded, with {_entries(there)}. {_TWICE}"
    else:
        yield from _again(event, there, day)


_TWICE = "Is one told twice?"


def _entries(there: Sequence[Entry]) -> str:
    """``entry 4``; with how to undo it where it is kept."""
    last = there[-1].number
    return f"{entry_said(last)} (blockrun record DIR undo {last})" if last else entry_said(last)


def _again(event: PersonAway, there: Sequence[Entry], day: date) -> Iterator[str]:
    """Names that are told of a day again."""
    names = {name.casefold(): name for name in event.names}
    for one in there:
        before = one.event.names if isinstance(one.event, PersonAway) else ()
        for name in names.keys() & {name.casefold() for name in before}:
            yield f"{names[name]} is recorded as away on {day_name(day)} already, {entry_said(one.number)}. {_ONCE}"


_ONCE = "It counts once."


def _days(event: PersonAway, others: Sequence[PersonAway]) -> list[date]:
    """Days of an absence on which as many may be missing as on any: its first, and those on which another begins."""
    return [event.first, *(one.first for one in others if event.first <= one.first <= event.last)]
