"""Slabs: cast in one pour, sawn by cuts from edge to edge into just the blocks written."""

import pytest


def upper_row(plan, **cells):
    """Write into the H of the first slab, which lies at 602, 302."""
    plan.set("sawing", {"turn": 1, "cavity": 4}, **cells)


def test_a_slab_sawn_right_is_a_good_plan(sawn):
    assert sawn.said() == []


def test_a_block_turned_is_as_good(sawn):
    sawn.change_site(moulds=(sawn.site.moulds[0].model_copy(update={"cavity": (1202.0, 902.0, 200.0)}),))
    sawn.set("sawing", {"turn": 1, "cavity": 4}, length_mm=300.0, height_mm=300.0)
    sawn.set("sawing", {"turn": 1, "cavity": 2}, from_bottom_mm=302.0, length_mm=300.0, height_mm=600.0)
    broken = sawn.broken()
    assert ("poured volume", "batch 1") in broken  # the rules ran: the slab is bigger now
    assert not [rule for rule, _ in broken if rule in ("sawn to size", "within the slab", "cuts from edge to edge")]
    sawn.set("sawing", {"turn": 1, "cavity": 2}, length_mm=301.0, height_mm=600.0)
    assert ("sawn to size", "block 2") in sawn.broken()


def test_a_block_of_a_slab_that_lies_nowhere_is_found(sawn):
    sawn.drop("sawing", turn=1, cavity=4)
    assert sawn.said() == ["block 4 of slab/01 turn 1 is sawn out of a slab, but 0 rows say how it lies there"]


def test_a_block_that_lies_there_twice_is_found(sawn):
    sawn.add("sawing", "slab/01 1 4 904 302 298 300")
    assert ("sawn blocks", "slab/01 turn 1") in sawn.broken()


def test_a_sawn_block_that_is_not_cast_is_found(sawn):
    sawn.add("sawing", "slab/01 1 5 904 302 298 300")
    assert sawn.said() == ["sawing has a row for block 5 of slab/01 turn 1, and no such block is sawn"]


def test_a_block_sawn_too_short_is_found(sawn):
    upper_row(sawn, length_mm=299.0)
    assert sawn.said() == ["block 4, mark H, is 300 x 300 mm, but sawn to 299 x 300 mm"]


@pytest.mark.parametrize("cells", [{"from_left_mm": 903.0}, {"from_bottom_mm": 303.0}])
def test_a_block_beyond_the_edge_is_found(sawn, cells):
    upper_row(sawn, **cells)
    assert sawn.said() == ["block 4 of slab/01 turn 1 reaches beyond the slab of 1202 x 602 mm"]


@pytest.mark.parametrize("cells", [{"from_bottom_mm": 301.0}, {"from_left_mm": 100.0}])
def test_blocks_with_no_room_for_a_cut_are_found(sawn, cells):
    upper_row(sawn, **cells)
    assert sawn.broken() == [("cuts from edge to edge", "slab/01 turn 1")]


def test_blocks_round_a_middle_that_no_cut_from_edge_to_edge_parts_are_found(sawn):
    """Five blocks laid like a pinwheel: each cut would go through one of them."""
    size = (902.0, 902.0, 200.0)
    sawn.change_site(moulds=(sawn.site.moulds[0].model_copy(update={"cavity": size}),))
    for cavity, (x, y, length, height) in enumerate(
        [(0, 0, 600, 300), (602, 0, 300, 600), (302, 602, 600, 300), (0, 302, 300, 600)], start=1
    ):
        sawn.set(
            "sawing",
            {"turn": 1, "cavity": cavity},
            from_left_mm=float(x),
            from_bottom_mm=float(y),
            length_mm=float(length),
            height_mm=float(height),
        )
    assert ("cuts from edge to edge", "slab/01 turn 1") in sawn.broken()


def test_a_slab_of_two_batches_is_found(sawn):
    sawn.set("casts", {"cast": 4}, batch=2)
    assert ("one pour a slab", "slab/01 turn 1") in sawn.broken()


def test_a_slab_counts_whole_in_its_batch(sawn):
    sawn.set("batches", {"batch": 1}, poured_l=126.0)
    assert ("poured volume", "batch 1") in sawn.broken()


def test_the_strip_of_a_slab_lasts_as_long_as_strip_and_saw(sawn):
    saw = sawn.site.moulds[0].saw.model_copy(update={"time_min": 6})
    sawn.change_site(moulds=(sawn.site.moulds[0].model_copy(update={"saw": saw}),))
    assert {rule for rule, _ in sawn.broken()} == {"job lengths", "block times", "move at strip"}


def test_a_slab_of_another_thickness_is_found(sawn):
    sawn.change_site(moulds=(sawn.site.moulds[0].model_copy(update={"cavity": (1202.0, 602.0, 190.0)}),))
    assert "block 1, mark A, cannot be cast in slab/01: the block is 200 mm thick, the slab 190 mm" in sawn.said()


def test_an_ordered_block_in_a_filler_mould_is_found(plain):
    plain.change_site(moulds=(plain.site.moulds[0].model_copy(update={"filler": True}),))
    assert plain.broken()[0] == ("nothing ordered in a filler", "block 1")
