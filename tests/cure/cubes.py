"""Invented cubes: every number made up, about what light neat-cement foam bears."""

from __future__ import annotations

import math
from collections.abc import Sequence
from random import Random

from blockrun.site import Cube

AT = tuple((density, days) for density in (500.0, 600.0, 750.0) for days in (1.0, 3.0, 7.0, 28.0))


def law(density, days, a=4.0, b=2.2, s=0.38):
    """Strength in MPa by a power of the density and the curve of EN 1992-1-1, as plain as it can be written."""
    return a * (density / 1000) ** b * math.exp(s * (1 - math.sqrt(28 / days)))


def hyperbola(days, k):
    """Strength over that at 28 days by the hyperbola, as plain as it can be written."""
    return (k * days / (1 + k * days)) / (28 * k / (1 + 28 * k))


def cubes(at: Sequence[tuple[float, float]] = AT, scatter=0.0, seed=1, times=1, strength=law) -> list[Cube]:
    """Cubes of (dry density, days at 20 degC), each off the law by a share drawn from a normal spread."""
    rng = Random(seed)
    return [
        Cube(density, strength(density, days) * math.exp(rng.gauss(0, scatter)), equivalent_age_h=24 * days)
        for density, days in tuple(at) * times
    ]
