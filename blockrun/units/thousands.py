"""A comma for the point of a number, and signs that may part off thousands as well as decimals."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Final

from blockrun.errors import BadInput

_COMMA: Final = re.compile(r"(?<![\d.,])(\d{1,9}),(\d{1,9})(?![\d.,])", re.ASCII)
_EITHER: Final = re.compile(r"(\d{1,3})[.,](\d{3})", re.ASCII)


def with_point(text: str) -> str:
    """The same with a point for a decimal comma.

    Raises
    ------
    BadInput : it may part off thousands as well.
    """

    def pointed(found: re.Match[str]) -> str:
        check_thousands(found[0])
        return f"{found[1]}.{found[2]}"

    return _COMMA.sub(pointed, text)


def check_thousands(text: str, fits: Callable[[float], bool] = lambda _: True) -> None:
    """Refuse a number such as ``1.500``, whose sign may part off its thousands; ``0.500`` cannot.

    Parameters
    ----------
    text : a number that stands alone; any other text passes.
    fits : whether a number can be meant; one that cannot be so many thousands passes, too.

    Raises
    ------
    BadInput : thousands can be meant, with those of the two numbers to write that fit.
    """
    found = _EITHER.fullmatch(text.strip())
    if found is None or not int(found[1]) or not fits(int(found[1] + found[2])):
        return
    readings = (found[1] + found[2], f"{found[1]}.{found[2]}".rstrip("0").rstrip("."))
    todo = f"Write {' or '.join(one for one in readings if fits(float(one)))}."
    raise BadInput(f"{text.strip()} may be a thousand or a part of one", todo, value=text)
