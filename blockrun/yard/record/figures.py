"""What was weighed, counted and crushed, in the units in which the site prints."""

from __future__ import annotations

from collections.abc import Iterator

from blockrun.mix.weighing import foam_said
from blockrun.units import digits, in_unit, show, show_degrees, usual
from blockrun.yard.journal.events import COUNTED_IN, ELSE_IN, Crushed, Poured


def weighed_said(event: Poured, units: str) -> Iterator[str]:
    """What was measured of a batch: ``foam 98 g/L``, ``wet density 806 kg/m3``, ``18 degC``."""
    if event.foam_g_l is not None:
        yield f"foam {foam_said(event.foam_g_l, units)}"
    if event.wet_density_kg_m3 is not None:
        yield f"wet density {show(event.wet_density_kg_m3, 'density', units)}"
    if event.mix_degc is not None:
        yield show_degrees(event.mix_degc, units)


def degrees_between(low_c: float, high_c: float, units: str) -> str:
    """``10 to 21 degC``."""
    low, high = (show_degrees(celsius, units) for celsius in (low_c, high_c))
    return f"{low.rpartition(' ')[0]} to {high}"


def amount_said(material: str, amount: float, units: str) -> str:
    """``80 bags of cement``, ``1 bag of cement``, ``3.5 L of foaming agent``."""
    counted = COUNTED_IN.get(material, ELSE_IN)
    if counted == "bags":
        return f"{digits(amount)} {'bag' if amount == 1 else 'bags'} of {material}"
    return f"{show(amount, 'volume' if counted == 'L' else 'mass', units)} of {material}"


def crush_said(event: Crushed, units: str) -> str:
    """``52 kN, 100 x 100 mm, 28 d old: 5.2 MPa``."""
    sides = [show(side, "length", units) for side in (event.length_mm, event.width_mm)]
    size = f"{sides[0].rpartition(' ')[0]} x {sides[1]}"
    age = digits(round(event.age_d, 1))
    return f"{show(event.load_kn, 'force', units)}, {size}, {age} d old: {strength_said(event.strength_mpa, units)}"


def strength_said(mpa: float, units: str) -> str:
    """To a hundredth of a megapascal, or the whole pound a square inch."""
    unit = usual("strength", units)
    return f"{digits(round(in_unit(mpa, 'strength', unit), 0 if units == 'US' else 2))} {unit}"
