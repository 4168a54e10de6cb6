"""What the cubes of a site tell, ready to be asked; the law is fitted, and scipy imported, at the first question."""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.cure.fit import Fit
    from blockrun.cure.own import Lack, OwnCubes
    from blockrun.cure.reckoning import Reckoned
    from blockrun.site import Curing


class Reckoner:
    """Ages and densities for strengths, by the cubes of a site and as sure as it asks to be.

    A mix is told by its own cubes where they are enough (`blockrun.cure.own`), else by all of them.

    Parameters
    ----------
    curing : names the cubes, the rule of ages, the curve, and the share of cubes that are to be stronger.
    units : in which refusals say strengths and densities, ``SI`` or ``US``.
    """

    def __init__(self, curing: Curing, units: str) -> None:
        self._curing, self._units = curing, units
        self._fits: dict[str, Fit] = {}
        self._own: dict[str, OwnCubes] = {}

    @cached_property
    def mixes(self) -> frozenset[str]:
        """Names of mixes that cubes are of."""
        cubes = self._curing.cubes
        return frozenset(cube.mix for cube in cubes.tests if cube.mix) if cubes else frozenset()

    def fit(self, mix: str = "", density_kg_m3: float | None = None) -> Fit:
        """The law that tells the strength of a mix, or that of all cubes; BadInput where they are too few or at odds.

        Parameters
        ----------
        mix : its name.
        density_kg_m3 : its dry density; None where that is what cubes are to tell.
        """
        of = mix if mix in self.mixes and self.lack(mix, density_kg_m3) is None else ""
        if of not in self._fits:
            from blockrun.cure.fit import fit_of

            self._fits[of] = fit_of(self._curing, of)
        return self._fits[of]

    def lack(self, mix: str, density_kg_m3: float | None) -> Lack | None:
        """What a mix's own cubes lack to tell its strength alone; None where they are enough, or cubes name no mix."""
        if not self.mixes:
            return None
        if mix not in self._own:
            from blockrun.cure.own import OwnCubes

            self._own[mix] = OwnCubes.of(mix, self._curing)
        return self._own[mix].lack(density_kg_m3, self._units)

    def hours_for(self, strength_mpa: float, density_kg_m3: float, mix: str = "") -> Reckoned:
        """Equivalent age at which blocks of a dry density have a strength; raises OutOfRange outside the cubes."""
        from blockrun.cure.reckoning import hours_for

        fit = self.fit(mix, density_kg_m3)
        return hours_for(fit, strength_mpa, density_kg_m3, self._curing.sure, units=self._units)

    def density_for(self, strength_mpa: float, mix: str = "") -> float:
        """Dry density of which blocks have a strength at 28 days at 20 degC; raises OutOfRange outside the cubes."""
        from blockrun.cure.reckoning import density_for

        return density_for(self.fit(mix), strength_mpa, sure=self._curing.sure, units=self._units)

    def strength_at_least(self, density_kg_m3: float, age_h: float, mix: str = "") -> float:
        """Strength in MPa of blocks of a dry density at an equivalent age; raises OutOfRange outside the cubes."""
        from blockrun.cure.reckoning import strength_at_least

        fit = self.fit(mix, density_kg_m3)
        return strength_at_least(fit, density_kg_m3, age_h, self._curing.sure, units=self._units)
