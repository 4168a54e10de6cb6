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


def test_a_tank_is_filled_to_the_mark_before_a_batch_that_takes_more_than_is_left():
    """12 of 20 L leave 8, and the next takes 12: 12 L in; the last two take 18 of the 20, so 10 go in."""
    assert Tank(20, 0.5).filled_for([12, 12, 12, 6]) == [(20.0,), (12.0,), (pytest.approx(10.0),), ()]


def test_a_batch_that_takes_more_than_a_tank_has_it_filled_again_while_it_runs():
    assert Tank(10, 0.25).filled_for([25, 5]) == [(10.0, 10.0, 10.0), ()]
    assert Tank(10, 0.25).filled_for([4, 25]) == [(10.0,), (4.0, 10.0, pytest.approx(5.0))]


@given(st.floats(1, 50), st.lists(st.floats(0, 60), max_size=12))
def test_what_is_filled_is_what_is_taken_and_never_too_late_nor_too_much(volume, taken):
    filled = Tank(volume, volume / 40).filled_for(taken)
    assert sum(sum(fills) for fills in filled) == pytest.approx(sum(taken), abs=1e-4)
    held = 0.0
    for fills, batch in zip(filled, taken, strict=True):
        assert all(0 < fill <= volume + 1e-6 for fill in fills)
        assert held + sum(fills) >= batch - 1e-5
        held = max(0.0, held + sum(fills) - batch)
        assert held <= volume + 1e-5
