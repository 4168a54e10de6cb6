"""Days, people, moulds out of use, notes, and what undoes an entry: lost, away, mould, note, undo."""

from __future__ import annotations

import difflib
from datetime import date
from functools import partial
from itertools import takewhile
from typing import Final

from blockrun.errors import BadInput
from blockrun.files.day_names import MONTHS
from blockrun.files.days import NEAR
from blockrun.yard.journal.entry import Entry, together
from blockrun.yard.journal.events import AnyEvent, DayLost, MouldBack, MouldOut, Note, PersonAway, Undone
from blockrun.yard.journal.standing import standing
from blockrun.yard.record.known import Known
from blockrun.yard.record.words import Words, is_number

_AND: Final = "and"
_PARTED: Final = "\n"
_MONTHS: Final = [month.lower() for month in MONTHS]


def lost(words: Words, known: Known) -> list[AnyEvent]:
    """``rain``, ``yesterday rain``, ``rain on 8 Apr``, ``2027-04-08``: nobody works on that day, today unless told."""
    today = known.at.date()
    day = words.day(today, known.span)
    if day is not None:
        return [DayLost(day=day, why=words.rest())]
    _check_month(words.peek, words.second)
    day = words.day_behind(today, known.span)
    why = words.rest().rstrip(" ,;")
    if day is None:
        _check_month(*["", "", *why.split()][-2:])
    return [DayLost(day=day or today, why=why)]


def _check_month(number: str, name: str) -> None:
    """Refuse what is a day but for a slip in the name of its month."""
    if is_number(number) and difflib.get_close_matches(name.lower(), _MONTHS):
        raise BadInput(f"{number} {name} is no day", "Write one such as 2027-04-12 or 12 Apr.")


def away(words: Words, known: Known) -> list[AnyEvent]:
    """``1``, ``2 tomorrow``, ``1 from 8 Apr to 12 Apr``, ``Bob and Ann 10 Apr``, ``10 Apr Bob``: today unless told.

    Names make that somebody counts once on a day; the remark keeps them with the other words, as they were typed.
    """
    today, before = known.at.date(), list[str]()
    first = _first_day(words, known)
    people = words.number("a number of people") if first is None and words.is_number else None
    while first is None and words.peek and (first := _first_day(words, known)) is None:
        before.append(words.take("a name"))
    first = last = first or today
    if words.take_if("to"):
        until = words.day(today, known.span)
        if until is None:
            raise BadInput(f"{words.peek or 'nothing'} is no day", "Write one such as 2027-04-12, or tomorrow.")
        last = until
    if last < first:
        raise BadInput("the last day comes before the first", f"Write it as: away {last} to {first}.")
    behind = words.rest().split()
    said = [*before, *behind]
    _check_names(said)
    if behind[:1] == [_AND]:
        before = said
    names = _names(before or list(takewhile(partial(_is_of_a_name, known=known), behind)))
    people, remark = people or _counted(said), " ".join(said)
    return [PersonAway(first=first, last=last, people=people, names=names * (len(names) == people), remark=remark)]


def _first_day(words: Words, known: Known) -> date | None:
    """The day that comes next, behind ``from`` or without it; None where none does.

    Raises
    ------
    BadInput : what is behind ``from`` is no day.
    """
    is_told = words.take_if("from")
    day = words.day(known.at.date(), known.span)
    if is_told and day is None:
        _check_names([words.peek])
        raise BadInput(f"{words.peek or 'nothing'} is no day", "Write one such as 2027-04-12, or tomorrow.")
    return day


def _is_of_a_name(word: str, known: Known) -> bool:
    """Whether a word behind the day is of a name, and not why: it is written as one, or is one that was told before."""
    events = (one.event for one in known.entries)
    told = {name.casefold() for event in events if isinstance(event, PersonAway) for name in event.names}
    return word[:1].isupper() or word.lower() == _AND or word.rstrip(",").casefold() in told


def _names(words: list[str]) -> tuple[str, ...]:
    """Those that ``and`` parts: ``Bob and Ann``."""
    parts = " ".join(_PARTED if word.lower() == _AND else word for word in words).split(_PARTED)
    return tuple(filter(None, (part.strip() for part in parts)))


def _check_names(names: list[str]) -> None:
    """Refuse what is no name, but perhaps a day that nobody could read."""
    for name in names:
        near = difflib.get_close_matches(name.lower(), NEAR, n=1, cutoff=0.75)
        if near or any(sign.isdigit() for sign in name) or name.lower() == "to":
            meant = f" Did you mean {near[0]}?" if near else ""
            raise BadInput(
                f"{name} is no day and no name", f"A day is written 2027-04-12 or 12 Apr.{meant}", value=name
            )


def _counted(names: list[str]) -> int:
    """How many people are named; one where none is."""
    return 1 + sum(name.lower() == _AND for name in names)


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
    """``12``, ``last``: the entry of that number, or the last that counts, with what was recorded together with it."""
    if not known.entries:
        raise BadInput("nothing is recorded yet", "There is nothing to undo.")
    stand = {one.key for one in standing(known.entries)}
    entry = _last(known, stand) if words.take_if("last") else _numbered(words, known)
    of_one = [one for one in known.entries if together(one.key) == together(entry.key)]
    counted = [one for one in of_one if one.key in stand or isinstance(one.event, Undone)]
    if not counted:
        raise BadInput(f"entry {entry.number} counts no longer: it was undone already", _back_again(entry, known))
    return [Undone(key=one.key) for one in counted]


def _last(known: Known, stand: set[str]) -> Entry:
    """The last that was recorded and still counts; what undoes another is none."""
    found = [one for one in known.entries if one.key in stand]
    if not found:
        raise BadInput("nothing that is recorded counts any longer", "There is nothing to undo.")
    return max(found, key=lambda one: one.number)


def _back_again(entry: Entry, known: Known) -> str | None:
    """How an entry that was undone counts again."""
    by = [one for one in known.entries if isinstance(one.event, Undone) and one.event.key == entry.key]
    return f"To let it count again: blockrun record DIR undo {by[-1].number}" if by else None


def _numbered(words: Words, known: Known) -> Entry:
    word = words.take("the number of an entry, or last")
    found = next((one for one in known.entries if is_number(word) and one.number == int(word)), None)
    if found is None:
        last = known.entries[-1].number
        raise BadInput(f"there is no entry {word}", f"They are numbered 1 to {last}.", value=word)
    return found
