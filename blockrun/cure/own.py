"""Which cubes tell the strength of a mix: its own where they reach as far as it takes, else all of the yard's.

Cement, water and sand make a mix stronger or weaker at one density, so a mix is best told by its own cubes. They are
enough where a law can be fitted to them, as young and as old as those of the whole yard, and of the density of the mix.
Were they fewer, all cubes would still tell more; which then stand in, and what to cast, is said in words.

Importing this file imports scipy; `blockrun.cure` does not.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.cure.curves import STRENGTH_DAY, curve_of
from blockrun.cure.fit import AGE_SPAN, DENSITY_SPAN, LEAST_TESTS, Crushed, law_of, least_tests
from blockrun.cure.rates import rule_of
from blockrun.cure.reckoning import SLACK, about, span_of
from blockrun.units import show

if TYPE_CHECKING:
    from blockrun.site import Curing

_AS_YOUNG: Final = 2.0
"""Times the age of the youngest cube of all that a mix's own youngest may have (our choice)."""


@dataclass(frozen=True)
class Lack:
    """Why a mix's own cubes do not tell its strength alone, and which to cast so that they do."""

    what: str
    todo: str


@dataclass(frozen=True)
class OwnCubes:
    """The cubes of one mix beside all of the yard.

    Attributes
    ----------
    mix : its name.
    own : its cubes; there may be none.
    every : all cubes, at least one.
    least : fewest of its own that a law is fitted to.
    tells_density : whether they differ so much in density that the law has an exponent.
    """

    mix: str
    own: Crushed
    every: Crushed
    least: int
    tells_density: bool

    @classmethod
    def of(cls, mix: str, curing: Curing) -> OwnCubes:
        """Those of a site that names cubes."""
        tests, rule = curing.cubes.tests if curing.cubes else (), rule_of(curing)
        own = Crushed.of([cube for cube in tests if cube.mix == mix], rule)
        if not len(own):
            return cls(mix, own, Crushed.of(tests, rule), LEAST_TESTS, False)
        law = law_of(own, curve_of(curing.strength_curve, curing.hardening))
        return cls(mix, own, Crushed.of(tests, rule), least_tests(law), law.fits_density)

    def lack(self, density_kg_m3: float | None, units: str) -> Lack | None:
        """What its own cubes lack to tell its strength; None where they are enough, or where all cubes are its own.

        Parameters
        ----------
        density_kg_m3 : dry density of the mix; None where that is what cubes are to tell.
        units : in which densities are said, ``SI`` or ``US``.
        """
        if len(self.own) == len(self.every):
            return None
        what = self._few or self._ages or self._densities(density_kg_m3, units)
        return Lack(what, self._todo(density_kg_m3, units)) if what else None

    @property
    def _few(self) -> str:
        n, every = len(self.own), len(self.every)
        if not n:
            return f"none of the {every} cubes is of {self.mix}"
        if n >= self.least:
            return ""
        are = "is" if n == 1 else "are"
        return f"only {n} of the {every} cubes {are} of {self.mix}, and {self.least} are the least"

    @property
    def _ages(self) -> str:
        youngest, oldest = span_of(self.own.age_d)
        reach = youngest <= _AS_YOUNG * self._young_d and oldest >= self._old_d * (1 - SLACK)
        if reach and (self.own.spans(self.own.age_d, AGE_SPAN) or not self.every.spans(self.every.age_d, AGE_SPAN)):
            return ""
        ours, all_ages = _from_to(youngest, oldest), _from_to(*span_of(self.every.age_d))
        return f"cubes of {self.mix} were tested {ours}, and all of them {all_ages}"

    def _densities(self, density_kg_m3: float | None, units: str) -> str:
        lightest, heaviest = span_of(self.own.density_kg_m3)
        least, most = (show(round(density), "density", units) for density in (lightest, heaviest))
        span = f"{least.rpartition(' ')[0]} to {most} dry"
        if density_kg_m3 is None:
            return "" if self.tells_density else f"cubes of {self.mix} have {span}, which is near one density"
        if not lightest * (1 - SLACK) <= density_kg_m3 <= heaviest * (1 + SLACK):
            return f"cubes of {self.mix} have {span}, and the mix {show(round(density_kg_m3), 'density', units)}"
        if not self.tells_density and density_kg_m3 < self._least_told:
            return f"cubes of {self.mix} have {span}, which is near one density, and the mix is lighter than most"
        return ""

    def _todo(self, density_kg_m3: float | None, units: str) -> str:
        young, old = (about(24 * age_d) for age_d in (self._young_d, max(self._young_d, self._old_d)))
        ages = young if young == old else f"{young} and {old}"
        if density_kg_m3 is None:
            return f"Cast {self.mix} at three densities, and test three cubes of each at {ages}."
        cast = f"Cast six cubes of {self.mix}, {show(round(self._to_cast(density_kg_m3)), 'density', units)} dry"
        return f"{cast}, and test {'them' if young == old else 'three each'} at {ages}."

    @property
    def _least_told(self) -> float:
        """Lightest mix that its own cubes tell, where they do not tell how strength goes with density."""
        return float(self.own.density_kg_m3.mean()) * (1 - SLACK)

    def _to_cast(self, density_kg_m3: float) -> float:
        """Density of further cubes: that of the mix, or so far from the heaviest that they tell what density does."""
        if not len(self.own) or self.tells_density or density_kg_m3 >= self._least_told:
            return density_kg_m3
        return min(density_kg_m3, float(self.own.density_kg_m3.max()) / DENSITY_SPAN - 1)

    @property
    def _young_d(self) -> float:
        return float(self.every.age_d.min())

    @property
    def _old_d(self) -> float:
        return min(float(self.every.age_d.max()), float(STRENGTH_DAY))


def _from_to(youngest_d: float, oldest_d: float) -> str:
    young, old = about(24 * youngest_d), about(24 * oldest_d)
    return f"at {young}" if young == old else f"from {young} to {old}"
