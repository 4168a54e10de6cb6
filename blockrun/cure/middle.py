"""How hot the middle of a cast gets: cells of it, each warmed by its own cement and cooled by its neighbours.

The middle of a thick cast keeps its heat for days, sets the faster for it, and gets hotter still, so its warmth does
not follow from that of the whole. What lies between it and the air matters as well: a cover keeps in what walls let go.
"""

from __future__ import annotations

import itertools
from typing import Final

import numpy as np

from blockrun.cure.air import Floats
from blockrun.cure.heat import STEP_MIN, Cast, Ends
from blockrun.cure.hydration import Hydrating

BOILING_C: Final = 100.0
"""Wet concrete gets no hotter: its water would boil off."""

_CELLS: Final = 5
"""Cells across half a side; more change the middle by less than a degree."""


def hottest_c(cast: Cast, air_c: Floats, fresh_c: Floats) -> Floats:
    """How hot casts get where they get hottest.

    Parameters
    ----------
    cast : of a conductivity that is not endless.
    air_c : shape (n_steps + 1, n_pours): the air at each quarter of an hour from the pour on.
    fresh_c : shape (n_pours,): the mix as it is poured.

    Returns
    -------
    Shape (n_pours,), in degC, at most 100. It is 0 to 2 K cooler than finite differences of finer cells and steps, for
    blocks, slabs and thick cubes in plywood, steel and polystyrene, covered or bare, as
    tests/published/test_warmth_in_a_block.py checks. A real cast is further from it: its cement is not the usual one,
    and cavities side by side keep one another warmer. Over 80 degC the cement is taken to set no faster than at 80.

    Source
    ------
    Conduction in a box is three conductions along its sides, one after the other (textbook, product solution); between
    steps it is exact for the cells.
    """
    whole = (cast.loss_w_k / cast.area_m2,) * 2
    faces = cast.faces_w_m2k or (whole, whole, whole)
    along, across, up = (_kept(cast, *of) for of in zip(cast.sides_m, faces, strict=True))
    kept: Floats = np.kron(np.kron(along, across), up)
    celsius = np.broadcast_to(fresh_c, (len(kept), len(fresh_c)))
    cement = Hydrating(cast.cement, celsius.shape, STEP_MIN / 60)
    hottest: Floats = celsius.max(axis=0)
    for before, after in itertools.pairwise(air_c):
        air = (before + after) / 2
        half_k = cast.adiabatic_rise_k * cement.step(celsius) / 2
        celsius = np.minimum(air + kept @ (celsius - air + half_k) + half_k, BOILING_C)
        hottest = np.maximum(hottest, celsius.max(axis=0))
    return hottest


def _kept(cast: Cast, side_m: float, ends: Ends) -> Floats:
    """What each cell along a side has, a step later, of what each had over the air; of half a side where it mirrors."""
    cell_m, conducts, mirrored = side_m / (2 * _CELLS), cast.conductivity_w_mk, ends[0] == ends[1]
    n = _CELLS if mirrored else 2 * _CELLS
    lost = [loss / (1 + loss * cell_m / (2 * conducts)) for loss in ends]  # from the middle of a cell to the air
    between = np.full(n - 1, conducts / cell_m)
    away = np.append(between, lost[1]) + np.append(0.0 if mirrored else lost[0], between)
    flow = np.diag(away) - np.diag(between, 1) - np.diag(between, -1)
    rates, modes = np.linalg.eigh(flow / (cell_m * cast.capacity_j_m3k))
    kept: Floats = (modes * np.exp(-rates * STEP_MIN * 60)) @ modes.T
    return kept
