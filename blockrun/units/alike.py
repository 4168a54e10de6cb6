"""A number written in the way somebody wrote another: with the same unit, spelled and spaced alike."""

from __future__ import annotations

import re
from typing import Final

from blockrun.errors import BadInput
from blockrun.units.convert import in_unit
from blockrun.units.known import US
from blockrun.units.reading import read
from blockrun.units.showing import digits, show

_WRITTEN: Final = re.compile(r"(\s*)[0-9][0-9./ ]*?( *)([^\s0-9.+-][^0-9]*[0-9]?)(\s*)")
"""A number, the blanks behind it, and one unit, which may end in a figure as ``kg/m3`` does."""

_CLOSE: Final = 5e-4
"""Share by which what is written may miss the value: what four digits round off."""


def alike(value: float, dimension: str, written: str) -> str:
    """A value, written as another of the same dimension was.

    Parameters
    ----------
    value : in the base unit of the dimension, >= 0.
    dimension : a key of `UNITS`.
    written : such as ``12 min``, ``1 gal`` or ``1 h 30 min``.

    Returns
    -------
    Such as ``14 min``; where four digits of that unit do not tell the value, or several units are written, as `show`
    has it.

    Raises
    ------
    BadInput : ``written`` is not of the dimension.
    """
    unit = read(written, dimension).unit
    match = _WRITTEN.fullmatch(written)
    if match:
        before, blank, name, after = match.groups()
        text = f"{digits(in_unit(value, dimension, unit))}{blank}{name.rstrip()}"
        if _tells(text, dimension, value):
            return f"{before}{text}{after}"
    return show(value, dimension, "US" if unit in US.values() else "SI")


def _tells(text: str, dimension: str, value: float) -> bool:
    """Whether a text is read as a value; a time as its whole minute, begun ones counted."""
    try:
        found = read(text, dimension).value
    except BadInput:
        return False
    slack = 0.0 if dimension == "time" else _CLOSE * value
    return found <= value + 1e-9 + slack and value - found < (1 if dimension == "time" else slack + 1e-9)
