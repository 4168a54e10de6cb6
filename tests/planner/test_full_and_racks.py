"""When moulds and bases are full, and how many blocks are on racks, counted by hand on the small plan."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from blockrun.planner.full import full_of
from blockrun.planner.on_rack import OnRacks
from blockrun.planner.plan import Plan
from blockrun.planner.tables import table


def test_a_mould_is_full_from_its_first_pour_until_it_is_clean(small_plan: Plan) -> None:
    casts, tasks = small_plan.tables.casts, small_plan.tables.tasks
    first = full_of(small_plan.tables)["gang-2/01"][0]
    of_turn = casts[(casts["mould"] == "gang-2/01") & (casts["turn"] == 1)]
    cleans = tasks[(tasks["task"] == "clean") & (tasks["mould"] == "gang-2/01")]
    assert first.blocks == len(of_turn)
    assert first.poured == of_turn["poured"].max()
    assert first.free == cleans["end"].min()
    assert first.since < first.poured


def test_sides_are_free_once_off_and_a_base_once_clean(small_plan: Plan) -> None:
    based = small_plan.tables.casts[small_plan.tables.casts["base"] != ""].iloc[0]
    full = full_of(small_plan.tables)
    sides, base = full[based["mould"]][based["turn"] - 1], full[based["base"]][0]
    assert sides.free == based["sides_off"]
    assert base.free > based["strip"] > sides.free


@pytest.fixture
def racks() -> OnRacks:
    """Two blocks on from 8 on the 5th, one of them off at 9 on the 7th, the other at 10."""
    days = [("2027-04-05T08:00", "2027-04-07T09:00"), ("2027-04-05T08:00", "2027-04-07T10:00")]
    frame = table("casts", [_cast(on, off) for on, off in days])
    return OnRacks(frame)


def _cast(on: str, off: str) -> dict[str, object]:
    numbers = dict.fromkeys(("cast", "turn", "cavity", "batch"), 1)
    words = dict.fromkeys(("part", "mark", "mix", "mould", "base", "rack"), "")
    return {"spare": False, "rack_from": on, "rack_to": off, **numbers, **words}


def test_blocks_are_on_the_rack_up_to_the_minute_they_leave(racks: OnRacks) -> None:
    assert racks.at(datetime.fromisoformat("2027-04-05T07:59")) == 0
    assert racks.at(datetime.fromisoformat("2027-04-05T08:00")) == 2
    assert racks.at(datetime.fromisoformat("2027-04-07T09:00")) == 1
    assert racks.at(datetime.fromisoformat("2027-04-07T10:00")) == 0


def test_the_fullest_and_the_emptiest_moment_of_a_day(racks: OnRacks) -> None:
    assert [racks.most_on(date(2027, 4, day)) for day in (4, 5, 6, 7, 8)] == [0, 2, 2, 2, 0]
    assert racks.fewest_on(date(2027, 4, 7), datetime.fromisoformat("2027-04-07T07:00")) == 0
    assert racks.fewest_on(date(2027, 4, 6), datetime.fromisoformat("2027-04-06T07:00")) == 2
