"""Which block lies in which cavity."""

import pytest


def kind(plan, **fields):
    plan.change_site(moulds=tuple(one.model_copy(update=fields) for one in plan.site.moulds))


def test_a_shorter_block_needs_stop_ends(plain):
    kind(plain, stop_ends=False)
    assert plain.said() == [
        "block 4, mark H, cannot be cast in gang-4/01: the block is 300 mm long, the cavity 600 mm",
        "block 8, mark H, cannot be cast in gang-4/01: the block is 300 mm long, the cavity 600 mm",
    ]


@pytest.mark.parametrize(
    ("cavity", "said"),
    [
        ((590.0, 300.0, 200.0), "the block is 600 mm long, the cavity 590 mm"),
        ((600.0, 310.0, 200.0), "the block is 300 mm high, the cavity 310 mm"),
        ((600.0, 300.0, 200.1), "the block is 200 mm thick, the cavity 200.1 mm"),
    ],
)
def test_a_block_of_another_size_is_found(plain, cavity, said):
    kind(plain, cavity=cavity)
    assert f"block 1, mark A, cannot be cast in gang-4/01: {said}" in plain.said()


def test_a_mould_without_square_ends_is_found(based):
    gang = based.site.moulds[1].model_copy(update={"wedges_deg": (5.0,)})
    based.change_site(moulds=(based.site.moulds[0], gang))
    assert based.broken() == [("cavity casts the block", "block 3")]


@pytest.mark.parametrize(
    ("field", "word"), [("wedges_deg", "wedges"), ("tapers_deg", "tapers"), ("bed_wedges_deg", "bed_wedges")]
)
def test_inserts_that_are_not_near_the_lean_of_a_block_are_found(plain, field, word):
    kind(plain, **{field: (5.0,)})
    assert plain.said()[0] == (
        f"block 1, mark A, cannot be cast in gang-4/01: its faces lean by 0 deg, and none of the {word} is near that"
    )


@pytest.mark.parametrize("cavity", [0, 5])
def test_a_cavity_that_the_mould_has_not_is_found(plain, cavity):
    plain.set("casts", {"cast": 4}, cavity=cavity)
    assert plain.broken() == [("cavity number", "block 4")]


def test_two_blocks_in_one_cavity_are_found(plain):
    plain.set("casts", {"cast": 4}, cavity=3)
    assert plain.said() == ["cavity 3 of gang-4/01 casts 2 blocks in turn 1"]
