"""Blocks and full moulds too heavy to lift, in a yard small enough to be checked by hand."""

from __future__ import annotations

from typing import Any

import pytest

from blockrun.errors import OutOfRange
from blockrun.planner.heavy import TooHeavy, heavy_said, helpers_said, limit_kg, too_heavy
from blockrun.planner.lifting import Lift, harder_end
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.plan import Plan
from blockrun.planner.wanted import wanted
from blockrun.site import Lifting, Site

# mix light: 500 kg of cement, 250 of slurry water, 1000 - 500/3.15 - 250 = 591.27 L of foam of 95 g/L: 806.17 kg/m3
# mix heavy: 750 kg, 337.5, 424.40 L: 1127.82 kg/m3
FULL_KG, SILL_KG = 36 * 0.80617, 36 * 1.12782
WAIST = Lifting(from_height_mm=750, to_height_mm=750, reach_mm=250, twist_deg=0, lifts_a_minute=0.2)  # 23 kg


def heavy_in(plan: Plan, lifting: Lifting, **gang: Any) -> tuple[list[TooHeavy], Site]:
    """What is too heavy in the small yard when lifted so; the first moulds changed as told."""
    first, *others = plan.site.moulds
    moulds = (first.model_copy(update=gang), *others)
    site = plan.site.model_copy(update={"lifting": lifting, "moulds": moulds})
    return too_heavy(site, wanted(site, plan.order), mix_proportions(site, plan.order)), site


def test_blocks_over_the_limit_are_found_the_heaviest_first(small_plan: Plan) -> None:
    heavy, _ = heavy_in(small_plan, WAIST)
    assert [(item.name, round(item.mass_kg, 2)) for item in heavy] == [
        ("sill", round(SILL_KG, 2)),
        ("full", round(FULL_KG, 2)),
    ]


def test_those_who_may_lift_it_together_are_as_few_as_can_be(small_plan: Plan) -> None:
    # two lift 2/3 of 46 kg, 30.7; three lift half of 69 kg, 34.5; the sill weighs 40.6 kg
    assert [item.people for item in heavy_in(small_plan, WAIST)[0]] == [None, 2]


def test_two_who_always_lift_together_are_told_of_less(small_plan: Plan) -> None:
    heavy, _ = heavy_in(small_plan, WAIST.model_copy(update={"people": 2}))
    assert [item.name for item in heavy] == ["sill"]


def test_a_full_mould_counts_with_the_heaviest_it_casts_in_every_cavity(small_plan: Plan) -> None:
    heavy, _ = heavy_in(small_plan, WAIST, mass_kg=12.0)
    assert heavy[-1].full_mould
    assert heavy[-1].mass_kg == pytest.approx(12 + 2 * SILL_KG, abs=0.01)


def test_a_mould_that_stays_on_its_base_is_not_lifted_full(small_plan: Plan) -> None:
    _, site = heavy_in(small_plan, WAIST)
    tray = site.moulds[1].model_copy(update={"mass_kg": 500.0})
    site = site.model_copy(update={"moulds": (site.moulds[0], tray)})
    found = too_heavy(site, wanted(site, small_plan.order), mix_proportions(site, small_plan.order))
    assert not [item for item in found if item.full_mould]


def test_the_limit_unless_told_is_that_of_taking_up_from_a_low_bench() -> None:
    # 23 x 25/30 x (1 - 0.003 x 45) x (0.82 + 4.5/70) x (1 - 0.0032 x 30) x 0.94 x 0.95
    assert limit_kg(Lifting()) == pytest.approx(11.835, abs=0.001)
    assert limit_kg(Lifting(), people=2) == pytest.approx(4 / 3 * 11.835, abs=0.001)


def test_setting_down_high_can_be_the_harder_end() -> None:
    assert harder_end(Lift(30, 75, 0), 150).height_cm == 150
    assert harder_end(Lift(30, 75, 0), 10).travel_cm == 65


def test_each_heavy_mark_is_said_with_its_mass_the_limit_and_what_to_do(small_plan: Plan) -> None:
    heavy, site = heavy_in(small_plan, WAIST, mass_kg=12.0)
    sill, full, mould, so = heavy_said(heavy, site)
    assert sill == (
        "sill weighs 40.6 kg wet, over the 23 kg that one person may lift so, and over the 34.5 kg of three together: "
        "an easier lift, a hoist, or a smaller block."
    )
    assert full == (
        "full weighs 29 kg wet, over the 23 kg that one person may lift so: two people, who may lift 30.7 kg so "
        "together, or a smaller block."
    )
    assert mould == (
        "A full gang-2 weighs 93.2 kg, over the 23 kg that one person may lift so: leave it where it is filled, or "
        "move it on wheels."
    )
    assert so.startswith("So is: hands from 750 mm to 750 mm up, 250 mm before the ankles, body turned 0 deg, 0.2 a")


def test_what_the_limit_takes_for_granted_is_said_with_what_costs_most(small_plan: Plan) -> None:
    heavy, site = heavy_in(small_plan, Lifting(reach_mm=500))
    *_, so = heavy_said(heavy, site)
    assert "The reach costs most. The filter of the HSE for such a lift is 7 kg for a man and 4.9 kg for a woman." in so


def test_what_a_team_may_lift_is_said_with_its_rule(small_plan: Plan) -> None:
    heavy, site = heavy_in(small_plan, Lifting())
    *_, so = heavy_said(heavy, site)
    assert (
        "Two together are taken to lift 4/3 of what one may, three 3/2 of it (HSE guidance on lifting in teams)." in so
    )


def test_a_mould_that_nothing_ordered_fits_is_never_full(small_plan: Plan) -> None:
    heavy, _ = heavy_in(small_plan, WAIST, mass_kg=50.0, cavity=(800.0, 100.0, 100.0))
    assert not [item for item in heavy if item.full_mould]


def test_marks_that_are_not_named_are_counted(small_plan: Plan) -> None:
    heavy, site = heavy_in(small_plan, Lifting())
    assert [item.name for item in heavy] == ["sill", "full", "thin", "half"]
    said = list(heavy_said(heavy, site, 3))
    assert said[3] == "1 more mark is too heavy to lift so; takeoff with --site names all."
    assert list(heavy_said(heavy, site, 2))[2].startswith("2 more marks are too heavy")


def test_many_that_even_three_may_not_lift_are_said_in_one_breath(small_plan: Plan) -> None:
    heavy = [TooHeavy(name, mass_kg, None) for name, mass_kg in (("A", 29), ("B", 25), ("C", 22), ("D", 20))]
    site = small_plan.site
    all_of_them, so = heavy_said(heavy, site)
    assert all_of_them == (
        "A, B, C and D weigh 20 kg to 29 kg wet, over the 17.8 kg that even three people may lift so together: "
        "an easier lift, a hoist, or smaller blocks."
    )
    assert so.startswith("So is: ")
    assert list(heavy_said([*heavy, TooHeavy("E", 15, 2)], site, 2))[:2] == [
        all_of_them.replace("A, B, C and D", "A, B and 2 more"),
        "E weighs 15 kg wet, over the 11.8 kg that one person may lift so: two people, who may lift 15.8 kg so "
        "together, or a smaller block.",
    ]


def test_plans_say_that_who_helps_to_lift_is_not_in_them(small_plan: Plan) -> None:
    _, site = heavy_in(small_plan, WAIST.model_copy(update={"people": 2}))
    (said,) = helpers_said(site, wanted(site, small_plan.order), mix_proportions(site, small_plan.order))
    assert said.startswith(
        "2 marks weigh more than the 23 kg that one person may lift so, the heaviest 40.6 kg wet. Plans"
    )


def test_where_one_may_lift_all_no_helper_is_asked_for(small_plan: Plan) -> None:
    (light,) = [line for line in wanted(small_plan.site, small_plan.order) if line.mark == "half"][:1]
    _, site = heavy_in(small_plan, WAIST)
    assert list(helpers_said(site, [light], mix_proportions(site, small_plan.order))) == []


def test_nothing_is_said_where_all_is_light(small_plan: Plan) -> None:
    assert list(heavy_said([], small_plan.site)) == []


@pytest.mark.parametrize("wrong", [{"reach_cm": 0}, {"hours": 9}, {"hours": 0}, {"twist_deg": -1}, {"travel_cm": -1}])
def test_what_no_lift_can_be_is_refused(wrong: dict[str, float]) -> None:
    with pytest.raises(OutOfRange) as error:
        Lift(**{"reach_cm": 30, "height_cm": 75, "travel_cm": 25} | wrong)
    assert error.value.name == next(iter(wrong))


def test_no_factor_is_ever_over_one_and_easier_is_never_less() -> None:
    for lifts_a_minute in (0.1, 1, 7, 15):
        limits = [Lift(reach, 75, 30, 0, lifts_a_minute).limit_kg for reach in (20, 25, 40, 60, 70)]
        assert limits == sorted(limits, reverse=True)
        assert limits[0] <= 23
