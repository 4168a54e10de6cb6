"""Numbers with their units as they are typed: with a blank between."""

from __future__ import annotations

import re
from typing import Final

from blockrun.units import with_point
from blockrun.yard.record.words import Words

_NUMBER: Final = re.compile(r"\d{1,9}(?:[.,]\d{1,9})?")
_UNIT: Final = re.compile(r"[a-z]+(?:/[a-z]+\d?)?", re.IGNORECASE)


def amount_typed(words: Words, due: str, *not_units: str) -> str:
    """A number with its unit, which may stand behind a blank.

    Parameters
    ----------
    due : says what is missing, where nothing comes.
    not_units : words that are none, though they look like one.
    """
    word = words.take(due)
    is_parted = _NUMBER.fullmatch(word) and _UNIT.fullmatch(words.peek) and words.peek.lower() not in not_units
    return with_point(f"{word}{words.take('a unit')}" if is_parted else word)
