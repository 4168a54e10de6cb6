"""Numbers to text, in the units the user prefers."""

from __future__ import annotations

from collections.abc import Iterator

from blockrun.units.convert import in_unit
from blockrun.units.known import usual


def show(value: float, dimension: str, units: str) -> str:
    """A value in words, in the units the user prefers.

    Parameters
    ----------
    value : in the base unit of the dimension; for ``fraction`` a share of one, for ``ratio`` parts to one.
    dimension : a key of `UNITS`, or ``fraction`` or ``ratio``.
    units : ``SI`` or ``US``.

    Returns
    -------
    Text that `read` (or `percent`, `ratio`) takes back, to four significant digits and at most three decimals.
    """
    if dimension == "fraction":
        return show_share(value)
    if dimension == "ratio":
        return f"1:{digits(value)}"
    if dimension == "time":
        return show_time(value)
    return show_in(value, dimension, usual(dimension, units))


def show_in(value: float, dimension: str, unit: str) -> str:
    """A value in the base unit, in words and in the unit written so (a key of `UNITS`)."""
    number = in_unit(value, dimension, unit)
    sixteenths = round(number * 16)
    if unit == "in" and abs(number * 16 - sixteenths) < 1e-6:
        return f"{sixteenths / 16:.10g} in"
    return f"{digits(number)} {unit}"


def show_to_three(value: float, dimension: str, unit: str) -> str:
    """Such a value to three digits, from a hundred up to the whole unit: no scale or jug of a yard shows more."""
    amount = in_unit(value, dimension, unit)
    return f"{amount:.0f} {unit}" if amount >= 100 else f"{digits(float(f'{amount:.3g}'))} {unit}"


def show_degrees(celsius: float, units: str) -> str:
    """A temperature to a tenth of the degree it is shown in: 29 degF are 29 degF again, though a fraction in degC."""
    unit = usual("temperature", units)
    return f"{digits(round(in_unit(celsius, 'temperature', unit), 1))} {unit}"


def show_size(length_mm: float, height_mm: float, thickness_mm: float, units: str) -> str:
    """A block's or a cavity's size in words, such as ``600 x 300 x 200 mm``."""
    sides = [show(side, "length", units).rsplit(" ", 1) for side in (length_mm, height_mm, thickness_mm)]
    return " x ".join(number for number, _ in sides) + f" {sides[0][1]}"


def digits(value: float) -> str:
    """A number to four significant digits, at most three decimals, no trailing noughts, no exponent."""
    whole = len(str(int(abs(value)))) if abs(value) >= 1 else 0
    text = f"{value:.{max(0, min(3, 4 - whole))}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def show_share(share: float) -> str:
    """A share of one as a percentage, which is the same in all units."""
    return f"{digits(share * 100)} %"


def show_percent(share: float, places: int = 0, *, signed: bool = False) -> str:
    """A share of one as ``59 %``, to so many decimals; signed as ``+6.7 %``."""
    return f"{share * 100:{'+' if signed else ''}.{places}f} %"


def show_angle(degrees: float) -> str:
    """An angle, which is the same in all units."""
    return show_in(degrees, "angle", "deg")


def show_time(minutes: float) -> str:
    """Days, hours and minutes, leaving out what is nought; the same in all units."""
    if minutes != int(minutes) or minutes < 0:
        return f"{digits(minutes)} min"
    return " ".join(_nonzero(int(minutes))) or "0 min"


def _nonzero(minutes: int) -> Iterator[str]:
    for length, unit in ((1440, "d"), (60, "h"), (1, "min")):
        number, minutes = divmod(minutes, length)
        if number:
            yield f"{number} {unit}"
