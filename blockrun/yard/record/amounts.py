"""Numbers with their units as they are typed: with a blank between, or a comma for the point, where that is plain."""

from __future__ import annotations

import re
from typing import Final

from blockrun.errors import BadInput
from blockrun.yard.record.words import Words

_COMMA: Final = re.compile(r"(?<![\d.,])(\d{1,9}),(\d{1,9})(?![\d.,])")
_NUMBER: Final = re.compile(r"\d{1,9}(?:[.,]\d{1,9})?")
_UNIT: Final = re.compile(r"[a-z]+(?:/[a-z]+\d?)?", re.IGNORECASE)


def with_point(text: str) -> str:
    """The same with a point for a decimal comma.

    Raises
    ------
    BadInput : it may part off thousands as well.
    """
    return _COMMA.sub(_pointed, text)


def _pointed(found: re.Match[str]) -> str:
    whole, parts = found[1], found[2]
    if len(parts) == len("000") and 1 <= len(whole) <= len("000") and int(whole):
        todo = f"Write {whole}{parts} or {whole}.{parts.rstrip('0') or '0'}."
        raise BadInput(f"{found[0]} may be a thousand or a part of one", todo, value=found[0])
    return f"{whole}.{parts}"


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
