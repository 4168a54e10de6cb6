"""What is said of a plan beside its figures."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from blockrun import load_order, load_site
from blockrun.planner.brief import Brief, brief
from blockrun.planner.plan import Plan
from blockrun.planner.warnings import warnings
from blockrun.site import Cubes
from tests.cure.cubes import cubes


@pytest.fixture
def said(small_folder: Path, small_plan: Plan, tmp_path: Path):
    """The warnings of the small plan, had its inputs been changed so."""

    def of(file: str = "site.yaml", old: str = "", new: str = "") -> tuple[str, ...]:
        inputs = Path(shutil.copytree(small_folder / "inputs", tmp_path / "inputs"))
        text = (inputs / file).read_text(encoding="utf-8")
        assert old in text
        (inputs / file).write_text(text.replace(old, new, 1), encoding="utf-8")
        asked: Brief = brief(load_site(inputs / "site.yaml"), load_order(inputs / "order.yaml"), 30)
        return warnings(asked, small_plan.tables, {})

    return of


def test_foam_that_a_clock_can_time_is_no_matter(said) -> None:
    assert not [one for one in said() if "too little to time" in one]


def test_lateness_is_said_first_and_guessed_weather_after_it(said) -> None:
    late, forecast = said()[:2]
    assert late == "wall: 2 blocks are ready later than needed."
    assert forecast.startswith("The forecast ends on Fri 9 Apr")


def test_a_list_named_in_two_parts_is_said(said) -> None:
    twice = said("order.yaml", "  - {list: wall.csv, name: wall}", "  - {list: wall.csv}\n  - {list: wall.csv}")
    assert "wall.csv is named in 2 parts: its blocks are cast 2 times." in twice


def test_fewer_bases_than_moulds_are_said(said) -> None:
    assert "tray-1: 3 moulds on 2 bases; the other sides are never used." in said(
        old="kind: tray-1\n    count: 1", new="kind: tray-1\n    count: 3"
    )


def test_sides_that_come_off_after_the_strip_age_are_said(said) -> None:
    late = said(old="sides_off_at: 8 h", new="sides_off_at: 30 h")
    assert "tray-1: sides_off_at is later than strip_at, so the blocks wait for the sides." in late


def test_foam_too_little_to_time_is_said_with_its_batches(said) -> None:
    """Batches take 103, 88.7, 59 and 35 L of foam; at 1000 L/min the third runs 3.5 s, the first 6.2 s."""
    (told,) = (one for one in said(old="rate: 60 L/min", new="rate: 1000 L/min") if "too little to time" in one)
    assert told.startswith("The foam of batches 3 and 4 takes the generator less than 5 s, too little to time: measure")


def test_agent_that_covers_the_foam_but_not_the_foam_weighed_is_said_with_its_day(said) -> None:
    """Batches take 0.6642 L; with 0.95 / 41 L before each of the four it is 0.7569 L, on Thu more than 0.7 L."""
    agent = "on_hand: 2 L, deliveries: [{day: 2027-04-08, volume: 2 L}], price: 9.50"
    (short,) = (one for one in said(old=agent, new="on_hand: 0.7 L, price: 9.50") if "agent" in one)
    assert short == (
        "Foaming agent on hand and to come is enough for the foam of the batches, not for the bucket of foam weighed "
        "before each: 0.06 L more must be there, the first of it on Thu 8 Apr."
    )


def test_agent_that_covers_both_is_not_said(said) -> None:
    agent = "on_hand: 2 L, deliveries: [{day: 2027-04-08, volume: 2 L}], price: 9.50"
    assert not [one for one in said(old=agent, new="on_hand: 0.757 L, price: 9.50") if "agent" in one]


def test_a_stiff_mix_is_said_with_its_name(said) -> None:
    stiff = said("order.yaml", "slurry_water_cement: 0.50", "slurry_water_cement: 0.32")
    assert [warning for warning in stiff if warning.startswith("light: Stiff slurry")]


def test_what_alone_makes_blocks_late_is_said_where_it_weighs(small_plan: Plan) -> None:
    asked = brief(small_plan.site, small_plan.order, 30)
    one = warnings(asked, small_plan.tables, {"age": 0, "cement": 1, "moulds": 0})
    assert "Short of cement when it is needed: that alone makes 1 block-days late." in one
    two = warnings(asked, small_plan.tables, {"age": 0, "cement": 1, "moulds": 2})
    assert "Short of moulds and cement when it is needed: each of them alone makes 1 block-days late, or more." in two


def test_blocks_needed_before_any_can_be_old_enough_are_said(small_plan: Plan) -> None:
    asked = brief(small_plan.site, small_plan.order, 30)
    said = warnings(asked, small_plan.tables, {"age": 2, "moulds": 2})
    assert [warning for warning in said if "they would still be 2 block-days late" in warning]
    assert not [warning for warning in said if warning.startswith("Short of")]


def test_ages_that_look_like_a_wrong_unit_are_said(said) -> None:
    hasty = said(old="strip_at: 24 h", new="strip_at: 24 min")
    assert "strip_at is 24 min: a day is usual. Is the unit right?" in hasty


def test_a_laying_age_that_looks_like_a_wrong_unit_is_said(said) -> None:
    assert "lay_at is 1 d 4 h: four weeks are usual. Is the unit right?" in said(old="lay_at: 28 d", new="lay_at: 28 h")


def test_heavy_blocks_are_said_before_the_mixes(said) -> None:
    of_mixes = said("order.yaml", "slurry_water_cement: 0.50", "slurry_water_cement: 0.32")
    heavy = [n for n, warning in enumerate(of_mixes) if warning.startswith("sill weighs 40.6 kg wet, over the 11.8 kg")]
    assert len(heavy) == 1
    assert of_mixes[heavy[0] + 1].startswith("full weighs")
    assert heavy[0] < next(n for n, warning in enumerate(of_mixes) if warning.startswith("light: "))


def test_the_lift_of_the_yard_decides_what_is_heavy(said) -> None:
    easy = (
        "lifting: {from_height: 0.75 m, to_height: 75 cm, reach: 10 in, twist: 0 deg, lifts_a_minute: 0.2, people: 3}"
    )
    assert [w for w in said(old="weather: ", new=f"{easy}\nweather: ") if w.startswith("sill weighs")] == [
        "sill weighs 40.6 kg wet, over the 34 kg that three people may lift so: an easier lift, a hoist, or a smaller "
        "block."
    ]


def test_blocks_too_weak_to_lift_are_said_where_cubes_tell(small_plan: Plan) -> None:
    asked = brief(small_plan.site, small_plan.order, 30)
    tests = tuple(cubes([(density, age) for density in (600.0, 750.0, 900.0) for age in (1.0, 3.0, 7.0)]))
    curing = asked.site.curing.model_copy(update={"cubes": Cubes(tests)})
    tested = replace(asked, site=asked.site.model_copy(update={"curing": curing}))
    weak = [said for said in warnings(tested, small_plan.tables, {}) if "to be lifted at its ends" in said]
    assert [said.split()[0] for said in weak] == ["thin"]
    assert not [said for said in warnings(asked, small_plan.tables, {}) if "at its ends" in said]


def test_laying_before_the_rack_is_over_is_said(said) -> None:
    (one,) = [line for line in said(old="lay_at: 28 d", new="lay_at: 5 d") if "rack_for" in line]
    assert one.startswith("lay_at, 5 d, is shorter than rack_for, 7 d: ")


def test_laying_after_the_rack_is_not_worth_a_word(said) -> None:
    assert not [line for line in said() if "rack_for" in line or "overfill" in line]


def test_much_that_is_struck_off_is_said(said) -> None:
    assert [line for line in said(old="overfill: 3 %", new="overfill: 15 %") if line.startswith("overfill is 15 %: ")]


def test_days_away_before_the_start_are_said_to_count_for_nothing(said) -> None:
    gone = said(old="away: [{day", new="away: [{day: 2026-04-07, people: 1}, {day")
    assert "Before the start, 2027-04-05, and so left out: away on 2026-04-07. Is the year right?" in gone


def test_a_need_date_before_the_start_is_said_with_the_start(said) -> None:
    early = said("wall.csv", "light,1,2027-05-04", "light,1,2026-05-04")
    assert "wall: needed from Mon 4 May 2026 on, before the start, Mon 5 Apr 2027. Is the date right?" in early


def test_dates_of_a_list_that_are_not_worked_are_said_to_stay(said) -> None:
    off = said("wall.csv", "heavy,2,2027-05-05", "heavy,2,2027-05-09")
    assert "wall: needed on Sun 9 May 2027, not worked: a day written in a list is not moved." in off


def test_a_part_needed_from_a_day_off_is_said_to_move(said) -> None:
    wall = "  - {wall: yard, length: 3.05 m, height: 0.61 m, block: 600 x 300 x 200 mm, joint: 10 mm, bond: half, "
    wall += "mix: light, needed: {from: 2027-05-09, courses_a_day: 1}}\n"
    moved = said("order.yaml", "parts:\n", "parts:\n" + wall)
    assert "yard: Sun 9 May 2027 is not worked, so its first course counts as needed on Mon 10 May 2027." in moved
    assert not [one for one in moved if "before the start" in one or "not moved" in one]


def test_moulds_that_nothing_ordered_fits_are_said_once_with_their_sizes(said) -> None:
    idle = said(old="cavity: 600 x 300 x 100 mm", new="cavity: 600 x 300 x 110 mm")
    (one,) = [line for line in idle if "tray-1" in line]
    assert one == "Nothing that is ordered fits tray-1 (600 x 300 x 110 mm). Is its size right?"
