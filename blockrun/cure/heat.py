"""The warmth of a block in its mould: what its cement gives off, and what walls and cover let go.

::

    density x c x dT/dt  =  cement x heat x d(degree)/dt  -  loss x (T - air)

One temperature stands for the whole block, its mean. Foamed concrete conducts badly: its surface is cooler than the
mean, and its corners are nearly as cold as the air. `blockrun.cure.shape` tells how far. A corner breaks first, so a
block is as old as its corner. How hot the middle gets is no matter of the mean: `blockrun.cure.middle` tells that.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass
from functools import cached_property
from typing import Final

import numpy as np

from blockrun.cure.air import Floats
from blockrun.cure.hydration import CementHeat, Hydrating, ultimate_degree
from blockrun.cure.rates import HOTTEST_C, AgeRule
from blockrun.cure.shape import Shape, shape_of

STEP_MIN: Final = 15
"""Minutes of a step, and between the pours looked at."""

_SOLID_J_KGK: Final = 750.0
_WATER_J_KGK: Final = 4186.0
"""Heat capacities of what is dry and of water (from memory)."""

Ends = tuple[float, float]
"""What a square metre of the two faces across one side lets through for each degree: the lower first, W/m2K."""


@dataclass(frozen=True)
class Cast:
    """What fills one cavity, and how it loses its warmth.

    Parameters
    ----------
    sides_m : length, height and thickness of the block.
    loss_w_k : watts that walls and cover let through for each degree between block and air.
    cement_kg_m3, water_kg_m3, other_kg_m3 : in a cubic metre of the mix, foam and its water included.
    cement : how it warms up.
    conductivity_w_mk : of the mix; endless for a block of one temperature.
    faces_w_m2k : across length, height and thickness, adding up to ``loss_w_k``; all alike unless told.
    """

    sides_m: tuple[float, float, float]
    loss_w_k: float
    cement_kg_m3: float
    water_kg_m3: float
    cement: CementHeat
    other_kg_m3: float = 0.0
    conductivity_w_mk: float = math.inf
    faces_w_m2k: tuple[Ends, Ends, Ends] | None = None

    @property
    def capacity_j_m3k(self) -> float:
        """Heat that warms a cubic metre by a degree."""
        return (self.cement_kg_m3 + self.other_kg_m3) * _SOLID_J_KGK + self.water_kg_m3 * _WATER_J_KGK

    @property
    def adiabatic_rise_k(self) -> float:
        """How much warmer it would get, were nothing lost."""
        ultimate = ultimate_degree(self.water_kg_m3 / self.cement_kg_m3) if self.cement_kg_m3 else 0.0
        return 1000 * self.cement_kg_m3 * self.cement.heat_j_g * ultimate / self.capacity_j_m3k

    @property
    def volume_m3(self) -> float:
        """Of the block."""
        return math.prod(self.sides_m)

    @property
    def area_m2(self) -> float:
        """Of all its sides, base and top."""
        return 2 * sum(one * other for one, other in itertools.combinations(self.sides_m, 2))

    @cached_property
    def shape(self) -> Shape:
        """Where in it it is warm, as if all its faces let through as much as they do in the mean."""
        return shape_of(self.sides_m, self.loss_w_k / self.area_m2, self.conductivity_w_mk)

    def corner_c(self, mean_c: Floats, air_c: Floats) -> Floats:
        """How warm a corner is; no warmer than the mean where the mix is colder than the air, for it was poured so."""
        return np.minimum(mean_c, air_c + (mean_c - air_c) * self.shape.corner)

    @property
    def time_constant_h(self) -> float:
        """Hours in which what it is over the air falls to a part in e; endless where nothing is lost."""
        lost = self.loss_w_k * self.shape.surface
        return self.capacity_j_m3k * self.volume_m3 / lost / 3600 if lost else math.inf


@dataclass(frozen=True)
class Warmth:
    """Temperatures of casts poured at several moments, step by step.

    Attributes
    ----------
    mean_c : shape (n_steps + 1, n_pours), from the pour on.
    corner_c : likewise; what is coldest.
    """

    mean_c: Floats
    corner_c: Floats


def warmth(cast: Cast, air_c: Floats, fresh_c: Floats, step_min: float = STEP_MIN) -> Warmth:
    """How warm casts get.

    Parameters
    ----------
    air_c : shape (n_steps + 1, n_pours): the air at the beginning of each step from the pour on, and at the end.
    fresh_c : shape (n_pours,): the mix as it is poured.
    step_min : minutes of a step.
    """
    run = Run(cast, fresh_c, step_min)
    means = [run.mean_c]
    for before, after in itertools.pairwise(air_c):
        means.append(run.step((before + after) / 2))
    mean = np.array(means)
    return Warmth(mean, cast.corner_c(mean, air_c))


class Run:
    """Casts that are followed together, step by step."""

    def __init__(self, cast: Cast, fresh_c: Floats, step_min: float = STEP_MIN) -> None:
        self.mean_c: Floats = np.array(fresh_c, dtype=np.float64)
        self._cement = Hydrating(cast.cement, self.mean_c.shape, step_min / 60)
        self._rise_k = cast.adiabatic_rise_k
        steps = step_min / 60 / cast.time_constant_h
        self._kept = math.exp(-steps)
        self._warms = (1 - self._kept) / steps if steps else 1.0

    def step(self, air_c: Floats) -> Floats:
        """Mean temperatures a step later, with the air between; cooling is exact, heat comes evenly over the step."""
        warmed_k = self._rise_k * self._cement.step(self.mean_c) * self._warms
        self.mean_c = air_c + (self.mean_c - air_c) * self._kept + warmed_k
        return self.mean_c

    def keep(self, which: slice) -> None:
        """Follow only some of the casts further."""
        self.mean_c = self.mean_c[which]
        self._cement.keep(which)


def ripe_min(cast: Cast, air_c: Floats, fresh_c: Floats, rule: AgeRule, age_h: float) -> Floats:
    """When the corners of a cast are of an age, by when it was poured.

    Parameters
    ----------
    air_c : shape (n_air,): the air at each quarter of an hour from minute 0 on.
    fresh_c : shape (n_pours,), under n_air: the mix, poured at each quarter of an hour from minute 0 on.
    rule : how fast blocks age.
    age_h : hours at 20 degC.

    Returns
    -------
    Shape (n_pours,): minutes since minute 0 at which a cast poured at each quarter of an hour has that age; never
    sooner than one poured before it, and endless where the air given does not last.
    """
    n = len(fresh_c)
    run, aged_h, ripe = Run(cast, fresh_c), np.zeros(n), np.full(n, np.inf)
    corner_c = cast.corner_c(fresh_c, air_c[:n])
    first = 0  # of those still followed
    for step in range(len(air_c) - 1):
        last = min(n, len(air_c) - 1 - step)
        start, end = air_c[first + step : last + step], air_c[first + step + 1 : last + step + 1]
        run.keep(slice(0, len(start)))
        aged_h, corner_c = aged_h[: len(start)], corner_c[: len(start)]
        mean_c = run.step((start + end) / 2)
        after_c = cast.corner_c(mean_c, end)
        gained_h = (_rate(rule, corner_c) + _rate(rule, after_c)) / 2 * STEP_MIN / 60
        now = (aged_h < age_h) & (aged_h + gained_h >= age_h)
        at = first + np.nonzero(now)[0]
        ripe[at] = STEP_MIN * (at + step + (age_h - aged_h[now]) / gained_h[now])
        aged_h, corner_c = aged_h + gained_h, after_c
        done = int(np.argmax(np.append(aged_h < age_h, True)))
        if done == len(aged_h):
            break
        if done:
            run.keep(slice(done, None))
            aged_h, corner_c, first = aged_h[done:], corner_c[done:], first + done
    return np.maximum.accumulate(ripe)


def _rate(rule: AgeRule, celsius: Floats) -> Floats:
    return rule(np.minimum(celsius, HOTTEST_C))
