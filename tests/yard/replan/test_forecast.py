"""A newer forecast goes before the weather files that a site names, however it names them."""

from __future__ import annotations

import shutil
from datetime import date
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.site import load_site
from blockrun.yard.replan.forecast import with_forecast

DAY = date(2027, 4, 7)


@pytest.fixture
def site(small_folder: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(small_folder / "inputs", tmp_path / "inputs")) / "site.yaml"


@pytest.fixture
def forecast(tmp_path: Path) -> Path:
    """Of two days, the first of them today."""
    path = tmp_path / "new.csv"
    path.write_text("date,min_degC,max_degC\n2027-04-07,1,3\n2027-04-08,2,4\n", encoding="utf-8")
    return path


@pytest.mark.parametrize(
    "named",
    ["weather.csv", "'weather.csv'", '"weather.csv"', "[weather.csv]", "['weather.csv']", "\n  - weather.csv"],
)
def test_its_days_count_and_those_it_has_not_come_from_the_others(
    site: Path, forecast: Path, tmp_path: Path, named: str
) -> None:
    text = site.read_text(encoding="utf-8")
    assert "\nweather: weather.csv" in text
    site.write_text(text.replace("\nweather: weather.csv", f"\nweather: {named}"), encoding="utf-8")
    before = load_site(site)
    (tmp_path / "new").mkdir()
    files = with_forecast(before.sources, forecast, DAY, tmp_path / "new")
    air = load_site(files[""], files=files).weather
    assert (air.day(DAY).min_c, air.day(date(2027, 4, 8)).max_c) == (1, 4)
    assert air.day(date(2027, 4, 6)) == before.weather.day(date(2027, 4, 6))
    assert air.day(date(2027, 4, 9)).min_c == before.weather.day(date(2027, 4, 9)).min_c


def test_one_that_is_not_there_is_told(site: Path, tmp_path: Path) -> None:
    with pytest.raises(BadInput, match="there is no such file"):
        with_forecast(load_site(site).sources, tmp_path / "none.csv", DAY, tmp_path)
