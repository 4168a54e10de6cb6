"""A density as it is weighed in the yard: a container of known volume, filled, struck off and weighed."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Final

from blockrun.errors import BadInput, OutOfRange
from blockrun.mix.volume import LITRES_PER_M3
from blockrun.units import digits, read, show

LEAST_L: Final = 0.05
MOST_L: Final = 1000.0


@dataclass(frozen=True)
class Container:
    """What things are weighed in.

    Parameters
    ----------
    volume_l : filled and struck off, 0.05 to 1000.
    empty_kg : what it weighs empty; 0 where the scales were set to nought with it on them.
    units : of what a refusal says, ``SI`` or ``US``.
    """

    volume_l: float
    empty_kg: float = 0.0
    units: str = field(kw_only=True)

    def __post_init__(self) -> None:
        """Refuse a container that nobody weighs with.

        Raises
        ------
        OutOfRange : its volume or its empty weight is outside the limits.
        """
        if not LEAST_L <= self.volume_l <= MOST_L:
            raise OutOfRange(
                f"a container of {show(self.volume_l, 'volume', self.units)} is none to weigh with",
                "Write what it holds when struck off, such as 10L.",
                name="container",
                value=self.volume_l,
                unit="L",
            )
        if self.empty_kg < 0:
            todo = "Write what it weighs empty, such as 0.4kg."
            raise OutOfRange("the empty weight is under nought", todo, name="empty", value=self.empty_kg, unit="kg")

    def density_kg_m3(self, full_kg: float) -> float:
        """Density of what fills it: (full - empty) / volume, ASTM C138.

        Raises
        ------
        OutOfRange : the full container weighs no more than the empty one.
        """
        if full_kg <= self.empty_kg:
            full, empty = (show(mass_kg, "mass", self.units) for mass_kg in (full_kg, self.empty_kg))
            what = f"full, the container weighs {full}, and empty {empty}"
            raise OutOfRange(what, "Weigh again, or correct the empty weight.", name="weight", value=full_kg, unit="kg")
        return (full_kg - self.empty_kg) / self.volume_l * LITRES_PER_M3


def read_density(text: str, container: Container) -> float:
    """A density written as one (``102 g/L``), or as what the full container weighs (``1.02 kg``).

    Parameters
    ----------
    text : as it was typed.
    container : what was weighed in.

    Returns
    -------
    kg/m3, above 0.

    Raises
    ------
    BadInput : it is neither a density nor a mass, or not above nought.
    """
    try:
        density_kg_m3 = read(text, "density").value
    except BadInput as no_density:
        try:
            density_kg_m3 = container.density_kg_m3(read(text, "mass").value)
        except BadInput:
            raise _neither(no_density, text) from None
    if density_kg_m3 <= 0:
        raise BadInput(f"{text} is not above nought", "Weigh again.", value=text)
    return density_kg_m3


def foam_said(density_kg_m3: float, units: str) -> str:
    """What foam weighs: grams a litre, the same number as kg/m3, as it fills a small container; in US units lb/ft3."""
    return show(density_kg_m3, "density", units) if units == "US" else f"{digits(density_kg_m3)} g/L"


def in_its_own(text: str) -> tuple[str, float | None]:
    """What was weighed, and litres of the container named with it after a stroke, as in ``2.6kg/20L``; else None."""
    mass, _, volume = text.partition("/")
    try:
        return mass, read(volume, "volume").value
    except BadInput:  # a density, or nothing after it
        return text, None


def is_mass(text: str) -> bool:
    """Whether a text is what a full container weighs, and no density."""
    try:
        read(text, "mass")
    except BadInput:
        return False
    return True


def _neither(no_density: BadInput, text: str) -> BadInput:
    todo = (
        "Write a density, such as 102g/L or 5.9lb/ft3, or what the full container weighs, such as 8.6kg, or 2.6kg/20L."
    )
    return BadInput(no_density.what, todo, value=text)
