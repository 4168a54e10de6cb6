"""Air that nobody can have read is refused; what is far from the forecast, or told before, is told."""

from __future__ import annotations

import pytest

from blockrun.errors import BadInput
from blockrun.yard.record.known import Measured
from blockrun.yard.record.recorder import Recorder, Typed
from tests.yard.record.conftest import Record

MONDAY_NIGHT = "2027-04-05 18:00"


@pytest.mark.parametrize(("typed", "word"), [("46 63", "63"), ("60 68", "68"), ("-61 3", "-61")])
def test_air_that_no_weather_file_takes_is_refused(record: Record, recorder: Recorder, typed: str, word: str) -> None:
    with pytest.raises(BadInput, match=f"{word} degC is no air temperature") as refused:
        record(f"weather {typed}", MONDAY_NIGHT)
    assert refused.value.todo == f"Correct it, or write its unit, such as {word}degF."
    assert not recorder.entries


def test_air_far_from_the_forecast_is_kept_and_asked_about(record: Record, recorder: Recorder) -> None:
    assert record("weather 46 60", MONDAY_NIGHT).warnings == (
        "10 to 21 degC are forecast for Mon 5 Apr, and 46 to 60 degC are told. Are they degF? Strips hang on it: if it "
        "is wrong, undo it and write it with the unit.",
    )
    assert len(recorder.entries) == 1


def test_one_end_alone_is_asked_about_too(record: Record) -> None:
    (told,) = record("weather 6 60", MONDAY_NIGHT).warnings
    assert "6 to 60 degC are told. Is one of them a slip, or degF?" in told


@pytest.mark.parametrize("typed", ["-1 10", "0 33", "10 21"])
def test_air_a_little_from_the_forecast_passes(record: Record, typed: str) -> None:
    assert record(f"weather {typed}", MONDAY_NIGHT).warnings == ()


def test_degrees_of_the_other_scale_are_noticed_in_a_us_yard(in_us: Recorder) -> None:
    (told,) = in_us.record(Typed(("weather", "10", "21"), "a", MONDAY_NIGHT)).warnings
    assert told.startswith("50 to 69.8 degF are forecast for Mon 5 Apr, and 10 to 21 degF are told. Are they degC?")


def test_past_the_forecast_it_is_held_against_what_is_expected(record: Record) -> None:
    (told,) = record("weather 50 59 16 Apr").warnings
    assert "degC are to be expected on Fri 16 Apr, and 50 to 59 degC are told" in told


def test_air_before_the_weather_begins_is_held_against_its_first_day(record: Record) -> None:
    (told,) = record("weather 46 60 2 Apr", MONDAY_NIGHT).warnings
    assert "10 to 21 degC are to be expected on Fri 2 Apr" in told


def test_air_told_twice_says_what_it_replaces(record: Record) -> None:
    record("weather 10 20", MONDAY_NIGHT)
    record("weather 9 19 yesterday", "2027-04-07 07:00")
    assert record("weather 11 20 5 Apr", "2027-04-06 07:00").warnings == (
        "it takes the place of entry 1, 10 to 20 degC for Mon 5 Apr.",
    )


def test_air_that_was_undone_is_not_replaced(record: Record) -> None:
    record("weather 10 20", MONDAY_NIGHT)
    record("undo last", MONDAY_NIGHT)
    assert record("weather 11 20", MONDAY_NIGHT).warnings == ()


def test_air_told_before_what_counts_says_that_it_does_not(record: Record) -> None:
    record("weather 11 20 5 Apr", "2027-04-06 07:00")
    assert record("weather 10 20", MONDAY_NIGHT).warnings == (
        "entry 1, 11 to 20 degC for Mon 5 Apr, was told at a later time, and counts in its place.",
    )


@pytest.mark.parametrize(("typed", "asked"), [("64degC", "64 degC"), ("-5degC", "-5 degC")])
def test_a_mix_as_hot_or_cold_as_none_is_told(record: Record, typed: str, asked: str) -> None:
    (told,) = record("poured 1", "2027-04-05 08:24", measured=Measured(temperature=typed)).warnings
    assert told == f"the mix is told at {asked}, and a fresh mix has 0 to 45 degC. Is it a slip, or degF?"


@pytest.mark.parametrize("typed", ["18degC", "64degF", "35degC"])
def test_a_mix_as_warm_as_can_be_passes(record: Record, typed: str) -> None:
    assert record("poured 1", "2027-04-05 08:24", measured=Measured(temperature=typed)).warnings == ()
