"""What stands in a calendar, held against the tables of the plan."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from datetime import date, datetime
from typing import Any

import pandas as pd
import pytest

from blockrun.planner.begun import Begun
from blockrun.planner.plan import Plan
from blockrun.planner.tables import table
from blockrun.planner.thumbs.turns import Thumbs
from blockrun.show.calendar.entries import entries_of
from blockrun.show.calendar.entry import Entry, kinds_counted
from blockrun.site import ReleaseOil, Weather


@pytest.fixture(scope="module")
def entries(demo_plan: Plan) -> list[Entry]:
    return entries_of(demo_plan)


def of_kind(entries: list[Entry], kind: str) -> dict[date, Entry]:
    return {entry.day: entry for entry in entries if entry.kind == kind}


def count(pattern: str, title: str) -> int:
    found = re.search(pattern, title)
    return int(found[1]) if found else 0


def with_stock(plan: Plan, **stock: Any) -> Plan:
    site = plan.site.model_copy(update={"stock": plan.site.stock.model_copy(update=stock)})
    return replace(plan, site=site)


def test_no_two_entries_are_of_one_day_and_kind(entries: list[Entry]) -> None:
    assert max(Counter((entry.day, entry.kind) for entry in entries).values()) == 1


def test_days_of_pouring_and_their_batches_are_those_of_the_table(entries: list[Entry], demo_plan: Plan) -> None:
    told = {day: count(r"Pour (\d+) batch", entry.title) for day, entry in of_kind(entries, "pour").items()}
    assert told == Counter(moment.date() for moment in demo_plan.tables.batches["start"])


def test_each_batch_is_told_with_its_moulds(entries: list[Entry], demo_plan: Plan) -> None:
    lines = [line for entry in of_kind(entries, "pour").values() for line in entry.lines]
    for batch, casts in demo_plan.tables.casts.groupby("batch"):
        (line,) = (line for line in lines if line.startswith(f"Batch {batch} ("))
        assert set(re.findall(r"(\S+)/\d", line)) == {mould.split("/")[0] for mould in casts["mould"]}


def stripped(entries: list[Entry], word: str) -> dict[date, int]:
    """Moulds by day that titles count after a word."""
    told = {day: re.search(f"{word} ([^;]*)", entry.title) for day, entry in of_kind(entries, "strip").items()}
    return {day: sum(map(int, re.findall(r"(\d+) ", found[1]))) for day, found in told.items() if found}


@pytest.mark.parametrize(("task", "word"), [("strip", "Strip"), ("sides", "ides off")])
def test_moulds_stripped_are_those_of_the_table(entries: list[Entry], demo_plan: Plan, task: str, word: str) -> None:
    tasks = demo_plan.tables.tasks
    days = [moment.date() for moment in tasks[tasks["task"] == task]["start"]]
    assert stripped(entries, word) == Counter(days)


def test_blocks_that_go_to_racks_are_those_of_the_table(entries: list[Entry], demo_plan: Plan) -> None:
    told: Counter[tuple[date, str]] = Counter()
    for day, entry in of_kind(entries, "strip").items():
        for n, rack in re.findall(r"(\d+) blocks? to rack (\w+)", "\n".join(entry.lines)):
            told[day, rack] += int(n)
    casts = demo_plan.tables.casts
    assert told == Counter(zip((moment.date() for moment in casts["rack_from"]), casts["rack"], strict=True))


def test_blocks_ready_are_those_of_the_table(entries: list[Entry], demo_plan: Plan) -> None:
    told = {day: count(r"lay: (\d+) block", entry.title) for day, entry in of_kind(entries, "ready").items()}
    assert told == Counter(moment.date() for moment in demo_plan.tables.casts["ready"])


def test_a_course_is_called_whole_on_the_day_of_its_last_block(entries: list[Entry], demo_plan: Plan) -> None:
    casts = demo_plan.tables.casts
    last = casts[~casts["spare"]].groupby("course")["ready"].max()
    ready = of_kind(entries, "ready")
    assert ready[last[14].date()].title == "Ready to lay: 9 blocks; whole: blocks course 14"
    assert ready[date(2027, 5, 15)].title == "Ready to lay: 59 blocks; whole: blocks courses 3, 5 and 6"
    assert ready[date(2027, 5, 5)].title == "Ready to lay: 71 blocks; 4 courses whole"
    assert ready[date(2027, 5, 3)].title == "Ready to lay: 71 blocks"


def test_what_comes_is_told_on_its_day_with_what_it_is_good_for(small_plan: Plan) -> None:
    comes = of_kind(entries_of(small_plan), "deliver")
    assert comes.keys() == {date(2027, 4, 8)}
    assert comes[date(2027, 4, 8)].title == "Delivery: 6 bags of cement and 2 L of foaming agent"
    assert comes[date(2027, 4, 8)].lines[0].startswith("6 bags of cement: needed by Thu 8 Apr")


def test_a_lead_time_says_when_to_order(small_plan: Plan) -> None:
    cement = small_plan.site.stock.cement.model_copy(update={"lead_time_min": 1440})
    orders = of_kind(entries_of(with_stock(small_plan, cement=cement)), "order")
    assert [entry.title for entry in orders.values()] == ["Order 6 bags of cement"]
    assert orders[date(2027, 4, 7)].lines == ("6 bags of cement, to be there on Thu 8 Apr",)


def test_an_order_that_is_late_stands_on_the_day_the_plan_was_made_anew(small_plan: Plan) -> None:
    stock = {
        "cement": small_plan.site.stock.cement.model_copy(update={"lead_time_min": 2 * 1440}),
        "release_oil": ReleaseOil(per_turn_l=0.05, on_hand_l=0.2, lead_time_min=1440 * 5),
    }
    begun = Begun(since=datetime.fromisoformat("2027-04-07T07:00"))
    orders = of_kind(entries_of(replace(with_stock(small_plan, **stock), begun=begun)), "order")
    assert list(orders) == [date(2027, 4, 7)]
    assert orders[date(2027, 4, 7)].lines[0] == (
        "6 bags of cement, to be there on Thu 8 Apr, should have been ordered by Tue 6 Apr: if it was not, "
        "order at once"
    )


def test_what_nothing_covers_is_to_be_ordered_too(small_plan: Plan) -> None:
    oil = ReleaseOil(per_turn_l=0.05, on_hand_l=0.2, lead_time_min=1440)
    (order,) = of_kind(entries_of(with_stock(small_plan, release_oil=oil)), "order").values()
    assert re.fullmatch(r"Order \d+ mL more of release oil", order.title)
    assert "nothing that is named to come covers it" in order.lines[0]


def test_what_nothing_covers_and_may_take_any_time_is_to_be_ordered_at_once(small_plan: Plan) -> None:
    oil = ReleaseOil(per_turn_l=0.05, on_hand_l=0.2)
    orders = of_kind(entries_of(with_stock(small_plan, release_oil=oil)), "order")
    assert list(orders) == [small_plan.site.calendar.start]
    (line,) = orders[small_plan.site.calendar.start].lines
    assert line.endswith("covers it, and no lead_time says how long it takes")


def test_moulds_too_young_in_the_morning_have_a_line_with_their_moment(small_plan: Plan) -> None:
    strip = of_kind(entries_of(small_plan), "strip")[date(2027, 4, 6)]
    assert "Not before 12:45: gang-2/01-02" in strip.lines


def test_days_of_frost_their_eve_and_days_too_cold_to_pour_say_to_cover(entries: list[Entry]) -> None:
    cover = of_kind(entries, "cover")
    assert {day.day: entry.title for day, entry in cover.items()} == {
        12: "Cold, no pour: cover racks",
        13: "Frost on Wed 14 Apr: cover racks",
        14: "Frost: cover racks and stack",
        15: "Cold, no pour: cover racks",
        16: "Cold, no pour: cover racks",
    }
    assert "15:00 wet the racks, not today: frost tonight" in cover[date(2027, 4, 13)].lines
    assert cover[date(2027, 4, 12)].lines[0] == "The air falls to 3 °C, and 5 °C is the least"


def test_what_leaves_a_rack_is_told_as_the_table_has_it(entries: list[Entry], demo_plan: Plan) -> None:
    told = {day: count(r"off the rack: (\d+) block", entry.title) for day, entry in of_kind(entries, "move").items()}
    casts = demo_plan.tables.casts
    assert told == Counter(moment.date() for moment in casts["rack_to"])
    first = min(casts["rack_to"])
    lines = of_kind(entries, "move")[first.date()].lines
    assert any(line.startswith(f"Not before {first:%H:%M}: off rack west to the stack: ") for line in lines)


def test_cubes_to_crush_stand_on_their_day(small_plan: Plan) -> None:
    row = {
        "batch": 1,
        "cubes": 3,
        "volume_l": 3.09,
        "set": 1,
        "marked": "1-1 to 1-3",
        "crush": pd.Timestamp("2027-05-03"),
    }
    tables = replace(small_plan.tables, cubes=table("cubes", [row]))
    crush = of_kind(entries_of(replace(small_plan, tables=tables)), "crush")
    assert crush[date(2027, 5, 3)].title == "Crush 3 test cubes"
    assert "marked 1-1 to 1-3" in crush[date(2027, 5, 3)].lines[0]


def test_what_a_thumb_moves_stands_on_the_day_it_moves(small_plan: Plan) -> None:
    thumbs, _ = Thumbs(small_plan).press("gang-2/01", datetime.fromisoformat("2027-04-06T12:50"), "soft")
    told = of_kind(entries_of(small_plan, thumbs), "thumb")
    assert any("gang-2/01" in line for entry in told.values() for line in entry.lines)
    assert not of_kind(entries_of(small_plan), "thumb")


def test_a_strip_that_waits_for_a_thumb_says_so_itself(small_plan: Plan) -> None:
    """A telephone shows the entries of a day in an order of its own."""
    thumbs, _ = Thumbs(small_plan).press("gang-2/01", datetime.fromisoformat("2027-04-07T18:15"), "dents")
    told = entries_of(small_plan, thumbs)
    strip = of_kind(told, "strip")[date(2027, 4, 8)]
    assert strip.title == "Strip 2 gang-2, 1 tray-1; press a thumb first"
    assert strip.lines[0] == "PRESS A THUMB FIRST: gang-2/01"
    kinds = [entry.kind for entry in told if entry.day == date(2027, 4, 8)]
    assert kinds.index("thumb") < kinds.index("strip")


def test_slabs_say_by_which_saw_plan_they_are_sawn(slabs_plan: Plan) -> None:
    strip = of_kind(entries_of(slabs_plan), "strip")[date(2027, 5, 4)]
    assert "- slab/01 by saw plan 1: 2 F, 3 E, 2 C, 2 B, 3 D" in strip.lines


def test_a_title_names_three_kinds_and_counts_the_rest() -> None:
    names = ["a/01", "a/02", "b/b1", "b/b2", "b/b3", "c/1", "c/2", "d/1", "e/01"]
    assert kinds_counted(names) == "3 b, 2 a, 2 c, 2 more"
    assert kinds_counted(names[:5]) == "3 b, 2 a"


def test_a_site_in_us_units_reads_its_own_dates_and_degrees(small_plan: Plan) -> None:
    american = replace(small_plan, site=small_plan.site.model_copy(update={"units": "US"}))
    text = "\n".join(line for entry in entries_of(american) for line in entry.lines)
    assert "needed by Thu Apr 8" in text
    assert " °F" in text
    assert not re.search(r"deg[CF]|Thu 8 Apr", text)


def test_words_are_plain(entries: list[Entry]) -> None:
    text = "\n".join(line for entry in entries for line in (entry.title, *entry.lines))
    assert "\u00a0" not in text
    assert not re.search(r"\[/?(bold|red|reverse)", text)


def test_batches_that_heat_leaves_no_time_for_are_told_so_and_counted_in_the_title(demo_plan: Plan) -> None:
    weather = Weather(demo_plan.site.calendar.start, ((47.0, 48.0), (20.0, 28.0)))
    hot = replace(demo_plan, site=demo_plan.site.model_copy(update={"weather": weather}))
    first, second, *_ = of_kind(entries_of(hot), "pour").values()
    batches = [line for line in first.lines if line.startswith("Batch")]
    assert all(line.endswith("; CANNOT BE POURED IN TIME: do not make it at this hour") for line in batches)
    assert first.title.endswith(f"; {len(batches)} CANNOT BE POURED IN TIME")
    assert "TIME" not in " ".join((second.title, *second.lines))
