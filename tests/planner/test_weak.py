"""Blocks that would break when they are lifted, and what the yard's cubes say of them."""

from __future__ import annotations

import pytest

from blockrun.planner.mixes import mix_proportions
from blockrun.planner.plan import Plan
from blockrun.planner.wanted import wanted
from blockrun.planner.weak import lifted_at_its_ends_mpa, too_weak, weak_said
from blockrun.site import Cubes
from tests.cure.cubes import cubes

# mix light weighs 806.17 kg/m3 as poured and 600 oven-dry, mix heavy 1127.82 and 900
# thin: 600 x 300 x 100 mm. 3/4 x 806.17 x 9.81 x 0.6^2 / 0.1 = 21 353 Pa; twice that over a tenth: 0.4271 MPa of cubes
# full: 600 x 300 x 200 mm, half of that; sill, as large: 0.2987
THIN, FULL, SILL = 0.4271, 0.2135, 0.2987


def of_ages(*days: float) -> Cubes:
    """Cubes that follow the law without scatter: at a day the light mix has 0.2545 MPa, the heavy one 0.621."""
    return Cubes(tuple(cubes([(density, age) for density in (600.0, 750.0, 900.0) for age in days])))


def said(plan: Plan, found: Cubes | None, strip_h: float = 24.0, most: int = 3) -> list[str]:
    site = plan.site.model_copy(update={"curing": plan.site.curing.model_copy(update={"cubes": found})})
    return list(weak_said(site, wanted(site, plan.order), mix_proportions(site, plan.order), strip_h, most))


def test_a_block_held_at_its_ends_bends_as_a_beam_does() -> None:
    assert lifted_at_its_ends_mpa((600, 300, 100), 806.17) == pytest.approx(0.021353, abs=1e-6)
    # the same by moment and section: w = rho g b d, M = w L^2 / 8, W = b d^2 / 6
    width, depth, span, density = 0.3, 0.2, 0.6, 1000.0
    moment = density * 9.81 * width * depth * span**2 / 8
    assert lifted_at_its_ends_mpa((600, 300, 200), density) == pytest.approx(moment / (width * depth**2 / 6) / 1e6)


def test_longer_and_thinner_is_never_easier() -> None:
    assert lifted_at_its_ends_mpa((700, 300, 100), 800) > lifted_at_its_ends_mpa((600, 300, 100), 800)
    assert lifted_at_its_ends_mpa((600, 300, 90), 800) > lifted_at_its_ends_mpa((600, 300, 100), 800)


def test_marks_that_need_more_than_they_have_are_found_what_lacks_most_first(small_plan: Plan) -> None:
    lines, mixes = wanted(small_plan.site, small_plan.order), mix_proportions(small_plan.site, small_plan.order)
    weak = too_weak(lines, mixes, {"light": 0.2, "heavy": 0.29})
    assert [(item.mark, round(item.needs_mpa, 4)) for item in weak] == [("thin", THIN), ("full", FULL), ("sill", SILL)]
    assert [item.mark for item in too_weak(lines, mixes, {"light": THIN + 1e-4, "heavy": SILL - 1e-4})] == ["sill"]
    assert too_weak(lines, mixes, {"light": THIN + 1e-4, "heavy": SILL + 1e-4}) == []


def test_a_block_too_weak_to_lift_is_said_with_what_it_has_and_takes(small_plan: Plan) -> None:
    thin, how = said(small_plan, of_ages(1, 3, 7))
    assert thin == (
        "thin has 0.255 MPa when it is stripped, and takes 0.427 MPa to be lifted at its ends: strip it later, or "
        "carry it on a board."
    )
    assert how == (
        "That is reckoned from your cubes for simple bending under 2 times the block's weight, with 10 % of their "
        "strength in bending (our choice)."
    )


def test_stripped_later_it_is_strong_enough(small_plan: Plan) -> None:
    assert said(small_plan, of_ages(1, 3, 7), strip_h=72) == []


def test_marks_that_are_not_named_are_counted_with_the_weak_ones(small_plan: Plan) -> None:
    (how,) = said(small_plan, of_ages(1, 3, 7), most=0)
    assert how.startswith("1 more is as weak. That is")


def test_without_cubes_nothing_is_said(small_plan: Plan) -> None:
    assert said(small_plan, None) == []


def test_cubes_too_old_to_tell_ask_for_younger_ones(small_plan: Plan) -> None:
    (unknown,) = said(small_plan, of_ages(3, 7, 28))
    assert unknown.startswith("Whether blocks bear being lifted when they are stripped is not known: the youngest of")
    assert unknown.endswith("Test cubes at 1 d.")
