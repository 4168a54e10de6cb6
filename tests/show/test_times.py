"""The command cure: a table that a phone holds, and a picture."""

from __future__ import annotations

import re
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app
from blockrun.cure.pour_life import pour_life_of
from blockrun.planner.plan import Plan
from blockrun.planner.times import times_of
from blockrun.show.pictures.times import times_picture
from blockrun.show.times import times_text
from blockrun.site import Site, Weather

MONDAY = date(2027, 4, 5)


@pytest.fixture
def run(small_folder: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("COLUMNS", "40")

    def cure(*options: str) -> Result:
        return CliRunner().invoke(app, ["cure", str(small_folder / "inputs" / "site.yaml"), *options])

    return cure


def test_the_table_fits_a_phone(run):
    result = run()
    assert result.exit_code == 0, result.output
    assert max(map(len, result.stdout.splitlines())) <= 40
    assert "pour  strip     move  lay" in result.stdout
    assert "pour  sides off strip     move  lay" in result.stdout


def test_the_last_pour_for_a_strip_is_said(run):
    words = " ".join(run("--to", "2027-04-05").stdout.split())
    assert "Poured by" in words
    assert "it is stripped Tue" in words


def test_a_picture_that_is_there_is_replaced_only_when_asked(run, tmp_path: Path):
    file = tmp_path / "cure.svg"
    file.write_text("mine")
    assert run("--picture", str(file)).exit_code == 2
    assert file.read_text() == "mine"
    assert run("--picture", str(file), "--replace").exit_code == 0
    assert file.read_text() != "mine"


def test_a_typical_year_is_named_and_a_wrong_day_refused(run):
    assert run("--from", "2027-13-01").exit_code == 2
    assert run("--from", "2026-01-01").exit_code == 2


@pytest.fixture
def site(small_plan: Plan) -> Site:
    """The small yard at a steady 18 degC."""
    return small_plan.site.model_copy(update={"weather": Weather(MONDAY, ((18.0, 18.0),) * 14)})


def test_a_strip_more_than_six_days_off_has_its_date(site: Site):
    """Nobody is to take a Saturday in two weeks for the next one."""
    far = site.curing.model_copy(update={"strip_at_h": 24.0 * 12})
    slow = site.model_copy(update={"curing": far, "moulds": site.moulds[:1]})
    words = times_text(slow, times_of(slow, None, MONDAY, MONDAY), 40).plain
    strips = {times.strip for of_kind in times_of(slow, None, MONDAY, MONDAY).kinds for times in of_kind.days[0].hours}
    assert {strip.date() - MONDAY > timedelta(days=6) for strip in strips} == {True}
    assert all(f"{strip.day} Apr {strip:%H:%M}" in words for strip in strips)
    assert not re.search(r"(Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d\d:\d\d", words)
    assert max(map(len, words.splitlines())) <= 40


def test_a_strip_six_days_off_has_its_weekday(site: Site):
    words = times_text(site, times_of(site, None, MONDAY, MONDAY), 40).plain
    assert re.search(r"Tue \d\d:\d\d", words)


def test_a_day_too_short_for_a_full_hour_tells_the_first_pour_and_the_last(site: Site):
    calendar = site.calendar.model_copy(
        update={"hours": (430, 478), "breaks": (), "set_up_min": 0, "close_down_min": 0, "last_foam": None}
    )
    short = site.model_copy(update={"calendar": calendar})
    times = times_of(short, None, MONDAY, MONDAY)
    assert all(one.poured.minute for one in times.kinds[0].days[0].hours)
    assert re.search(r"^07:\d\d-07:\d\d ", times_text(short, times, 40).plain, re.MULTILINE)


def test_hours_that_come_to_the_same_are_one_line(site: Site):
    far = site.curing.model_copy(update={"strip_at_h": 33.0})
    slow = site.model_copy(update={"curing": far, "moulds": site.moulds[:1]})
    lines = times_text(slow, times_of(slow, None, MONDAY, MONDAY), 40).plain.splitlines()
    assert [line[:5] for line in lines if re.match(r"\d\d[-:]\d\d ", line)] == ["09-15"]


def test_strips_past_the_forecast_say_what_they_rest_on(site: Site):
    short = site.model_copy(update={"weather": Weather(MONDAY, ((18.0, 18.0),))})
    said = "The forecast ends on Mon 5 Apr; after it the mean of its last seven days is taken."
    within = " ".join(times_text(site, times_of(site, None, MONDAY, MONDAY), 80).plain.split())
    past = " ".join(times_text(short, times_of(short, None, MONDAY, MONDAY), 80).plain.split())
    assert said in past
    assert "forecast ends" not in within


def test_what_the_weather_asks_for_is_told_once_for_all_moulds(site: Site):
    air = Weather(MONDAY, ((18.0, 33.0), (3.0, 12.0), *((18.0, 18.0),) * 9))
    words = " ".join(times_text(site.model_copy(update={"weather": air}), times_of(site, None), 40).plain.split())
    assert words.count("HEAT, 33 degC: pour in the cool hours, use cool water") == 1
    assert words.count("COLD, 3 degC: ") == 1


def test_hours_in_which_no_batch_is_poured_before_it_sets_are_named_on_screen_and_paper(site: Site):
    """Foam and pour take 14 min; of 16 min, 14 are left at 33 degC and 13 from 34 on, EN 1992-1-1 (B.10)."""
    hot = site.model_copy(update={"weather": Weather(MONDAY, ((18.0, 18.0), (27.0, 41.0))), "pour_life_min": 16.0})
    times = times_of(hot, None, MONDAY, MONDAY + timedelta(days=1))
    for words in (times_text(hot, times, 40).plain, times_picture(hot, times)):
        in_a_line = " ".join(re.sub("<[^>]*>", " ", words).split())
        (said,) = re.findall(r"no foam goes in from (\d\d:\d\d) to 16:00,", in_a_line)
        first = datetime.fromisoformat(f"2027-04-06T{said}")
        assert [pour_life_of(hot, foam_at=at).minutes for at in (first - timedelta(minutes=1), first)] == [14, 13]


def test_a_week_of_mild_air_has_no_words_on_weather(site: Site):
    assert "weather ─" not in times_text(site, times_of(site, None), 40).plain


def test_an_age_that_looks_like_a_wrong_unit_is_said(site: Site):
    hasty = site.model_copy(update={"curing": site.curing.model_copy(update={"strip_at_h": 0.4})})
    words = " ".join(times_text(hasty, times_of(hasty, None, MONDAY, MONDAY), 80).plain.split())
    assert "strip_at is 24 min: a day is usual. Is the unit right?" in words
