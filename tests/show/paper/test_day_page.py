"""The page of a day: all that casts.csv and batches.csv have of it, limits before clock times, nothing cut off."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime
from itertools import pairwise
from typing import Any

import pytest

from blockrun.files.day_names import full_day_name
from blockrun.planner.begun import Begun
from blockrun.planner.plan import Plan
from blockrun.planner.thumbs.turns import Thumbs
from blockrun.show.day import Day
from blockrun.show.page import GLUE
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.day_page import day_pages
from blockrun.show.paper.mould_boxes import Row, mould_boxes
from blockrun.show.paper.order_of_work import order_of_work
from blockrun.show.paper.press import Head, Sheet, print_sheets
from blockrun.show.paper.size import Paper
from blockrun.show.paper.standing import StandingFull
from blockrun.show.words import named_together
from blockrun.site import Weather
from tests.show.paper.conftest import HEAD
from tests.show.paper.read import Letter, Page, moulds_named, read_back

US = replace(HEAD, paper=Paper.LETTER, units="US")


def sheets_of(asked: Asked) -> list[Sheet]:
    return [sheet for day in asked.days for sheet in day_pages(asked, day)]


def read_days(plan: Plan, head: Head = HEAD, **span: date) -> list[Page]:
    return read_back(print_sheets(head, sheets_of(Asked(plan, **span))))


def of_day(pages: Sequence[Page], day: date) -> str:
    """Words of all pages at whose head a day stands."""
    told = [(page.words.replace(HEAD.plan, ""), full_day_name(day)) for page in pages]
    return " ".join(words for words, name in told if name in words)


def all_inside(pages: Sequence[Page]) -> bool:
    return all(
        15 < letter.left < letter.right < page.width - 15 and 10 < letter.bottom < letter.top < page.height - 10
        for page in pages
        for letter in page.letters
    )


@pytest.fixture(scope="module")
def pages(demo_plan: Plan) -> list[Page]:
    return read_days(demo_plan)


def test_every_batch_mould_and_mark_of_a_day_is_on_its_page(demo_plan: Plan, pages: list[Page]) -> None:
    casts = demo_plan.tables.casts
    for day, of in casts.groupby(casts["poured"].dt.date):
        words = of_day(pages, day)
        assert {int(number) for number in re.findall(r"Pour (\d+) ", words)} == set(of["batch"])
        assert set(of["mould"]) | set(of["base"]) - {""} <= moulds_named(words) | on_bases(words)
        assert all(mark in words for mark in set(of["mark"]))


def on_bases(words: str) -> set[str]:
    """Bases in the boxes of moulds: ``tray-3/01 on b04`` is ``tray-3/b04``."""
    return {f"{kind}/{base}" for kind, base in re.findall(r"([\w-]+)/\d\d on (b\d\d)", words)}


def test_every_strip_of_a_day_is_on_its_page(demo_plan: Plan, pages: list[Page]) -> None:
    tasks = demo_plan.tables.tasks
    strips = tasks[tasks["task"] == "strip"]
    for day, of in strips.groupby(strips["start"].dt.date):
        stripped = {base or mould for mould, base in zip(of["mould"], of["base"], strict=True)}
        assert stripped <= moulds_named(of_day(pages, day))


def test_cavities_are_drawn_with_what_casts_says_of_each(demo_plan: Plan) -> None:
    casts = {
        (row.mould, row.poured.date(), row.cavity, row.batch): row.mark
        for row in demo_plan.tables.casts.itertuples()
        if not row.base
    }
    drawn = {
        (f"{row.kind}/{box.name}", day.day, number, int(cell.batch)): cell.mark
        for day in Asked(demo_plan).days
        for row in boxes_of(demo_plan, day)
        for box in row.boxes
        for number, cell in enumerate(box.cells, start=1)
        if cell.mark and not box.on
    }
    assert drawn == casts


def boxes_of(plan: Plan, day: Day) -> list[Row]:
    return mould_boxes(day, plan.site, StandingFull(plan).on(day.day))


def test_moulds_stand_in_the_order_of_their_numbers_and_the_empty_ones_are_named(demo_plan: Plan) -> None:
    for day in Asked(demo_plan).days:
        for row in boxes_of(demo_plan, day):
            names = [box.name for box in row.boxes]
            assert names == sorted(names, key=lambda name: (name.startswith("b"), name))
            assert not {f"{row.kind}/{name}" for name in names} & moulds_named(row.empty)


def test_moulds_out_of_use_are_not_told_to_be_empty(demo_plan: Plan) -> None:
    empty = next(names for day in Asked(demo_plan).days for row in boxes_of(demo_plan, day) if (names := row.empty))
    gone = sorted(moulds_named(empty))[0]
    anew = replace(demo_plan, begun=Begun(since=datetime.fromisoformat("2027-04-05T07:00"), out_of_use=(gone,)))
    asked = Asked(anew)
    sheets = [sheet for day in asked.days for sheet in day_pages(asked, day)]
    told = [row["empty"] for sheet in sheets for day in sheet.data["days"] for row in day["moulds"]]
    assert any(told)
    assert not any(gone in moulds_named(names) for names in told)


def test_what_stands_full_all_day_is_drawn_with_until_when_it_is_left_alone(demo_plan: Plan, pages: list[Page]) -> None:
    """Mould by mould as casts.csv has it, whatever else is done on the day."""
    casts = demo_plan.tables.casts
    for day in Asked(demo_plan).days:
        full = casts[(casts["poured"].dt.date < day.day) & (casts["strip"].dt.date > day.day)]
        drawn = [(row.kind, box) for row in boxes_of(demo_plan, day) for box in row.boxes if box.leave]
        assert len(drawn) == len(full.groupby(["mould", "turn"]))
        assert sum(int(n) for _, box in drawn for n in re.findall(r"(\d+)\s(?=\S)", box.holds)) == len(full)
    words = of_day(pages, date(2027, 4, 6))
    assert "gang-4/01 1 cut and 3 full leave shut, strip from Wed 7 Apr" in words
    assert "tray-3/b01 3 thin leave, strip from Wed 7 Apr" in words


def test_what_is_set_in_stands_in_its_cavity_under_its_number(demo_plan: Plan, pages: list[Page]) -> None:
    day = Asked(demo_plan).days[0]
    set_in = {
        (fill.mould, cavity.cavity): cavity.inserts.said("SI")
        for pour in day.pours
        for fill in pour.fills
        for cavity in fill.cavities
    }
    for row in boxes_of(demo_plan, day):
        for box in row.boxes:
            for cell in box.cells:
                said = box.in_all or ", ".join(f"{name} {size}" for name, size in cell.sets)
                asked = set_in[f"{row.kind}/{box.name}", int(cell.number)]
                assert said.replace(GLUE, " ") in {asked, asked.replace(" at ", " ").replace(" of ", " ")}
    assert min(pages[1].sizes_of("stop-end450 mm")) >= 8
    assert "batch 1 batch 4 batch 6" in pages[1].words


def test_work_comes_in_the_order_of_the_clock_and_the_clock_in_small_print(pages: list[Page]) -> None:
    page = pages[0]
    times = re.findall(r"(\d\d:\d\d)\u2013\d\d:\d\d", page.words)
    assert times == sorted(times)
    assert len(times) > 8
    limits, clock = page.sizes_of("POUR IN 25 min"), page.sizes_of(f"{times[0]}\u2013")
    assert min(limits) > 1.4 * max(clock)


def test_a_pour_is_limited_by_its_foam_and_a_cleaning_by_the_batch_that_waits_for_it(
    demo_plan: Plan, pages: list[Page]
) -> None:
    assert "POUR IN 25 min of the foam, by 08:25" in pages[0].words
    casts = demo_plan.tables.casts
    batch = casts.loc[(casts["base"] == "tray-3/b04") & (casts["poured"].dt.date == date(2027, 4, 8)), "batch"].iloc[0]
    assert f"BEFORE BATCH {batch} tray-3/b04 by 08:10" in of_day(pages, date(2027, 4, 8))


@pytest.mark.parametrize("named", ["demo", "slabs"])
def test_nothing_that_a_batch_waits_for_comes_after_it(named: str, request: pytest.FixtureRequest) -> None:
    """In the demo a base is cleaned while its batch is mixed: who works by the rows must clean it first."""
    plan: Plan = request.getfixturevalue(f"{named}_plan")
    for day in Asked(plan).days:
        rows = order_of_work(day, plan.site)
        for pour in day.pours:
            at = next(n for n, row in enumerate(rows) if row.batch == str(pour.batch.batch))
            filled = {name for fill in pour.fills for name in (fill.mould, fill.base)} - {""}
            later = [row for row in rows[at:] if row.verb in {"Clean, oil", "Sides off"}]
            too_late = [row for row in later if row.at < pour.batch.pour_from and filled & moulds_named(row.what)]
            assert not too_late


def test_what_is_cleaned_while_its_batch_is_mixed_says_which_batch(demo_plan: Plan) -> None:
    day = next(day for day in Asked(demo_plan).days if day.day == date(2027, 4, 8))
    rows = [row for row in order_of_work(day, demo_plan.site) if "tray-3/b04" in row.what and row.waited_for]
    said = [(row.verb, [(limit.said, limit.by) for limit in row.limits if limit.by]) for row in rows]
    assert said == [
        ("Strip", [("BEFORE BATCH 22", "by 08:04")]),
        ("Clean, oil", [("BEFORE BATCH 22", "by 08:10")]),
    ]


def test_a_strip_says_not_before_when_and_by_when(slabs_plan: Plan) -> None:
    (page,) = read_days(slabs_plan, first_asked=date(2027, 5, 4), last_asked=date(2027, 5, 4))
    assert "Strip gang-4/01-02" in page.words
    assert "NOT BEFORE 12:37" in page.words
    assert "NOT BEFORE 12:59 Strip small/01" in page.words or "small/01 2 blocks; when somebody is free" in page.words


def test_the_head_says_who_is_here_how_the_air_is_and_the_last_foam(pages: list[Page]) -> None:
    assert "4 people here air 8 to 17 \u00b0C" in pages[0].words
    assert "LAST FOAM 15:30" in pages[0].words
    assert max(letter.size_pt for letter in pages[0].letters) > 20


def test_who_is_away_is_said(demo_plan: Plan) -> None:
    asked = Asked(demo_plan)
    day = replace(asked.days[0], people=3)
    object.__setattr__(asked, "days", (day, *asked.days[1:]))
    (sheet,) = day_pages(asked, day)
    assert sheet.data["days"][0]["here"] == "3 people here, 1 away"


def test_each_batch_has_boxes_for_poured_struck_off_and_covered(demo_plan: Plan) -> None:
    rows = order_of_work(Asked(demo_plan).days[0], demo_plan.site)
    first = next(row for row in rows if row.batch == "1")
    assert first.ticks == ("struck off", "covered")
    assert f"{first.at:%H:%M}" == "07:50"


def test_a_batch_that_heat_leaves_no_time_for_is_told_as_loud_as_a_limit(demo_plan: Plan) -> None:
    day = Asked(demo_plan).days[0]
    pour = replace(day.pours[0], pour_life=replace(day.pours[0].pour_life, minutes=9.0, hot_c=38.0))
    (row,) = order_of_work(replace(day, jobs=(pour,)), demo_plan.site)
    assert [limit.said for limit in row.limits] == ["POUR IN 9 min", "CANNOT BE POURED IN TIME"]
    assert row.limits[-1].by == "do not make it at this hour"
    assert row.aside[1].replace("\u00a0", " ") == "it keeps 9 min in the heat, 38 degC"


def test_what_heat_leaves_no_time_for_does_not_hide_the_names_of_moulds(demo_plan: Plan) -> None:
    """A limit is a box that no line parts: as wide as its words, it leaves that much less for what is poured."""
    weather = Weather(demo_plan.site.calendar.start, ((42.0, 43.0),) * 7)
    asked = Asked(replace(demo_plan, site=demo_plan.site.model_copy(update={"weather": weather})))
    page, *_ = read_back(print_sheets(HEAD, [*day_pages(asked, asked.days[0])]))
    names = named_together(fill.mould for fill in asked.days[0].pours[0].fills)
    right = max(letter.right for letter in letters_of(page, names))
    assert right < min(letter.left for letter in letters_of(page, "NO TIME TO WEIGH"))


def letters_of(page: Page, words: str) -> Sequence[Letter]:
    """The first letters on a page that make these words, blanks apart."""
    whole, sought = "".join(letter.text for letter in page.letters), "".join(words.split())
    at = whole.index(sought)
    return page.letters[at : at + len(sought)]


def test_moves_and_racks_of_the_day_add_up(demo_plan: Plan) -> None:
    casts, asked = demo_plan.tables.casts, Asked(demo_plan)
    for day in asked.days:
        for rack in asked.racks.on(day.day):
            of = casts[casts["rack"] == rack.rack]
            assert rack.on == (of["rack_from"].dt.date == day.day).sum()
            assert rack.off == (of["rack_to"].dt.date == day.day).sum()
            come, left = of["rack_from"].dt.date <= day.day, of["rack_to"].dt.date <= day.day
            assert rack.at_night == (come & ~left).sum() <= rack.places


def test_tomorrow_is_told_so_that_it_can_be_made_ready(pages: list[Page]) -> None:
    assert "Tomorrow, Tue 6 Apr, air 7 to 16 \u00b0C pour 1 batch, the first from 07:54, into tray-3/01-03" in of_day(
        pages, date(2027, 4, 5)
    )


def test_the_last_day_printed_still_tells_of_the_next(demo_plan: Plan) -> None:
    day = date(2027, 4, 5)
    *_, page = read_days(demo_plan, first_asked=day, last_asked=day)
    assert "Tomorrow, Tue 6 Apr" in page.words


def test_days_without_work_share_a_page(demo_plan: Plan) -> None:
    asked = Asked(demo_plan)
    idle = [day for day in asked.days if not day.jobs]
    followed = next(day for day in idle if len(asked.together(day)) > 1)
    together = asked.together(followed)
    assert [len(list(day_pages(asked, day))) for day in together] == [1] + [0] * (len(together) - 1)


def test_a_day_off_stands_on_the_page_of_the_day_before_it(demo_plan: Plan, pages: list[Page]) -> None:
    """On Sunday 11 April nothing is done but to keep blocks damp."""
    asked = Asked(demo_plan)
    saturday, sunday = (day for day in asked.days if day.day in {date(2027, 4, 10), date(2027, 4, 11)})
    assert asked.together(sunday) == (saturday, sunday)
    words = of_day(pages, saturday.day)
    assert re.search(r"Sun 11 Apr 2027 \d+ blocks on the racks.* somebody must come by", words)


def test_a_day_off_asked_for_alone_has_a_page(demo_plan: Plan) -> None:
    sunday = date(2027, 4, 11)
    (page,) = read_days(demo_plan, first_asked=sunday, last_asked=sunday)
    assert "somebody must come by" in page.words


def test_every_day_with_anything_to_say_is_on_a_page(demo_plan: Plan, pages: list[Page]) -> None:
    words = " ".join(page.words for page in pages)
    assert all(full_day_name(day.day) in words for day in Asked(demo_plan).days)


def test_no_pour_and_frost_are_told(pages: list[Page]) -> None:
    words = of_day(pages, date(2027, 4, 14))
    assert (
        "FROST, 0 \u00b0C: cover blocks in moulds, on racks and on the stack, wet them only at the hours listed"
        in words
    )
    assert "No pour: the air falls to 0 \u00b0C" in words


def test_on_the_eve_of_frost_nothing_that_wets_has_a_box_to_tick_and_covering_has(
    demo_plan: Plan, pages: list[Page]
) -> None:
    day = next(day for day in Asked(demo_plan).days if day.day == date(2027, 4, 14))
    rows = order_of_work(day, demo_plan.site)
    assert rows[0].verb == "Cover racks and stack"
    assert [row.is_left_out for row in rows if row.verb == "Wet the racks"] == [False, False]
    eve = next(day for day in Asked(demo_plan).days if day.day == date(2027, 4, 13))
    rows = order_of_work(eve, demo_plan.site)
    assert [row.is_left_out for row in rows if row.verb == "Wet the racks"] == [False, True]
    assert "Wet the racks NOT TODAY: FROST TONIGHT" in of_day(pages, eve.day)


def test_what_comes_next_is_also_a_day_on_which_blocks_only_leave_the_racks(demo_plan: Plan, pages: list[Page]) -> None:
    leaves = demo_plan.tables.casts["rack_to"].dt.date
    asked = Asked(demo_plan)
    (after,) = (day for day in asked.days if day.day == date(2027, 4, 29))
    assert not any(day.jobs or day.delivered for day in asked.days if day.day > after.day)
    following = asked.next_with_work(after)
    assert following is not None
    assert following.day == min(day for day in leaves if day > after.day)
    n = sum(leaves == following.day)
    assert f"Tomorrow, Fri 30 Apr, air 10 to 20 \u00b0C take {n} blocks off the racks" in of_day(pages, after.day)


def test_slabs_are_drawn_with_their_saw_plan(slabs_plan: Plan) -> None:
    page, *_ = read_days(slabs_plan)
    assert "slab/01 batch 2 2 F 3 E 2 C 2 B 3 D a slab for saw plan 1" in page.words


def test_fillers_are_drawn_with_what_is_left(slabs_plan: Plan) -> None:
    page, *_ = read_days(slabs_plan)
    assert "small/01" in page.words
    assert "with what is left" in page.words


def test_a_filler_that_two_batches_fill_is_drawn_with_both(slabs_plan: Plan) -> None:
    """On Monday 3 May each of two batches leaves enough for one block, and the next day two are stripped."""
    page, *_ = read_days(slabs_plan, first_asked=date(2027, 5, 3), last_asked=date(2027, 5, 3))
    assert "small/01 batch 1 batch 2 fill fill with what is left; 2 blocks" in page.words


def test_nothing_runs_off_the_page(pages: list[Page], slabs_plan: Plan) -> None:
    assert all_inside(pages)
    assert all_inside(read_days(slabs_plan))


def test_pages_print_on_letter_paper_with_dates_and_degrees_of_the_us(demo_plan: Plan) -> None:
    site = demo_plan.site.model_copy(update={"units": "US"})
    pages = read_days(replace(demo_plan, site=site), US, last_asked=date(2027, 4, 10))
    assert {(round(page.width), round(page.height)) for page in pages} == {(612, 792)}
    assert "Mon Apr 5, 2027" in pages[0].words
    assert "air 46 to 63 \u00b0F" in pages[0].words
    assert all_inside(pages)


LONG = "lintel-bearing-36-north-gable-end"


def lengthened(data: Any) -> Any:
    """The same page with every mark, mix and kind of mould as long as a name may be."""
    if isinstance(data, Mapping):
        longer = {key: lengthened(value) for key, value in data.items()}
        if data.get("mark"):
            longer["mark"] = f"{LONG}-{data['mark']}"
        if "kind" in data:
            longer["kind"] = "a-kind-of-mould-that-is-named-at-length"
        return longer
    if isinstance(data, str):
        return re.sub(r"gang-(\d)", r"gangmouldofsteelandplywood\1", data).replace("mix ", f"mix {'x' * 50}")
    return [lengthened(one) for one in data] if isinstance(data, Sequence) else data


def test_long_names_are_neither_cut_off_nor_laid_over_one_another(demo_plan: Plan) -> None:
    sheets = sheets_of(Asked(demo_plan, last_asked=date(2027, 4, 7)))
    pages = read_back(print_sheets(HEAD, [Sheet("day_page", lengthened(sheet.data)) for sheet in sheets]))
    assert all_inside(pages)
    words = " ".join(page.words for page in pages).replace(" ", "").replace("-", "")
    assert LONG.replace("-", "") in words
    assert not [pair for page in pages for pair in overlapping(page)]


def overlapping(page: Page) -> list[tuple[str, str]]:
    """Letters that stand on one another."""
    found = []
    by_line = sorted(page.letters, key=lambda letter: (round(letter.bottom), letter.left))
    for one, other in pairwise(by_line):
        apart, are_joined = other.left - one.right, one.left == other.left  # as f and i are, in one letter
        if round(one.bottom) == round(other.bottom) and apart < -0.3 * other.size_pt and not are_joined:
            found.append((one.text, other.text))
    return found


def test_forty_marks_and_twelve_batches_of_a_day_are_all_there(demo_plan: Plan) -> None:
    asked = Asked(demo_plan)
    (sheet,) = day_pages(asked, asked.days[0])
    day = sheet.data["days"][0]
    marks = [f"W{n:03d}" for n in range(48)]

    def sets(k: int) -> list[list[str]]:
        return [["stop-end", "290 mm"]] if k == 3 else []

    boxes = [
        {"name": f"{n + 1:02d}", "on": "", "batches": (str(n + 1),), "in_all": "",
         "notes": ("cavity 4: to saw",), "holds": "", "leave": "",
         "cells": [{"number": str(k + 1), "mark": marks[4 * n + k], "batch": str(n + 1), "sets": sets(k)}
                   for k in range(4)]}
        for n in range(12)
    ]  # fmt: skip
    pour = next(row for row in day["rows"] if row["batch"])
    rows = [{**pour, "batch": str(n + 1)} for n in range(12)]
    full = {**day, "rows": rows, "moulds": [{"kind": "gang-4", "boxes": boxes, "empty": ""}]}
    pages = read_back(print_sheets(HEAD, [Sheet("day_page", {**sheet.data, "days": [full]})]))
    words = " ".join(page.words for page in pages)
    assert all(mark in words for mark in marks)
    assert all(f"Pour {n}" in words for n in range(1, 13))
    assert len(pages) == 1
    assert all_inside(pages)


def test_dates_of_days_that_share_a_page_stand_clear_of_what_is_under_them(pages: list[Page]) -> None:
    page = next(page for page in pages if page.words.count("here") > 2)
    dates = [letter for letter in page.letters if letter.size_pt > 15]
    under = [letter for letter in page.letters if letter.size_pt < 12]
    assert dates
    for letter in dates:
        near = [one for one in under if one.left < letter.right and letter.left < one.right and one.top < letter.top]
        assert all(one.top < letter.bottom for one in near)


def test_a_day_that_goes_on_says_which_day_in_large_letters_on_every_page(demo_plan: Plan) -> None:
    asked = Asked(demo_plan)
    (sheet,) = day_pages(asked, asked.days[0])
    day = sheet.data["days"][0]
    pages = read_back(
        print_sheets(HEAD, [Sheet("day_page", {**sheet.data, "days": [{**day, "rows": day["rows"] * 4}]})])
    )
    assert len(pages) > 2
    for page in pages:
        assert max(page.sizes_of("Mon 5 Apr 2027")) >= 8
        assert max(letter.size_pt for letter in page.letters) > 15
    assert "Mon 5 Apr 2027, goes on" in pages[1].words


def test_a_thumb_stands_before_the_strip_it_goes_first_at(small_plan: Plan) -> None:
    thumbs, _ = Thumbs(small_plan).press("gang-2/01", datetime.fromisoformat("2027-04-07T18:15"), "dents")
    asked = Asked(small_plan, date(2027, 4, 8), date(2027, 4, 8), thumbs)
    rows = order_of_work(asked.days[0], small_plan.site)
    thumb, strip = (next(row for row in rows if row.verb == verb) for verb in ("Thumb", "Strip"))
    assert rows.index(thumb) < rows.index(strip)
    assert ("PRESS A THUMB FIRST", "gang-2/01") in [(limit.said, limit.of) for limit in strip.limits]
