"""The take-off prints in the units of the site, where there is one."""

from __future__ import annotations

from pathlib import Path

from typer.testing import CliRunner, Result

from blockrun.cli import app


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


def of_us_site(inputs: tuple[Path, Path], folder: Path) -> tuple[Path, Path]:
    site, order = inputs
    for file in site.parent.iterdir():
        (folder / file.name).write_bytes(file.read_bytes())
    written = (folder / site.name).read_text(encoding="utf-8")
    (folder / site.name).write_text(written.replace("units: SI", "units: US"), encoding="utf-8")
    return folder / site.name, folder / order.name


def test_takeoff_of_a_site_that_prints_in_us_units_does(inputs: tuple[Path, Path], tmp_path: Path) -> None:
    site, order = of_us_site(inputs, tmp_path)
    assert "units: US" in site.read_text(encoding="utf-8")
    shown = run("takeoff", order, "--site", site).stdout
    assert "190.5 lb" in shown
    assert " kg dry" not in shown


def test_takeoff_prints_in_the_units_that_are_asked_for(inputs: tuple[Path, Path], tmp_path: Path) -> None:
    site, order = of_us_site(inputs, tmp_path)
    assert " kg dry" in run("takeoff", order, "--site", site, "--units", "SI").stdout


def test_a_list_that_the_order_reads_is_never_replaced(inputs: tuple[Path, Path], tmp_path: Path) -> None:
    _, order = of_us_site(inputs, tmp_path)
    before = (tmp_path / "wall.csv").read_bytes()
    result = run("takeoff", order, "--out", tmp_path / "wall.csv", "--replace")
    assert (result.exit_code, "is read by this order" in " ".join(result.stderr.split())) == (2, True)
    assert (tmp_path / "wall.csv").read_bytes() == before


WALLS = """\
order: T
mixes: [{name: wall, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.5}]
parts:
  - {wall: w, length: 20 ft, height: 8 ft, block: 15 5/8 x 7 5/8 x 7 5/8 in, joint: 3/8 in}
"""
METRIC = "  - {wall: v, length: 6 m, height: 2.48 m, block: 600 x 300 x 200 mm, joint: 10 mm}\n"


def test_walls_of_blocks_in_inches_are_told_in_inches_where_nobody_says_otherwise(tmp_path: Path) -> None:
    (tmp_path / "order.yaml").write_text(WALLS)
    told = run("takeoff", tmp_path / "order.yaml").stdout
    assert "W397 15 5/8 x 7 5/8 x 7 5/8 in" in told
    assert "End joints are 0.402 in, not 0.375 in" in told
    assert " mm" not in told
    assert "396.9 x 193.7" in run("takeoff", tmp_path / "order.yaml", "--units", "SI").stdout
    (tmp_path / "order.yaml").write_text(WALLS + METRIC)
    assert "600 x 300 x 200 mm" in run("takeoff", tmp_path / "order.yaml").stdout


TWO_MIXES = """\
order: T
mixes:
  - {name: light, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.5}
  - {name: heavy, oven_dry_density: 900 kg/m3, slurry_water_cement: 0.5}
parts:
  - {wall: a, length: 6.09 m, height: 0.31 m, block: 600 x 300 x 200 mm, joint: 10 mm, mix: light}
  - {wall: b, length: 6.09 m, height: 0.31 m, block: 600 x 300 x 200 mm, joint: 10 mm, mix: heavy}
"""


def test_blocks_of_one_mark_and_two_mixes_are_added_up_apart(tmp_path: Path) -> None:
    (tmp_path / "order.yaml").write_text(TWO_MIXES)
    lines = [" ".join(line.split()) for line in run("takeoff", tmp_path / "order.yaml").stdout.splitlines()]
    assert lines[lines.index("all: 20 blocks") + 1 :][:4] == [
        "10 W600, heavy: 360 L, 324 kg dry",
        "10 W600, light: 360 L, 216 kg dry",
        "10 mix heavy: 360 L, 324 kg dry",
        "10 mix light: 360 L, 216 kg dry",
    ]
