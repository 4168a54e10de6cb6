"""Weather by the hour, and what a daily table may say beyond temperatures."""

from datetime import date, datetime
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.site import Sky, Weather, read_weather
from blockrun.site.weather.hourly import read_time

MONDAY = date(2027, 4, 5)


def of_table(tmp_path: Path, text: str) -> Weather:
    file = tmp_path / "weather.csv"
    file.write_text(text)
    return read_weather(file)


def hours(first: int, last: int, step: int = 1, more: str = "") -> str:
    """Rows from one hour to another, counted from Monday 0:00, each as warm as its number (50 is 0 again)."""
    return "".join(f"2027-04-{5 + n // 24:02d} {n % 24:02d}:00,{n % 50}{more}\n" for n in range(first, last + 1, step))


def test_a_day_has_what_was_read_at_each_hour_and_both_midnights(tmp_path: Path):
    weather = of_table(tmp_path, "time,air_degC\n" + hours(0, 48))
    assert weather.day(MONDAY).sky.air_c == tuple(map(float, range(25)))
    assert (weather.day(date(2027, 4, 6)).min_c, weather.day(date(2027, 4, 6)).max_c) == (24.0, 48.0)
    assert weather.last == date(2027, 4, 6)


def test_air_runs_straight_between_readings_hours_apart(tmp_path: Path):
    assert of_table(tmp_path, "time,air_degC\n" + hours(0, 24, 6)).day(MONDAY).sky.air_c == tuple(range(25))


def test_fahrenheit_and_a_t_between_day_and_time_are_read(tmp_path: Path):
    rows = "".join(f"2027-04-05T{n:02d}:00:00;50\n" for n in range(24))
    assert of_table(tmp_path, "Time;Air (degF)\n" + rows).day(MONDAY).max_c == pytest.approx(10)


def test_days_of_which_too_little_is_known_are_left_out_at_both_ends(tmp_path: Path):
    weather = of_table(tmp_path, "time,air_degC\n" + hours(4, 68))
    assert (weather.first, weather.last) == (date(2027, 4, 6), date(2027, 4, 6))
    held = of_table(tmp_path, "time,air_degC\n" + hours(3, 69))
    assert (held.first, held.last) == (MONDAY, date(2027, 4, 7))
    assert held.day(MONDAY).sky.air_c[:5] == (3, 3, 3, 3, 4)


def test_rain_of_a_day_is_what_fell_up_to_its_midnight(tmp_path: Path):
    weather = of_table(tmp_path, "time,air_degC,rain_mm\n" + hours(0, 48, 1, ",0.5"))
    assert weather.day(date(2027, 4, 6)).sky.rain_mm == 12
    assert weather.day(MONDAY).sky.rain_mm == 12


def test_wind_and_humidity_are_kept_by_the_hour_in_their_units(tmp_path: Path):
    weather = of_table(tmp_path, "time,air_degC,wind_m_s,humidity_percent\n" + hours(0, 24, 1, ",10,55"))
    assert weather.day(MONDAY).sky.wind_km_h == (36.0,) * 25
    assert weather.day(MONDAY).sky.humidity == pytest.approx((0.55,) * 25)


def test_a_daily_table_may_have_rain_and_wind_on_some_days(tmp_path: Path):
    weather = of_table(
        tmp_path,
        "date,min_degC,max_degC,rain_in,wind_mph,humidity_percent\n2027-04-05,1,9,1,10,50\n2027-04-06,1,9,,,\n",
    )
    assert weather.day(MONDAY).sky == Sky((), (0.5,), (16.09344,), 25.4)
    assert weather.day(date(2027, 4, 6)).sky == Sky()


def test_a_daily_table_of_temperatures_alone_is_as_before(tmp_path: Path):
    assert of_table(tmp_path, "date,min_degC,max_degC,rain_mm\n2027-04-05,1,9,\n") == Weather(MONDAY, ((1.0, 9.0),))


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (hours(0, 10) + hours(17, 24), "no reading for more than six hours after 2027-04-05 10:00"),
        (hours(0, 24) + hours(3, 3), "2027-04-05 03:00 is there twice, first in row 5"),
        ("2027-04-05 25:00,5\n", "time: 2027-04-05 25:00 is not a day and a time"),
        ("2027-04-05 10:00Z,5\n", "is not a day and a time"),
        ("5/4/2027 10:00,5\n", "5/4/2027 is not a date"),
        ("2027-04-05 10:00,\n", "air_degC: is empty"),
        (hours(8, 20), "not one whole day is given"),
    ],
)
def test_wrong_hours_are_refused_at_their_row(tmp_path: Path, rows: str, said: str):
    with pytest.raises(BadInput) as caught:
        of_table(tmp_path, "time,air_degC\n" + rows)
    assert said in caught.value.what
    assert caught.value.line is not None


@pytest.mark.parametrize(
    ("column", "cell", "said"),
    [
        ("humidity_percent", "101", "humidity_percent: 101 cannot be"),
        ("wind_m_s", "-1", "wind_m_s: -1 cannot be"),
        ("rain_mm", "wet", "rain_mm: wet is not a plain number"),
        ("rain_cm", "1", "unknown column rain_cm"),
    ],
)
def test_what_cannot_be_is_refused(tmp_path: Path, column: str, cell: str, said: str):
    with pytest.raises(BadInput, match=said):
        of_table(tmp_path, f"date,min_degC,max_degC,{column}\n2027-04-05,1,9,{cell}\n")


def test_a_frost_between_whole_hours_is_the_lowest_of_its_day(tmp_path: Path):
    """Readings at half past: the air is -4 degC at 05:30 and 8 degC at all other readings."""
    rows = "".join(
        f"2027-04-{5 + n // 48:02d} {n // 2 % 24:02d}:{n % 2 * 30:02d},{-4 if n % 48 == 11 else 8}\n" for n in range(97)
    )
    day = of_table(tmp_path, "time,air_degC\n" + rows).day(MONDAY)
    assert (day.min_c, day.max_c) == (-4.0, 8.0)


@pytest.mark.parametrize("text", ["24:30", "24:00:01", "25:00", "12:00:99", "12:00:...", "12:60"])
def test_a_time_that_does_not_exist_is_refused(text: str):
    with pytest.raises(BadInput, match="is not a day and a time"):
        read_time(f"2027-04-05 {text}")


@pytest.mark.parametrize("text", ["2027-04-05 24:00", "2027-04-05T24:00:00", "2027-04-06", "2027-04-06 0:00:59.5"])
def test_the_midnight_that_ends_a_day_is_that_of_the_next(text: str):
    assert read_time(text) == datetime.fromisoformat("2027-04-06T00:00")
