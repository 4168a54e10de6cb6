"""The card of a mix that is ordered by its strength."""

from __future__ import annotations

import dataclasses

import pytest

from blockrun.order import MixSpec, Order
from blockrun.planner.plan import Plan
from blockrun.show.batch.card import cards_text
from blockrun.site import Cubes, Site
from tests.cure.cubes import cubes


@pytest.fixture
def order(small_plan: Plan) -> Order:
    strong = MixSpec(name="light", strength_mpa=1, sand=0.5, slurry_water_cement=0.5)
    others = (mix for mix in small_plan.order.mixes if mix.name != "light")
    return small_plan.order.model_copy(update={"mixes": (strong, *others)})


def with_cubes_of(mix: str, plan: Plan) -> Site:
    tested = Cubes(tuple(dataclasses.replace(cube, mix=mix) for cube in cubes()))
    return plan.site.model_copy(update={"curing": plan.site.curing.model_copy(update={"cubes": tested})})


def test_it_says_when_cubes_of_others_tell_it(small_plan: Plan, order: Order) -> None:
    said = " ".join(cards_text(with_cubes_of("heavy", small_plan), order, 80).plain.split())
    assert "by the cubes of this yard" in said
    assert "None of the 12 cubes is of light: all of them tell its strength" in said
    assert "light is with 0.5 of sand to 1 of cement, heavy neat. Cast light at three densities" in said


def test_it_says_nothing_of_others_when_its_own_tell_it(small_plan: Plan, order: Order) -> None:
    said = " ".join(cards_text(with_cubes_of("light", small_plan), order, 80).plain.split())
    assert "by the cubes of this yard" in said
    assert "of the 12 cubes" not in said


@pytest.mark.parametrize(("asked", "told"), [(0.5, True), (1.0, False)])
def test_it_says_when_the_lightest_cubes_have_it_already(
    small_plan: Plan, order: Order, asked: float, told: bool
) -> None:
    weaker = (mix.model_copy(update={"strength_mpa": asked}) if mix.name == "light" else mix for mix in order.mixes)
    weak = order.model_copy(update={"mixes": tuple(weaker)})
    said = " ".join(cards_text(with_cubes_of("light", small_plan), weak, 80).plain.split())
    assert ("light: the lightest cubes, 500 kg/m3 dry, have 0.5 MPa at 28 d already. Test lighter ones" in said) == told
