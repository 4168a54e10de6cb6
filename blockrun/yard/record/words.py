"""Words one after the other, as somebody typed them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Final

from blockrun.errors import BadInput
from blockrun.files.day_names import day_name
from blockrun.files.days import Span, check_which, day_meant

_LONGEST: Final = 7
"""Digits of a count: a million at the most."""

_LONGEST_DAY: Final = 4
"""Words of a day: ``Fri 9 Apr 2027``."""

_ON: Final = "on"
_OTHERWISE: Final = {"after", "before", "since", "from", "until", "till", "to"}
"""Behind these a day is told of something else, or of more days than one."""


class Words:
    """Words of one event, taken from the first on.

    Parameters
    ----------
    words : without those that say which event it is. A comma behind one parts it from the next, and says no more.
    """

    def __init__(self, words: Iterable[str]) -> None:
        self._left = [word for word in words if word not in {",", ";"}]
        self.taken = ""
        """The word that was taken last."""

    @property
    def peek(self) -> str:
        """The next word; empty at the end."""
        return _bare(self._left[0]) if self._left else ""

    @property
    def second(self) -> str:
        """The word after the next."""
        return _bare(self._left[1]) if len(self._left) > 1 else ""

    def take(self, due: str) -> str:
        """The next word.

        Raises
        ------
        BadInput : there is none; ``due`` says what is missing.
        """
        self.check(due)
        self.taken = _bare(self._left.pop(0))
        return self.taken

    def check(self, due: str) -> None:
        """Refuse that nothing more is there; ``due`` says what is missing.

        Raises
        ------
        BadInput : nothing is.
        """
        if not self._left:
            raise BadInput(f"{due} is missing")

    def take_if(self, *words: str) -> bool:
        """Whether the next word is one of these; it is taken then."""
        found = self.peek.lower() in words
        if found:
            self._left.pop(0)
        return found

    @property
    def is_number(self) -> bool:
        """Whether the next word is a whole number."""
        return is_number(self.peek)

    def number(self, due: str) -> int:
        """The next word as a whole number of 1 or more.

        Raises
        ------
        BadInput : it is none.
        """
        word = self.take(due)
        if not is_number(word) or int(word) == 0:
            raise BadInput(f"{word} is not {due}", value=word)
        return int(word)

    def day(self, today: date, span: Span) -> date | None:
        """The day that the next words name, up to four behind ``on`` or not; None, and nothing taken, where none do.

        Parameters
        ----------
        span : in which a day without a year lies.

        Raises
        ------
        BadInput : they look like a day and are none, or are that of any week.
        """
        is_on = self.peek.lower() == _ON
        day, end = self._day_from(int(is_on), today, span)
        if day is None:
            check_which(self.second if is_on else self.peek, today, is_day=is_on)
        del self._left[:end]
        return day

    def day_behind(self, today: date, span: Span) -> date | None:
        """The day that the last words name, behind ``on`` or not; None, and nothing is taken, where they name none.

        Parameters
        ----------
        span : in which a day without a year lies.

        Raises
        ------
        BadInput : they look like a day and are none, or are that of any week; or a day other than today is named
            further in front, and may be the one that is meant.
        """
        for start, before in enumerate(["", *map(str.lower, self._left[:-1])]):
            day, end = self._day_from(start, today, span)
            if day is not None and end == len(self._left) and before not in _OTHERWISE:
                del self._left[start - (before == _ON) :]
                return day
            if day is not None and day != today:
                said = " ".join(self._left[start:end])
                todo = f"The day goes first, and one at a time, such as: {day_name(day)}. Or write today first."
                raise BadInput(f"is {said} the day?", todo, value=said)
            is_on, is_last = before == _ON, start == len(self._left) - 1
            if is_on or is_last:
                check_which(_bare(self._left[start]), today, is_day=is_on)
        return None

    def _day_from(self, start: int, today: date, span: Span) -> tuple[date | None, int]:
        """The longest day that begins with a word, and how many words there are until its end; None and 0 without."""
        for end in range(min(start + _LONGEST_DAY, len(self._left)), start, -1):
            if day := day_meant(" ".join(word.rstrip(",") for word in self._left[start:end]), today, span):
                return day, end
        return None, 0

    def rest(self) -> str:
        """All words that are left, as they are."""
        said, self._left = " ".join(self._left), []
        return said

    def end(self) -> None:
        """Refuse words that nobody took.

        Raises
        ------
        BadInput : there are some.
        """
        if self._left:
            raise BadInput(f"{self.peek} is one word too many, or in the wrong place", value=self.peek)


def _bare(word: str) -> str:
    return word.rstrip(",;") or word


def is_number(word: str) -> bool:
    """Whether a word is a whole number that may be a count."""
    return word.isascii() and word.isdecimal() and len(word) <= _LONGEST
