"""Foaming agent in water, made up in a tank that is filled up before it would run dry, and kept overnight."""

from __future__ import annotations

import math
from collections.abc import Sequence
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

    @property
    def agent_share(self) -> float:
        """Agent in it, by volume."""
        return self.agent_l / self.volume_l

    def fillings(self, dilution_l: float) -> int:
        """Full tanks, begun ones counted whole, for so many litres of dilution; the last leaves the rest."""
        return max(0, math.ceil((dilution_l - SPECK_L) / self.volume_l))

    def batches(self, dilution_l: float) -> int:
        """So many batches, each of so many litres of dilution, a full tank does; it is to be filled after them."""
        return math.floor((self.volume_l + SPECK_L) / dilution_l)

    def filled_for(self, taken_l: Sequence[float], held_l: float = 0.0) -> list[tuple[float, ...]]:
        """Litres filled in for each of some batches, in the order in which they are made.

        Parameters
        ----------
        taken_l : what each takes out of the tank, >= 0.
        held_l : what is in it at first, from 0 to its volume.

        Returns
        -------
        For each batch what is filled in before it, and again while it runs; nothing where what is left is enough.
        The tank is filled to the mark, but never beyond what the last batch leaves empty: what is filled is what is
        taken. What is left in the evening is used the next day.

        Source
        ------
        Our choice.
        """
        to_take_l = math.fsum(taken_l)
        found = []
        for batch_l in taken_l:
            fills, need_l = [], batch_l
            while need_l > held_l + SPECK_L:
                if held_l > self.volume_l - SPECK_L:  # full, and not enough: it is filled again when it has run dry
                    need_l, to_take_l, held_l = need_l - held_l, to_take_l - held_l, 0.0
                fills.append(min(self.volume_l, to_take_l) - held_l)
                held_l += fills[-1]
            held_l, to_take_l = max(0.0, held_l - need_l), to_take_l - need_l
            found.append(tuple(fills))
        return found


def tank_of(generator: FoamGenerator) -> Tank | None:
    """The tank of a foam generator; None where dilution is made up by the batch."""
    if generator.tank_l is None:
        return None
    return Tank(generator.tank_l, generator.tank_l * generator.agent_share)
