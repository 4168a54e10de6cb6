"""Foaming agent in water, made up by the full tank."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

if TYPE_CHECKING:
    from blockrun.site import FoamGenerator

SPECK_L: Final = 1e-6
"""So little beyond a full tank is rounding, not dilution."""


@dataclass(frozen=True)
class Tank:
    """A full tank of dilution, and what goes into it. Volumes of agent and water are taken to add up."""

    volume_l: float
    agent_l: float

    @property
    def water_l(self) -> float:
        """Water to fill up with."""
        return self.volume_l - self.agent_l

    def fillings(self, dilution_l: float) -> int:
        """Full tanks, begun ones counted whole, for so many litres of dilution; the last leaves the rest."""
        return max(0, math.ceil((dilution_l - SPECK_L) / self.volume_l))

    def batches(self, dilution_l: float) -> int:
        """So many batches, each of so many litres of dilution, a full tank does; it is to be filled after them."""
        return math.floor((self.volume_l + SPECK_L) / dilution_l)


def tank_of(generator: FoamGenerator) -> Tank | None:
    """The tank of a foam generator; None where dilution is made up by the batch."""
    if generator.tank_l is None:
        return None
    return Tank(generator.tank_l, generator.tank_l * generator.agent_share)
