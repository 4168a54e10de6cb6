"""Colder air never lets sides come off, blocks be stripped or laid sooner: from the weather of a site on.

By each rule of ages, by ages and by strengths, with the air alone and with the heat of the cement.
"""

from __future__ import annotations

from datetime import date
from typing import Final

import numpy as np
import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from blockrun.planner.ages import ages_of
from blockrun.planner.clocks import Clocks
from blockrun.planner.plan import Plan
from blockrun.planner.wanted import wanted
from blockrun.site import Cubes, Site, Strength, Weather
from tests.cure.cubes import cubes

START: Final = date(2027, 4, 5)
CRUSHED: Final = Cubes(tuple(cubes([(d, days) for d in (550.0, 700.0, 950.0) for days in (0.2, 1.0, 3.0, 28.0)], 0.1)))
EN: Final = {"age": "EN"}
ARRHENIUS: Final = {"age": "arrhenius", "activation_energy_kj_mol": 45.0}
NURSE_SAUL: Final = {"age": "nurse-saul", "datum_c": -10.0}
BY_STRENGTH: Final = {"cubes": CRUSHED, "strip_at_h": Strength(0.2), "lay_at_min": Strength(0.8), "sure": 0.8}
HEAT: Final = {"heat": "modelled", "cement_heat": "normal"}

POURS: Final = np.arange(8 * 60, 2 * 1440, 97)
"""Minutes of two days, by day and by night."""

Days = list[tuple[float, float]]
weathers = st.lists(st.tuples(st.floats(-4, 25), st.floats(0, 12)), min_size=4, max_size=10)


def with_air(site: Site, days: Days, colder: float, **curing: object) -> Site:
    """The site with lowest and highest of each day, all of them colder by so much; no frost stops it."""
    given_c = tuple((low - colder, low + swing - colder) for low, swing in days)
    rules = site.curing.model_copy(update={"least_air_c": -50.0, **curing})
    return site.model_copy(update={"curing": rules, "weather": Weather(START, given_c)})


def ripe_min(site: Site, plan: Plan) -> np.ndarray:
    """Minutes at which sides come off, blocks are stripped and laid: shape (rules, moulds x pours)."""
    lines = wanted(site, plan.order)
    clocks, ages = Clocks(site, plan.order, lines), ages_of(site, plan.order, {line.mix for line in lines})
    rules = (8.0, ages.strip_h, ages.lay_h or 60.0)
    return np.array([np.concatenate([clocks.of(kind).when(POURS, hours) for kind in site.moulds]) for hours in rules])


@pytest.mark.parametrize(
    "curing",
    [
        EN,
        ARRHENIUS,
        NURSE_SAUL,
        EN | BY_STRENGTH,
        ARRHENIUS | BY_STRENGTH,
        NURSE_SAUL | BY_STRENGTH,
        EN | HEAT,
        ARRHENIUS | HEAT,
        NURSE_SAUL | HEAT,
        EN | HEAT | BY_STRENGTH,
    ],
    ids=lambda curing: " ".join(str(value) for key, value in curing.items() if key in ("age", "heat", "strip_at_h")),
)
@given(days=weathers, colder=st.floats(0.1, 8))
@settings(max_examples=5)
def test_colder_air_never_lets_anything_happen_sooner(
    small_plan: Plan, curing: dict[str, object], days: Days, colder: float
) -> None:
    mild = ripe_min(with_air(small_plan.site, days, 0, **curing), small_plan)
    cold = ripe_min(with_air(small_plan.site, days, colder, **curing), small_plan)
    event(f"all are later: {bool((cold > mild).all())}")
    assert (cold >= mild).all()
