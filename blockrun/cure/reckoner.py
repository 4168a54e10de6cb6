"""What the cubes of a site tell, ready to be asked; the law is fitted, and scipy imported, at the first question."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.cure.fit import Fit
    from blockrun.cure.reckoning import Reckoned
    from blockrun.site import Curing


class Reckoner:
    """Ages and densities for strengths, by the cubes of a site and as sure as it asks to be.

    Parameters
    ----------
    curing : names the cubes, the rule of ages, the curve, and the share of cubes that are to be stronger.
    """

    def __init__(self, curing: Curing) -> None:
        self._curing = curing

    @cached_property
    def fit(self) -> Fit:
        """The strength law of the cubes; raises BadInput where they are too few or contradict each other."""
        from blockrun.cure.fit import fit_of

        return fit_of(self._curing)

    def hours_for(self, strength_mpa: float, density_kg_m3: float) -> Reckoned:
        """Equivalent age at which blocks of a dry density have a strength; raises OutOfRange outside the cubes."""
        from blockrun.cure.reckoning import hours_for

        return hours_for(self.fit, strength_mpa, density_kg_m3, self._curing.sure)

    def density_for(self, strength_mpa: float) -> float:
        """Dry density of which blocks have a strength at 28 days at 20 degC; raises OutOfRange outside the cubes."""
        from blockrun.cure.reckoning import density_for

        return density_for(self.fit, strength_mpa, sure=self._curing.sure)
