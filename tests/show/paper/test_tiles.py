"""Drawings on several sheets: nothing is left out, and every joint has its crosses."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.show.paper.tiles import OVERLAP_MM, Window, tiling

UPRIGHT, SIDEWAYS = Window(184, 236), Window(271, 150, sideways=True)
LENGTHS = st.floats(1, 3000)


def test_what_fits_one_sheet_stands_in_its_middle() -> None:
    (tile,) = tiling(100, 36, [UPRIGHT]).tiles
    assert (tile.left_mm, tile.top_mm) == (-42, -100)


def test_the_sheet_lies_so_that_fewest_are_needed() -> None:
    assert tiling(250, 100, [UPRIGHT, SIDEWAYS]).window.sideways
    assert not tiling(100, 200, [UPRIGHT, SIDEWAYS]).window.sideways


@given(LENGTHS, LENGTHS)
def test_sheets_cover_the_drawing_and_overlap_by_the_same_everywhere(width: float, height: float) -> None:
    spread = tiling(width, height, [UPRIGHT])
    tiles = spread.tiles
    assert max(tiles[0].left_mm, tiles[0].top_mm) <= 1e-5
    assert tiles[-1].left_mm + UPRIGHT.width_mm >= width - 1e-5
    assert tiles[-1].top_mm + UPRIGHT.height_mm >= height - 1e-5
    for tile in tiles[1 : spread.columns]:
        before = tiles[tile.number - 2]
        assert before.left_mm + UPRIGHT.width_mm - tile.left_mm == pytest.approx(OVERLAP_MM)


@given(LENGTHS, LENGTHS)
def test_two_sheets_that_meet_show_two_crosses_in_common(width: float, height: float) -> None:
    spread = tiling(width, height, [UPRIGHT, SIDEWAYS])
    shows = {tile.number: set[tuple[float, float]]() for tile in spread.tiles}
    for cross in spread.crosses:
        for number in spread.whole_in(*cross, *cross):
            shows[number].add(cross)
    for tile in spread.tiles:
        for other in spread.beside(tile).values():
            assert len(shows[tile.number] & shows[other]) >= 2


def test_every_sheet_names_the_ones_beside_it() -> None:
    spread = tiling(500, 400, [UPRIGHT])
    assert (spread.columns, spread.rows) == (3, 2)
    assert spread.beside(spread.tiles[0]) == {"right": 2, "below": 4}
    assert spread.beside(spread.tiles[4]) == {"left": 4, "right": 6, "above": 2}
