"""Days, people, moulds out of use, notes, and what undoes an entry: lost, away, mould, note, undo."""

from __future__ import annotations

from typing import Final

from blockrun.errors import BadInput
from blockrun.yard.journal.entry import Entry
from blockrun.yard.journal.events import AnyEvent, DayLost, MouldBack, MouldOut, Note, PersonAway, Undone
from blockrun.yard.journal.standing import standing
from blockrun.yard.record.known import Known
from blockrun.yard.record.words import Words, is_number

AND: Final = "+"
"""Stands in the key of each further entry of one command, before its number: what came together goes together."""


def lost(words: Words, known: Known) -> list[AnyEvent]:
    """``rain``, ``yesterday rain``, ``2027-04-08``: nobody works on that day, today unless told."""
    today = known.at.date()
    return [DayLost(day=words.day(today, known.span) or today, why=words.rest())]


def away(words: Words, known: Known) -> list[AnyEvent]:
    """``1``, ``2 tomorrow``, ``1 2027-04-08 to 2027-04-12``: so many people, today unless told."""
    people = words.number("a number of people") if words.is_number else 1
    first = words.day(known.at.date()) or known.at.date()
    last = first
    if words.take_if("to"):
        until = words.day(known.at.date())
        if until is None:
            raise BadInput(f"{words.peek or 'nothing'} is no day", "Write one such as 2027-04-12, or tomorrow.")
        last = until
    if last < first:
        raise BadInput("the last day comes before the first")
    return [PersonAway(first=first, last=last, people=people)]


def mould(words: Words, known: Known) -> list[AnyEvent]:
    """``gang-4/3 out hinge torn``, ``gang-4/1-2 out``, ``gang-4/3 back``."""
    names = known.moulds(words)
    if words.take_if("back"):
        return [MouldBack(mould=name) for name in names]
    if not words.take_if("out"):
        raise BadInput("out or back?", f"Write it last: blockrun record DIR mould {names[0]} out", value=words.peek)
    out = next((name for name in names if name in known.state.out_of_use), None)
    if out is not None:
        raise BadInput(f"{out} is out of use already", f"If it is in use again: blockrun record DIR mould {out} back")
    why = words.rest()
    return [MouldOut(mould=name, why=why) for name in names]


def note(words: Words, known: Known) -> list[AnyEvent]:
    """``the agent smells``: words to keep."""
    said = words.rest()
    if not said:
        raise BadInput("what is to be kept?")
    return [Note(words=said)]


def undo(words: Words, known: Known) -> list[AnyEvent]:
    """``12``, ``last``: the entry of that number, with what was recorded together with it, never was."""
    if not known.entries:
        raise BadInput("nothing is recorded yet")
    entry = known.entries[-1] if words.take_if("last") else _numbered(words, known)
    stand = {one.key for one in standing(known.entries)}
    of_one = [one for one in known.entries if together(one.key) == together(entry.key)]
    counted = [one for one in of_one if one.key in stand or isinstance(one.event, Undone)]
    if not counted:
        raise BadInput(f"entry {entry.number} counts no longer: it was undone already")
    return [Undone(key=one.key) for one in counted]


def _numbered(words: Words, known: Known) -> Entry:
    word = words.take("the number of an entry, or last")
    found = next((one for one in known.entries if is_number(word) and one.number == int(word)), None)
    if found is None:
        last = known.entries[-1].number
        raise BadInput(f"there is no entry {word}", f"They are numbered 1 to {last}.", value=word)
    return found


def together(key: str) -> str:
    """The key of the first of those entries that were recorded by one command."""
    head, mark, number = key.rpartition(AND)
    return head if mark and number.isdecimal() else key
