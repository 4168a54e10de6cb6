"""Every unit against the registry of pint, which nothing of ours imports at run time."""

import pint
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun import units
from blockrun.units.convert import to_base
from blockrun.units.known import BASE

REGISTRY = pint.UnitRegistry()
NAMES = {
    "in": "inch",
    "L": "litre",
    "mL": "millilitre",
    "gal": "gallon",
    "imp gal": "imperial_gallon",
    "qt": "quart",
    "fl oz": "fluid_ounce",
    "m3": "metre ** 3",
    "ft3": "foot ** 3",
    "yd3": "yard ** 3",
    "d": "day",
    "min": "minute",
    "h": "hour",
    "weeks": "week",
    "t": "tonne",
    "degC": "degree_Celsius",
    "degF": "degree_Fahrenheit",
    "K": "kelvin",
    "deg": "degree",
    "MPa": "megapascal",
    "lbf": "pound_force",
    "psi": "pound_force_per_square_inch",
    "mm2": "millimetre ** 2",
    "N": "newton",
    "kJ": "kilojoule",
    "mol": "mole",
    "J": "joule",
}
EVERY = [(dimension, unit) for dimension, known in units.UNITS.items() for unit in known]


def named(dimension: str, unit: str) -> str:
    words = [NAMES.get(part, part) for part in unit.split("/")]
    delta = "delta_" if dimension == "temperature_difference" and unit != "K" else ""
    return delta + " / ".join(f"({word})" if "*" in word else word for word in words)


@pytest.mark.parametrize(("dimension", "unit"), EVERY)
@given(number=st.floats(-1e6, 1e6))
def test_a_number_of_any_unit_is_what_pint_makes_of_it(dimension: str, unit: str, number: float):
    theirs = REGISTRY.Quantity(number, named(dimension, unit)).to(named(dimension, BASE[dimension])).magnitude
    assert to_base(number, dimension, unit) == pytest.approx(theirs, rel=1e-12, abs=1e-9)
    assert units.in_unit(theirs, dimension, unit) == pytest.approx(number, rel=1e-9, abs=1e-9)


@pytest.mark.parametrize("dimension", units.UNITS)
def test_the_base_unit_is_the_one_values_are_kept_in(dimension: str):
    assert units.UNITS[dimension][BASE[dimension]] == 1
