"""Daily temperatures, given and beyond."""

from datetime import date
from pathlib import Path

import pytest

from blockrun.errors import BadInput, OutOfRange
from blockrun.site import DayWeather, Weather, read_weather


def weather(tmp_path: Path, text: str) -> Weather:
    file = tmp_path / "weather.csv"
    file.write_text(text)
    return read_weather(file)


def test_days_are_read_in_either_unit_and_any_order(tmp_path: Path):
    celsius = weather(tmp_path, "date,min_degC,max_degC\n2027-04-05,5,15\n2027-04-06,0,10\n")
    mixed = weather(tmp_path, "max_degC;min_degF;date\n10;32;2027-04-06\n15,0;41;2027-04-05\n")
    assert celsius == mixed
    pointed = weather(tmp_path, "date,min_degC,max_degC\n05.04.2027,5,15\n6.4.2027,0,10\n")
    assert celsius == pointed
    assert celsius.day(date(2027, 4, 6)) == DayWeather(0.0, 10.0, forecast=True)


def test_beyond_the_last_day_the_mean_of_the_last_seven_is_taken():
    given = Weather(date(2027, 4, 1), tuple((float(n), float(n + 10)) for n in range(9)))
    assert given.last == date(2027, 4, 9)
    assert given.day(date(2027, 4, 10)) == DayWeather(5.0, 15.0, forecast=False)
    assert given.day(date(2028, 1, 1)) == DayWeather(5.0, 15.0, forecast=False)


def test_fewer_than_seven_days_give_their_own_mean():
    assert Weather(date(2027, 4, 1), ((1.0, 5.0), (3.0, 9.0))).day(date(2027, 5, 1)) == DayWeather(2.0, 7.0, False)


def test_before_the_first_day_there_is_no_weather():
    with pytest.raises(OutOfRange, match="starts on 2027-04-01"):
        Weather(date(2027, 4, 1), ((1.0, 5.0),)).day(date(2027, 3, 31))


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("date,min_degC,max_degC\n2027-04-05,5,15\n2027-04-07,5,15\n", "no row for 2027-04-06"),
        ("date,min_degC,max_degC\n2027-04-05,5,15\n2027-04-05,5,15\n", "2027-04-05 is there twice, first in row 2"),
        ("date,min_degC,max_degC\n2027-04-05,15,5\n", "the lowest, 15, is over the highest, 5"),
        ("date,min_degC,max_degC\n2027-04-05,5,\n", "max_degC: is empty"),
        ("date,min_degC,max_degC\n2027-04-05,nan,5\n", "min_degC: "),
        ("date,min_degC,max_degC\n2027-04-05,5,150\n", "max_degC: 150 is no air temperature"),
        ("date,min_degC,max_degC\n5 April,5,15\n", "date: 5 April is not a date"),
        ("day,min_degC,max_degC\n2027-04-05,5,15\n", "unknown column day"),
        ("date,min,max\n2027-04-05,5,15\n", "column min has no unit"),
    ],
)
def test_wrong_weather_is_refused_at_its_row(tmp_path: Path, text: str, said: str):
    with pytest.raises(BadInput) as caught:
        weather(tmp_path, text)
    assert said in "\n".join(fault.what for fault in caught.value.all())
    assert caught.value.line is not None


def test_every_wrong_row_is_said(tmp_path: Path):
    with pytest.raises(BadInput) as caught:
        weather(tmp_path, "date,min_degC,max_degC\n2027-04-05,x,15\n2027-04-06,5,15\n2027-04-99,5,15\n")
    assert [fault.line for fault in caught.value.all()] == [2, 4]
