"""How much cooler than its mean a block is at its surface and its corners, for each degree the mean is over the air.

A block that gives off heat evenly and loses it through all its faces settles to one shape of warmth. The worse it
conducts, the nearer its surface and its corners are to the air.
"""

from __future__ import annotations

import math
from typing import Final, NamedTuple

import numpy as np

from blockrun.cure.air import Floats

_TERMS: Final = 24
_HALVINGS: Final = 60


class Shape(NamedTuple):
    """How far parts of a block are over the air, for each degree that its mean is."""

    surface: float
    corner: float


def shape_of(sides_m: tuple[float, float, float], loss_w_m2k: float, conductivity_w_mk: float) -> Shape:
    """The shape of warmth of a block.

    Parameters
    ----------
    sides_m : length, height and thickness, > 0; an endless one makes a slab or a bar of it.
    loss_w_m2k : what a square metre of its faces lets through for each degree, alike on all of them, >= 0.
    conductivity_w_mk : of the block, > 0; endless for one of one temperature.

    Returns
    -------
    Mean of the surface, and corner, over the air, for each degree that the mean is.

    Source
    ------
    Conduction with even heat and Newton's cooling, as a series of products of cosines (textbook); checked against
    finite differences in tests/published/test_warmth_in_a_block.py.
    """
    if not loss_w_m2k or math.isinf(conductivity_w_mk):
        return Shape(1.0, 1.0)
    halves = np.array([side / 2 for side in sides_m])
    roots = np.array([_roots(loss_w_m2k * half / conductivity_w_mk) for half in halves])  # (3, terms)
    sines, cosines = np.sin(roots), np.cos(roots)
    even = 2 * sines / (roots + sines * cosines)
    along, across, through = np.ix_(*(roots / halves[:, np.newaxis]) ** 2)
    curved = along + across + through
    mean, corner = (float(np.sum(math.prod(np.ix_(*(even * part))) / curved)) for part in (sines / roots, cosines))
    area = sum(2 / side for side in sides_m)  # of a cubic metre
    surface = conductivity_w_mk / (loss_w_m2k * area)
    return Shape(surface / mean, corner / mean)


def _roots(biot: float) -> Floats:
    """The first roots of z tan z = biot, one in each stretch from n pi to n pi + pi / 2; by halving."""
    low = np.pi * np.arange(_TERMS)
    high = low + np.pi / 2
    for _ in range(_HALVINGS):
        half = (low + high) / 2
        over = half * np.sin(half) * np.where(np.arange(_TERMS) % 2, -1, 1) > biot * np.abs(np.cos(half))
        low, high = np.where(over, low, half), np.where(over, half, high)
    return (low + high) / 2
