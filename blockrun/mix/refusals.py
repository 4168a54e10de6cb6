"""Why a mix cannot be made: each limit with its reason and with what to write instead."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from blockrun.errors import BadInput, OutOfRange
from blockrun.mix.volume import WATER_KG_M3
from blockrun.units import show_percent

LEAST_SLURRY_WATER: Final = 0.30
"""Water / cement, fly ash and lime under which a slurry cannot be mixed in a drum (common practice, no source)."""

USUAL: Final = {"slurry_water_cement": (0.45, 0.60), "water_cement": (0.55, 0.75)}
"""Water / cement, fly ash and lime of the slurry and of all (common practice, no source)."""

WETTEST_SAND: Final = 0.30
"""Water that sand can hold, of its dry mass (our choice: beyond it a heap drains)."""

LEAST_TAP_WATER: Final = 0.10
"""Share of a slurry's water that damp sand leaves for the tap at the least; with less, nothing is left to
correct a slurry by (our choice)."""

SPECK: Final = 1e-9
"""A ratio so little under its limit still keeps it: it is rounding, not dryness."""


def check_one_of(what: str, **given: float | None) -> None:
    """Refuse several or none of some keys, one of which is due."""
    names = [name for name, value in given.items() if value is not None]
    if len(names) != 1:
        raise BadInput(f"a mix needs one {what}", f"Write either {' or '.join(given)}, not both and not none.")


def check_water(name: str, ratio: float, powder_kg: float) -> None:
    """Refuse what is too dry to mix, whatever the foam: a ratio of water, by its key.

    Powder is cement, fly ash and lime for each kilogram of cement.
    """
    least = LEAST_SLURRY_WATER * powder_kg
    if not least - SPECK <= ratio < math.inf:
        low, high = (usual * powder_kg for usual in USUAL[name])
        raise OutOfRange(
            f"{name} {ratio:g} is too dry: the slurry cannot be mixed, draws water out of the foam and breaks it"
            + _of_powder(powder_kg),
            f"Write {_up(least)} or more; {low:.2f} to {high:.2f} is usual.",
            name=name,
            value=ratio,
            limit=least,
        )


def foam_brought_it(total: float, slurry: float, powder_kg: float, total_for: Callable[[float], float]) -> None:
    """Refuse a ratio of all water of which the foam has brought too much for the slurry to be mixed.

    Parameters
    ----------
    total, slurry : water / cement of all, and of the slurry.
    powder_kg : cement, fly ash and lime for each kilogram of cement.
    total_for : the total for a slurry ratio.
    """
    least = LEAST_SLURRY_WATER * powder_kg
    if not least - SPECK <= slurry < math.inf:
        left = f"{slurry:.2f}" if slurry > 0 else "nothing"
        raise OutOfRange(
            f"water_cement {total:g} leaves {left} for the slurry, too dry to mix: the foam brings "
            f"{total - slurry:.2f}" + _of_powder(powder_kg),
            f"Write water_cement of {_up(total_for(least))} or more, or take drier foam or a heavier mix.",
            name="water_cement",
            value=slurry,
            limit=least,
        )


def check_foam(density_kg_m3: float) -> None:
    """Refuse what cannot be the density of a foam."""
    if not 0 < density_kg_m3 < WATER_KG_M3:
        raise OutOfRange(
            f"foam of {density_kg_m3:g} g/L is not foam: foam is lighter than water and heavier than nothing",
            name="foam_density",
            value=density_kg_m3,
            limit=0 if density_kg_m3 <= 0 else WATER_KG_M3,
            unit="g/L",
            todo="Weigh the foam in a known container; 90 to 100 g/L is usual.",
        )


def check_sand_water(moisture: float, brought_kg: float, slurry_water_kg: float) -> None:
    """Refuse sand that no heap is so wet as, or that brings so much water that next to none is left for the tap.

    Parameters
    ----------
    moisture : of its dry mass, a share.
    brought_kg, slurry_water_kg : by the sand, and all the water of the slurry, in a cubic metre of mix.
    """
    if not 0 <= moisture <= WETTEST_SAND:
        raise OutOfRange(
            f"sand of {show_percent(moisture, 1)} water cannot be: so much runs out of a heap",
            f"Dry a sample in a pan, and write what it loses of its dry mass: 0 % to {show_percent(WETTEST_SAND)}.",
            name="moisture",
            value=moisture,
            limit=0 if moisture < 0 else WETTEST_SAND,
        )
    most_kg = (1 - LEAST_TAP_WATER) * slurry_water_kg
    if brought_kg > most_kg * (1 + SPECK):
        raise OutOfRange(
            f"the damp sand brings {brought_kg:.0f} kg of water into a cubic metre, and its slurry takes "
            f"{slurry_water_kg:.0f} kg in all, {show_percent(LEAST_TAP_WATER)} of it at the least from the tap",
            "Let the sand dry, or take less of it or more water.",
            name="moisture",
            value=brought_kg,
            limit=most_kg,
            unit="kg",
        )


@dataclass(frozen=True)
class Density:
    """An asked density, the two, both out of reach, between which it must lie, and the key of the asked water."""

    name: str
    value: float
    above: float
    under: float
    water: str

    def check_cement(self, cement_kg: float) -> None:
        """Refuse a mix without cement."""
        if not 0 < cement_kg < math.inf:
            raise OutOfRange(
                f"{self.name} {self.value:g} kg/m3 leaves no room for cement: foam alone fills the whole volume",
                name=self.name,
                value=self.value,
                limit=self.above,
                unit="kg/m3",
                todo=f"Raise {self.name} to above {math.ceil(self.above)} kg/m3.",
            )

    def check_foam(self, foam_m3: float) -> None:
        """Refuse a mix without foam."""
        if foam_m3 <= 0:
            full = "cement and slurry water fill" if self.water == "slurry_water_cement" else "cement and water fill"
            raise OutOfRange(
                f"{self.name} {self.value:g} kg/m3 leaves no room for foam: {full} the volume",
                name=self.name,
                value=self.value,
                limit=self.under,
                unit="kg/m3",
                todo=f"Lower {self.name} to under {math.floor(self.under)} kg/m3, or lower {self.water}.",
            )


def _of_powder(powder_kg: float) -> str:
    """Where fly ash or lime want water too, say so."""
    return "" if powder_kg == 1 else "; fly ash and lime want water as cement does"


def _up(ratio: float) -> str:
    """To two digits after the point, upwards, so that what is written is enough."""
    return f"{math.ceil(ratio * 100 - 1e-7) / 100:.2f}"
