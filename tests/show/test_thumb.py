"""What a thumb says is told in the words of the yard, on a phone too, and the days tell what it moves."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from pathlib import Path

import pandas as pd
import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.cure.thumb import THUMBS
from blockrun.planner.begun.facts import Begun, BlockCast, TurnBegun
from blockrun.planner.plan import Plan
from blockrun.planner.thumbs.pressed import ThumbTest
from blockrun.planner.thumbs.turns import Thumbs
from blockrun.show.days import days_text
from blockrun.show.thumb import thumb_text
from blockrun.show.thumbs import thumbs_text
from blockrun.site import Weather

KEPT: Path = Path("plan")


def at(text: str) -> datetime:
    return datetime.fromisoformat(f"2027-04-{text}")


def pressed(plan: Plan, *tests: tuple[str, str, str]) -> tuple[Thumbs, ThumbTest]:
    thumbs = Thumbs(plan)
    for mould, when, shows in tests:
        thumbs, test = thumbs.press(mould, at(when), next(thumb for thumb in THUMBS if thumb == shows))
    return thumbs, test


def said(plan: Plan, *tests: tuple[str, str, str], width: int = 80) -> str:
    return thumb_text(*pressed(plan, *tests), width, KEPT).plain


def on_one_line(text: str) -> str:
    return " ".join(text.split())


def days(plan: Plan, *tests: tuple[str, str, str], day: int) -> list[str]:
    of = date(2027, 4, day)
    return days_text(plan, 200, of, of, thumbs=pressed(plan, *tests)[0]).plain.splitlines()


DENTS = ("gang-2/01", "06 12:45", "dents")
FIRM = ("gang-2/02", "06 10:30", "firm")


def test_a_strip_put_off_at_40_columns(small_plan: Plan, golden: SnapshotAssertion) -> None:
    assert said(small_plan, DENTS, width=40) == golden


def test_all_tests_at_40_columns(small_plan: Plan, golden: SnapshotAssertion) -> None:
    thumbs, _ = pressed(small_plan, DENTS, FIRM, ("tray-1/b02", "07 15:00", "soft"))
    assert thumbs_text(thumbs, 40, KEPT).plain == golden


@pytest.mark.parametrize("width", range(30, 100, 7))
def test_no_line_is_wider_than_the_screen(small_plan: Plan, width: int) -> None:
    thumbs, test = pressed(small_plan, DENTS, FIRM, ("tray-1/b02", "07 15:00", "soft"))
    lines = [
        *thumbs_text(thumbs, width, KEPT).plain.splitlines(),
        *thumb_text(thumbs, test, width, KEPT).plain.splitlines(),
    ]
    assert max(map(len, lines)) <= width


def test_a_strip_brought_forward_says_the_rule_and_the_caution(small_plan: Plan) -> None:
    told = on_one_line(said(small_plan, FIRM))
    assert "MAY BE STRIPPED FROM 10:30, planned 12:50" in told
    assert "no mould is stripped before 80 % of its age, 19.2 h at 20 degC" in told
    assert "An early strip breaks blocks, and a weak block falls on feet" in told


def test_ahead_and_still_dents_is_told_why_it_waits(small_plan: Plan) -> None:
    told = on_one_line(said(small_plan, ("gang-2/01", "05 22:00", "dents")))
    assert "Strip as planned" in told
    assert "only a thumb that leaves no mark" in told


def test_tests_that_do_not_agree_send_to_the_batch(small_plan: Plan) -> None:
    told = on_one_line(said(small_plan, ("gang-2/01", "06 10:30", "firm"), ("gang-2/01", "06 12:50", "dents")))
    assert "Not counted: firm at 10:30. The softest counts, dents at 12:50: no block gets softer" in told
    assert "Press again then, or sooner, from 15:19 on; strip only if firm." in told


def test_a_thumb_that_sinks_in_gives_no_strip_time(small_plan: Plan) -> None:
    soft = ("gang-2/01", "06 12:45", "soft")
    assert "DO NOT STRIP; press again Thu 8 Apr 08:00, planned 12:50" in on_one_line(said(small_plan, soft))
    told = "12:50 gang-2/01: DO NOT STRIP; press again Thu 8 Apr 08:00: soft at 12:45; strip only if firm"
    assert told in days(small_plan, soft, day=6)


def test_so_does_one_as_soft_as_its_age_lets_expect(small_plan: Plan) -> None:
    soft = ("gang-2/01", "05 16:00", "soft")
    assert "DO NOT STRIP; press again Tue 6 Apr 12:50" in on_one_line(said(small_plan, soft))
    told = "12:50 gang-2/01: soft at Mon 5 Apr 16:00; DO NOT STRIP; press again, strip only if firm"
    assert told in days(small_plan, soft, day=6)


def with_nights(plan: Plan, *least_c: float) -> Plan:
    site = plan.site.model_copy(update={"weather": Weather(date(2027, 4, 5), tuple((c, 22) for c in least_c))})
    return replace(plan, site=site)


def test_firm_in_frost_may_be_ice(small_plan: Plan) -> None:
    frosty, firm = with_nights(small_plan, 10, -4, 10), ("gang-2/01", "06 06:00", "firm")
    told = on_one_line(said(frosty, firm))
    assert "the air was under freezing, and ice is firm too: press again once it has thawed." in told
    assert "MAY BE STRIPPED" not in told
    lines = days(frosty, firm, day=6)
    ice = "firm at 06:00 (ice is firm too: press again once it has thawed)"
    assert any(f"{ice}; press again then, strip only if firm" in line for line in lines)


def test_firm_after_frost_since_the_pour_says_why_it_is_no_sooner(small_plan: Plan) -> None:
    told = on_one_line(said(with_nights(small_plan, 10, -0.5, 10), ("gang-2/01", "06 11:00", "firm")))
    assert "The air was under freezing since the pour. Ice is firm too: press again once it has thawed." in told
    assert "No sooner than reckoned: it froze since the pour." in told


def test_a_fill_that_was_to_be_on_another_day_is_told_with_it(small_plan: Plan) -> None:
    told = on_one_line(said(small_plan, ("gang-2/01", "06 12:45", "soft"), ("gang-2/01", "07 15:00", "soft")))
    assert "Batch 2 was to fill gang-2/01 at Tue 6 Apr 13:59, and it is free only" in told


def test_one_test_that_no_block_can_show_sends_there_too(small_plan: Plan) -> None:
    told = on_one_line(said(small_plan, ("gang-2/01", "05 18:00", "firm")))
    assert "That is more than a thumb can tell of one block." in told
    assert "Look at the batch" in told


@pytest.mark.parametrize(("night_c", "word"), [(-1, "frost, -1 degC"), (0, "frost, 0 degC"), (3, "cold, 3 degC")])
def test_only_what_freezes_is_called_frost(small_plan: Plan, night_c: int, word: str) -> None:
    days = ((10, 21), (11, 22), (night_c, 18), (8, 19), (10, 20))
    site = small_plan.site.model_copy(update={"weather": Weather(date(2027, 4, 5), days)})
    told = on_one_line(said(replace(small_plan, site=site), ("gang-2/01", "06 12:50", "dents")))
    assert f"It now stands through {word} on Wed 7 Apr" in told


def test_soft_with_the_sides_on_is_told_to_take_care_of_them(small_plan: Plan) -> None:
    told = on_one_line(said(small_plan, ("tray-1/01", "06 07:30", "soft")))
    assert "Sides off as planned, 08:00." in told
    assert "only where the block stands by itself" in told


def test_no_tests_are_told_with_how_to_make_one(small_plan: Plan) -> None:
    told = on_one_line(thumbs_text(Thumbs(small_plan), 80, KEPT).plain)
    assert "None is kept yet." in told
    assert "blockrun thumb DIR MOULD firm" in told


def test_several_slow_pours_propose_a_strip_at(small_plan: Plan) -> None:
    test = pressed(small_plan, DENTS)[1]
    tests = [replace(test, poured=at(f"{day:02} 08:00"), batches=(day,)) for day in (1, 2, 3)]
    told = on_one_line(thumbs_text(Thumbs(small_plan, tests), 80, KEPT).plain)
    assert "Blocks set at 0.75 of what is reckoned: over 3 tests of 3 pours." in told
    assert "Write strip_at: 32 h in the site file, in place of what is 24 h at 20 degC now" in told


def test_a_strip_put_off_to_tomorrow_may_be_sooner_where_a_firm_thumb_counts_today(small_plan: Plan) -> None:
    told = on_one_line(said(small_plan, DENTS))
    assert "STRIP NOT BEFORE Wed 7 Apr 08:00, unless a thumb is firm sooner, planned 12:50" in told
    assert "Press again then, or sooner, from 15:13 on; strip only if firm." in told


def test_a_thumb_that_ends_the_wait_puts_nothing_off(small_plan: Plan) -> None:
    """Of the minute of the test itself nothing is put off to."""
    thumbs, _ = pressed(small_plan, DENTS, ("gang-2/01", "06 15:45", "firm"))
    told = on_one_line(thumbs_text(thumbs, 80, KEPT).plain)
    assert "15:45 firm gang-2/01, light, 27.2 h old at 20 degC: strip from then on" in told
    assert told.count("put off") == 1


def test_a_thumb_that_would_be_firm_only_when_nobody_works_makes_nothing_sooner(small_plan: Plan) -> None:
    told = on_one_line(said(small_plan, ("gang-2/01", "06 12:45", "dents"), ("gang-2/01", "06 15:55", "dents")))
    assert "STRIP NOT BEFORE Wed 7 Apr 08:00, planned 12:50" in told
    assert "Press again then; strip only if firm." in told


# the days of a plan


def test_a_strip_put_off_is_told_where_it_was_planned(small_plan: Plan) -> None:
    lines = days(small_plan, DENTS, day=6)
    assert (
        "12:50 gang-2/01: strip NOT BEFORE Wed 7 Apr 08:00: dents at 12:45; press again then, or sooner, "
        "from 15:13 on, strip only if firm" in lines
    )
    assert "      NOT BEFORE Wed 08:00 gang-2/01" in lines


def test_a_strip_put_off_within_the_day_names_the_hour_alone(small_plan: Plan) -> None:
    lines = days(small_plan, ("gang-2/01", "06 12:45", "dents"), ("gang-2/01", "06 15:45", "firm"), day=6)
    assert "12:50 gang-2/01: strip NOT BEFORE 15:45: dents at 12:45 and firm at 15:45" in lines


def test_a_dent_near_its_age_asks_for_another_press_where_the_strip_is_late_anyway(small_plan: Plan) -> None:
    """It was old enough on Wednesday at 19:44; the strip is on Thursday."""
    told = "08:00 gang-2/01: dents at Wed 7 Apr 18:15; PRESS AGAIN, strip only if firm"
    assert told in days(small_plan, ("gang-2/01", "07 18:15", "dents"), day=8)


def test_the_thumb_comes_before_the_strip_it_goes_first_at(small_plan: Plan) -> None:
    """Whoever works down the list strips gang-2/01 before he reads on."""
    lines = days(small_plan, ("gang-2/01", "07 18:15", "dents"), day=8)
    press = next(n for n, line in enumerate(lines) if "PRESS AGAIN" in line)
    strip = next(
        n for n, line in enumerate(lines) if "strip gang-2/01-02 (the rest old enough since Wed 19:44)" in line
    )
    assert press < strip
    assert lines[strip + 1] == "      PRESS A THUMB FIRST gang-2/01"


def test_a_thumb_into_the_last_of_a_job_comes_before_all_of_it(small_plan: Plan) -> None:
    tasks = small_plan.tables.tasks.copy()
    later = (tasks["mould"] == "gang-2/02") & (tasks["start"].dt.day == 8)
    for column in ("start", "end"):
        tasks.loc[later, column] += pd.Timedelta(minutes=6)
    casts = small_plan.tables.casts.copy()
    stripped = (casts["mould"] == "gang-2/02") & (casts["strip"].dt.day == 8)
    casts.loc[stripped, "strip"] += pd.Timedelta(minutes=6)
    plan = replace(small_plan, tables=replace(small_plan.tables, tasks=tasks, casts=casts))
    lines = days(plan, ("gang-2/02", "07 18:15", "dents"), day=8)
    press = next(n for n, line in enumerate(lines) if "PRESS AGAIN" in line)
    assert press < next(n for n, line in enumerate(lines) if "strip gang-2/01-02" in line)


def test_it_is_told_on_the_day_it_is_put_off_to(small_plan: Plan) -> None:
    told = "08:00 press gang-2/01 again, strip only if firm, planned Tue 6 Apr 12:50: dents at Tue 6 Apr 12:45"
    assert told in days(small_plan, DENTS, day=7)


def test_a_pour_that_now_waits_is_warned_of(small_plan: Plan) -> None:
    told = "13:59 Batch 2 is to fill gang-2/01 at 13:59, and it is free only Wed 7 Apr 08:20: "
    assert f"{told}fill another mould, or pour later." in days(small_plan, DENTS, day=6)


def test_a_strip_that_may_be_sooner_is_told_from_then(small_plan: Plan) -> None:
    lines = days(small_plan, FIRM, day=6)
    assert "10:30 gang-2/02 may be stripped from now on, planned Tue 6 Apr 12:50: firm at 10:30" in lines
    assert "      NOT BEFORE 10:30 gang-2/02" in lines


def test_days_without_a_thumb_that_moves_anything_are_as_they_were(small_plan: Plan) -> None:
    assert days(small_plan, ("gang-2/01", "06 07:50", "dents"), day=6) == [
        line.rstrip() for line in days_text(small_plan, 200, date(2027, 4, 6), date(2027, 4, 6)).plain.splitlines()
    ]


def test_days_of_a_plan_made_anew_say_where_a_thumb_goes_first(small_plan: Plan) -> None:
    beside = (("gang-2/01", "soft"),)
    block = BlockCast(cavity=1, mark="full", mix="light", batch=1)
    stands = TurnBegun(mould="gang-2/02", turn=1, beside=beside, blocks=(block,))
    begun = Begun(since=at("06 07:00"), turns=(stands,))
    lines = on_one_line(days_text(replace(small_plan, begun=begun), 200, date(2027, 4, 6), date(2027, 4, 6)).plain)
    first = "PRESS A THUMB FIRST into gang-2/02, strip only if firm; a thumb sank into gang-2/01, poured with them"
    assert first in lines


def test_days_on_which_what_froze_is_stripped_say_that_a_thumb_goes_first(small_plan: Plan) -> None:
    nights = Weather(date(2027, 4, 5), tuple((-3.0, 22.0) for _ in range(40)))
    froze = replace(small_plan, site=small_plan.site.model_copy(update={"weather": nights}))
    said_then = on_one_line(days_text(froze, 200, date(2027, 4, 6), date(2027, 4, 6)).plain)
    assert "strip only if firm and thawed; it freezes before the strip" in said_then
