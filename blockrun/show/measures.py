"""Words for amounts, in the marks of what they are measured with."""

from __future__ import annotations

from fractions import Fraction
from typing import TYPE_CHECKING, Final

from blockrun.mix.batches import in_bags
from blockrun.show.page import glued
from blockrun.units import digits, in_unit, show_percent, show_to_three

if TYPE_CHECKING:
    from collections.abc import Sequence

WATER_KG_L: Final = 1
FROM_HERE_WHOLE: Final = 100


def bags_of(bags: float | Fraction) -> Fraction:
    """Bags as the fraction they were made up in; steps finer than a hundredth of a bag are not weighed."""
    return Fraction(bags).limit_denominator(100)


def by_bags(bags: float | Fraction) -> str:
    """Say bags as they are counted in the yard: ``2 1/2 bags``."""
    return glued(in_bags(bags_of(bags)))


def in_percent(share: float, places: int = 0, *, signed: bool = False) -> str:
    """A share of one as all percentages are written, in one word."""
    return glued(show_percent(share, places, signed=signed))


def by_volume(volume_l: float, units: str) -> str:
    """Say a volume in the marks of the vessel it is measured in: a jug's for little, else a bucket's."""
    return glued(show_to_three(volume_l, "volume", _vessel(volume_l, units)))


def shares_by_volume(shares_l: Sequence[float], units: str) -> tuple[str, ...]:
    """Say volumes that are parts of one, and it before them, in its unit: so that they are seen to add up."""
    whole_l = sum(shares_l)
    return tuple(glued(show_to_three(litres, "volume", _vessel(whole_l, units))) for litres in (whole_l, *shares_l))


def _vessel(volume_l: float, units: str) -> str:
    """The unit in which a volume is measured: of millilitres and litres, or of fluid ounces, quarts and gallons."""
    jug, *larger = ("fl oz", "qt", "gal") if units == "US" else ("mL", "L")
    return next((unit for unit in reversed(larger) if in_unit(volume_l, "volume", unit) >= 1), jug)


def measured_out(volume_l: float, units: str) -> str:
    """Say a volume as it can be measured out beside a mixer.

    Returns
    -------
    Under a litre to 10 mL, under ten litres to a tenth, under a hundred to half a litre, then to whole ones; in US
    units to the fluid ounce, from a quart and from a gallon to a tenth of it.
    """
    if units == "US":
        unit = _vessel(volume_l, units)
        return glued(f"{in_unit(volume_l, 'volume', unit):.{int(unit != 'fl oz')}f} {unit}")
    if volume_l < 1:
        return glued(f"{round(volume_l * 100) * 10} mL")
    step = 0.1 if volume_l < 10 else 0.5 if volume_l < FROM_HERE_WHOLE else 1
    return glued(f"{digits(round(round(volume_l / step) * step, 1))} L")


def weighed_out(mass_kg: float, units: str) -> str:
    """Say a mass as a scale beside a mixer shows it: to a tenth of a kilogram or pound, little in grams or ounces."""
    unit = "lb" if units == "US" else "kg"
    amount = in_unit(mass_kg, "mass", unit)
    return by_scale(mass_kg, units) if amount < 1 else glued(f"{amount:.1f} {unit}")


def by_mass(mass_kg: float, units: str) -> str:
    """Say a mass as :func:`by_volume` says a volume."""
    return glued(show_to_three(mass_kg, "mass", "lb" if units == "US" else "kg"))


def by_scale(mass_kg: float, units: str) -> str:
    """Say what is weighed in by itself: little of it in grams or ounces."""
    small, large = ("oz", "lb") if units == "US" else ("g", "kg")
    return glued(show_to_three(mass_kg, "mass", small if in_unit(mass_kg, "mass", large) < 1 else large))


def by_density(density_kg_m3: float, units: str) -> str:
    """Say a density as :func:`by_volume` says a volume."""
    return glued(show_to_three(density_kg_m3, "density", "lb/ft3" if units == "US" else "kg/m3"))
