"""Words one after the other, as somebody typed them."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import date, timedelta
from typing import Final

from blockrun.errors import BadInput
from blockrun.site.values import read_day

_LONGEST: Final = 7
"""Digits of a count: a million at the most."""

_NEAR: Final = {"today": 0, "yesterday": -1, "tomorrow": 1}
_DAY: Final = re.compile(r"\d{4}-\d\d-\d\d")


class Words:
    """Words of one event, taken from the first on.

    Parameters
    ----------
    words : without those that say which event it is.
    """

    def __init__(self, words: Iterable[str]) -> None:
        self._left = list(words)

    @property
    def peek(self) -> str:
        """The next word; empty at the end."""
        return self._left[0] if self._left else ""

    @property
    def second(self) -> str:
        """The word after the next."""
        return self._left[1] if len(self._left) > 1 else ""

    def take(self, due: str) -> str:
        """The next word.

        Raises
        ------
        BadInput : there is none; ``due`` says what is missing.
        """
        if not self._left:
            raise BadInput(f"{due} is missing")
        return self._left.pop(0)

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

    def day(self, today: date) -> date | None:
        """The day that the next word names; None, and nothing is taken, where it names none.

        Raises
        ------
        BadInput : it looks like a day and is none.
        """
        word = self.peek.lower()
        if word in _NEAR:
            self._left.pop(0)
            return today + timedelta(days=_NEAR[word])
        return read_day(self._left.pop(0)) if _DAY.fullmatch(word) else None

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


def is_number(word: str) -> bool:
    """Whether a word is a whole number that may be a count."""
    return word.isascii() and word.isdecimal() and len(word) <= _LONGEST
