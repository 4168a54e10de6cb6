"""The unit that is meant by a length without one: of those a file uses, the one that makes it most like its fellows."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any, Final

from blockrun import units
from blockrun.errors import BadInput

_TOGETHER: Final = ({"mm", "m"}, {"in", "ft"})
"""Units that people change between in one file: where one is, the other may be meant."""


def length_unit_meant(number: float, key: str, data: Any) -> str | None:
    """The unit of a bare length in a file.

    Parameters
    ----------
    number : as written.
    key : what it is the value of.
    data : of the whole file: mappings, lists and text.

    Returns
    -------
    Of the units that lengths of the file have, and those that go with them, the one that brings the number nearest to
    what stands for this key elsewhere; None where nothing does.
    """
    written = list(_lengths(data, ""))
    fellows = [math.log(side.value) for name, side in written if name == key and side.value > 0]
    if not fellows or number <= 0:
        return None
    there = {side.unit for _, side in written}
    offered = dict.fromkeys(
        [side.unit for _, side in written] + [unit for of in _TOGETHER if there & of for unit in sorted(of)]
    )
    return min(offered, key=lambda unit: _unlike(number, unit, fellows))


def _unlike(number: float, unit: str, fellows: Sequence[float]) -> float:
    """How unlike the nearest of its fellows a number of a unit is, as the logarithm of how many times."""
    size = math.log(number * units.factor(unit, "length"))
    return min(abs(size - fellow) for fellow in fellows)


def _lengths(data: Any, key: str) -> Iterator[tuple[str, units.Quantity]]:
    """Every length and every side of a size, with its key."""
    if isinstance(data, dict):
        for name, value in data.items():
            yield from _lengths(value, name)
    elif isinstance(data, list):
        for value in data:
            yield from _lengths(value, key)
    elif isinstance(data, str):
        try:
            yield from ((key, side) for side in (units.size(data) if " x " in data else (units.read(data, "length"),)))
        except BadInput:
            return
