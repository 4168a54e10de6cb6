"""The checker itself: each fault is seen."""

from __future__ import annotations

import pytest

from blockrun.optimiser.sawing.plan import Piece, SawPlan, Slab
from tests.optimiser.sawing.by_hand import faults

SIZES = [(30, 20), (10, 10)]
PINWHEEL = (
    Piece(0, 0, 0, 30, 20), Piece(0, 30, 0, 20, 30), Piece(0, 20, 30, 30, 20), Piece(0, 0, 20, 20, 30),
    Piece(1, 20, 20, 10, 10),
)  # fmt: skip


@pytest.mark.parametrize(
    ("pieces", "kerf", "said"),
    [
        pytest.param((Piece(0, 0, 0, 30, 21),), 0, "not its size", id="another size"),
        pytest.param((Piece(0, 21, 0, 30, 20),), 0, "sticks out", id="over the edge"),
        pytest.param((Piece(0, 0, 0, 30, 20), Piece(1, 29, 19, 10, 10)), 0, "no blade fits", id="overlapping"),
        pytest.param((Piece(0, 0, 0, 30, 20), Piece(1, 33, 0, 10, 10)), 4, "no blade fits", id="too near"),
        pytest.param(PINWHEEL, 0, "no cuts from edge to edge", id="pinwheel"),
    ],
)
def test_a_plan_that_cannot_be_sawn_is_found(pieces: tuple[Piece, ...], kerf: int, said: str) -> None:
    assert said in "".join(faults(Slab(50, 50), kerf, SIZES, SawPlan(pieces)))


def test_a_plan_that_can_be_sawn_has_no_faults() -> None:
    pieces = (Piece(0, 0, 0, 30, 20), Piece(1, 34, 0, 10, 10), Piece(0, 0, 24, 20, 30))
    assert faults(Slab(50, 54), 4, SIZES, SawPlan(pieces)) == []
