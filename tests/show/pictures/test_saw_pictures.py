"""Pictures of saw plans: every block and offcut once, every cut by its number, legible when printed."""

from __future__ import annotations

import itertools
from collections import Counter
from dataclasses import replace
from pathlib import Path
from xml.etree import ElementTree

import pytest
from typer.testing import CliRunner

from blockrun.cli import app
from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan
from blockrun.show.cuts import Piece, saw_up
from blockrun.show.pictures.paper import HEIGHT_MM, INDEX, LEAST_MM, WIDTH_MM
from blockrun.show.pictures.saw_plans import saw_pictures
from blockrun.show.saw_plans import SawPlan, saw_plans_of
from blockrun.site import MouldKind

SVG = "{http://www.w3.org/2000/svg}"
SLABS = Path(__file__).parents[2] / "plans" / "slabs"


@pytest.fixture(scope="module")
def plan() -> Plan:
    return load_plan(SLABS)


def sheet(plan: Plan, number: int, units: str = "SI") -> ElementTree.Element:
    site = plan.site.model_copy(update={"units": units})
    pictures = saw_pictures(saw_plans_of(plan), site, "Garden wall")
    return ElementTree.fromstring(pictures[f"saw-plan-{number}.svg"])


def texts(root: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in root.iter(f"{SVG}text")]


def test_each_saw_plan_has_a_sheet_and_the_page_shows_them_all(plan: Plan) -> None:
    pictures = saw_pictures(saw_plans_of(plan), plan.site, "Garden wall")
    assert list(pictures) == [*(f"saw-plan-{number}.svg" for number in range(1, 6)), INDEX]
    assert [name for name in pictures if name != INDEX and f'src="{name}"' not in pictures[INDEX]] == []


def test_without_slabs_there_is_nothing_to_draw(plan: Plan) -> None:
    assert saw_pictures([], plan.site, "Garden wall") == {}


def test_every_block_and_offcut_is_drawn_once_with_its_size(plan: Plan) -> None:
    titles = Counter(title.text for title in sheet(plan, 2).iter(f"{SVG}title"))
    assert titles["A, 600 x 300"] == 6
    assert "offcut" not in " ".join(filter(None, titles))
    assert Counter(title.text for title in sheet(plan, 1).iter(f"{SVG}title"))["offcut, 190 x 20"] == 1


def keys_of(root: ElementTree.Element) -> list[ElementTree.Element]:
    """Words of the key: what comes right after a swatch."""
    parts = list(root)
    return [after for part, after in itertools.pairwise(parts) if (part.get("width"), part.get("height")) == ("6", "4")]


def overlap(root: ElementTree.Element) -> list[str]:
    """Words of the key that run into the next swatch of their row."""
    rows = itertools.groupby(keys_of(root), lambda key: key.get("y"))
    pairs = [pair for _, row in rows for pair in itertools.pairwise(row)]
    return [
        key.text or ""
        for key, beside in pairs
        if float(key.get("x", 0)) + 1.4 * len(key.text or "") > float(beside.get("x", 0)) - 7.5
    ]


@pytest.mark.parametrize("number", [1, 2, 3, 4, 5])
def test_the_key_names_offcuts_where_there_are_any(plan: Plan, number: int) -> None:
    words = [key.text for key in keys_of(sheet(plan, number))]
    assert ("offcut" in words) == bool(saw_plans_of(plan)[number - 1].sawn.offcuts)
    assert len(words) >= 1
    assert not overlap(sheet(plan, number))


def test_many_marks_of_one_size_take_as_much_of_the_key_as_they_need(plan: Plan) -> None:
    saw_plan = saw_plans_of(plan)[1]
    named = [replace(block, name="A/W600/W600-2/W600-3") for block in saw_plan.sawn.blocks[:3]]
    blocks = (*named, *saw_plan.sawn.blocks[3:])
    pictures = saw_pictures([replace(saw_plan, sawn=replace(saw_plan.sawn, blocks=blocks))], plan.site, "wall")
    root = ElementTree.fromstring(pictures["saw-plan-2.svg"])
    assert len(keys_of(root)) == 2
    assert not overlap(root)


def test_cuts_have_their_numbers_on_the_slab_and_in_the_list(plan: Plan) -> None:
    root = sheet(plan, 1)
    said = [text.replace("\u00a0", " ") for text in texts(root)]
    assert len([circle for circle in root.iter(f"{SVG}circle") if circle.get("r") == "1.9"]) == 14
    assert [number for number in range(1, 15) if str(number) not in said] == []
    assert "14 level at 885, from 805 to 1195: D and offcut" in said


def test_the_slab_and_its_cuts_are_drawn_to_scale(plan: Plan) -> None:
    """At 1:10 the slab is 120.5 x 91 mm; a block of 600 mm ends at 60 mm, the next begins 0.5 mm further on."""
    boxes = [box.attrib for box in sheet(plan, 2).iter(f"{SVG}rect")]
    assert any((box.get("width"), box.get("height")) == ("120.5", "91") for box in boxes)
    assert {box["x"] for box in boxes if box.get("width") == "60"} == {"18", "78.5"}


@pytest.mark.parametrize("units", ["SI", "US"])
def test_letters_are_large_enough_and_all_of_it_is_on_the_sheet(plan: Plan, units: str) -> None:
    for number in range(1, 6):
        root = sheet(plan, number, units)
        sizes = [float(text.get("font-size", "2.4")) for text in root.iter(f"{SVG}text")]
        assert min(sizes) >= LEAST_MM
        for box in root.iter(f"{SVG}rect"):
            if "%" not in box.get("width", ""):
                assert float(box.get("x", "0")) + float(box.get("width", "0")) <= WIDTH_MM
                assert float(box.get("y", "0")) + float(box.get("height", "0")) <= HEIGHT_MM


def test_a_long_list_of_cuts_goes_on_on_further_sheets(plan: Plan) -> None:
    kind = MouldKind.model_validate(
        {"kind": "slab", "count": 1, "cavities": 1, "cavity": "2000 x 1000 x 100 mm", "strip_time": "5 min",
         "clean_time": "5 min", "saw": {"kerf": "5 mm", "time": "9 min"}}
    )  # fmt: skip
    blocks = [Piece(100.0 * x, 100.0 * y, 95.0, 95.0, "A") for x in range(20) for y in range(10)]
    sawn = saw_up(Piece(0, 0, 2000, 1000), 5.0, blocks)
    assert sawn is not None
    pictures = saw_pictures([SawPlan(1, kind, 5.0, sawn, (("slab/01", 1),), 100.0)], plan.site, "Many")
    assert [name for name in pictures if name != INDEX] == [
        "saw-plan-1.svg", "saw-plan-1-2.svg", "saw-plan-1-3.svg", "saw-plan-1-4.svg"
    ]  # fmt: skip
    said = [text for name in pictures if name != INDEX for text in texts(ElementTree.fromstring(pictures[name]))]
    for number in range(1, len(sawn.cuts) + 1):
        assert any(text.startswith(f"{number}\u00a0") for text in said)


# the command


def test_days_draws_the_saw_plans_of_the_days_asked_for(tmp_path: Path) -> None:
    folder = tmp_path / "saw"
    command = ["days", str(SLABS), "--picture", str(folder), "--to", "2027-05-03"]
    done = CliRunner().invoke(app, command, env={"COLUMNS": "40"})
    assert (done.exit_code, done.stderr) == (0, "")
    assert [line for line in done.stdout.splitlines() if len(line) > 40 and line != str(folder / INDEX)] == []
    assert " ".join(done.stdout.split()) == f"1 picture written. To see and print them, open: {folder / INDEX}"
    assert {path.name for path in folder.iterdir()} == {"saw-plan-1.svg", INDEX}


def test_pictures_that_are_there_are_kept_unless_told(tmp_path: Path) -> None:
    words = ["days", str(SLABS), "--picture", str(tmp_path / "saw")]
    assert [CliRunner().invoke(app, again).exit_code for again in (words, words, [*words, "--replace"])] == [0, 2, 0]


def test_a_plan_without_slabs_says_that_there_is_nothing_to_draw(small_folder: Path, tmp_path: Path) -> None:
    done = CliRunner().invoke(app, ["days", str(small_folder), "--picture", str(tmp_path / "saw")])
    assert done.exit_code == 2
    assert "no slab is poured or sawn on these days" in " ".join(done.stderr.split())
