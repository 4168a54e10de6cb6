"""The warmth of casts: the laws it must keep, and when they are ripe."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.cure.air import Floats
from blockrun.cure.heat import Cast, Run, ripe_min, warmth
from blockrun.cure.hydration import CEMENTS, ultimate_degree
from blockrun.cure.rates import age_rate, nurse_saul_rate

NORMAL = CEMENTS["normal"]
FOAM = Cast(
    sides_m=(0.6, 0.3, 0.2), loss_w_k=3.6, cement_kg_m3=400, water_kg_m3=200, cement=NORMAL, conductivity_w_mk=0.2
)
"""A block of 600 x 300 x 200 mm; walls that let 5 W/m2K through."""
INERT = replace(FOAM, cement_kg_m3=0.0, other_kg_m3=400.0, conductivity_w_mk=np.inf)
SEALED = replace(FOAM, loss_w_k=0.0)
DAY = 96


def steady(celsius: float, steps: int, pours: int = 1) -> Floats:
    return np.full((steps + 1, pours), float(celsius))


def fresh(celsius: float) -> Floats:
    return np.array([float(celsius)])


def ripe(cast: Cast, air_c: Floats, hours: float = 24.0, rule=age_rate) -> Floats:
    return ripe_min(cast, air_c, air_c[:-1], rule, hours)


def test_neat_foam_that_loses_nothing_rises_by_the_heat_of_its_cement():
    """400 kg cement, 200 kg water, 750 and 4186 J/kgK: 1.1372 MJ/m3K (from memory)."""
    assert FOAM.capacity_j_m3k == pytest.approx(1.1372e6, rel=1e-4)
    assert FOAM.adiabatic_rise_k == pytest.approx(400e3 * NORMAL.heat_j_g * ultimate_degree(0.5) / 1.1372e6, rel=1e-4)
    assert FOAM.adiabatic_rise_k == pytest.approx(127.9, abs=0.1)


def test_a_cast_that_loses_nothing_ends_at_the_adiabatic_line():
    sudden = replace(SEALED, cement=replace(NORMAL, beta=3.0))
    mean = warmth(sudden, steady(20, 30 * DAY), fresh(20)).mean_c[-1, 0]
    assert mean - 20 == pytest.approx(sudden.adiabatic_rise_k, rel=1e-3)


def test_what_a_sealed_cast_has_gained_is_the_heat_of_what_has_hydrated():
    """Rise over capacity is degree times heat at every step, to a thousandth."""
    run = Run(SEALED, fresh(20))
    for _ in range(3 * DAY):
        run.step(fresh(20))
    degree = float(run._cement.degree[0])
    assert run.mean_c[0] - 20 == pytest.approx(SEALED.adiabatic_rise_k * degree, rel=1e-3)


def test_without_cement_it_cools_by_a_part_in_e_in_its_time_constant():
    constant_h = INERT.capacity_j_m3k * INERT.volume_m3 / INERT.loss_w_k / 3600
    assert INERT.time_constant_h == pytest.approx(constant_h)
    steps = round(4 * constant_h)
    mean = warmth(INERT, steady(5, steps), fresh(25)).mean_c[-1, 0]
    assert mean == pytest.approx(5 + 20 * np.exp(-steps / 4 / constant_h), rel=1e-9)


@given(st.floats(0.1, 40), st.floats(0.02, 0.3), st.floats(-5, 20), st.floats(0, 15), st.sampled_from(sorted(CEMENTS)))
def test_it_is_never_above_the_adiabatic_line(loss, side, air, warmer, cement):
    cast = Cast((side,) * 3, loss * 6 * side**2, 400, 200, CEMENTS[cement], conductivity_w_mk=0.2)
    sealed = replace(cast, loss_w_k=0.0)
    lost = warmth(cast, steady(air, 3 * DAY), fresh(air + warmer)).mean_c
    kept = warmth(sealed, steady(air, 3 * DAY), fresh(air + warmer)).mean_c
    assert (lost <= kept + 1e-9).all()


def test_a_block_that_loses_little_gets_warmer_than_one_that_loses_much():
    peaks = [
        warmth(replace(FOAM, loss_w_k=loss), steady(10, 3 * DAY), fresh(10)).mean_c.max() for loss in (0.5, 3.6, 15.0)
    ]
    assert peaks == sorted(peaks, reverse=True)


def test_corners_lie_between_air_and_surface_and_that_under_the_mean():
    found = warmth(FOAM, steady(10, DAY), fresh(10))
    surface_c = 10 + (found.mean_c - 10) * FOAM.shape.surface
    assert (found.corner_c >= 10).all()
    assert (found.corner_c <= surface_c + 1e-9).all()
    assert (surface_c <= found.mean_c + 1e-9).all()


def test_a_mix_poured_colder_than_the_air_has_no_warmer_corners():
    found = warmth(replace(FOAM, cement_kg_m3=0.0, other_kg_m3=400.0), steady(30, DAY), fresh(5))
    assert (found.corner_c <= found.mean_c).all()


def test_a_block_that_gives_off_no_heat_is_ripe_when_the_air_says():
    """Walls of tin: the block follows the air at once."""
    thin = replace(INERT, loss_w_k=1e6)
    air = np.full(5 * DAY + 1, 20.0)
    assert ripe(thin, air)[0] == pytest.approx(24 * 60 / float(age_rate(20.0)), abs=1)


def test_its_own_heat_strips_a_block_sooner_in_the_cold():
    air = np.full(8 * DAY + 1, 7.0)
    assert ripe(FOAM, air)[0] < 0.95 * ripe(replace(INERT, loss_w_k=1e6), air)[0]


def test_steps_of_a_quarter_hour_are_near_enough_to_steps_of_a_minute():
    fine = warmth(FOAM, steady(10, 2 * 1440), fresh(10), step_min=1).mean_c[::15, 0]
    coarse = warmth(FOAM, steady(10, 2 * DAY), fresh(10)).mean_c[:, 0]
    assert coarse == pytest.approx(fine, abs=0.6)


@given(st.lists(st.floats(-5, 25), min_size=6, max_size=6), st.integers(0, 200))
def test_a_later_pour_is_never_ripe_sooner(nights, seed):
    air = np.repeat(nights, DAY) + 4 * np.sin(np.arange(6 * DAY) / 15 + seed)
    found = ripe(FOAM, np.append(air, air[-1]))
    assert (np.diff(found[np.isfinite(found)]) >= 0).all()


@given(
    st.lists(st.floats(-3, 25), min_size=8, max_size=8),
    st.floats(0.2, 10),
    st.floats(2, 25),
    st.sampled_from((0.03, 0.1, 0.2)),
    st.sampled_from((age_rate, partial(nurse_saul_rate, datum_c=-10.0))),
)
def test_colder_never_strips_sooner(days, colder, loss, side, rule):
    cast = Cast((side,) * 3, loss * 6 * side**2, 400, 200, NORMAL, conductivity_w_mk=0.2)
    air = np.append(np.repeat(days, DAY), days[-1]) + 3 * np.sin(np.arange(8 * DAY + 1) / 15.3)
    warm, cold = ripe(cast, air, rule=rule), ripe(cast, air - colder, rule=rule)
    reached = np.isfinite(cold)
    assert (cold[reached] >= warm[reached] - 1).all()


def test_air_that_does_not_last_leaves_an_age_unreached():
    assert np.isinf(ripe(FOAM, np.full(DAY // 4, 10.0))).all()
