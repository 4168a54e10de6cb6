"""Times drawn: all that the table tells, on sheets that print, for eyes without colour and for ears."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from datetime import date
from pathlib import Path

import pytest
from typer.testing import CliRunner

from blockrun.cli import app
from blockrun.errors import BadInput
from blockrun.planner.plan import Plan
from blockrun.planner.times import times_of
from blockrun.show.pictures.times import SHEETS, WIDTH, times_picture
from blockrun.site import Site, Sky, Weather
from blockrun.site.weather import TypicalYear

MONDAY, TUESDAY, THURSDAY = date(2027, 4, 5), date(2027, 4, 6), date(2027, 4, 8)
SVG = "{http://www.w3.org/2000/svg}"
EIGHT_POINTS_MM = 8 * 25.4 / 72


def with_air(site: Site, *days: tuple[float, float], **curing: object) -> Site:
    changed = site.curing.model_copy(update=curing)
    return site.model_copy(update={"curing": changed, "weather": Weather(MONDAY, days)})


@pytest.fixture
def site(small_plan: Plan) -> Site:
    """The small yard at a steady 18 degC: gang-2 without bases, tray-1 with."""
    return with_air(small_plan.site, *[(18.0, 18.0)] * 14)


def drawn(site: Site, first: date = MONDAY, last: date = MONDAY) -> ET.Element:
    return ET.fromstring(times_picture(site, times_of(site, None, first, last)))


def texts(root: ET.Element) -> list[str]:
    return ["".join(text.itertext()) for text in root.iter(f"{SVG}text")]


def titles(root: ET.Element) -> list[str]:
    return [title.text or "" for title in root.iter(f"{SVG}title")]


def height(root: ET.Element) -> float:
    return float(root.attrib["viewBox"].split()[3])


YARDS = {
    "mild": lambda site: with_air(site, *[(18.0, 18.0)] * 14),
    "frost": lambda site: with_air(site, (-4.0, 8.0), *[(6.0, 14.0)] * 9, least_air_c=-10.0),
    "hot": lambda site: with_air(site, (20.0, 33.0), (22.0, 38.0), *[(20.0, 30.0)] * 9, most_air_c=36.0),
    "slow": lambda site: with_air(site, *[(8.0, 14.0)] * 30, strip_at_h=200.0),
    "past the forecast": lambda site: with_air(site, (8.0, 16.0)),
}


@pytest.mark.parametrize("units", ["SI", "US"])
@pytest.mark.parametrize("name", YARDS)
def test_all_stands_on_sheets_that_a_printer_has_in_letters_of_eight_points(site: Site, name: str, units: str):
    root = drawn(YARDS[name](site).model_copy(update={"units": units}), MONDAY, THURSDAY)
    _, sheet = SHEETS[units]
    assert float(root.attrib["viewBox"].split()[2]) == WIDTH <= 210 - 24
    assert height(root) % sheet == 0
    sizes = [float(size) for at in root.iter() if (size := at.attrib.get("font-size"))]
    assert min(sizes) >= EIGHT_POINTS_MM
    for y, end in ends(root):
        assert y <= sheet
        assert end <= WIDTH


def ends(root: ET.Element, down: float = 0.0) -> list[tuple[float, float]]:
    """How far down its sheet each text stands, and where it ends if a letter is 0.5 of its size wide."""
    found = []
    for child in root:
        moved = re.match(r"translate\(0 (\S+)\)", child.attrib.get("transform", ""))
        on_sheet = 0.0 if root.tag == f"{SVG}svg" else down + (float(moved[1]) if moved else 0.0)
        if child.tag == f"{SVG}text":
            words, anchor = "".join(child.itertext()), child.attrib.get("text-anchor")
            wide = 0.5 * float(child.attrib.get("font-size", 2.9)) * len(words)
            start = float(child.attrib["x"]) - {"end": wide, "middle": wide / 2}.get(anchor or "", 0.0)
            found.append((on_sheet + float(child.attrib["y"]), start + wide))
        found += ends(child, on_sheet)
    return found


def test_a_row_says_sides_strip_move_and_the_date_of_laying(site: Site):
    days = times_of(site, None, MONDAY, MONDAY).kinds
    (tray,) = [kind.days[0] for kind in days if kind.kinds[0].kind == "tray-1"]
    words = texts(drawn(site))
    for times in tray.hours:
        assert times.sides
        assert f"{times.sides:%a %H:%M}" in words
        assert f"{times.strip:%a %H:%M}" in words
        assert f"{times.move:%H:%M}" in words
        assert f"{times.lay.day} {times.lay:%b}" in words
    assert [name for name in ("sides off", "strip", "move", "lay from") if name not in words] == []


def test_every_hour_is_a_line_and_the_latest_pour_for_the_day_before_is_one_more_in_bold(site: Site):
    root = drawn(site)
    days = [kind.days[0] for kind in times_of(site, None, MONDAY, MONDAY).kinds]
    assert sum(title.startswith("poured ") for title in titles(root)) == sum(len(day.hours) for day in days)
    latest = [f"by {times.poured:%H:%M}" for day in days for times in day.last]
    bold = ["".join(text.itertext()) for text in root.iter(f"{SVG}text") if text.attrib.get("font-weight") == "bold"]
    assert latest
    assert [words for words in bold if words.startswith("by ")] == latest
    assert any(title.startswith("the latest stripped that day: poured 13:") for title in titles(root))


def test_without_bases_there_are_no_sides_to_show(site: Site):
    words = texts(drawn(site.model_copy(update={"moulds": site.moulds[:1]})))
    assert "strip" in words
    assert "sides off" not in words


def test_marks_lie_in_the_order_of_the_work(site: Site):
    """Pour, strip and move of a row, from left to right, and never upon one another."""
    for row in drawn(site).iter(f"{SVG}g"):
        box, dots = row.find(f"{SVG}rect"), row.findall(f"{SVG}circle")
        if row.find(f"{SVG}title") is None or box is None:
            continue
        strip = float(box.attrib["x"])
        (arrow,) = [one.attrib["d"] for one in row.findall(f"{SVG}path") if one.attrib["d"].endswith("z")]
        moved = float(arrow.removeprefix("M").split()[0])
        assert float(dots[0].attrib["cx"]) < strip < strip + 1.5 < moved


def test_nights_and_closed_days_are_shaded_each_in_its_way(site: Site):
    """From a Thursday to the Monday after a closed Saturday and Sunday."""
    late = with_air(site, *[(8.0, 15.0)] * 14)
    fills = [rect.attrib.get("fill") for rect in drawn(late, THURSDAY, THURSDAY).iter(f"{SVG}rect")]
    legend = 1
    groups = 2
    assert fills.count("url(#closed)") == legend + 2 * groups
    assert fills.count("#e6e6e6") > legend + 3 * groups


def test_days_without_a_pour_say_why_once_for_all_moulds(site: Site):
    words = texts(drawn(with_air(site, (18.0, 33.0), *[(18.0, 20.0)] * 5, most_air_c=30.0)))
    assert words.count("No pour: the air rises to 33 degC, and 30 degC is the most.") == 1
    assert "gang-2 and tray-1" in words
    assert any(line.startswith("HEAT, 33 degC: keep blocks damp") for line in words)


def test_frost_heat_and_rain_are_said_with_what_to_do(site: Site):
    frost = texts(drawn(with_air(site, (-4.0, 8.0), *[(8.0, 14.0)] * 9, least_air_c=-10.0)))
    assert any(line.startswith("FROST, -4 degC: cover what is poured at once") for line in frost)
    assert any(line.startswith("* FROST before the strip: up to") for line in frost)
    assert "freezing" in frost
    wet = site.model_copy(
        update={"weather": Weather(MONDAY, ((18.0, 18.0),) * 5, skies=tuple(Sky(rain_mm=9.0) for _ in range(5)))}
    )
    assert any(line.startswith("RAIN, 9 mm: pour under a roof") for line in texts(drawn(wet)))


def test_where_the_forecast_ends_is_drawn_and_what_comes_after_named(site: Site):
    def of(typical: TypicalYear | None) -> list[str]:
        air = Weather(MONDAY, ((18.0, 18.0),), typical=typical)
        return texts(drawn(site.model_copy(update={"weather": air})))

    year = TypicalYear("Fenby", tuple(Sky(air_c=(15.0,) * 25) for _ in range(365)))
    assert "past the double line:" in of(None)
    assert "a guess, their mean" in of(None)
    assert "a typical year" in of(year)
    assert "past the double line:" not in texts(drawn(site))


def test_air_past_the_forecast_is_dashed(site: Site):
    lines = list(drawn(with_air(site, (8.0, 16.0))).iter(f"{SVG}polyline"))
    assert ["stroke-dasharray" in line.attrib for line in lines] == [False, True, True]


def test_ears_are_told_all_of_it(site: Site):
    root = drawn(site)
    said = root.findtext(f"{SVG}desc") or ""
    assert titles(root)[0] == "Hand yard: from pour to sides, strip, move and laying"
    assert root.attrib["role"] == "img"
    assert "Ages by EN 1992-1-1" in said
    assert "tray-1, Mon 5 Apr 2027: poured 09:00, sides off Tue 08:00, stripped from Tue 6 Apr" in said
    assert "laid from Mon 3 May" in said
    assert "Poured by 13:23 it is stripped Tue 15:48, later Wed." in said


def test_a_day_that_goes_on_overleaf_is_named_again(site: Site):
    twins = [site.moulds[0].model_copy(update={"kind": f"twin-{n}", "strip_time_min": 10 + n}) for n in range(6)]
    root = drawn(site.model_copy(update={"moulds": (*site.moulds, *twins)}))
    assert height(root) > SHEETS["SI"][1]
    assert any(words.endswith(", continued") for words in texts(root))
    assert f"2 of {round(height(root) / SHEETS['SI'][1])}" in texts(root)


def test_more_hours_than_anybody_reads_are_refused(site: Site):
    twins = [site.moulds[0].model_copy(update={"kind": f"twin-{n}", "strip_time_min": 10 + n}) for n in range(12)]
    with pytest.raises(BadInput, match="there are more than 1200 hours of pouring to draw"):
        drawn(site.model_copy(update={"moulds": tuple(twins)}), MONDAY, date(2027, 5, 5))


def test_the_command_writes_it(small_folder: Path, tmp_path: Path):
    file = tmp_path / "cure.svg"
    words = ["cure", str(small_folder / "inputs" / "site.yaml"), "--to", "2027-04-06", "--picture", str(file)]
    result = CliRunner().invoke(app, words)
    assert result.exit_code == 0, result.output
    assert ET.fromstring(file.read_text(encoding="utf-8")).tag == f"{SVG}svg"
