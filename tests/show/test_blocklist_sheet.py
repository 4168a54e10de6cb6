"""Lists of whole buildings, as text and as a sheet of a workbook, read back as they were written."""

from __future__ import annotations

from pathlib import Path

import pytest
from typer.testing import CliRunner

from blockrun import load_order, load_site
from blockrun.cli import app
from blockrun.files.workbook import read_sheet
from blockrun.order import takeoff
from blockrun.show.workbook.one_sheet import sheet_of
from tests.show.test_blocklist import MIXES, ORDER

SITE = Path(__file__).parents[1] / "plans" / "small" / "inputs" / "site.yaml"
BUILDING = """\
order: Store & yard <1>
mixes:
  - {name: wall, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.50}
  - {name: base, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.50}
parts:
  - list: blocks.csv
    mix: base
  - wall: north
    length: 7.3 m
    height: 2.65 m
    block: 600 x 300 x 200 mm
    joint: 10 mm
    ring_beams: [9]
    mix: wall
    openings: [{name: door, from: 1.2 m, sill: 0 m, width: 0.9 m, height: 2.1 m}]
    needed: {from: 2027-05-12, courses_a_day: 2}
  - dome: store
    inside_diameter: 4.4 m
    stem: 1.2 m
    thickness: 200 mm
    course: 300 mm
    block_length: 450 mm
    joint: 10 mm
    mix: wall
    openings: [{name: door, width: 0.9 m, height: 2.0 m}]
"""
BLOCKS = """\
part,mark,length_in,height_in,thickness_in,count,needed,cut,bevel_deg,taper_deg,bed_deg
plinth,007,15 5/8,8,8,3,2027-05-01,,7.123456,3.1,0.5
,=A1,8,8,8,1,,x,,,
"""


@pytest.mark.parametrize("site", [None, SITE])
@pytest.mark.parametrize("ending", ["csv", "xlsx"])
def test_a_building_with_all_there_is_reads_back_unchanged(tmp_path: Path, ending: str, site: Path | None) -> None:
    (tmp_path / "blocks.csv").write_text(BLOCKS)
    (tmp_path / "order.yaml").write_text(BUILDING)
    words = ["takeoff", str(tmp_path / "order.yaml"), "--out", str(tmp_path / f"again.{ending}")]
    result = CliRunner().invoke(app, words + ([] if site is None else ["--site", str(site)]))
    assert result.exit_code == 0, result.output
    mixes = "\n".join(map(MIXES.format, ("wall", "base")))
    (tmp_path / "again.yaml").write_text(ORDER.format(mixes=mixes).replace("again.csv", f"again.{ending}"))
    asked, yard = load_order(tmp_path / "order.yaml"), None if site is None else load_site(site)
    lines = takeoff(asked, yard.calendar, yard.moulds) if yard else takeoff(asked)
    assert {line.part for line in lines} == {"plinth", "blocks", "north", "store"}
    for key in ("course", "bevel_deg", "taper_deg", "bed_deg", "cut", "role", *(["needed"] if yard else [])):
        assert len({getattr(line, key) for line in lines}) > 1, key
    assert takeoff(load_order(tmp_path / "again.yaml")) == lines


def test_a_sheet_holds_numbers_as_numbers_and_text_as_text(tmp_path: Path) -> None:
    (tmp_path / "a.xlsx").write_bytes(sheet_of([("mark", "count"), ("<007> & co", 3), ("é", "")]))
    assert [row.cells for row in read_sheet(tmp_path / "a.xlsx").rows] == [
        ("mark", "count"), ("<007> & co", "3"), ("é", ""),
    ]  # fmt: skip


def test_equal_sheets_are_equal_to_the_byte() -> None:
    assert sheet_of([("a", 1)]) == sheet_of([("a", 1)])
