"""Cuts of slabs that can be worked out on paper; a saw cut is 5 mm wide."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.show.cuts import OFFCUT, SPECK_MM, Cut, Piece, SawnUp, saw_up

KERF = 5.0


def said(cuts: tuple[Cut, ...] | None) -> list[str]:
    """``up 600 (0-910): A A`` for an upright cut at 600 mm over the whole of a height of 910."""
    assert cuts is not None
    return [
        f"{'up' if cut.upright else 'level'} {cut.at_mm:g} ({cut.from_mm:g}-{cut.to_mm:g}): {' '.join(cut.frees)}"
        for cut in cuts
    ]


def sawn_up(slab: tuple[float, float], *blocks: tuple[float, float, float, float, str]) -> SawnUp | None:
    return saw_up(Piece(0.0, 0.0, *slab), KERF, [Piece(*block) for block in blocks])


def cut(slab: tuple[float, float], *blocks: tuple[float, float, float, float, str]) -> tuple[Cut, ...] | None:
    found = sawn_up(slab, *blocks)
    return found and found.cuts


def test_a_block_as_large_as_the_slab_needs_no_cut() -> None:
    assert cut((600, 300), (0, 0, 600, 300, "A")) == ()


def test_less_than_half_a_millimetre_is_not_sawn_off() -> None:
    assert cut((600.4, 300), (0, 0, 600, 300, "A")) == ()


def test_one_cut_frees_what_lies_on_both_sides_of_it() -> None:
    assert said(cut((605, 300), (0, 0, 300, 300, "C"), (305, 0, 300, 300, "C"))) == ["up 300 (0-300): C C"]


def test_what_is_too_much_is_cut_off_right_across_before_the_rest_is_sawn() -> None:
    two = cut((700, 300), (0, 0, 600, 145, "A"), (0, 150, 600, 145, "B"))
    assert said(two) == ["up 600 (0-300): offcut", "level 145 (0-600): A", "level 295 (0-600): B"]


def test_an_offcut_thinner_than_the_saw_is_dust() -> None:
    (only,) = cut((603, 300), (0, 0, 600, 300, "A")) or ()
    assert (only.frees, only.wide_mm) == (("A",), 3.0)
    assert only.dust_mm2 == 900


def test_what_is_left_free_before_and_between_blocks_is_moved_to_their_far_side() -> None:
    """On paper they lie from 100 to 300 mm and from 310 to 510 mm; they are sawn from 0 to 200 and 205 to 405 mm."""
    found = sawn_up((700, 300), (100, 0, 200, 300, "A"), (310, 0, 200, 300, "B"))
    assert found is not None
    assert said(found.cuts) == ["up 200 (0-300): A", "up 405 (0-300): B offcut"]
    assert found.blocks == (Piece(0, 0, 200, 300, "A"), Piece(205, 0, 200, 300, "B"))
    assert found.offcuts == (Piece(410, 0, 290, 300, OFFCUT),)


def test_cuts_right_across_come_first_then_those_of_each_piece() -> None:
    """Six blocks of 600 x 300 mm: one cut up and two in each half are five, as are two across and one in each row."""
    rows = [(x, y, 600.0, 300.0, "A") for x in (0.0, 605.0) for y in (0.0, 305.0, 610.0)]
    assert said(cut((1205, 910), *rows)) == [
        "level 300 (0-1205): ",
        "level 605 (0-1205): ",
        "up 600 (0-300): A A",
        "up 600 (305-605): A A",
        "up 600 (610-910): A A",
    ]


def test_of_two_ways_the_one_with_fewer_cuts_is_taken() -> None:
    """Across first takes two cuts; up first would take three, for the lower block and the upper ones are parted."""
    found = cut((605, 305), (0, 0, 300, 150, "A"), (305, 0, 300, 150, "B"), (0, 155, 605, 150, "C"))
    assert said(found) == ["level 150 (0-605): C", "up 300 (0-150): A B"]


def test_of_as_many_cuts_the_shorter_ones_are_taken() -> None:
    """Two either way; 700 mm across and 300 mm up are as much as 400 mm up and 600 mm across, 340 mm up is less."""
    assert said(cut((700, 400), (0, 0, 600, 300, "A"))) == ["level 300 (0-700): offcut", "up 600 (0-300): A offcut"]
    assert said(cut((700, 340), (0, 0, 600, 300, "A"))) == ["up 600 (0-340): offcut", "level 300 (0-600): A offcut"]


def test_blocks_that_no_cut_from_edge_to_edge_parts_are_not_cut() -> None:
    pinwheel = [(0, 0, 600, 295, "A"), (605, 0, 295, 600, "B"), (305, 605, 595, 295, "C"), (0, 300, 300, 600, "D")]
    assert cut((900, 900), *((*place, name) for *place, name in pinwheel)) is None  # type: ignore[arg-type]


SLAB = Piece(0, 0, 2000, 1500)


@st.composite
def blocks_of(draw: st.DrawFn, slab: Piece = SLAB, depth: int = 3) -> list[Piece]:
    """Blocks left by cuts drawn at random."""
    upright = draw(st.booleans())
    low, high = slab.span(upright=upright)
    if depth == 0 or high - low < 60:
        return [slab]
    at = draw(st.integers(int(low) + 20, int(high) - 25))
    halves = [slab.cut_to(low, at, upright=upright), slab.cut_to(at + KERF, high, upright=upright)]
    return [block for half in halves for block in draw(blocks_of(half, depth - 1))]


@st.composite
def some_of(draw: st.DrawFn) -> list[Piece]:
    """Such blocks, of which some are not wanted."""
    blocks = draw(blocks_of())
    dropped = draw(st.sets(st.integers(0, 7), max_size=3))
    kept = [block for number, block in enumerate(blocks) if number not in dropped] or blocks
    return [replace(block, name=f"B{number}") for number, block in enumerate(kept)]


@given(blocks=some_of())
def test_what_was_cut_can_be_cut_and_no_cut_hurts_a_block(blocks: list[Piece]) -> None:
    found = saw_up(SLAB, KERF, blocks)
    assert found is not None
    for one, block in itertools.product(found.cuts, found.blocks):
        along, across = block.span(upright=one.upright), block.span(upright=not one.upright)
        apart = across[0] >= one.to_mm or across[1] <= one.from_mm
        assert apart or one.at_mm >= along[1] - 0.01 or one.at_mm + KERF <= along[0] + 0.01


@given(blocks=some_of())
def test_each_block_keeps_its_size_and_is_freed_once(blocks: list[Piece]) -> None:
    found = saw_up(SLAB, KERF, blocks)
    assert found is not None
    kept = {(block.name, block.length_mm, block.height_mm) for block in found.blocks}
    assert kept == {(block.name, block.length_mm, block.height_mm) for block in blocks}
    freed = [name for one in found.cuts for name in one.frees if name != OFFCUT]
    assert sorted(freed) == (sorted(block.name for block in blocks) if found.cuts else [])


@given(blocks=some_of())
def test_blocks_offcuts_and_dust_are_the_slab(blocks: list[Piece]) -> None:
    found = saw_up(SLAB, KERF, blocks)
    assert found is not None
    pieces = sum(piece.length_mm * piece.height_mm for piece in (*found.blocks, *found.offcuts))
    slivers = SPECK_MM * (2000 + 1500) * len(found.cuts)
    assert pieces + sum(one.dust_mm2 for one in found.cuts) == pytest.approx(2000 * 1500, abs=slivers)


@given(blocks=some_of())
def test_what_is_sawn_up_is_sawn_up_just_so_again(blocks: list[Piece]) -> None:
    found = saw_up(SLAB, KERF, blocks)
    assert found is not None
    assert saw_up(SLAB, KERF, found.blocks) == found
