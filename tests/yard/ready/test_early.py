"""What came out of its mould too soon is told until it is stacked: by hand, on the plan of fifteen blocks."""

from __future__ import annotations

from tests.yard.ready.conftest import POURED, STRIPPED, Ready

SOON = "2027-04-06 08:00 stripped gang-2/1"
"""Old enough it is at 12:45."""


def test_a_strip_too_soon_is_told_with_its_blocks_and_hours(ready: Ready) -> None:
    (early,) = ready("2027-04-07 08:00", POURED, SOON).early
    assert (early.place, early.blocks, early.early_h) == ("gang-2/01", (("full", 2),), 4)


def test_one_in_time_or_within_the_hour_is_not(ready: Ready) -> None:
    assert ready("2027-04-07 08:00", POURED, "2027-04-06 12:00 stripped gang-2/1", *STRIPPED[1:]).early == ()


def test_only_what_is_not_stacked_yet_is_told_and_the_last_stripped_is_there_longest(ready: Ready) -> None:
    both = ready("2027-04-07 08:00", POURED, SOON, "2027-04-06 08:05 stripped gang-2/2 1 full broken")
    assert [(early.place, early.blocks) for early in both.early] == [
        ("gang-2/01", (("full", 2),)),
        ("gang-2/02", (("half", 1),)),
    ]
    one = ready("2027-04-14 08:00", "2027-04-13 09:00 stacked east 1 full 1 half")
    assert [(early.place, early.blocks) for early in one.early] == [("gang-2/01", (("full", 1),))]


DENTED = "2027-04-06 13:00 thumb gang-2/1 dents"


def test_what_was_poured_with_blocks_that_a_thumb_dented_is_told_too(ready: Ready) -> None:
    out = ("2027-04-06 13:05 stripped gang-2/1", "2027-04-06 13:06 stripped gang-2/2")
    dented, beside = ready("2027-04-06 14:00", POURED, DENTED, *out).early
    assert (dented.place, dented.beside) == ("gang-2/01", ())
    assert (beside.place, beside.blocks) == ("gang-2/02", (("full", 1), ("half", 1)))
    assert (beside.early_h, beside.beside) == (0, (("gang-2/01", "dents"),))


def test_not_where_its_own_thumb_left_no_mark(ready: Ready) -> None:
    firm = ("2027-04-06 13:05 thumb gang-2/2 firm", "2027-04-06 13:06 stripped gang-2/2")
    assert ready("2027-04-06 14:00", POURED, DENTED, *firm).early == ()
