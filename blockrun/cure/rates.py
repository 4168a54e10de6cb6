"""How fast blocks age at a temperature: hours at 20 degC that one hour is worth, by one of three rules."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Final

import numpy as np
import numpy.typing as npt

from blockrun.cure.air import Floats
from blockrun.errors import OutOfRange

if TYPE_CHECKING:
    from blockrun.site import Curing

AgeRule = Callable[[npt.ArrayLike], Floats]
"""Temperatures in degC to hours at 20 degC that an hour at each is worth; a warmer hour is never worth less."""

COLDEST_C: Final = -60.0
HOTTEST_C: Final = 80.0

REFERENCE_C: Final = 20.0
KELVIN: Final = 273.15
GAS_CONSTANT_J_MOL_K: Final = 8.314

ACTIVATION_ENERGY_KJ_MOL: Final = 40.0
"""Unless told: the lower end of 40 to 45 kJ/mol, advised for Type I cement by ASTM C1074 (from memory)."""

DATUM_C: Final = -10.0
"""Unless told: the traditional datum of Nurse and Saul (quoted by ASTM C1074; from memory)."""


def age_rate(temperature_c: npt.ArrayLike) -> Floats:
    """Hours at 20 degC that one hour at a temperature is worth, by the European codes.

    Parameters
    ----------
    temperature_c : temperature of the block in degC, -60 to 80, any shape. The source states 0 to 80; below
        that the formula is carried on, and a freezing hour counts for little.

    Returns
    -------
    exp(13.65 - 4000 / (273 + T)), same shape. At 20 degC it is 0.998, not 1: the source rounds 13.65.

    Raises
    ------
    OutOfRange : a temperature is outside the limits above, or not a number.

    Source
    ------
    EN 1992-1-1:2004 (B.10); fib Model Code 2010 (5.1-85). The lower limit is our choice.
    tests/published/test_equivalent_age.py checks it.
    """
    rate: Floats = np.exp(13.65 - 4000 / (273 + _temperatures(temperature_c)))
    return rate


def arrhenius_rate(temperature_c: npt.ArrayLike, activation_energy_kj_mol: float = ACTIVATION_ENERGY_KJ_MOL) -> Floats:
    """Hours at 20 degC that one hour at a temperature is worth, by Arrhenius.

    Parameters
    ----------
    temperature_c : as for :func:`age_rate`.
    activation_energy_kj_mol : E of the cement, > 0. 33.3 is close to the European codes; the higher, the more
        a cold night slows the set.

    Returns
    -------
    exp(E/R (1/293.15 - 1/(273.15 + T))), same shape, with R = 8.314 J/(mol K); 1 at 20 degC.

    Raises
    ------
    OutOfRange : an argument is outside the limits above.

    Source
    ------
    ASTM C1074, equivalent age, with a reference of 20 degC. tests/published/test_age_rules.py checks it.
    """
    if not activation_energy_kj_mol > 0:
        raise OutOfRange(
            "an activation energy must be more than zero", name="activation_energy", value=activation_energy_kj_mol,
            limit=0, unit="kJ/mol", todo="Write 33 to 45 kJ/mol for plain cement.",
        )  # fmt: skip
    kelvins = activation_energy_kj_mol * 1000 / GAS_CONSTANT_J_MOL_K
    rate: Floats = np.exp(kelvins * (1 / (KELVIN + REFERENCE_C) - 1 / (KELVIN + _temperatures(temperature_c))))
    return rate


def nurse_saul_rate(temperature_c: npt.ArrayLike, datum_c: float = DATUM_C) -> Floats:
    """Hours at 20 degC that one hour at a temperature is worth, by Nurse and Saul.

    Parameters
    ----------
    temperature_c : as for :func:`age_rate`.
    datum_c : temperature at and under which nothing sets, under 20 degC. The lower, the more the cold is trusted:
        24 h at 10 degC are 16 h with -10 degC and 12 h with 0 degC.

    Returns
    -------
    (T - datum) / (20 - datum), never under nought; same shape.

    Raises
    ------
    OutOfRange : an argument is outside the limits above.

    Source
    ------
    Nurse (1949) and Saul (1951) as ASTM C1074 gives them, over the same sum at 20 degC.
    tests/published/test_age_rules.py checks it.
    """
    if not datum_c < REFERENCE_C:
        raise OutOfRange(
            "a datum must be under 20 degC, at which ages are told", name="datum", value=datum_c,
            limit=REFERENCE_C, unit="degC", todo="Write -10 degC, or 0 degC to be careful.",
        )  # fmt: skip
    return np.maximum(0.0, _temperatures(temperature_c) - datum_c) / (REFERENCE_C - datum_c)


def rule_of(curing: Curing) -> AgeRule:
    """The rule a site ages its blocks by: that of the European codes unless it says otherwise."""
    if curing.age == "arrhenius":
        energy = curing.activation_energy_kj_mol
        return partial(arrhenius_rate, activation_energy_kj_mol=ACTIVATION_ENERGY_KJ_MOL if energy is None else energy)
    if curing.age == "nurse-saul":
        return partial(nurse_saul_rate, datum_c=DATUM_C if curing.datum_c is None else curing.datum_c)
    return age_rate


def _temperatures(given_c: npt.ArrayLike) -> Floats:
    """Return temperatures, once all of them are known to be ones that a block may have."""
    celsius = np.asarray(given_c, dtype=np.float64)
    outside = celsius[~((celsius >= COLDEST_C) & (celsius <= HOTTEST_C))]
    if outside.size:
        worst = float(outside[0])
        raise OutOfRange(
            f"a temperature is outside {COLDEST_C:.0f} to {HOTTEST_C:.0f} degC",
            name="temperature",
            value=worst,
            limit=HOTTEST_C if worst > HOTTEST_C else COLDEST_C,
            unit="degC",
            todo="Check the weather: its unit, and the days with the lowest and the highest air.",
        )
    return celsius
