"""How strength grows with age, as the least squares of cubes want it: logarithms, and how they change with the shape.

Each curve has one number that says how fast it grows. Strength is told as a share of that at 28 days.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final, Protocol

import numpy as np

from blockrun.cure.air import Floats

SLOW, NORMAL, RAPID = 0.38, 0.25, 0.20
"""Coefficient s of EN 1992-1-1 (3.2) for cement of classes S, N and R; the first is the prudent one at early age
(tests/published/test_strength_with_age.py)."""

STRENGTH_DAY: Final = 28
"""Age in days to which strengths are referred."""

HARDENING: Final = {"slow": SLOW, "normal": NORMAL, "rapid": RAPID}

HYPERBOLA_K_A_DAY: Final = 0.164
"""Unless it is fitted: least squares over the means of open results of plain-cement mixes with no start time; dense
concrete (tests/published/test_strength_with_age.py)."""


class Curve(Protocol):
    """Strength at an age as a share of that at 28 days, by a number for its shape."""

    @property
    def usual(self) -> float:
        """The shape where it cannot be fitted."""
        ...

    def log_share(self, t_days: Floats, shape: float) -> Floats:
        """Natural logarithm of the share at equivalent ages in days, > 0."""
        ...

    def slope(self, t_days: Floats, shape: float) -> Floats:
        """How ``log_share`` changes with the shape."""
        ...

    def rises(self, shape: float) -> bool:
        """Whether strength grows with age."""
        ...


@dataclass(frozen=True)
class EuropeanCurve:
    """beta_cc of EN 1992-1-1:2004 (3.2), exp(s (1 - sqrt(28/t))); its shape is s, and its logarithm linear in it."""

    usual: float = SLOW

    def log_share(self, t_days: Floats, shape: float) -> Floats:
        """Give s (1 - sqrt(28/t))."""
        return shape * self.slope(t_days, shape)

    def slope(self, t_days: Floats, shape: float) -> Floats:
        """Give 1 - sqrt(28/t), whatever s is."""
        return 1 - np.sqrt(STRENGTH_DAY / t_days)

    def rises(self, shape: float) -> bool:
        """True for s above nought."""
        return shape > 0


@dataclass(frozen=True)
class Hyperbola:
    """k t / (1 + k t) over the same at 28 days; its shape is the logarithm of k, so that k stays above nought."""

    usual: float = float(np.log(HYPERBOLA_K_A_DAY))

    def log_share(self, t_days: Floats, shape: float) -> Floats:
        """Give ln(t/28) - ln((1 + k t)/(1 + 28 k))."""
        k = np.exp(shape)
        share: Floats = np.log(t_days / STRENGTH_DAY) - np.log1p(k * t_days) + np.log1p(k * STRENGTH_DAY)
        return share

    def slope(self, t_days: Floats, shape: float) -> Floats:
        """Give 28 k/(1 + 28 k) - k t/(1 + k t)."""
        k = np.exp(shape)
        slope: Floats = k * STRENGTH_DAY / (1 + k * STRENGTH_DAY) - k * t_days / (1 + k * t_days)
        return slope

    def rises(self, shape: float) -> bool:
        """Always true."""
        return True


def curve_of(name: str, hardening: str) -> Curve:
    """The curve a site names: ``EN``, at first slow, normal or rapid, or ``hyperbola``."""
    return Hyperbola() if name == "hyperbola" else EuropeanCurve(HARDENING[hardening])
