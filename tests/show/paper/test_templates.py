"""Templates of dome pieces: measured on the printed page, they are as large as the numbers say."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pytest

from blockrun.order import DomePart, load_order
from blockrun.order.domes import DomeLayout
from blockrun.order.parts import layout_of, marks_of
from blockrun.show.paper.dome_pieces import DomePiece, dome_pieces
from blockrun.show.paper.press import Sheet, print_sheets
from blockrun.show.paper.size import Paper
from blockrun.show.paper.templates import HOW, templates_of
from blockrun.site import MouldKind, load_site
from tests.show.paper.conftest import HEAD, Printed

DEMO = Path(__file__).parents[3] / "examples" / "demo"
PX_A_MM = 8
LEFT_MM, TOP_MM = 10, 34
"""Where `template.typ` has the window of a drawing on the page."""
BLACK = 90
CLOSE_MM = 0.5


@cache
def store() -> tuple[DomePart, tuple[MouldKind, ...], dict[str, DomePiece]]:
    """The dome of the demo and its pieces by name."""
    order, site = load_order(DEMO / "order.yaml"), load_site(DEMO / "site.yaml")
    part = next(part for part in order.parts if isinstance(part, DomePart))
    pieces = dome_pieces(part, site.moulds, marks_of(order, site.moulds))
    return part, site.moulds, {piece.name: piece for piece in pieces}


def layout_of_store() -> DomeLayout:
    layout = layout_of(*store()[:2])
    assert isinstance(layout, DomeLayout)
    return layout


def template_of(name: str, units: str = "SI") -> Sheet:
    part, _, pieces = store()
    return list(templates_of(part, [pieces[name]], units))[1]


def pictures(pdf: bytes) -> Iterator[Any]:
    """Each page, a grey value for each eighth of a millimetre."""
    document = pypdfium2.PdfDocument(pdf)
    for page in document:
        yield np.asarray(page.render(scale=PX_A_MM * 25.4 / 72, grayscale=True).to_pil())
    document.close()


def joined(name: str, face: int, *, paper: Paper = Paper.A4) -> tuple[Any, dict[str, Any]]:
    """One face, its sheets laid on one another by their crosses; and what was drawn."""
    sheet = template_of(name)
    drawn = sheet.data["faces"][face]
    before = sum(len(one["tiles"]) for one in sheet.data["faces"][:face])
    pages = list(pictures(print_sheets(replace(HEAD, paper=paper), [sheet])))[before : before + len(drawn["tiles"])]
    wide, high = (round(side * PX_A_MM) for side in drawn["window"])
    places = [(round(tile["left"] * PX_A_MM), round(tile["top"] * PX_A_MM)) for tile in drawn["tiles"]]
    left, top = min(x for x, _ in places), min(y for _, y in places)
    whole = np.full((max(y for _, y in places) - top + high, max(x for x, _ in places) - left + wide), 255, np.uint8)
    for page, (x, y) in zip(pages, places, strict=True):
        window = page[TOP_MM * PX_A_MM : TOP_MM * PX_A_MM + high, LEFT_MM * PX_A_MM : LEFT_MM * PX_A_MM + wide]
        there = whole[y - top : y - top + high, x - left : x - left + wide]
        np.minimum(there, window, out=there)
    return whole, drawn | {"left": left / PX_A_MM, "top": top / PX_A_MM}


def black_from_to(picture: Any, drawn: dict[str, Any], y_mm: float) -> tuple[float, float]:
    """The first and the last black on a level of the drawing, mm from its left."""
    (xs,) = np.nonzero(picture[round((y_mm - drawn["top"]) * PX_A_MM)] < BLACK)
    return xs[0] / PX_A_MM + drawn["left"], xs[-1] / PX_A_MM + drawn["left"]


def longest_runs(page: Any) -> list[float]:
    """Length in mm of the longest black run of each row that has one of more than 60 mm."""
    found = []
    for row in page < BLACK:
        edges = np.flatnonzero(np.diff(np.concatenate([[0], row, [0]]).astype(int)))
        long = max(edges[1::2] - edges[::2], default=0) / PX_A_MM
        if long > 60:
            found.append(long)
    return found


@pytest.mark.parametrize("name", ["D450-2", "x9", "x25"])
@pytest.mark.parametrize("face", [0, 1], ids=["outside", "inside"])
def test_edges_measured_on_the_joined_sheets_are_those_of_the_table(name: str, face: int) -> None:
    ring = next(ring for ring in layout_of_store().courses if ring.course in store()[2][name].by_course)
    edges = ring.edges
    low_mm, high_mm = [
        (edges.outside_bottom_mm, edges.outside_top_mm),
        (edges.inside_bottom_mm, edges.inside_top_mm),
    ][face]
    picture, drawn = joined(name, face)
    top, bottom = (extreme(y for side in drawn["sides"] for _, y in side) for extreme in (min, max))
    for level in (bottom - 1, top + 1):
        left, right = black_from_to(picture, drawn, level)
        up = (bottom - level) / (bottom - top)
        assert right - left == pytest.approx(low_mm + up * (high_mm - low_mm), abs=CLOSE_MM)
    assert bottom - top == pytest.approx(ring.height_mm, abs=0.01)


def test_the_height_is_true_too() -> None:
    picture, drawn = joined("x9", 0)
    middle = drawn["middle"][0][0][0] + 40
    column = picture[:, round((middle - drawn["left"]) * PX_A_MM)] < BLACK
    (ys,) = np.nonzero(column)
    assert (ys[-1] - ys[0]) / PX_A_MM == pytest.approx(200, abs=CLOSE_MM)


def test_what_a_door_takes_is_true_to_where_it_is() -> None:
    """The notch of the take-off, 213 x 192 mm out of the lower left corner: the bottom begins right of it."""
    picture, drawn = joined("x18", 1)
    assert "saw a notch of 213 x 192 mm (inside) out of the lower left corner" in store()[2]["x18"].cut
    (part,) = drawn["taken"]
    across = max(x for x, _ in part) - min(x for x, _ in part)
    down = max(y for _, y in part) - min(y for _, y in part)
    assert (across, down) == pytest.approx((213, 192), abs=CLOSE_MM)
    bottom = max(y for side in drawn["sides"] for _, y in side)
    (level,) = [side for side in drawn["sides"] if all(abs(y - bottom) < 0.01 for _, y in side)]
    row = picture[round((bottom - drawn["top"]) * PX_A_MM)] < BLACK
    edges = np.flatnonzero(np.diff(np.concatenate([[0], row, [0]]).astype(int)))
    assert max(edges[1::2] - edges[::2]) / PX_A_MM == pytest.approx(abs(level[1][0] - level[0][0]), abs=CLOSE_MM)


@pytest.mark.parametrize("face", [0, 1], ids=["outside", "inside"])
def test_a_crown_block_is_round_and_as_wide_as_the_saw_is_told(face: int) -> None:
    picture = next(pictures(print_sheets(HEAD, [template_of("x26")])))
    drawn = template_of("x26").data["faces"][face]
    above = sum(one["window"][1] + 2 for one in template_of("x26").data["faces"][:face])
    crown = layout_of_store().crown
    radius_mm = (crown.outside_radius_mm, crown.inside_radius_mm)[face]
    assert f"{2 * radius_mm:.0f} mm" in store()[2]["x26"].cut
    (_, middle), _ = drawn["middle"][1]
    row = picture[round((TOP_MM + above + middle - drawn["tiles"][0]["top"] - radius_mm / 2) * PX_A_MM)]
    (xs,) = np.nonzero(row < BLACK)
    assert (xs[-1] - xs[0]) / PX_A_MM == pytest.approx(radius_mm * 3**0.5, abs=CLOSE_MM)


@pytest.mark.parametrize("paper", list(Paper))
def test_both_bars_are_true_on_every_sheet(paper: Paper) -> None:
    for page in pictures(print_sheets(replace(HEAD, paper=paper), [template_of("x25")])):
        runs = longest_runs(page[-60 * PX_A_MM :])
        assert any(long == pytest.approx(100, abs=CLOSE_MM) for long in runs)
        assert any(long == pytest.approx(101.6, abs=CLOSE_MM) for long in runs)


def test_sheets_name_the_face_and_how_they_join(printed: Printed) -> None:
    pages = printed(template_of("x9"))
    assert len(pages) == 6
    assert pages[0].startswith("Heron Field yard Tool store plan 3 of")
    assert "x9: outside face, sheet 1 of 3" in pages[0]
    assert "joins sheet 2 right" in pages[0]
    assert "joins sheet 1 left, sheet 3 right" in pages[4]
    assert "seen from inside the dome" in pages[4]
    assert "out of a block D440, 440 x 200 x 200 mm; 19 pieces, course 7" in pages[0]


def test_every_length_stands_whole_on_one_of_the_sheets(printed: Printed) -> None:
    pages = printed(template_of("x9"))
    assert sum("436 mm" in page for page in pages) == 1
    assert sum("200 mm high" in page for page in pages) == 2
    assert sum("OUTSIDE FACE" in page for page in pages) == 1


def test_the_list_names_every_piece_and_the_pages_it_is_on(printed: Printed) -> None:
    part, _, pieces = store()
    some = [pieces[name] for name in ("D164", "x7", "x8", "x26")]
    first, *others = printed(*templates_of(part, some, "SI"))
    assert "D164 45 D164 164 x 200 x 200 mm course 6 as cast, square: no template" in first
    assert re.search(r"x8 1 D440 .* up the face 2.5 x26", first)
    assert re.search(r"x26 1 D85 .* 72 mm inside 6$", first.removesuffix(" page 1 of 6").rstrip())
    assert len(others) == 5
    assert HOW[0].split(",")[0] in first


def test_lengths_are_in_inches_where_the_yard_prints_so(printed: Printed) -> None:
    part, _, pieces = store()
    text = " ".join(printed(*templates_of(part, [pieces["x9"]], "US"), paper=Paper.LETTER))
    assert "17 3/16 in" in text
    assert "mm high" not in text
    listed = " ".join(printed(*templates_of(part, [pieces["x9"]], "US"), paper=Paper.LETTER)[:1])
    assert not re.search(r"\d mm", listed.replace("100 mm", ""))


@pytest.mark.parametrize("name", ["x10", "x18", "x25"])
def test_every_side_that_is_sawn_has_its_length_beside_it(name: str) -> None:
    for face in template_of(name).data["faces"]:
        words = [word["text"] for tile in face["tiles"] for word in tile["words"] if "text" in word]
        for (x0, y0), (x1, y1) in face["sides"]:
            long = ((x1 - x0) ** 2 + (y1 - y0) ** 2) ** 0.5
            assert long < 10 or any(word.startswith(f"{long:.0f} mm") for word in words), (face["face"], long)
