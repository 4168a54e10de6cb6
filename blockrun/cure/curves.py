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

LEAST_K_A_DAY, MOST_K_A_DAY = 1e-4, 100.0
"""A block with half its last strength in 27 years, or within a quarter of an hour, is none (our choice)."""


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

    def odd(self, shape: float) -> str:
        """Say in what way blocks do not gain strength like this; empty for a shape that they may have."""
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

    def odd(self, shape: float) -> str:
        """Strength grows with age for s above nought."""
        return "" if shape > 0 else "older blocks would be weaker"


@dataclass(frozen=True)
class Hyperbola:
    """k t / (1 + k t) over the same at 28 days; its shape is the logarithm of k, so that k stays above nought."""

    usual: float = float(np.log(HYPERBOLA_K_A_DAY))

    def log_share(self, t_days: Floats, shape: float) -> Floats:
        """Give ln(t/28) - ln((1 + k t)/(1 + 28 k)); no k is too large or too small for it."""
        log_t, log_28 = np.log(t_days), np.log(STRENGTH_DAY)
        share: Floats = log_t - log_28 - np.logaddexp(0, shape + log_t) + np.logaddexp(0, shape + log_28)
        return share

    def slope(self, t_days: Floats, shape: float) -> Floats:
        """Give 28 k/(1 + 28 k) - k t/(1 + k t)."""
        at_28, at_t = (np.exp(-np.logaddexp(0, -shape - np.log(days))) for days in (STRENGTH_DAY, t_days))
        slope: Floats = at_28 - at_t
        return slope

    def odd(self, shape: float) -> str:
        """Least squares of what is no hyperbola at all run to a k without end, either way."""
        if shape > np.log(MOST_K_A_DAY):
            return "older blocks would be no stronger"
        return "" if shape > np.log(LEAST_K_A_DAY) else "strength would grow by the day without end"


def curve_of(name: str, hardening: str) -> Curve:
    """The curve a site names: ``EN``, at first slow, normal or rapid, or ``hyperbola``."""
    return Hyperbola() if name == "hyperbola" else EuropeanCurve(HARDENING[hardening])
