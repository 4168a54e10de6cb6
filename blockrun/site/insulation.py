"""What a mould is made of and covered with: so much of a material, and how much warmth goes through it."""

from __future__ import annotations

from typing import Annotated, Final, NamedTuple

from blockrun import units
from blockrun.errors import BadInput
from blockrun.files.text import did_you_mean
from blockrun.site.written import Written

CONDUCTIVITY_W_MK: Final = {
    "steel": 50.0,
    "plastic": 0.2,
    "plywood": 0.13,
    "timber": 0.13,
    "straw": 0.07,
    "mineral wool": 0.04,
    "polystyrene": 0.036,
}
"""Usual ones, from memory."""

AIR_W_M2K: Final = 25.0
"""From a surface to the air outdoors, as building codes take it (from memory); in still air it is less."""

_THICKEST_MM: Final = 500.0


class Layer(NamedTuple):
    """A layer of a material, and what goes through it."""

    material: str
    thickness_mm: float

    @property
    def loss_w_m2k(self) -> float:
        """Watts through a square metre for each degree between the block and the air outside."""
        return 1 / (1 / AIR_W_M2K + self.thickness_mm / 1000 / CONDUCTIVITY_W_MK[self.material])


def read_layer(text: str) -> Layer:
    """A material and how thick it is, such as ``plywood 18 mm``.

    Raises
    ------
    BadInput : anything else, a material not known, or a thickness over 500 mm.
    """
    words = text.split()
    start = next((n for n, word in enumerate(words) if word[0].isdigit()), len(words))
    material, thickness = " ".join(words[:start]).lower(), " ".join(words[start:])
    if material not in CONDUCTIVITY_W_MK:
        what = f"{material or text} is not a material known here"
        raise BadInput(what, did_you_mean(material, CONDUCTIVITY_W_MK), value=text)
    if not thickness:
        raise BadInput(f"{text} has no thickness", f"Write it, for example {material} 18 mm.", value=text)
    mm = units.read(thickness, "length", usual="mm").value
    if not 0 < mm <= _THICKEST_MM:
        raise BadInput(f"{thickness} is out of range; it must be more than 0 and at most 500 mm", value=text)
    return Layer(material, mm)


LayerOf = Annotated[
    Layer,
    Written("a material and its thickness", "plywood 18 mm", read_layer, {"pattern": r"^[a-z ]+ \d"}),
]
"""A layer as a file has it."""
