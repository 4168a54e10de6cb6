"""Typical years from EPW files, and files joined: the forecast first, then the typical year."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.site import Site, Weather, read_weather
from tests.typical_year import epw, warm_in_summer

JULY = date(2027, 7, 1)


def written(tmp_path: Path, text: str) -> Path:
    file = tmp_path / "typical.epw"
    file.write_text(text)
    return file


def of_file(tmp_path: Path, text: str) -> Weather:
    return read_weather(written(tmp_path, text))


def of_hour(text: str, index: int, column: int, value: str) -> str:
    """The text with one value of one hour changed."""
    lines = text.splitlines()
    cells = lines[8 + index].split(",")
    cells[column - 1] = value
    lines[8 + index] = ",".join(cells)
    return "\n".join(lines)


def test_a_day_has_its_hours_from_midnight_to_midnight(tmp_path: Path):
    day = of_file(tmp_path, epw()).day(JULY)
    assert day.sky.air_c[1:] == tuple(warm_in_summer(JULY, hour) for hour in range(1, 25))
    assert day.sky.air_c[0] == warm_in_summer(date(2027, 6, 30), 24)
    assert (day.min_c, day.max_c) == (min(day.sky.air_c), max(day.sky.air_c))
    assert (day.forecast, day.typical) == (False, True)


def test_the_first_midnight_is_that_of_the_last_of_december(tmp_path: Path):
    assert of_file(tmp_path, epw()).day(date(2028, 1, 1)).sky.air_c[0] == warm_in_summer(date(2001, 12, 31), 24)


def test_humidity_and_wind_are_read_and_rain_only_where_there_is_any(tmp_path: Path):
    dry, wet = of_file(tmp_path, epw()), of_file(tmp_path, epw(rain_mm=2.4))
    assert dry.day(JULY).sky.humidity == (0.6,) * 25
    assert dry.day(JULY).sky.wind_km_h == (18.0,) * 25
    assert dry.day(JULY).sky.rain_mm is None
    assert wet.day(JULY).sky.rain_mm == pytest.approx(2.4)
    assert (dry.knows_rain, wet.knows_rain) == (False, True)


def test_the_29th_of_february_is_as_the_28th(tmp_path: Path):
    weather = of_file(tmp_path, epw())
    assert weather.day(date(2028, 2, 29)) == weather.day(date(2028, 2, 28))


def test_a_leap_year_loses_its_29th_of_february(tmp_path: Path):
    weather = of_file(tmp_path, epw(year=2000))
    assert weather.day(date(2027, 3, 1)).sky.air_c[12] == warm_in_summer(date(2000, 3, 1), 12)


def test_missing_air_runs_straight_between_the_hours_about_it(tmp_path: Path):
    given = epw(lambda day, hour: 10.0 if hour < 12 else 16.0)
    weather = of_file(tmp_path, of_hour(of_hour(given, 11, 7, "99.9"), 12, 7, "99.9"))
    assert weather.day(date(2027, 1, 1)).sky.air_c[11:15] == (10.0, 12.0, 14.0, 16.0)


def test_missing_air_at_the_turn_of_the_year_is_filled_from_both_ends(tmp_path: Path):
    weather = of_file(tmp_path, of_hour(epw(lambda day, hour: 5.0 + day.month), 0, 7, "99.9"))
    assert weather.day(date(2027, 1, 1)).sky.air_c[:3] == (17.0, 11.5, 6.0)


@pytest.mark.parametrize(
    ("spoil", "line", "said"),
    [
        (lambda text: text.replace("LOCATION", "PLACE", 1), 1, "is no EPW file"),
        (lambda text: "\n".join(text.splitlines()[:-24]), 9, "has 8736 lines of hours"),
        (lambda text: of_hour(text, 30, 4, "9"), 39, "hour 7 of 2 Jan is due here"),
        (lambda text: of_hour(text, 30, 7, "warm"), 39, "dry bulb temperature: warm cannot be"),
        (lambda text: of_hour(text, 30, 7, "-99"), 39, "dry bulb temperature: -99 cannot be"),
        (lambda text: of_hour(text, 30, 10, '"0'), 39, "cannot be read: "),
        (lambda text: of_hour(text, 30, 10, "0" * 140_000), 39, "cannot be read: "),
        (lambda text: epw(lambda day, hour: 99.9), 9, "dry bulb temperature: is missing all year"),
        (lambda text: epw(lambda day, hour: 99.9 if hour < 8 else 5.0), 33, "is missing for more than 6 hours"),
    ],
)
def test_a_wrong_file_is_refused_at_its_line(tmp_path: Path, spoil: Callable[[str], str], line: int, said: str):
    with pytest.raises(BadInput) as caught:
        of_file(tmp_path, spoil(epw()))
    assert said in caught.value.what
    assert caught.value.line == line


def test_past_the_forecast_the_typical_year_is_taken(yard: Callable[..., Site], tmp_path: Path):
    written(tmp_path, epw())
    weather = yard(("weather: weather.csv", "weather: [weather.csv, typical.epw]")).weather
    assert weather.last == date(2027, 4, 18)
    assert weather.day(date(2027, 4, 18)).forecast
    assert weather.day(date(2027, 4, 19)).typical
    assert weather.said_beyond() == "Forecast to Sun 18 Apr, then the typical year of Heron Field."


def test_the_order_of_forecast_and_typical_year_does_not_matter(yard: Callable[..., Site], tmp_path: Path):
    written(tmp_path, epw())
    first = yard(("weather: weather.csv", "weather: [weather.csv, typical.epw]")).weather
    assert yard(("weather: weather.csv", "weather: [typical.epw, weather.csv]")).weather == first


def test_a_typical_year_alone_will_do_from_any_start(yard: Callable[..., Site], tmp_path: Path):
    written(tmp_path, epw())
    site = yard(("weather: weather.csv", "weather: typical.epw"), ("start: 2027-04-05", "start: 2031-04-07"))
    assert site.weather.day(date(2031, 4, 7)).typical
    assert site.weather.said_beyond() == "There is no forecast: all days are those of the typical year of Heron Field."


def test_of_two_forecasts_the_one_named_first_is_believed(yard: Callable[..., Site], tmp_path: Path):
    (tmp_path / "soon.csv").write_text("date,min_degC,max_degC\n2027-04-06,3,4\n")
    soon = yard(("weather: weather.csv", "weather: [soon.csv, weather.csv]")).weather
    late = yard(("weather: weather.csv", "weather: [weather.csv, soon.csv]")).weather
    assert (soon.day(date(2027, 4, 6)).max_c, late.day(date(2027, 4, 6)).max_c) == (4.0, 11.0)


@pytest.mark.parametrize(
    ("files", "said"),
    [
        ("[typical.epw, other.epw]", "typical.epw and other.epw are both typical years"),
        ("[weather.csv, later.csv]", "no weather file has 2027-04-19, between 2027-04-18 and 2027-04-25"),
    ],
)
def test_files_that_do_not_join_are_refused(refusal: Callable[..., BadInput], tmp_path: Path, files: str, said: str):
    written(tmp_path, epw())
    (tmp_path / "other.epw").write_text(epw())
    (tmp_path / "later.csv").write_text("date,min_degC,max_degC\n2027-04-25,3,4\n")
    fault = refusal(("weather: weather.csv", f"weather: {files}"))
    assert said in fault.what
    assert fault.line == 51


@pytest.mark.parametrize("place", ['"Heron Field', "Heron Field" * 14_000])
def test_a_header_may_have_any_quotes_and_any_length(tmp_path: Path, place: str):
    text = epw().replace("Heron Field", place).replace("invented for tests", 'made "for" "tests')
    assert of_file(tmp_path, text).day(JULY) == of_file(tmp_path, epw()).day(JULY)
