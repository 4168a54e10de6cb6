"""A value is written as the user wrote the one before."""

from __future__ import annotations

import pytest

from blockrun.errors import BadInput
from blockrun.units import alike, read


@pytest.mark.parametrize(
    ("value", "dimension", "written", "expected"),
    [
        (14, "time", "12 min", "14 min"),
        (14, "time", "12min", "14min"),
        (14, "time", "12 minutes", "14 minutes"),
        (1620, "time", "24 h", "27 h"),
        (1620, "time", "1 d", "1.125 d"),
        (9.5, "volume", "4 L", "9.5 L"),
        (9.5, "volume", "4 litres", "9.5 litres"),
        (9.5, "volume", "1 gal", "2.51 gal"),
        (9.5, "volume", "3 1/2 qt", "10.04 qt"),
        (9.5, "volume", "1 imp gal", "2.09 imp gal"),
        (98, "density", "95 g/L", "98 g/L"),
        (98, "density", "0.095 kg/L", "0.098 kg/L"),
        (98, "density", "95 kg/m3", "98 kg/m3"),
    ],
)
def test_the_unit_is_spelled_and_spaced_alike(value: float, dimension: str, written: str, expected: str) -> None:
    assert alike(value, dimension, written) == expected
    assert read(expected, dimension).value == pytest.approx(value, rel=1e-3)


@pytest.mark.parametrize(
    ("minutes", "written", "expected"),
    [
        (13, "0.2 h", "13 min"),  # 0.217 h is more than 13 minutes, and would be counted as 14
        (100, "1 h 30 min", "1 h 40 min"),
        (1500, "1 d", "1 d 1 h"),
    ],
)
def test_what_that_unit_does_not_tell_is_told_otherwise(minutes: int, written: str, expected: str) -> None:
    assert alike(minutes, "time", written) == expected


def test_a_value_of_something_else_is_refused() -> None:
    with pytest.raises(BadInput):
        alike(3, "volume", "12 min")
