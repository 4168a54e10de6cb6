"""How much heat a cement gives off, and how soon."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

import numpy as np
import numpy.typing as npt

from blockrun.cure.air import Floats
from blockrun.cure.rates import HOTTEST_C, arrhenius_rate
from blockrun.errors import OutOfRange

REFERENCE_C: Final = 21.1
"""Temperature at which tau is told (Schindler and Folliard, from memory)."""


def ultimate_degree(water_cement: float) -> float:
    """Share of a cement that ever hydrates.

    Parameters
    ----------
    water_cement : total water over cement by mass, 0.2 to 5.

    Returns
    -------
    1.031 w / (0.194 + w), 0.52 to 0.993.

    Raises
    ------
    OutOfRange : the argument is outside the limits above.

    Source
    ------
    Mills (1966), formula from memory.
    """
    if not 0.2 <= water_cement <= 5:
        raise OutOfRange(
            "water over cement is outside 0.2 to 5", "Check the water of the mix.",
            name="water_cement", value=water_cement, limit=0.2 if water_cement < 0.2 else 5,
        )  # fmt: skip
    return 1.031 * water_cement / (0.194 + water_cement)


@dataclass(frozen=True)
class CementHeat:
    """How a cement warms up.

    Parameters
    ----------
    heat_j_g : heat of all of it, J/g.
    tau_h : age at 21.1 degC by which 37 % of what ever hydrates has done so, in hours.
    beta : how sudden it is.
    activation_energy_kj_mol : how much the cold slows it.
    """

    heat_j_g: float
    tau_h: float
    beta: float
    activation_energy_kj_mol: float

    @classmethod
    def of(
        cls, *, c3s: float, c2s: float, c3a: float, c4af: float, so3: float, lime: float = 0.01,
        magnesia: float = 0.02, blaine_m2_kg: float,
    ) -> CementHeat:  # fmt: skip
        """A cement of this make.

        Parameters
        ----------
        c3s, c2s, c3a, c4af, so3, lime, magnesia : shares of the mass, 0 to 1; lime is free CaO.
        blaine_m2_kg : fineness.

        Source
        ------
        Schindler and Folliard, ACI Materials Journal 102-M04 (2005); coefficients from memory.
        tests/published/test_hydration.py checks what can be checked.
        """
        return cls(
            heat_j_g=500 * c3s + 260 * c2s + 866 * c3a + 420 * c4af + 624 * so3 + 1186 * lime + 850 * magnesia,
            tau_h=66.78 * c3a**-0.154 * c3s**-0.401 * blaine_m2_kg**-0.804 * so3**-0.758,
            beta=181.4 * c3a**0.146 * c3s**0.227 * blaine_m2_kg**-0.535 * so3**0.558,
            activation_energy_kj_mol=22.1 * c3a**0.30 * c4af**0.25 * blaine_m2_kg**0.35,
        )

    def degree(self, age_h: npt.ArrayLike, ultimate: float) -> Floats:
        """Share that has hydrated at an age.

        Parameters
        ----------
        age_h : hours at 21.1 degC, >= 0, any shape.
        ultimate : share that ever will, such as :func:`ultimate_degree` gives.
        """
        ages = np.maximum(np.asarray(age_h, dtype=np.float64), 1e-6)
        degree: Floats = ultimate * np.exp(-((self.tau_h / ages) ** self.beta))
        return degree


class Hydrating:
    """Cement that hydrates in many places at once, each at its own temperature.

    Parameters
    ----------
    cement : how it warms up.
    shape : of the places.
    step_h : hours of a step.
    """

    def __init__(self, cement: CementHeat, shape: tuple[int, ...], step_h: float) -> None:
        self._cement = cement
        self._age_h: Floats = np.zeros(shape)
        self.degree: Floats = np.zeros(shape)
        self._a_step_h = step_h / float(self._rate(np.array(REFERENCE_C)))

    def _rate(self, celsius: Floats) -> Floats:
        return arrhenius_rate(np.minimum(celsius, HOTTEST_C), self._cement.activation_energy_kj_mol)

    def step(self, celsius: Floats) -> Floats:
        """Go a step on at these temperatures; how much of what ever hydrates has done so in it, place by place."""
        self._age_h = self._age_h + self._rate(celsius) * self._a_step_h
        before, self.degree = self.degree, self._cement.degree(self._age_h, 1.0)
        return self.degree - before

    def keep(self, which: slice) -> None:
        """Follow only some of the places further."""
        self._age_h, self.degree = self._age_h[which], self.degree[which]


CEMENTS: Final = {
    "slow": CementHeat.of(c3s=0.50, c2s=0.24, c3a=0.06, c4af=0.11, so3=0.027, blaine_m2_kg=340),
    "normal": CementHeat.of(c3s=0.55, c2s=0.18, c3a=0.10, c4af=0.08, so3=0.03, blaine_m2_kg=350),
    "rapid": CementHeat.of(c3s=0.57, c2s=0.14, c3a=0.10, c4af=0.08, so3=0.035, blaine_m2_kg=540),
}
"""Usual makes, from memory: no maker's figures. Those of the sack in hand may be far from them."""
