"""From saw plans to slabs: what is rounded up is not sawn for nobody, and what is hard to place becomes dearer."""

from __future__ import annotations

from blockrun.optimiser.sawing.job import Column, Counts, Job, even_columns, evenly, unmet
from blockrun.optimiser.sawing.plan import Piece, SawPlan, Slab
from blockrun.optimiser.sawing.rounding import learnt
from blockrun.optimiser.sawing.solve import exactly

LONG, SHORT = (60, 40), (40, 40)
JOB = Job([Slab(100, 40)], [0], [LONG, SHORT], {0: 3, 1: 5})
BOTH = Column.of(0, SawPlan((Piece(0, 0, 0, *LONG), Piece(1, 60, 0, *SHORT))))
ONLY_LONG = Column.of(0, SawPlan((Piece(0, 0, 0, *LONG),)))
ONLY_SHORT = Column.of(0, SawPlan((Piece(1, 0, 0, *SHORT), Piece(1, 40, 0, *SHORT))))


def test_pieces_beyond_what_is_wanted_are_not_sawn_and_slabs_without_pieces_are_not_cast() -> None:
    used = exactly(Counts({BOTH: 4, ONLY_SHORT: 2}), {0: 3, 1: 4})
    assert [(plan.gives(), count) for _, plan, count in used] == [({0: 1, 1: 1}, 3), ({1: 1}, 1)]


def test_a_piece_that_was_sawn_with_waste_becomes_dearer_than_one_that_was_not() -> None:
    worth = learnt(JOB, Counts({BOTH: 1, ONLY_LONG: 1}), [2400.0, 1600.0])
    assert worth == [(2400 + (2400 + 4000) / 2) / 2, 1600.0]


def test_a_piece_that_was_not_sawn_keeps_its_worth() -> None:
    assert learnt(JOB, Counts({ONLY_LONG: 1}), [2400.0, 7.0])[1] == 7.0


def test_each_item_out_of_slabs_of_its_own_is_enough() -> None:
    counts = evenly(JOB, even_columns(JOB))
    assert counts == Counts({ONLY_LONG: 3, ONLY_SHORT: 3})
    assert unmet(JOB.demand, counts) == {}


def test_what_slabs_leave_wanted() -> None:
    assert unmet(JOB.demand, Counts({BOTH: 2})) == {0: 1, 1: 3}
