"""Every label is scanned from the rendered page and read as what it is on."""

from __future__ import annotations

import subprocess
from pathlib import Path

import pypdfium2

from blockrun.planner.label_code import LabelCode, read_label_code
from blockrun.planner.plan import Plan
from blockrun.show.labels import LabelSheet, labels_on_paper, load_label_sheet, print_labels
from blockrun.show.labels.stacks import stack_labels
from blockrun.show.labels.turns import mould_labels, rack_labels
from tests.show.paper.as_if import forty_marks
from tests.show.paper.conftest import HEAD

SHEET = load_label_sheet(Path(__file__).parents[2] / "configs" / "labels.yaml")
DPI = 200
"""Of a common printer's draft."""


def scanned(plan: Plan, sheet: LabelSheet, folder: Path) -> list[LabelCode]:
    """What a scanner that is held over one label after the other reads off all sheets."""
    labels = labels_on_paper(plan, sheet)
    document = pypdfium2.PdfDocument(print_labels(HEAD, labels))
    files = []
    for page, there in zip(document, labels.data["sheets"], strict=True):
        picture = page.render(scale=DPI / 72, grayscale=True).to_pil()
        for x, y in (label["at"] for label in there):
            box = (x, y, x + sheet.label_width_mm, y + sheet.label_height_mm)
            files.append(str(folder / f"{len(files):04}.png"))
            picture.crop(tuple(round(side / 25.4 * DPI) for side in box)).save(files[-1])  # type: ignore[arg-type]
    document.close()
    command = ["zbarimg", "--quiet", "--raw", "-Sdisable", "-Sqrcode.enable", *files]
    found = subprocess.run(command, check=False, capture_output=True, text=True)
    return [read_label_code(line) for line in found.stdout.splitlines()]


def due(plan: Plan) -> list[LabelCode]:
    return [read_label_code(label.code) for made in (mould_labels, rack_labels, stack_labels) for label in made(plan)]


def test_all_labels_of_the_demo_are_scanned(demo_plan: Plan, tmp_path: Path) -> None:
    assert scanned(demo_plan, SHEET, tmp_path) == due(demo_plan)


def test_small_labels_are_scanned(small_plan: Plan, tmp_path: Path) -> None:
    sheet = SHEET.model_copy(update={"label_width_mm": 48.0, "label_height_mm": 20.0})
    assert scanned(small_plan, sheet, tmp_path) == due(small_plan)


def test_labels_with_long_names_are_scanned(tmp_path: Path) -> None:
    plan = forty_marks(tmp_path)
    assert scanned(plan, SHEET, tmp_path) == due(plan)
