"""Strength against dry density and age from the yard's own cubes, with bands, and only as far as the cubes reach.

The law is f = a (density/1000)^b x share(age), fitted as ln f = ln a + b ln(density/1000) + ln share: three numbers at
the most, which a dozen cubes can bear; porous solids follow a power of their density over the narrow span a yard
casts in; and cubes scatter by a share of their strength, so that in logarithms the light ones count as much as the
heavy ones, and no band reaches under nought. A number that the cubes do not tell is not fitted: with one age the shape
of the curve is the usual one, and with near one density there is no b; then none is believed that makes a block
stronger, and a steep one is that makes it weaker.

Importing this file imports scipy; `blockrun.cure` does not.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt
from scipy.optimize import least_squares
from scipy.special import stdtrit

from blockrun.cure.air import Floats
from blockrun.cure.curves import Curve, EuropeanCurve, curve_of
from blockrun.cure.rates import AgeRule, age_rate, rule_of
from blockrun.errors import BadInput

if TYPE_CHECKING:
    from blockrun.site import Cube, Curing

LEAST_TESTS: Final = 6
LEAST_SPARE: Final = 4
"""Tests beyond the numbers fitted. With fewer, the scatter is hardly known and the band would be guesswork (our
choice: at 4 the lower 95 % band is 2.1 deviations down, at 1 it would be 6.3)."""

DENSITY_SPAN: Final = 1.15
AGE_SPAN: Final = 2.0
"""Heaviest over lightest, oldest over youngest, from which on their effect is fitted (our choice)."""

STEEP: Final = 3.0
"""b under the mean density of cubes that do not tell it (our choice: more than cubes of light foam tend to show)."""

_CLEAR: Final = 1e-6
"""Smallest over greatest singular value from which on densities and ages can be told apart."""


@dataclass(frozen=True)
class Crushed:
    """Cubes as rows of equal length, ages as equivalent days at 20 degC."""

    density_kg_m3: Floats
    age_d: Floats
    strength_mpa: Floats

    @classmethod
    def of(cls, cubes: Sequence[Cube], rule: AgeRule) -> Crushed:
        """The cubes, each as old as the rule makes it at the temperature it was kept at."""
        ages_h = [
            (cube.age_h or 0.0) * float(rule(cube.cured_c)) if cube.equivalent_age_h is None else cube.equivalent_age_h
            for cube in cubes
        ]
        return cls(
            np.array([cube.dry_density_kg_m3 for cube in cubes]),
            np.array(ages_h) / 24,
            np.array([cube.strength_mpa for cube in cubes]),
        )

    def __len__(self) -> int:
        """How many."""
        return int(self.age_d.size)

    def spans(self, values: Floats, times: float) -> bool:
        """Whether the greatest of its values is so many times the least."""
        return bool(values.max() >= times * values.min())


@dataclass(frozen=True)
class Law:
    """ln f = ln a + b ln(density/1000) + ln share(age), as a function of the numbers that are fitted.

    Attributes
    ----------
    fits_density, fits_age : whether b and the shape of the curve are among the numbers.
    """

    curve: Curve
    fits_density: bool
    fits_age: bool

    @property
    def start(self) -> Floats:
        """Numbers to start from."""
        density, age = [2.0] * self.fits_density, [self.curve.usual] * self.fits_age
        return np.array([0.0, *density, *age])

    def exponent(self, numbers: Floats) -> float:
        """Give b; nought where it is not fitted."""
        return float(numbers[1]) if self.fits_density else 0.0

    def shape(self, numbers: Floats) -> float:
        """Give the shape of the curve; the usual one where it is not fitted."""
        return float(numbers[-1]) if self.fits_age else self.curve.usual

    def log_mpa(self, numbers: Floats, density_kg_m3: Floats, age_d: Floats) -> Floats:
        """Give ln f."""
        share = self.curve.log_share(age_d, self.shape(numbers))
        log: Floats = numbers[0] + self.exponent(numbers) * np.log(density_kg_m3 / 1000) + share
        return log

    def columns(self, numbers: Floats, density_kg_m3: Floats, age_d: Floats) -> Floats:
        """How ln f changes with each number; shape ``(..., numbers)``."""
        columns = [np.ones_like(density_kg_m3)]
        columns += [np.log(density_kg_m3 / 1000)] if self.fits_density else []
        columns += [self.curve.slope(age_d, self.shape(numbers))] if self.fits_age else []
        return np.stack(columns, axis=-1)


@dataclass(frozen=True)
class Fit:
    """A strength law with the numbers that fit cubes best, and how sure they are.

    Attributes
    ----------
    tests : the cubes it is from; it holds between their lowest and highest density and age.
    law : its form.
    numbers : ln a, then b and the shape of the curve as far as they are fitted; a is the strength at 28 days, MPa, of
        a dry density of 1000 kg/m3, or of that tested where there was but one.
    scatter : standard deviation of ln f about the law.
    unsure : covariance of the numbers over ``scatter`` squared.
    of : the mix whose own cubes they are; empty for all cubes of a yard.
    """

    tests: Crushed
    law: Law
    numbers: Floats
    scatter: float
    unsure: Floats
    of: str = ""

    @property
    def cubes(self) -> str:
        """How many cubes it is from, and of which mix where it is from those alone."""
        return f"{len(self.tests)} cubes{_of(self.of)}"

    @property
    def exponent(self) -> float:
        """Give b, the power of the density that strength goes with."""
        return self.law.exponent(self.numbers)

    def strength_mpa(self, density_kg_m3: npt.ArrayLike, age_d: npt.ArrayLike, sure: float = 0.5) -> Floats:
        """Strength that a share of single cubes passes, by the prediction interval of least squares.

        Parameters
        ----------
        density_kg_m3, age_d : dry density and equivalent age in days, > 0; arrays broadcast.
        sure : share of cubes that are stronger: 0.95 is the lower band, 0.05 the upper, 0.5 the law itself.

        Returns
        -------
        MPa. Nothing is checked here: `blockrun.cure.reckoning` keeps to what the cubes reach.
        """
        density, age = np.broadcast_arrays(np.asarray(density_kg_m3, dtype=float), np.asarray(age_d, dtype=float))
        rows = self.law.columns(self.numbers, density, age)
        spread = np.sqrt(1 + self._unsure_of(rows, rows))
        log_mpa = self.law.log_mpa(self.numbers, density, age) + self._log_lighter(density)
        strength: Floats = np.exp(log_mpa - self._deviations(sure) * spread)
        return strength

    def _log_lighter(self, density_kg_m3: Floats) -> Floats:
        """What a block loses by being lighter than the mean of cubes that do not tell how much that is."""
        if self.law.fits_density:
            return np.zeros_like(density_kg_m3)
        under: Floats = np.minimum(0.0, np.log(density_kg_m3) - np.log(self.tests.density_kg_m3).mean())
        return STEEP * under

    def firmest_kg_m3(self, age_d: Floats, sure: float) -> Floats:
        """Dry density at which the band of an age is highest; endless where it rises all the way, as it should.

        Where cubes hardly tell how strength goes with density, the band sags towards the heaviest of them, whose own
        strength is least known. In x = ln(density/1000) it is b x - k sqrt(m + u (x - x0)^2), and has its top where
        the slope of that is nought.
        """
        deviations = self._deviations(sure)
        if not self.law.fits_density or deviations <= 0:
            return np.full_like(age_d, np.inf)
        rows = self.law.columns(self.numbers, np.full_like(age_d, 1000.0), age_d)  # where x is nought
        slope = np.zeros_like(rows)
        slope[..., 1] = 1
        u, v = self.unsure[1, 1], self._unsure_of(rows, slope)
        bent = deviations**2 * u - self.exponent**2
        if bent <= 0:
            return np.full_like(age_d, np.inf)
        m = 1 + self._unsure_of(rows, rows) - v**2 / u
        top: Floats = 1000 * np.exp(self.exponent * np.sqrt(m / (u * bent)) - v / u)
        return top

    def _unsure_of(self, rows: Floats, others: Floats) -> Floats:
        """Covariance of the law at rows of columns and at others, over ``scatter`` squared."""
        return np.asarray(np.einsum("...i,ij,...j->...", rows, self.unsure, others), dtype=np.float64)

    def _deviations(self, sure: float) -> float:
        """How far under the law the band lies, in units of its spread."""
        return -float(stdtrit(len(self.tests) - self.numbers.size, 1 - sure)) * self.scatter


def fit_of(curing: Curing, mix: str = "") -> Fit:
    """The law of the cubes that a site names, or of those of one mix, by its rule of ages and its curve."""
    if curing.cubes is None:
        raise BadInput(
            "a strength is reckoned from cubes, and the site names none", "Write cubes: cubes.csv.", name="cubes"
        )
    tests = [cube for cube in curing.cubes.tests if mix in ("", cube.mix)]
    return fit_cubes(tests, rule_of(curing), curve_of(curing.strength_curve, curing.hardening), mix)


def fit_cubes(cubes: Sequence[Cube], rule: AgeRule = age_rate, curve: Curve | None = None, of: str = "") -> Fit:
    """Fit a strength law to cubes by least squares.

    Parameters
    ----------
    cubes : six at the least, and four more than there are numbers to fit.
    rule : how fast cubes age that were not kept at 20 degC.
    curve : growth with age; that of EN 1992-1-1 unless told.
    of : the mix whose own cubes they are, for the words.

    Returns
    -------
    The law. Its bands are exact for the EN curve, in whose numbers it is linear; for the hyperbola it is taken as
    straight about its best numbers.

    Raises
    ------
    BadInput : too few cubes; cubes whose density and age go together, so that nobody can tell which of them it was;
        or cubes by which denser or older blocks would be weaker. It says which cubes to test.

    Source
    ------
    Ordinary least squares and its prediction interval, in logarithms. The power law is Balshin's for porous solids,
    used for foamed concrete in Advances in Materials Science and Engineering (2018) 3897348.
    """
    tests = Crushed.of(cubes, rule)
    _enough(len(tests), LEAST_TESTS)
    law = law_of(tests, curve or EuropeanCurve())
    _enough(len(tests), least_tests(law))
    _told_apart(law.columns(law.start, tests.density_kg_m3, tests.age_d), of)
    numbers, scatter = _least_squares(tests, law)
    fault = "heavier blocks would be weaker" if law.exponent(numbers) < 0 else law.curve.odd(law.shape(numbers))
    if fault:
        todo = "Look at the densities and ages of the table for a slip, or test more cubes."
        raise BadInput(f"by these {len(tests)} cubes{_of(of)} {fault}", todo, name="cubes")
    rows = law.columns(numbers, tests.density_kg_m3, tests.age_d)
    unsure: Floats = np.linalg.inv(rows.T @ rows).astype(np.float64)
    return Fit(tests, law, numbers, scatter, unsure, of)


def law_of(tests: Crushed, curve: Curve) -> Law:
    """The law with as many numbers as cubes can tell; one test at the least."""
    return Law(curve, tests.spans(tests.density_kg_m3, DENSITY_SPAN), tests.spans(tests.age_d, AGE_SPAN))


def least_tests(law: Law) -> int:
    """Fewest cubes that a law is fitted to."""
    return max(LEAST_TESTS, law.start.size + LEAST_SPARE)


def _least_squares(tests: Crushed, law: Law) -> tuple[Floats, float]:
    """The numbers that fit best, and the standard deviation of ln f about their law."""
    log_mpa = np.log(tests.strength_mpa)
    found = least_squares(
        lambda numbers: law.log_mpa(numbers, tests.density_kg_m3, tests.age_d) - log_mpa,
        law.start,
        jac=lambda numbers: law.columns(numbers, tests.density_kg_m3, tests.age_d),
        method="lm",
        xtol=1e-14,
        ftol=1e-14,
        gtol=1e-14,
    )
    return found.x, float(np.sqrt(np.sum(found.fun**2) / (len(tests) - found.x.size)))


def _enough(n_tests: int, least: int) -> None:
    if n_tests < least:
        what = f"{n_tests} cubes are too few to tell a strength: {least} are the least"
        todo = "Test more cubes: three at each of two ages and two densities are a good start."
        raise BadInput(what, todo, name="cubes")


def _of(mix: str) -> str:
    return f" of {mix}" if mix else ""


def _told_apart(rows: Floats, of: str) -> None:
    """Refuse cubes of which all the heavy ones are old, say, so that age and density cannot be told apart."""
    sizes = np.linalg.svd(rows / np.linalg.norm(rows, axis=0), compute_uv=False)
    if sizes[-1] < _CLEAR * sizes[0]:
        raise BadInput(
            f"the heavy cubes{_of(of)} are of one age and the light ones of another, so that nobody can tell which it "
            "was",
            "Test cubes of one density at two ages.",
            name="cubes",
        )
