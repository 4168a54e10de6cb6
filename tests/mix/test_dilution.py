"""Dilution made up by the full tank."""

from types import SimpleNamespace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.mix.dilution import Tank, tank_of


def test_a_tank_holds_agent_and_water_in_the_parts_of_the_dilution():
    tank = tank_of(SimpleNamespace(tank_l=20.5, agent_share=1 / 41))
    assert (tank.agent_l, tank.water_l) == (pytest.approx(0.5), pytest.approx(20))


def test_no_tank_where_none_is_named():
    assert tank_of(SimpleNamespace(tank_l=None, agent_share=1 / 41)) is None


@pytest.mark.parametrize(("litres", "tanks"), [(0, 0), (0.1, 1), (20, 1), (20 + 1e-7, 1), (20.1, 2), (40, 2)])
def test_begun_tanks_count_whole(litres, tanks):
    assert Tank(20, 0.5).fillings(litres) == tanks


@pytest.mark.parametrize(("litres", "batches"), [(20, 1), (20.1, 0), (10, 2), (9.9, 2), (6.66, 3)])
def test_a_full_tank_does_whole_batches(litres, batches):
    assert Tank(20, 0.5).batches(litres) == batches


@given(st.floats(0, 1000), st.floats(0.5, 100))
def test_tanks_are_enough_and_one_less_is_not(litres, volume):
    n = Tank(volume, 0.1).fillings(litres)
    assert n * volume >= litres - 1e-5
    assert n == 0 or (n - 1) * volume < litres
