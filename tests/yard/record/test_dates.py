"""A day or an hour that is hardly meant is kept and told, with its year."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.planner.as_planned import AsPlanned
from blockrun.yard.journal import FILE
from blockrun.yard.record.recorder import Recorder, Typed
from blockrun.yard.record.sheet import record_sheet
from tests.yard.record.conftest import Record

MONDAY = "2027-04-05 08:24"


def test_a_pour_a_year_too_soon_is_kept_and_told_with_its_year(record: Record, recorder: Recorder) -> None:
    assert record("poured 1", "2026-04-05 08:24").warnings == (
        "2026-04-05 08:24 is 365 days before the plan begins, on 2027-04-05. Is the day right?",
    )
    assert len(recorder.entries) == 1


def test_work_of_now_before_the_plan_begins_is_told(small: AsPlanned, tmp_path: Path) -> None:
    now = datetime.fromisoformat("2026-11-27T10:00")
    recorder = Recorder(small, tmp_path / FILE, now, now.replace(tzinfo=UTC))
    (told,) = recorder.record(Typed(("poured", "1"), "a")).warnings
    assert told.startswith("2026-11-27 10:00 is 129 days before the plan begins")


def test_work_months_after_the_end_is_told(small: AsPlanned, tmp_path: Path) -> None:
    now = datetime.fromisoformat("2027-09-01T10:00")
    recorder = Recorder(small, tmp_path / FILE, now, now.replace(tzinfo=UTC))
    (told,) = recorder.record(Typed(("poured", "1"), "a")).warnings
    assert told == "2027-09-01 10:00 is 118 days after the plan ends, on 2027-05-06. Is the day right?"


def test_work_some_weeks_after_the_end_passes(small: AsPlanned, tmp_path: Path) -> None:
    now = datetime.fromisoformat("2027-06-04T10:00")
    recorder = Recorder(small, tmp_path / FILE, now, now.replace(tzinfo=UTC))
    assert recorder.record(Typed(("poured", "1"), "a")).warnings == ()


@pytest.mark.parametrize(
    "words", ["delivered cement 32 lot K2", "counted cement 3", "mould gang-2/01 out", "note hello", "weather 3 9"]
)
def test_whatever_is_told_of_a_year_too_late_is_told_with_its_year(
    small: AsPlanned, tmp_path: Path, words: str
) -> None:
    now = datetime.fromisoformat("2026-11-27T10:00")
    recorder = Recorder(small, tmp_path / FILE, now, now.replace(tzinfo=UTC))
    told = recorder.record(Typed(tuple(words.split()), words, "2028-04-07 09:00"))
    assert "2028-04-07 09:00 is 337 days after the plan ends, on 2027-05-06. Is the day right?" in told.warnings
    assert "weather" in words or told.said[0].endswith(", Fri 7 Apr 2028 09:00.")


def test_a_year_of_the_plan_goes_without_saying(record: Record) -> None:
    assert record("delivered cement 32", "2027-04-07 09:00").said == ("delivered 32 bags of cement, Wed 7 Apr 09:00.",)


@pytest.mark.parametrize(
    ("clock", "said"),
    [
        ("03:10", "is long before the hours worked, 07:30 to 16:30. Was it 15:10?"),
        ("05:20", "is long before the hours worked, 07:30 to 16:30. Is the time right?"),
        ("22:00", "is long after the hours worked, 07:30 to 16:30. Is the time right?"),
    ],
)
def test_work_in_the_night_is_told(record: Record, clock: str, said: str) -> None:
    assert record("poured 1", f"2027-04-06 {clock}").warnings == (f"2027-04-06 {clock} {said}",)


def test_work_on_a_day_of_the_week_that_is_not_worked_is_told(record: Record) -> None:
    assert record("poured 1", "2027-04-11 08:24").warnings == ("Sun 11 Apr is not worked. Is the day right?",)


def test_work_on_a_closed_day_is_told_once_for_a_whole_sheet(small: AsPlanned, tmp_path: Path) -> None:
    calendar = small.site.calendar.model_copy(update={"closed": frozenset({date(2027, 4, 6)})})
    plan = replace(small, site=small.site.model_copy(update={"calendar": calendar}))
    now = datetime.fromisoformat("2027-04-07T20:00")
    recorder = Recorder(plan, tmp_path / FILE, now, now.replace(tzinfo=UTC))
    sheet = tmp_path / "sheet.csv"
    sheet.write_text("at,what\n08:24,poured 1 gang-2/1\n14:09,poured 2 gang-2/2\n14:30,note rain\n", encoding="utf-8")
    told = record_sheet(recorder, sheet, date(2027, 4, 6)).warnings
    assert told == ("Tue 6 Apr is not worked, by the closed days of the site. Is the day right?",)


@pytest.mark.parametrize("words", ["counted cement 8", "note rain", "thumb gang-2/1 dents", "weather 5 12"])
def test_what_is_no_work_passes_on_a_day_that_is_not_worked(record: Record, words: str) -> None:
    record("poured 1", "2027-04-09 15:00")
    assert record(words, "2027-04-10 09:00").warnings == ()


@pytest.mark.parametrize("clock", ["05:30", "21:00"])
def test_work_early_or_late_passes(record: Record, clock: str) -> None:
    assert record("poured 1", f"2027-04-06 {clock}").warnings == ()


def test_a_thumb_in_the_night_passes(record: Record) -> None:
    record("poured 1", MONDAY)
    assert record("thumb gang-2/1 soft", "2027-04-05 23:30").warnings == ()


def test_stock_and_notes_before_the_plan_pass(record: Record) -> None:
    assert record("note swept", "2027-03-20 08:00").warnings == ()
    assert record("delivered agent 10L", "2027-03-20 08:00").warnings == ()


@pytest.mark.parametrize("words", ["counted cement 8", "counted stack 0 half", "delivered cement 32"])
def test_stock_of_a_year_too_soon_is_told(record: Record, words: str) -> None:
    assert record(words, "2026-04-28 09:00").warnings == (
        "2026-04-28 09:00 is 342 days before the plan begins, on 2027-04-05. Is the day right?",
    )


def test_a_strip_with_its_move_is_told_once(record: Record) -> None:
    record("poured 1", MONDAY)
    assert len(record("stripped gang-2/1", "2027-04-07 23:00").warnings) == 1


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("lost 2027-12-24 rain", "2027-12-24 is 232 days after the plan ends, on 2027-05-06"),
        ("lost 2027-04-04", "2027-04-04 is 1 day before the plan begins, on 2027-04-05"),
        ("away 1 2026-04-07", "2026-04-07 is 363 days before the plan begins, on 2027-04-05"),
        ("away 1 2027-12-20 to 2027-12-24", "2027-12-20 is 228 days after the plan ends, on 2027-05-06"),
    ],
)
def test_a_day_that_the_plan_has_not_is_told(record: Record, typed: str, said: str) -> None:
    assert record(typed).warnings == (f"{said}: no plan minds it. Is the day right?",)


def test_a_bare_lost_outside_the_plan_is_told(small: AsPlanned, tmp_path: Path) -> None:
    now = datetime.fromisoformat("2026-11-27T10:00")
    recorder = Recorder(small, tmp_path / FILE, now, now.replace(tzinfo=UTC))
    (told,) = recorder.record(Typed(("lost", "rain"), "a")).warnings
    assert told.startswith("2026-11-27 is 129 days before the plan begins")


@pytest.mark.parametrize("typed", ["lost 2027-04-12", "away 1 2027-04-01 to 2027-04-06", "away 1 5 May to 12 May"])
def test_days_that_reach_into_the_plan_pass(record: Record, typed: str) -> None:
    assert record(typed).warnings == ()


@pytest.mark.parametrize(
    ("words", "which"),
    [
        ("lost Monday rain", "Monday"),
        ("lost mon", "mon"),
        ("lost rain on Monday", "Monday"),
        ("away Bea Monday", "Monday"),
        ("away 2 Monday", "Monday"),
        ("away Bea from Monday to Fri 9 Apr", "Monday"),
        ("weather 3 9 monday", "monday"),
    ],
)
def test_a_day_of_the_week_alone_is_asked_for_its_date(record: Record, words: str, which: str) -> None:
    with pytest.raises(BadInput, match=f"which {which}\\?") as asked:
        record(words, "2027-04-07 07:30")
    assert asked.value.todo == "Write its date, such as Mon 5 Apr or Mon 12 Apr."


def test_sun_is_no_day_of_the_week(record: Record) -> None:
    assert record("lost too much sun", "2027-04-07 07:30").said == ("Wed 7 Apr is lost, too much sun.",)
