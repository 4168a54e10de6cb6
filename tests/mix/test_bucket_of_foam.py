"""What a bucket of foam takes that is weighed before a batch; numbers to check by hand."""

from __future__ import annotations

import pytest

from blockrun.mix.bucket_of_foam import Dilution, dilution_of, to_weigh_foam
from blockrun.planner.plan import Plan
from blockrun.site import Buckets, Site


def site_with(plan: Plan, **changes: object) -> Site:
    return plan.site.model_copy(update=changes)


def test_foam_weighs_what_its_dilution_weighs_and_one_part_in_41_of_it_is_agent(small_plan: Plan) -> None:
    # 1:40 by volume, a kilogram taken as a litre
    assert dilution_of(4.1, small_plan.site.foam_generator) == Dilution(pytest.approx(0.1), pytest.approx(4.0))
    assert Dilution(0.1, 4.0).volume_l == pytest.approx(4.1)


def test_ten_litres_are_weighed_where_the_site_names_no_bucket(small_plan: Plan) -> None:
    # 10 L of 95 g/L: 0.95 kg, of it 0.95 / 41 L of agent
    weighed = to_weigh_foam(small_plan.site)
    assert weighed.volume_l == pytest.approx(0.95)
    assert weighed.agent_l == pytest.approx(0.0231707, abs=1e-7)


def test_two_gallons_are_weighed_where_the_site_prints_in_us_units(small_plan: Plan) -> None:
    # 2 gal = 7.570824 L
    assert to_weigh_foam(site_with(small_plan, units="US")).volume_l == pytest.approx(7.570824 * 0.095, abs=1e-6)


def test_the_bucket_of_the_site_is_weighed_as_foam_last_weighed(small_plan: Plan) -> None:
    generator = small_plan.site.foam_generator.model_copy(update={"weighed_kg_m3": 98.0})
    site = site_with(small_plan, buckets=Buckets(foam_l=20), foam_generator=generator)
    assert to_weigh_foam(site).volume_l == pytest.approx(1.96)
