"""Where a block is by date, checked by hand."""

from __future__ import annotations

from blockrun.planner.plan import Plan
from blockrun.planner.tables import table
from blockrun.show.report.lives import Life, Lives


def cast(**moments: str | None) -> dict[str, object]:
    times = {"poured": "2027-04-05T10:00", "rack_from": "2027-04-07T08:00", "rack_to": "2027-04-14T08:00"}
    times |= {"ready": "2027-05-03T10:00", "needed": "2027-05-10"}
    numbers = dict.fromkeys(("cast", "turn", "cavity", "batch"), 1)
    words = dict.fromkeys(("part", "mark", "mix", "mould", "base", "rack"), "")
    return {"spare": False, **numbers, **words, **times, **moments}


def lives(*casts: dict[str, object]) -> Lives:
    return Lives(table("casts", list(casts)))


def test_a_block_goes_from_state_to_state_on_the_days_of_its_cast() -> None:
    life = lives(cast()).each[0]
    assert life == Life(poured=0, rack=2, off=9, ready=28, laid=35)
    assert [life.state(day) for day in (-1, 0, 1, 2, 8, 9, 27, 28, 34, 35, 99)] == [0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5]


def test_a_late_block_is_laid_on_the_day_it_is_ready() -> None:
    assert lives(cast(needed="2027-04-20")).each[0].laid == 28


def test_a_block_that_is_needed_on_no_day_is_never_laid() -> None:
    life = lives(cast(needed=None)).each[0]
    assert life.laid is None
    assert life.state(1000) == 4


def test_equal_lives_are_kept_once_and_counted() -> None:
    known = lives(cast(), cast(poured="2027-04-06T10:00"), cast())
    assert known.blocks == [2, 1]
    assert known.of_cast == [0, 1, 0]
    assert known.counts[0] == [1, 2, 0, 0, 0, 0]
    assert known.counts[-1] == [0, 0, 0, 0, 0, 3]


def test_counts_hold_every_block_on_every_day(small_plan: Plan) -> None:
    known = Lives(small_plan.tables.casts)
    assert {sum(count) for count in known.counts} == {15}
    assert len(known.counts) == known.n_days


def test_the_day_that_is_shown_has_the_most_even_spread() -> None:
    known = lives(cast(), cast(poured="2027-04-08T10:00", rack_from="2027-04-09T10:00"))
    assert known.counts[known.shown] == [1, 1, 0, 0, 0, 0]
    assert known.shown == 0


def test_a_block_without_time_on_a_rack_passes_it_over() -> None:
    known = lives(cast(rack_to="2027-04-07T08:00"))
    assert [known.each[0].state(day) for day in (1, 2)] == [1, 3]
    assert known.said(0) == "poured Mon 5 Apr, out of the mould Wed 7 Apr, ready Mon 3 May, laid Mon 10 May"
