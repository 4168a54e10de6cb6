"""All pictures of an order: whole files, every block in them once, and a page that shows them."""

from __future__ import annotations

from collections import Counter
from pathlib import Path
from xml.etree import ElementTree

import pytest
from typer.testing import CliRunner

from blockrun.cli import app
from blockrun.order import Order, load_order, takeoff
from blockrun.show.pictures.of_order import order_pictures
from blockrun.show.pictures.paper import INDEX

ORDER = """\
order: Tool store
mixes:
  - {name: light, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.50}
parts:
  - wall: yard
    length: 4.8 m
    height: 1.85 m
    block: 600 x 300 x 200 mm
    joint: 10 mm
    bond: half
    openings: [{name: hatch, from: 1.8 m, sill: 0.62 m, width: 0.6 m, height: 0.6 m}]
  - dome: store
    inside_diameter: 2.4 m
    thickness: 150 mm
    course: 200 mm
    block_length: 400 mm
    joint: 10 mm
    joint_most: 60 mm
"""
SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    (tmp_path / "order.yaml").write_text(ORDER, encoding="utf-8")
    return tmp_path / "order.yaml"


@pytest.fixture
def order(path: Path) -> Order:
    return load_order(path)


def marks_in(picture: str) -> Counter[str]:
    """How often each mark is the first word of a title, but for the title of the picture."""
    titles = [title.text or "" for title in ElementTree.fromstring(picture).iter(f"{SVG}title")]
    return Counter(title.split(",")[0].split()[0] for title in titles[1:] if title)


def test_an_order_of_lists_has_no_pictures(small_folder: Path) -> None:
    assert order_pictures(load_order(small_folder / "inputs" / "order.yaml"), (), units="SI") == {}


def test_a_wall_and_a_dome_have_their_pictures_and_a_page(order: Order) -> None:
    pictures = order_pictures(order, (), units="SI")
    assert [name for name in pictures if name.startswith("wall-")] == ["wall-yard.svg", "wall-yard-notes-and-sizes.svg"]
    assert {"dome-store-section.svg", "dome-store-setting-out.svg", INDEX} <= set(pictures)
    assert [name for name in pictures if name.endswith(".svg") and f'src="{name}"' not in pictures[INDEX]] == []


def test_every_block_of_a_wall_is_in_its_picture_once(order: Order) -> None:
    asked: Counter[str] = Counter()
    for line in takeoff(order):
        if line.part == "yard":
            asked[line.mark] += line.count
    drawn = marks_in(order_pictures(order, (), units="SI")["wall-yard.svg"])
    assert {mark: drawn[mark] for mark in asked} == asked


@pytest.mark.parametrize("system", ["SI", "US"])
def test_pictures_are_whole_and_load_nothing(order: Order, system: str) -> None:
    for name, picture in order_pictures(order, (), units=system).items():
        if name != INDEX:
            assert ElementTree.fromstring(picture).tag == f"{SVG}svg"
            assert "<script" not in picture
            assert "href=" not in picture


def test_the_command_writes_the_pictures_whole_or_not_at_all(path: Path, tmp_path: Path) -> None:
    words = ["takeoff", str(path), "--picture", str(tmp_path / "pictures")]
    assert CliRunner().invoke(app, words).exit_code == 0
    assert (tmp_path / "pictures" / INDEX).is_file()
    assert CliRunner().invoke(app, words).exit_code == 2
    assert CliRunner().invoke(app, [*words, "--replace"]).exit_code == 0


def test_an_order_of_lists_is_told_that_there_is_nothing_to_draw(small_folder: Path, tmp_path: Path) -> None:
    words = ["takeoff", str(small_folder / "inputs" / "order.yaml"), "--picture", str(tmp_path / "pictures")]
    result = CliRunner().invoke(app, words)
    assert result.exit_code == 2
    assert "no wall and no dome" in result.output
    assert not (tmp_path / "pictures").exists()
