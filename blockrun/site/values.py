"""Text to values: numbers, dates, times of day and names as a user writes them; units are read elsewhere."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Final

from blockrun import units
from blockrun.errors import BadInput
from blockrun.files.days import FIRST_YEAR, LAST_YEAR, WEEKDAYS, days_of_figures, either_said, pointed_day

NAME_LENGTH: Final = 60
LONGEST_SIDE_MM: Final = 10_000
THINNEST_BLOCK_MM: Final = 20
"""Our choice: thinner ones break in the hand, and are a slip of the unit or of the decimals."""
_WEEKDAY: Final = re.compile(
    "mon(day)?|tue(s|sday)?|wed(s|nesday)?|thu(r|rs|rsday)?|fri(day)?|sat(urday)?|sun(day)?", re.IGNORECASE
)


def read_number(text: str) -> Decimal:
    """A plain decimal number, exactly; no exponent, no comma, no not-a-number.

    Raises
    ------
    BadInput : anything else.
    """
    if not re.fullmatch(r"[+-]?[0-9]{1,15}(\.[0-9]{1,15})?", text.strip()):
        units.check_comma(text)
        raise BadInput(f"{shorten(text)} is not a plain number", "Write a number such as 12 or 6.10.", value=text)
    return Decimal(text.strip())


def read_whole(text: str) -> int:
    """A whole number; ``12.0`` is one, ``010`` is not, since some programs read it as eight, nor ``2.000``, or 2000.

    Raises
    ------
    BadInput : anything else.
    """
    plain = text.strip()
    if re.fullmatch(r"[+-]?0[0-9]+", plain):
        raise BadInput(f"{shorten(text)} starts with a nought", "Write the number without it.", value=text)
    if not re.fullmatch(r"[+-]?[0-9]{1,15}(\.0{1,15})?", plain):
        units.check_comma(text)
        raise BadInput(f"{shorten(text)} is not a whole number", "Write a whole number such as 12.", value=text)
    units.check_thousands(plain)
    return int(plain.partition(".")[0])


def read_fraction(text: str) -> Fraction:
    """A number such as ``1/2``, ``1 1/2``, ``0.5`` or ``2``, exactly.

    Raises
    ------
    BadInput : anything else.
    """
    plain = units.plain(text)
    match = re.fullmatch(r"(?:([0-9]{1,6}) +)?([0-9]{1,6}/0*[1-9][0-9]{0,5})|[+-]?[0-9]{1,9}(?:\.[0-9]{1,9})?", plain)
    if not match:
        units.check_comma(text)
        raise BadInput(f"{shorten(text)} is not a number or a fraction", "Write 1/2, 0.5 or 1.", value=text)
    return Fraction(match[1] or 0) + Fraction(match[2]) if match[2] else Fraction(plain)


def read_day(text: str) -> date:
    """A date written year-month-day, or with points as day.month.year.

    Raises
    ------
    BadInput : anything else, or a year before 2000 or after 2199.
    """
    todo = "Write the date as year-month-day, for example 2027-04-05."
    if pointed := pointed_day(text.strip()):
        text = str(pointed)
    if not re.fullmatch(r"[0-9]{4}-[0-9][0-9]-[0-9][0-9]", text.strip()):
        days = days_of_figures(text.strip())
        raise BadInput(f"{shorten(text)} is not a date", f"Write {either_said(days)}." if days else todo, value=text)
    try:
        day = date.fromisoformat(text.strip())
    except ValueError:
        raise BadInput(f"{text} is not a day of the calendar", todo, value=text) from None
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise BadInput(f"{text} is not a year to plan in", todo, value=text, limit=LAST_YEAR)
    return day


def read_clock(text: str) -> int:
    """A time of day such as ``07:30`` as minutes since midnight, 0 to 1440.

    Raises
    ------
    BadInput : anything else.
    """
    match = re.fullmatch(r"([0-9]{1,2}):([0-9][0-9])", text.strip())
    minutes = int(match[1]) * 60 + int(match[2]) if match else -1
    if not match or int(match[2]) > 59 or minutes > 1440:
        raise BadInput(f"{shorten(text)} is not a time of day", "Write hours:minutes, for example 07:30.", value=text)
    return minutes


def read_span(text: str) -> tuple[int, int]:
    """Two times of day such as ``07:30-16:30``, the second after the first.

    Raises
    ------
    BadInput : anything else.
    """
    pieces = re.split(r" *[-\u2013] *", units.plain(text))
    if len(pieces) != 2:
        raise BadInput(
            f"{shorten(text)} is not a span of time", "Write two times, for example 07:30-16:30.", value=text
        )
    start, end = read_clock(pieces[0]), read_clock(pieces[1])
    if start >= end:
        raise BadInput(
            f"{text} ends before it starts", "Write the earlier time first, for example 07:30-16:30.", value=text
        )
    return start, end


def read_weekday(text: str) -> int:
    """A day of the week such as ``mon`` or ``Monday``, from 0 for Monday.

    Raises
    ------
    BadInput : anything else.
    """
    if not _WEEKDAY.fullmatch(text.strip()):
        raise BadInput(f"{shorten(text)} is not a day of the week", f"Write some of {', '.join(WEEKDAYS)}.", value=text)
    return WEEKDAYS.index(text.strip()[:3].lower())


def read_flag(text: str) -> bool:
    """``true`` or ``false``.

    Raises
    ------
    BadInput : anything else.
    """
    if text.strip() not in ("true", "false"):
        raise BadInput(f"{shorten(text)} is neither true nor false", "Write true or false.", value=text)
    return text.strip() == "true"


def read_name(text: str) -> str:
    """A name of one printable line, at most sixty characters, spaces at its ends taken off.

    Raises
    ------
    BadInput : empty, too long, or with characters that do not print.
    """
    name = text.strip()
    if not name:
        raise BadInput("is an empty name", "Write a name of one line.", value=text)
    if len(name) > NAME_LENGTH:
        raise BadInput(f"{shorten(name)} is longer than {NAME_LENGTH} characters", "Write a shorter name.", value=name)
    if not name.isprintable():
        raise BadInput(f"{shorten(name)} has characters that do not print", "Write a name of one line.", value=name)
    return name


def read_size(text: str) -> tuple[float, float, float]:
    """Length, height and thickness in mm, each more than nought and at most 10 m, to a millionth of a millimetre.

    Raises
    ------
    BadInput : anything else.
    """
    sides = units.size(text)
    for side in sides:
        if not 0 < side.value <= LONGEST_SIDE_MM:
            most = units.show_in(LONGEST_SIDE_MM, "length", side.unit)
            what = f"{shorten(text)}: a side must be more than 0 and at most {most}"
            raise BadInput(what, "Write real sides.", value=text)
    length, height, thickness = (round(side.value, 6) for side in sides)
    return length, height, thickness


def shorten(text: str) -> str:
    """The text as it may stand in a sentence: printable, at most forty characters."""
    plain = "".join(char if char.isprintable() else " " for char in text).strip()
    if not plain:
        return "nothing"
    return plain if len(plain) <= 40 else plain[:37] + "..."


def read_kind(text: str) -> str:
    """A name of moulds; a mould is called ``kind/number``, so it has no stroke.

    Raises
    ------
    BadInput : as `read_name`, or a stroke in it.
    """
    if "/" in text:
        raise BadInput(f"{shorten(text)} has a stroke in it", "Write the name without /.", value=text)
    return read_name(text)
