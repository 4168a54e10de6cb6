"""Days as people say them: ``9 Apr``, ``Fri 9 Apr``, ``yesterday``, ``9.4.``, ``9.4.2027``, ``2027-04-09``."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Final

from blockrun.errors import BadInput
from blockrun.files.day_names import day_name

FIRST_YEAR: Final = 2000
LAST_YEAR: Final = 2199
_CENTURY: Final = 2000

NEAR: Final = {"today": 0, "yesterday": -1, "tomorrow": 1}

_MONTHS: Final = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
WEEKDAYS: Final = ("mon", "tue", "wed", "thu", "fri", "sat", "sun")
_LONG: Final = "january february march april may june july august september october november december"
_WEEK: Final = "monday tuesday wednesday thursday friday saturday sunday"
_WHOLE: Final = re.compile(r"\d{4}-\d\d-\d\d", re.ASCII)
_NAMED: Final = re.compile(
    r"(?:(?P<weekday>[a-z]{3,9})\.?,? +)?(?:(?P<day>\d{1,2})\.? *(?P<month>[a-z]{3,9})|(?P<first>[a-z]{3,9}) +"
    r"(?P<second>\d{1,2}))\.?(?:,? +(?P<year>\d{4}))?",
    re.ASCII,
)


_FIGURES: Final = re.compile(
    r"(?P<one>\d{1,4})(?P<sign>[./-])(?P<two>\d{1,2})(?P=sign)(?P<three>\d{4}|\d{1,2})", re.ASCII
)
_POINTED: Final = re.compile(
    r"(?:(?P<weekday>[a-z]{3,9})\.?,? +)?(?P<day>\d{1,2})\. ?(?P<month>\d{1,2})\.(?P<year>\d\d)?", re.ASCII
)
"""A point behind the month, too, lest it be a number or a time."""


@dataclass(frozen=True)
class Span:
    """Days between which one is meant that is said without its year, both included."""

    first: date
    last: date

    @classmethod
    def of_year(cls, day: date) -> Span:
        """The year of a day."""
        return cls(day.replace(month=1, day=1), day.replace(month=12, day=31))

    @classmethod
    def year_from(cls, day: date) -> Span:
        """A year that begins with a day, so that each day of the year is in it once."""
        return cls(day, day + timedelta(days=364))


def day_meant(text: str, today: date, span: Span) -> date | None:
    """The day that is said; None where what is said is no day at all.

    Parameters
    ----------
    text : such as ``9 Apr``.
    today : tells which days are yesterday and tomorrow.
    span : in which a day without a year lies.

    Raises
    ------
    BadInput : there is no such day, its weekday is another, or it may be in several years.
    """
    said = " ".join(text.lower().split())
    if said in NEAR:
        return today + timedelta(days=NEAR[said])
    if _WHOLE.fullmatch(said):
        return _written(said)
    found = _POINTED.fullmatch(said) or _NAMED.fullmatch(said)
    if found is None:
        return _of_figures(said) if _FIGURES.fullmatch(said) else None
    weekday = _place(found["weekday"], WEEKDAYS, _WEEK) if found["weekday"] else None
    if found["weekday"] and weekday is None:
        return None
    if found.re is _POINTED:
        year = _whole_year(text, found, span, today)
        return _only(text, _days(year, int(found["month"]), int(found["day"]), span), weekday, today)
    month = _place(found["month"] or found["first"], _MONTHS, _LONG)
    if month is None:
        return None
    year = int(found["year"]) if found["year"] else None
    return _only(text, _days(year, month, int(found["day"] or found["second"]), span), weekday, today)


def check_which(word: str, today: date, *, is_day: bool = False) -> None:
    """Refuse the name of a day of the week alone: it may be the last one or the next.

    Parameters
    ----------
    is_day : whether what is before the word makes it a day, as ``on`` does; else ``sun`` is the weather, or a name.

    Raises
    ------
    BadInput : it is one.
    """
    said = word.lower()
    if (is_day or said != "sun") and (of_week := _place(said, WEEKDAYS, _WEEK)) is not None:
        last = today - timedelta(days=(today.isoweekday() - of_week) % 7)
        either = " or ".join(map(day_name, (last, last + timedelta(days=7))))
        raise BadInput(f"which {word}?", f"Write its date, such as {either}.", value=word)


def _whole_year(text: str, found: re.Match[str], within: Span, today: date) -> int | None:
    """The year that two digits mean; None where there are none.

    Raises
    ------
    BadInput : it is none of those in which days lie.
    """
    if not found["year"]:
        return None
    year = _CENTURY + int(found["year"])
    if not within.first.year <= year <= within.last.year:
        todo = f"Write the year in full, such as {int(found['day'])}.{int(found['month'])}.{today.year}."
        raise BadInput(f"{text}: {year} is none of the years here", todo, value=text)
    return year


def _days(year: int | None, month: int, of_month: int, within: Span) -> list[date]:
    """Days of a month in a year; else those within a span, or the first of those in its years."""
    years = [year] if year else [*range(within.first.year, within.last.year + 1)]
    days = [day for each in years if (day := _day(each, month, of_month))]
    return days if year else [day for day in days if within.first <= day <= within.last] or days[:1]


def days_of_figures(text: str) -> list[date]:
    """Days that figures alone may mean, such as ``3/5/2027``, the day before the month first; none for other text."""
    found = _FIGURES.fullmatch(text)
    if not found or (len(found["one"]) == 4) == (len(found["three"]) == 4) or len(found["one"]) == 3:
        return []
    one, two, three = (int(found[name]) for name in ("one", "two", "three"))
    readings = [(one, two, three)] if len(found["one"]) == 4 else [(three, two, one), (three, one, two)]
    days = [day for year, month, of_month in readings if (day := _day(year, month, of_month))]
    return list(dict.fromkeys(days))


def pointed_day(text: str) -> date | None:
    """The day of ``9.4.2027``: with points between, the day comes first wherever it is written so; None for others."""
    found = _FIGURES.fullmatch(text)
    if not found or found["sign"] != "." or len(found["three"]) != len("2027") or len(found["one"]) > len("31"):
        return None
    return _day(int(found["three"]), int(found["two"]), int(found["one"]))


def either_said(days: Sequence[date]) -> str:
    """``2027-03-05 or 2027-05-03, whichever is meant``."""
    return " or ".join(map(str, days)) + ", whichever is meant" * (len(days) > 1)


def _of_figures(text: str) -> date | None:
    """The day that figures mean; with points between them the day stands before the month.

    Raises
    ------
    BadInput : there is no such day, or there are two.
    """
    days = [] if "-" in text else days_of_figures(text)
    if len(days) == 1 or (days and "." in text):
        return _written(str(days[0]))
    if days:
        raise BadInput(f"{text} may be two days", f"Write {either_said(days)}.", value=text)
    return None


def _written(text: str) -> date:
    try:
        day = date.fromisoformat(text)
    except ValueError:
        day = date.min
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise BadInput(f"{text}: there is no such day", "Write year-month-day, such as 2027-04-05.", value=text)
    return day


def _place(word: str, short: tuple[str, ...], long: str) -> int | None:
    """Which of the names a word is, from 1, in three letters or in full."""
    whole = long.split()
    return next((number for number, name in enumerate(short, 1) if word in {name, whole[number - 1], f"{name}t"}), None)


def _only(text: str, days: list[date], weekday: int | None, today: date) -> date:
    """The one of some days that is of a weekday."""
    if not days:
        raise BadInput(f"{text}: there is no such day", f"Write one such as {today}.", value=text)
    meant = [one for one in days if weekday is None or one.isoweekday() == weekday]
    if not meant:
        near = days[0] + timedelta(days=((weekday or 0) - days[0].isoweekday() + 3) % 7 - 3)
        todo = f"Write {near} or {days[0]}, whichever is meant."
        raise BadInput(f"{text}: {days[0]} is a {_WEEK.split()[days[0].weekday()].title()}", todo, value=text)
    if len(meant) > 1:
        written = " or ".join(str(one) for one in meant)
        raise BadInput(f"{text} may be in several years", f"Write {written}.", value=text)
    return meant[0]


def _day(year: int, month: int, day: int) -> date | None:
    try:
        return date(year, month, day)
    except ValueError:
        return None
