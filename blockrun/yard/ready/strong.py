"""Whether the cubes of a batch hold its blocks back, or let them come sooner, where a strength is asked for."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

from blockrun.cure.thumb import SOONEST
from blockrun.errors import BadInput, OutOfRange

if TYPE_CHECKING:
    from blockrun.cure import Reckoner
    from blockrun.planner.ages import Ages
    from blockrun.yard.now import BatchNo
    from blockrun.yard.ready.cubes import CubeSet, RecordedCubes

_OLD_ENOUGH: Final = 0.5
"""Share of the age asked for from which on cubes that are behind hold blocks back (our choice)."""


@dataclass(frozen=True)
class Told:
    """What the cubes of a batch tell of a strength.

    Attributes
    ----------
    cubes : the set that was crushed last.
    holds : they are too weak.
    age_h : hours at 20 degC from which blocks of the batch surely have the strength, where that is sooner than
        reckoned; else None.
    """

    cubes: CubeSet
    holds: bool
    age_h: float | None


class Strong:
    """What cubes tell of blocks.

    Parameters
    ----------
    ages : of the site, by all cubes.
    cubes : as recorded.
    """

    def __init__(self, ages: Ages, cubes: RecordedCubes) -> None:
        self._ages, self._cubes = ages, cubes
        self._sure = ages.site.curing.sure

    def told(self, batch: BatchNo, asked_mpa: float, due_h: float) -> Told | None:
        """What the cubes of a batch tell of a strength; None where none of it was crushed.

        Parameters
        ----------
        asked_mpa, due_h : the strength, and when it is reckoned to be there.
        """
        cubes = self._cubes.last_of(batch)
        if cubes is None:
            return None
        if cubes.weakest_mpa < asked_mpa:
            return Told(cubes, cubes.age_h >= due_h or self._behind(cubes, due_h), None)
        surely = cubes.weakest_mpa * self._margin(cubes) >= asked_mpa
        sooner_h = max(cubes.age_h, SOONEST * due_h)
        return Told(cubes, holds=False, age_h=sooner_h if surely and sooner_h < due_h else None)

    def _behind(self, cubes: CubeSet, due_h: float) -> bool:
        """Whether they are weaker than as many cubes of their age as the site asks for, where cubes tell that."""
        density = self._ages.densities_kg_m3.get(cubes.mix)
        if density is None or cubes.age_h < _OLD_ENOUGH * due_h:
            return False
        try:
            return cubes.weakest_mpa < self._reckoner.strength_at_least(density, cubes.age_h, cubes.mix)
        except (BadInput, OutOfRange):
            return False

    def _margin(self, cubes: CubeSet) -> float:
        """What a cube that stands for as many as the site asks for has, as a share of the one in the middle."""
        density = self._ages.densities_kg_m3.get(cubes.mix)
        if density is None:
            return 0.0
        try:
            fit = self._reckoner.fit(cubes.mix, density)
        except BadInput:
            return 0.0
        sure, middle = (float(fit.strength_mpa(density, cubes.age_h / 24, share)) for share in (self._sure, 0.5))
        return min(1.0, sure / middle)

    @cached_property
    def _reckoner(self) -> Reckoner:
        from blockrun.cure import Reckoner

        return Reckoner(self._ages.site.curing, self._ages.site.units)
