"""Everything that may be recorded, and how it is written."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Final

from blockrun.errors import BadInput
from blockrun.yard.journal.events import AnyEvent
from blockrun.yard.journal.limits import told_in_words
from blockrun.yard.record import after, casting, crushing, measured, moves, people, stripping
from blockrun.yard.record.known import Known, Measured
from blockrun.yard.record.named import near_or_all
from blockrun.yard.record.scanned import without_labels
from blockrun.yard.record.words import Words


@dataclass(frozen=True)
class Form:
    """How one thing is recorded.

    Parameters
    ----------
    read : makes events of the words behind its first.
    written : how it is written, one form or some; what may be left out in brackets.
    """

    read: Callable[[Words, Known], list[AnyEvent]]
    written: str


FORMS: Final[dict[str, Form]] = {
    "poured": Form(
        casting.poured,
        "poured BATCH [MOULD ... | without MOULD ... | MOULD=OTHER ...], or poured extra MOULD MARK ... [mix NAME]",
    ),
    "thrown": Form(casting.thrown, "thrown BATCH [WHY]"),
    "sides": Form(casting.sides, "sides MOULD ..."),
    "stripped": Form(stripping.stripped, "stripped MOULD ... [N MARK broken | all broken] [to RACK | stays]"),
    "moved": Form(moves.moved, "moved MOULD ... [to RACK], or moved N MARK [of BATCH] to RACK"),
    "stacked": Form(after.stacked, "stacked RACK [N MARK ... [of BATCH]] [to WHERE]"),
    "laid": Form(after.laid, "laid PART COURSE [N MARK ... [of BATCH]]"),
    "rejected": Form(after.rejected, "rejected MOULD ...|RACK|stack [N MARK ... [of BATCH]] WHY"),
    "passed": Form(after.passed, "passed [extra] BATCH WHY"),
    "test": Form(crushing.test, "test cube|block [extra] BATCH LOAD [SIZE] [AGE] [DENSITY] [marked WORDS]"),
    "thumb": Form(measured.thumb, "thumb MOULD ... firm|dents|soft"),
    "delivered": Form(measured.delivered, "delivered WHAT AMOUNT [lot NAME]"),
    "counted": Form(measured.counted, "counted WHAT AMOUNT, or counted RACK|stack N MARK ..."),
    "weather": Form(measured.weather, "weather LEAST MOST [DAY]"),
    "lost": Form(people.lost, "lost [DAY] [WHY]"),
    "away": Form(people.away, "away [PEOPLE | NAME [and NAME]] [DAY [to DAY]]"),
    "mould": Form(people.mould, "mould MOULD ... out [WHY], or mould MOULD ... back"),
    "note": Form(people.note, "note WORDS"),
    "undo": Form(people.undo, "undo NUMBER|last"),
}


_FLAT: Final = frozenset({"flat", "collapsed", "dumped", "wasted", "discarded", "threw"})
"""What people may say first of a batch that came to nothing."""

_IF_FLAT: Final = (
    "If all of a batch was thrown away before it was in a mould: blockrun record DIR thrown BATCH WHY. If it went flat "
    "in moulds: blockrun record DIR rejected MOULD ... flat"
)


def events_typed(typed: Iterable[str], known: Known) -> list[AnyEvent]:
    """The events that some words tell.

    Parameters
    ----------
    typed : first what happened, then what is to be told of it.
    known : at the moment it happened.

    Raises
    ------
    BadInput : the words are not understood, or name what is not there; it says how to write it.
    """
    return [event for words in without_labels(typed, known) for event in _events(Words(words), known)]


def _events(words: Words, known: Known) -> list[AnyEvent]:
    first = words.take("what happened")
    form = FORMS.get(first.lower())
    if form is None:
        todo = _IF_FLAT if first.lower() in _FLAT else near_or_all(first, FORMS)
        raise BadInput(f"{first} is nothing that is recorded", todo, value=first)
    if known.measured != Measured() and form.read not in {casting.poured, casting.thrown}:
        raise BadInput("foam, weight and temperature are told of a batch", f"Not with {first}.")
    try:
        with told_in_words():
            events = form.read(words, known)
        words.end()
    except BadInput as fault:
        fault.todo = fault.todo or _written(form)
        raise
    return events


def _written(form: Form) -> str:
    return f"Write it as: blockrun record DIR {form.written.replace(', or ', ', or blockrun record DIR ')}"
