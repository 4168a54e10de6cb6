"""Dates, degrees and thousands on paper and in files, as they are written where the site is."""

from __future__ import annotations

import re
from typing import Final

from blockrun.files.day_names import MONTHS, WEEKDAYS

_NARROW: Final = "\u202f"
_BLANK: Final = "[ \u00a0]"
_DEGREES: Final = re.compile(rf"(?<=\d){_BLANK}deg(?=[CF]\b)")
_DATE: Final = re.compile(
    rf"\b({'|'.join(WEEKDAYS)})({_BLANK})(\d{{1,2}}){_BLANK}({'|'.join(MONTHS)})\b(?:{_BLANK}(\d{{4}})\b)?"
)
_NUMBER: Final = re.compile(
    rf"(?<![\w.,/-])(\d{{4,}})(?=(?:\.\d+)?{_BLANK}(?:kg|g|L|mL|lb|oz|gal|bags|blocks|batches)\b)"
)
_GROUPED_FROM: Final = {"SI": 5, "US": 4}
"""Digits from which thousands are set apart: 12 500 kg, but 1250 kg; 1,250 lb."""


def on_screen(text: str, units: str) -> str:
    """A text for a screen: in US units its dates and large numbers as on paper; degrees stay in plain letters."""
    if units != "US":
        return text
    return _DATE.sub(_month_first, _NUMBER.sub(lambda found: _grouped(found[1], units), text))


def as_the_site_writes(text: str, units: str) -> str:
    """A text with its temperatures, dates and large numbers as they are written in a system of units.

    Parameters
    ----------
    text : as the other rooms of ``show`` say it: ``8 degC``, ``Tue 6 Apr 2027``, ``12500 kg``.

    Returns
    -------
    ``8 °C``, ``Tue 6 Apr 2027``, ``12 500 kg``; in US units ``46 °F``, ``Tue Apr 6, 2027``, ``12,500 lb``.
    """
    text = _DEGREES.sub("\u00a0\u00b0", text)
    text = _NUMBER.sub(lambda found: _grouped(found[1], units), text)
    return _DATE.sub(_month_first, text) if units == "US" else text


def _month_first(found: re.Match[str]) -> str:
    weekday, blank, day, month, year = found.groups()
    return f"{weekday}{blank}{month}{blank}{day}" + (f",{blank}{year}" if year else "")


def _grouped(number: str, units: str) -> str:
    if len(number) < _GROUPED_FROM[units]:
        return number
    return f"{int(number):,}".replace(",", "," if units == "US" else _NARROW)
