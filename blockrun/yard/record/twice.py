"""Two people record the same thing: the second is told so at once, and asked whether it truly happened twice.

A batch is poured once, what stands in a mould is stripped once, and its sides come off once: any other entry of that is
the same, at whatever hour somebody noted it. Blocks moved, stacked or laid, and what is delivered, are taken for the
same where another entry tells just that within half an hour.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterable, Sequence
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.yard.called import called_in
from blockrun.yard.journal import Entry, standing
from blockrun.yard.journal.events import Delivered, Event, Laid, Moved, Poured, SidesOff, Stacked, Stripped
from blockrun.yard.record.said import entry_said, sentence

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned

AGAIN: Final = "again"
NEAR: Final = timedelta(minutes=30)
"""Two people who tell the same thing differ by no more (our choice)."""

_FIRST_WORDS: Final = frozenset({"poured", "thrown", "sides", "stripped", "moved", "stacked", "laid", "delivered"})


def is_again(words: Sequence[str]) -> bool:
    """Whether somebody says that it happened twice: the last word, or the one behind the number of a batch."""
    if len(words) < 2 or words[0].lower() not in _FIRST_WORDS:
        return False
    behind = words[2:3] if words[0].lower() in {"poured", "thrown"} else ()
    return AGAIN in {word.lower() for word in (words[-1], *behind)}


def without_again(words: Sequence[str]) -> Sequence[str]:
    """The same without that word at its end."""
    return words[:-1] if is_again(words) and words[-1].lower() == AGAIN else words


class Told:
    """What is recorded, to be asked whether something is among it.

    Parameters
    ----------
    entries : of the journal.
    """

    def __init__(self, entries: Sequence[Entry]) -> None:
        self._entries = entries
        self._by_what: dict[Hashable, list[Entry]] = defaultdict(list)
        self._pours: dict[str, list[datetime]] = defaultdict(list)
        for entry in entries:
            self._by_what[_what(entry.event)].append(entry)
            for fill in entry.event.filled if isinstance(entry.event, Poured) else ():
                self._pours[fill.base or fill.mould].append(entry.happened)

    def check_new(self, entry: Entry, words: Iterable[str], plan: AsPlanned) -> None:
        """Refuse an entry of what another one tells already.

        Parameters
        ----------
        words : as typed.
        plan : the one in hand.

        Raises
        ------
        BadInput : it says which entry, when, and by whom.
        """
        what = _what(entry.event)
        same = [one for one in self._by_what.get(what, ()) if self._is_same(one, entry)] if what else []
        if not same:
            return
        counted = {one.key for one in standing(self._entries)}
        twin = next((one for one in same if one.key in counted), None)
        if twin is not None:
            todo = f"Nothing was recorded. If it truly happened twice: blockrun record DIR {' '.join(words)} {AGAIN}"
            said = sentence(twin, {}, plan.site.units, called=called_in(plan))[:-1]
            raise BadInput(f"that is recorded already, {entry_said(twin.number)}: {said}", todo)

    def _is_same(self, one: Entry, new: Entry) -> bool:
        if isinstance(new.event, Poured):
            return True
        if isinstance(new.event, Stripped | SidesOff):
            between = (at for at in self._pours[_place(new.event)] if new.happened < at <= one.happened)
            return one.happened >= new.happened and next(between, None) is None
        return abs(one.happened - new.happened) <= NEAR and _told(one.event) == _told(new.event)


def _told(event: Event) -> object:
    return event.model_dump(exclude={"who", "remark", "apart"})


def _what(event: Event) -> Hashable:
    """Kind, and place, batch, course or material; None of what does no harm twice."""
    match event:
        case Stripped() | SidesOff():
            return event.kind, _place(event)
        case Poured():
            return event.kind, event.plan, event.batch
        case Moved() | Stacked():
            return event.kind, event.rack
        case Laid():
            return event.kind, event.part, event.course
        case Delivered():
            return event.kind, event.material
    return None


def _place(event: Stripped | SidesOff) -> str:
    return event.base or event.mould
