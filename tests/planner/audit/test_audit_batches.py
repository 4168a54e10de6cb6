"""One batch: size, weights, minutes, and what is poured from it."""

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from blockrun.order import BlockList
from blockrun.site import Sand, Sky, Weather
from blockrun.site.weather import TypicalYear


def mixer(plan, **fields):
    plan.change_site(mixers=tuple(one.model_copy(update=fields) for one in plan.site.mixers))


def test_a_batch_between_two_bag_steps_is_found(plain):
    mixer(plain, bag_step=Fraction(2))
    assert plain.said() == [f"batch {n} takes 3 bags, but the drum takes steps of 2" for n in (1, 2)]


def test_a_batch_of_no_bags_is_found(plain):
    plain.set("batches", {"batch": 2}, bags=0.0)
    assert ("bag steps", "batch 2") in plain.broken()


def test_thirds_of_a_bag_are_whole_steps_as_printed(plain):
    """A bag of 22.5 kg: 3 1/3 of them are the same 75 kg."""
    mixer(plain, bag_step=Fraction(1, 3))
    cement = plain.site.stock.cement.model_copy(update={"bag_kg": 22.5, "on_hand_bags": 10.0, "deliveries": ()})
    plain.change_part_of_site("stock", cement=cement)
    plain.batches["bags"] = 3.333
    plain.materials["cement_delivered_kg"] = 0.0
    plain.materials["cement_left_kg"] = [150.0, 75.0]
    plain.totals = None
    assert plain.broken() == []


def test_a_batch_too_large_for_the_mixer_is_found(plain):
    mixer(plain, usable_volume_l=149.0)
    assert plain.said() == [f"batch {n} makes 150 L, but the drum holds 149 L" for n in (1, 2)]


def test_a_batch_too_small_for_the_paddle_is_found(plain):
    mixer(plain, least_volume_l=151.0)
    assert plain.said() == [f"batch {n} makes 150 L, but the drum needs 151 L to mix" for n in (1, 2)]


@pytest.mark.parametrize(
    ("column", "wrong", "words", "right"),
    [
        ("cement_kg", 76.0, "kg of cement", "75"),
        ("slurry_water_kg", 37.0, "kg of water in the slurry", "37.5"),
        ("foam_l", 88.6, "L of foam", "88.69"),
        ("foam_kg", 8.9, "kg of foam", "8.87"),
        ("agent_l", 0.3, "L of foaming agent", "0.22"),
        ("yield_l", 151.0, "L of mix", "150"),
    ],
)
def test_a_wrong_weight_is_found(plain, column, wrong, words, right):
    plain.set("batches", {"batch": 2}, **{column: wrong})
    assert plain.said() == [f"batch 2 says {wrong:g} {words}, but its bags give {right} {words}"]


def test_weights_may_be_off_by_what_printing_takes(plain):
    plain.set("batches", {"batch": 2}, foam_l=88.6955)
    assert plain.broken() == []


def test_a_wrong_poured_volume_is_found(plain):
    plain.set("batches", {"batch": 1}, poured_l=126.0)
    assert plain.said() == ["batch 1 says 126 L are poured, but its cavities take 132.3 L"]


def test_cavities_that_take_more_than_the_batch_makes_are_found(plain):
    """132.3 L and 17.7 L just fit in 150; a little more does not."""
    mixer(plain, left_behind_l=17.7)
    assert plain.broken() == []
    mixer(plain, left_behind_l=17.71)
    assert plain.said() == [
        f"batch {n} makes 150 L, but its cavities take 132.3 L and 17.71 L stays in the drum" for n in (1, 2)
    ]


@pytest.mark.parametrize("column", ["foam_at", "pour_from", "pour_to", "end"])
def test_a_batch_that_waits_is_found(plain, column):
    plain.later("batches", {"batch": 2}, column, 1)
    assert plain.broken() == [("batch times", "batch 2")]


def test_foam_that_takes_longer_than_blending_sets_the_pour(plain):
    """At 30 L/min the foam takes 2.96 min, so blending, 4 min, decides: the pour would start a minute sooner."""
    plain.change_part_of_site("foam_generator", rate_l_min=30.0)
    assert (
        "the start of the pour of batch 1 is written Mon 5 Apr 07:45, but a start at Mon 5 Apr 07:30 gives "
        "Mon 5 Apr 07:44" in plain.said()
    )


def test_a_pour_longer_than_the_foam_lives_is_found(plain):
    plain.change_site(pour_life_min=14.5)
    assert plain.said() == [
        f"batch {n} is poured 15 min after its foam went in; the pour life is 14.5 min" for n in (1, 2)
    ]


def test_a_pour_that_heat_leaves_no_time_for_is_found(plain):
    """Foam and pour take 15 min: of 20, 15 are left at 35.5 degC and 14 at 38, EN 1992-1-1 (B.10)."""
    plain.change_site(pour_life_min=20.0, weather=Weather(date(2027, 4, 5), ((35.5, 35.5), (38.0, 38.0))))
    in_heat = [said for said in plain.said() if "keeps" in said]
    assert in_heat == ["batch 2 is poured 15 min after its foam went in at Tue 6 Apr 08:50; at 38 degC it keeps 14 min"]


def test_a_pour_in_heat_is_no_breach_where_no_working_hour_of_a_year_is_cooler(plain):
    """The smallest batch takes 14 min: a minute more than is left of 20 at 39 degC."""
    hot, cool = Sky(air_c=(39.0,) * 25), Sky(air_c=(20.0,) * 25)
    for january, found in ((hot, False), (cool, True)):
        year = TypicalYear("Fenby", (*(january,) * 31, *(hot,) * 334))
        plain.change_site(pour_life_min=20.0, weather=Weather.of_typical(year))
        assert ("pour life in heat" in {rule for rule, _ in plain.broken()}) is found


def test_foam_after_the_last_foam_is_found(plain):
    """Foam goes in at 07:40 on Monday and at 08:50 on Tuesday."""
    plain.change_part_of_site("calendar", last_foam=8 * 60 + 50)
    assert plain.broken() == []
    plain.change_part_of_site("calendar", last_foam=8 * 60 + 49)
    assert plain.said() == ["foam goes into batch 2 at Tue 6 Apr 08:50, after the last foam at 08:49"]


def test_a_block_of_another_mix_than_its_batch_is_found(based):
    """G is ordered in the mix light and written so, but poured from a batch of wall."""
    row = based.order.parts[1].blocks.rows[0]
    based.change_part_of_order(1, blocks=BlockList("rest.csv", (replace(row, mix="light"),)))
    based.set("casts", {"cast": 3}, mix="light")
    assert based.said() == ["block 3 is of mix light, but batch 2 is wall"]


def test_water_that_damp_sand_brings_is_taken_off_the_slurry_water(plain):
    """75 kg of cement, half as much sand and water: 4 % of 37.5 kg of sand is 1.5 kg."""
    plain.order = plain.order.model_copy(
        update={"mixes": tuple(mix.model_copy(update={"sand": 0.5}) for mix in plain.order.mixes)}
    )
    plain.change_part_of_site("stock", sand=Sand(moisture=0.04))
    of_water = "batch 2 says 37.5 kg of water in the slurry, but its bags give 36 kg of water in the slurry"
    assert of_water in plain.said()
    plain.set("batches", {"batch": 2}, slurry_water_kg=36.0)
    assert not [said for said in plain.said() if said.startswith("batch 2") and "in the slurry" in said]
