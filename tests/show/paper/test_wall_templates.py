"""Templates of blocks under a slope, as high as the saw is told and true on the page."""

from __future__ import annotations

import re

import numpy as np
import pypdfium2
import pytest

from blockrun.order import WallPart
from blockrun.order.laid import Laid
from blockrun.order.marks import kind_of, marks_for
from blockrun.order.parts import layout_of, letter_of
from blockrun.order.walls.part import Top
from blockrun.show.paper.press import Sheet, print_sheets
from blockrun.show.paper.templates import templates_of_slopes
from blockrun.show.paper.wall_pieces import WallPiece, wall_pieces
from tests.show.paper.conftest import HEAD, Printed

PX_A_MM = 8
LEFT_MM, TOP_MM = 10, 34
HIGH = re.compile(r"([\d.]+)(?: mm)? high at ([\d.]+)")


def gable(block: tuple[float, float, float] = (600, 300, 200)) -> WallPart:
    """A wall of 3 m that rises from 1.2 m at its start to 2.2 m at its end."""
    tops = (Top(at_mm=0, height_mm=1200), Top(at_mm=3040, height_mm=2200))
    return WallPart(name="gable", length_mm=3040, height_mm=2200, block=block, joint_mm=10, bond="half", tops=tops)


def pieces_of(part: WallPart) -> list[WallPiece]:
    blocks: tuple[Laid, ...] = layout_of(part).blocks
    return wall_pieces(part, marks_for({kind_of(letter_of(part), block) for block in blocks}, set()))


def sheets_of(part: WallPart) -> list[Sheet]:
    return list(templates_of_slopes(part, pieces_of(part), "SI"))


def test_each_piece_is_as_high_as_the_saw_is_told() -> None:
    pieces = pieces_of(gable())
    assert len(pieces) > 3
    for piece in pieces:
        corners = [(x - min(x for x, _ in piece.face.outline), y) for x, y in piece.face.outline]
        for high, at in HIGH.findall(piece.cut):
            assert any((x, y) == pytest.approx((float(at), float(high)), abs=0.1) for x, y in corners) or high == "0"


def test_every_block_under_the_slope_has_its_template() -> None:
    part = gable()
    sloped = [block for block in layout_of(part).blocks if "slope" in block.cut]
    assert sum(piece.count for piece in pieces_of(part)) == len(sloped) > 3
    assert len({piece.name for piece in pieces_of(part)}) == len(pieces_of(part))


def test_a_level_wall_has_none() -> None:
    level = gable().model_copy(update={"tops": ()})
    assert sheets_of(level) == []


def test_the_list_and_the_sheets_name_the_pieces_of_the_elevation(printed: Printed) -> None:
    part = gable()
    first, *others = printed(*sheets_of(part))
    assert "Wall gable: templates of its slopes" in first
    text = " ".join(others)
    for piece in pieces_of(part):
        assert f"{piece.name} {piece.count} {piece.mark}" in first
        assert f"{piece.name}: front face" in text
    assert " mm high" not in printed(sheets_of(part)[1])[1]


def test_a_template_is_true_on_the_page() -> None:
    part = gable((160, 200, 100))
    piece, (_, sheet, *_) = pieces_of(part)[0], sheets_of(part)
    assert len(sheet.data["faces"][0]["tiles"]) == 1
    document = pypdfium2.PdfDocument(print_sheets(HEAD, [sheet]))
    page = np.asarray(document[0].render(scale=PX_A_MM * 25.4 / 72, grayscale=True).to_pil())
    document.close()
    face = sheet.data["faces"][0]
    bottom = max(y for side in face["sides"] for _, y in side)
    row = page[round((TOP_MM + bottom - face["tiles"][0]["top"] - 0.5) * PX_A_MM)] < 90
    (xs,) = np.nonzero(row)
    alongs = [x for x, _ in piece.face.outline]
    assert (xs[-1] - xs[0]) / PX_A_MM == pytest.approx(max(alongs) - min(alongs), abs=0.5)
    assert xs[0] / PX_A_MM == pytest.approx(
        LEFT_MM + min(x for side in face["sides"] for x, _ in side) - face["tiles"][0]["left"], abs=0.5
    )
