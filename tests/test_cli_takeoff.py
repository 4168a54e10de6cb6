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
