"""Batches in whole things: bags, buckets, tanks and seconds."""

from __future__ import annotations

import dataclasses
import re
from datetime import date

import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.mix import Solids, batch_sizes, proportions
from blockrun.mix.solids import NEAT
from blockrun.order import MixSpec
from blockrun.planner.plan import Plan
from blockrun.planner.uses import AGENT, uses_of
from blockrun.show.batch.buckets import full_bucket, in_buckets
from blockrun.show.batch.card import cards_text
from blockrun.show.batch.load import Measures, measures, mix_weighs, most_to_weigh_l, tank_said
from blockrun.show.days import days_text
from blockrun.show.diary import Diary
from blockrun.site import Buckets, Cubes, Site
from tests.cure.cubes import cubes

BUCKETS = Buckets(water_l=10, foam_l=20, mix_l=12, empty_kg=0.6)


def plain(text: str) -> str:
    return text.replace("\u00a0", " ")


def with_generator(site: Site, **changes: float) -> Site:
    generator = site.foam_generator.model_copy(update=changes)
    return site.model_copy(update={"foam_generator": generator})


def largest(site: Site, solids: Solids = NEAT, wet_density: float = 1000) -> Measures:
    """Words for the largest batch of a mix in the first mixer."""
    mix = proportions(
        slurry_water_cement=0.5,
        foam_density_kg_m3=site.foam_generator.density_kg_m3,
        wet_density_kg_m3=wet_density,
        solids=solids,
    )
    size = batch_sizes(site, site.mixers[0], mix)[-1]
    return measures(size, size.bags, mix, site)


@pytest.mark.parametrize(
    ("litres", "bucket", "units", "said"),
    [
        (33.8, 10, "SI", " = 3 buckets of 10 L and 3.8 L"),
        (30.02, 10, "SI", " = 3 buckets of 10 L"),  # a glass more or less
        (29.97, 10, "SI", " = 3 buckets of 10 L"),
        (12, 12, "SI", " = 1 bucket of 12 L"),
        (9.5, 10, "SI", ""),
        (33.8, None, "SI", ""),
        (37.85411784, 18.92705892, "US", " = 2 buckets of 5 gal"),
    ],
)
def test_a_volume_is_counted_in_full_buckets_and_the_rest(
    litres: float, bucket: float | None, units: str, said: str
) -> None:
    assert plain(in_buckets(litres, bucket, units)) == said


@pytest.mark.parametrize(
    ("density", "units", "buckets", "said"),
    [
        # 95 g/L x 10 L less and more 5 %: 0.9025 and 0.9975 kg, rounded inwards
        (95, "SI", Buckets(), "10 L of foam weigh 0.91 to 0.99 kg"),
        (806.18, "SI", Buckets(), "10 L of foam weigh 7.7 to 8.4 kg"),
        (95, "SI", Buckets(foam_l=20, empty_kg=0.6), "20 L of foam and bucket weigh 2.41 to 2.59 kg"),
        (95, "SI", Buckets(tolerance=0.1), "10 L of foam weigh 0.86 to 1.04 kg"),
        (95, "SI", Buckets(tolerance=0.001), "10 L of foam weigh 0.95 kg"),
        (95, "US", Buckets(), "2 gal of foam weigh 1.51 to 1.66 lb"),  # 7.571 L: 1.5856 lb
    ],
)
def test_a_full_bucket_is_weighed_between_two_limits(density: float, units: str, buckets: Buckets, said: str) -> None:
    assert plain(full_bucket(density / 1000, units, buckets, buckets.foam_l).said("foam")) == said


def test_further_solids_stand_between_cement_and_water(small_plan: Plan) -> None:
    words = largest(small_plan.site, Solids(sand=0.5, fibre=0.01))
    assert plain(f"{words.bags} {words.slurry}") == (
        "4 bags of cement (100 kg), 50 kg of sand, 1 kg of fibre, 50 L of water"
    )


def test_water_and_foam_are_counted_in_buckets_where_the_site_names_them(small_plan: Plan) -> None:
    words = largest(small_plan.site.model_copy(update={"buckets": BUCKETS}), wet_density=900)
    assert plain(words.slurry).endswith("of water = 5 buckets of 10 L and 6.25 L")
    assert plain(words.foam) == "107 L = 5 buckets of 20 L and 6.81 L"
    assert plain(words.foam_check) == "20 L of foam and bucket weigh 2.39 to 2.61 kg"


def test_dilution_comes_out_of_the_tank_where_there_is_one(small_plan: Plan) -> None:
    tank = with_generator(small_plan.site, tank_l=20.0)
    assert plain(tank_said(tank.foam_generator, "SI")) == "20 L: 488 mL of agent in 19.5 L of water"
    assert tank_said(small_plan.site.foam_generator, "SI") == ""
    assert plain(largest(tank).dilution) == "it takes 9.85 L and the bucket weighed 950 mL out of the tank"
    small = with_generator(small_plan.site, tank_l=4.0)
    assert plain(largest(small).dilution) == (
        "it takes 9.85 L and the bucket weighed 950 mL out of the tank: fill that again 2 times while it runs, as full "
        "it lasts 42 s"
    )


def test_what_the_bucket_weighed_takes_may_be_one_filling_more(small_plan: Plan) -> None:
    """9.85 L of foam and 0.95 L weighed are 10.8 L: a tank of 10 L holds the one and not both."""
    assert largest(with_generator(small_plan.site, tank_l=10.9)).refills == ""
    assert "again 1 time " in plain(largest(with_generator(small_plan.site, tank_l=10.0)).refills)


def test_without_a_tank_agent_is_made_up_for_the_foam_and_for_the_bucket_weighed(small_plan: Plan) -> None:
    """9.85 L of dilution and 0.95 L, 1:40: 240 and 23.2 mL of agent, 9.61 and 0.927 L of water."""
    words = largest(small_plan.site)
    assert (plain(words.agent), plain(words.agent_water)) == ("263 mL", "10.5 L")
    assert plain(words.in_all) == "10.8 L in all: 9.85 L for foam, 0.95 L to weigh"
    assert plain(words.dilution) == (
        "263 mL of agent in 10.5 L of water, 10.8 L in all: 9.85 L for foam, 0.95 L to weigh"
    )


def test_so_little_foam_that_nobody_can_time_it_is_measured_by_the_mark(small_plan: Plan) -> None:
    """103.7 L at 60 L/min are 104 s; at 1200 L/min 5.2 s, at 1500 L/min 4.1 s."""
    assert largest(small_plan.site).runs == f"run the generator {largest(small_plan.site).generator}"
    assert "run the generator" in largest(with_generator(small_plan.site, rate_l_min=1200)).runs
    said = plain(largest(with_generator(small_plan.site, rate_l_min=1500)).runs)
    assert said == "by the mark of a bucket: 4 s of the generator are too little to time"


def test_of_a_small_batch_no_more_than_half_is_weighed(small_plan: Plan) -> None:
    """18 L and less make a bucket of 9 L and a litre the one that is weighed."""
    mix = proportions(slurry_water_cement=0.5, foam_density_kg_m3=95, wet_density_kg_m3=1000)
    site = small_plan.site.model_copy(update={"buckets": Buckets(mix_l=9, empty_kg=0.6)})
    assert mix_weighs(mix, site, most_to_weigh_l(18)).said("mix").startswith("9\u00a0L of mix and bucket weigh")
    assert plain(mix_weighs(mix, site, most_to_weigh_l(17.9)).said("mix")) == "1 L of mix weigh 0.95 to 1.05 kg"


def test_a_card_says_after_how_many_batches_the_tank_is_to_be_filled(small_plan: Plan) -> None:
    card = plain(
        " ".join(cards_text(with_generator(small_plan.site, tank_l=20.0), small_plan.order, 400).plain.split())
    )
    assert "it takes 5.62 L and the bucket weighed 950 mL out of the tank: fill it after 3 such batches" in card
    assert "it takes 11.2 L and the bucket weighed 950 mL out of the tank: fill it after 1 such batch" in card


def test_a_tank_that_does_three_foams_does_two_with_the_buckets_weighed(small_plan: Plan) -> None:
    """5.62 L and 20 L of foam at 95 g/L: 7.52 L a batch, of 20 L."""
    site = with_generator(small_plan.site, tank_l=20.0).model_copy(update={"buckets": Buckets(foam_l=20)})
    card = plain(" ".join(cards_text(site, small_plan.order, 400).plain.split()))
    assert "it takes 5.62 L and the bucket weighed 1.9 L out of the tank: fill it after 2 such batches" in card


def test_water_and_agent_of_a_day_are_those_of_the_foam_weighed_too(small_plan: Plan) -> None:
    """Batch 1 takes 239.8 mL of agent, 23.2 mL more for its bucket."""
    text = plain(" ".join(days_text(small_plan, 400).plain.split()))
    assert re.search(r"5 blocks in 1 batch: 3 1/2 bags of cement, 54.3 L of water, 263 mL of agent", text)


def test_a_day_says_how_often_the_tank_is_filled_and_the_foam_line_before_which_batch(small_plan: Plan) -> None:
    """20 L: 10.78, 9.38, 6.57 and 4.31 L with the bucket of each batch; the second leaves 10.62 L, the third 4.05 L."""
    tank = with_generator(small_plan.site, tank_l=20.0)
    text = plain(" ".join(days_text(dataclasses.replace(small_plan, site=tank), 400).plain.split()))
    assert "Dilution: the tank is filled 1 time, 488 mL of agent in 19.5 L of water; a full one is 20 L" in text
    assert "foam for batch 1: first fill the tank up with 20 L, 488 mL of agent in 19.5 L of water; then" in text
    assert "foam for batch 2: first fill the tank up with 10.8 L, 263 mL of agent in 10.5 L of water; then" in text
    assert re.search(r"foam for batch 3: \d+", text)
    assert "foam for batch 4: first fill the tank up with 253 mL, 6.16 mL of agent in 246 mL of water; then" in text


def test_a_day_for_which_the_tank_holds_enough_says_so(small_plan: Plan) -> None:
    """All four take 31 L: a tank of 40 L is filled once."""
    tank = with_generator(small_plan.site, tank_l=40.0)
    text = plain(" ".join(days_text(dataclasses.replace(small_plan, site=tank), 400).plain.split()))
    assert "Dilution: what is left in the tank is enough." in text


def test_days_and_materials_count_the_same_agent_by_the_tank(small_plan: Plan) -> None:
    tank = dataclasses.replace(small_plan, site=with_generator(small_plan.site, tank_l=20.0))
    by_day = {use.day: 0.0 for use in uses_of(tank) if use.material == AGENT}
    for use in uses_of(tank):
        if use.material == AGENT:
            by_day[use.day] += use.amount
    drawn: dict[date, float] = {}
    for day in Diary(tank).days(tank.site.calendar.start, date(2027, 12, 31)):
        if filled := sum(sum(pour.tank_fills) for pour in day.pours):
            drawn[day.day] = filled * tank.site.foam_generator.agent_share
    assert by_day == pytest.approx(drawn)
    foam_l = small_plan.tables.batches["agent_l"].sum()
    assert sum(by_day.values()) == pytest.approx(foam_l + 4 * 0.95 / 41, rel=1e-4)


def test_a_small_tank_is_filled_often(small_plan: Plan) -> None:
    tank = with_generator(small_plan.site, tank_l=5.0)
    text = " ".join(days_text(dataclasses.replace(small_plan, site=tank), 400).plain.split())
    first_day_kg = sum(
        row.foam_kg + 0.95 for row in small_plan.tables.batches.itertuples() if row.start.date() == tank.calendar.start
    )
    tanks = -(-first_day_kg // 5)
    assert f"the tank is filled {tanks:.0f} times" in plain(text)
    assert "a full one is 5 L: 122 mL of agent in 4.88 L of water" in plain(text)


def test_foam_as_last_weighed_is_said_and_taken(small_plan: Plan) -> None:
    weighed = with_generator(small_plan.site, weighed_kg_m3=98.0)
    text = plain(cards_text(weighed, small_plan.order, 200).plain)
    assert "foam 98 kg/m3 as last weighed; nominal 95 kg/m3" in text
    assert "10 L of foam weigh 0.93 to 1.03 kg" in text
    other = with_generator(small_plan.site, foam_density_kg_m3=98.0)
    batches = [line for line in text.splitlines() if "generator" in line]
    assert batches == [line for line in plain(cards_text(other, small_plan.order, 200).plain).splitlines()
                       if "generator" in line]  # fmt: skip


def with_everything(plan: Plan, units: str) -> Plan:
    site = with_generator(plan.site, weighed_kg_m3=98.0, tank_l=20.0).model_copy(
        update={"buckets": BUCKETS, "units": units}
    )
    mix = MixSpec(name="base", wet_density_kg_m3=1200, water_cement=0.65, sand=0.5, fly_ash=0.1, fibre=0.005)
    order = plan.order.model_copy(update={"mixes": (mix,)})
    return dataclasses.replace(plan, site=site, order=order)


@pytest.mark.parametrize("units", ["SI", "US"])
def test_a_card_of_everything_at_40_columns(small_plan: Plan, golden: SnapshotAssertion, units: str) -> None:
    plan = with_everything(small_plan, units)
    text = cards_text(plan.site, plan.order, 40).plain
    assert max(map(len, text.splitlines())) <= 40
    assert text == golden


def ordered(plan: Plan, *mixes: MixSpec) -> str:
    """Cards of other mixes."""
    order = plan.order.model_copy(update={"mixes": mixes})
    return plain(" ".join(cards_text(plan.site, order, 400).plain.split()))


def test_a_mix_that_cannot_be_made_leaves_the_others_their_cards(small_plan: Plan) -> None:
    light = MixSpec(name="light", wet_density_kg_m3=400, water_cement=0.5)
    text = ordered(small_plan, light, MixSpec(name="wall", oven_dry_density_kg_m3=600, water_cement=0.65))
    assert (
        "It cannot be made: water_cement 0.5 leaves 0.19 for the slurry, too dry to mix: the foam brings 0.31" in text
    )
    assert "wall in the drum" in text


def test_a_strength_without_cubes_is_refused_with_the_test_to_make(small_plan: Plan) -> None:
    text = ordered(small_plan, MixSpec(name="strong", strength_mpa=2, slurry_water_cement=0.5))
    assert "It cannot be made: no cubes of this yard tell which density gives 2 MPa. Cast cubes of three" in text


def with_cubes(plan: Plan) -> Plan:
    curing = plan.site.curing.model_copy(update={"cubes": Cubes(tuple(cubes(scatter=0.05)))})
    return dataclasses.replace(plan, site=plan.site.model_copy(update={"curing": curing}))


def test_a_card_for_a_strength_says_whose_cubes_it_goes_by(small_plan: Plan) -> None:
    text = ordered(with_cubes(small_plan), MixSpec(name="strong", strength_mpa=1, slurry_water_cement=0.5))
    assert "mix strong" in text
    assert "for 1 MPa at 28 days at 20 degC, by the cubes of this yard" in text
    assert "strong in the drum" in text
