"""Numbers of batches that were poured: each keeps its own, none is used twice, what no plan has comes after them."""

from __future__ import annotations

from datetime import datetime, timedelta

from blockrun.planner.begun.facts import BatchPoured
from blockrun.planner.begun.numbers import numbers_before
from blockrun.yard.now import Pour
from blockrun.yard.replan.numbers import numbers_of

MONDAY = datetime.fromisoformat("2027-04-05T08:00")


def pour(plan: str, batch: int, minute: int = 0) -> Pour:
    return (plan, batch), MONDAY + timedelta(minutes=minute)


def told(number: int, one: Pour) -> BatchPoured:
    (plan, was), poured = one
    return BatchPoured(number=number, plan=plan, was=was, mixer="drum", mix="light", bags=3, poured=poured)


def test_batches_of_the_plan_in_hand_keep_their_numbers_in_any_order_and_with_gaps() -> None:
    assert numbers_of([pour("b", 6), pour("b", 2, 30)], [], "b") == [6, 2]


def test_of_two_pours_of_one_batch_the_last_has_its_number_though_both_were_in_one_minute() -> None:
    assert numbers_of([pour("b", 2), pour("b", 2, 30), pour("b", 3, 60)], [], "b") == [4, 2, 3]
    assert numbers_of([pour("b", 2), pour("b", 2)], [], "b") == [3, 2]


def test_what_no_plan_in_hand_has_gets_the_next_numbers_by_the_clock() -> None:
    assert numbers_of([pour("", 1), pour("gone", 1, 10), pour("b", 5, 20)], [], "b") == [6, 7, 5]


def test_what_the_plan_in_hand_was_told_of_keeps_the_number_that_it_has_there_whatever_it_was() -> None:
    """Also as versions before numbered it: by the clock."""
    before = [told(1, pour("a", 2)), told(2, pour("a", 2, 30)), told(3, pour("", 1, 40))]
    pours = [pour("a", 2), pour("a", 2, 30), pour("", 1, 40), pour("b", 4, 90)]
    assert numbers_of(pours, before, "b") == [1, 2, 3, 4]


def test_one_whose_minute_is_told_otherwise_since_keeps_its_number() -> None:
    assert numbers_of([pour("a", 5, 7), pour("b", 9, 60)], [told(5, pour("a", 5))], "b") == [5, 9]


def test_one_made_once_more_is_another_and_no_number_is_used_twice() -> None:
    before = [told(4, pour("a", 4))]
    assert numbers_of([pour("a", 4), pour("a", 4, 90)], before, "b") == [4, 5]
    assert numbers_of([pour("a", 4), pour("b", 4, 90)], before, "b") == [4, 5]


def test_a_batch_is_called_by_the_least_number_of_which_there_are_blocks() -> None:
    pours = [told(4, pour("a", 1)), told(1, pour("a", 1, 90))]
    assert numbers_before(pours, {1, 4}) == numbers_before(pours, {1}) == {("a", 1): 1}
    assert numbers_before(pours, {4}) == {("a", 1): 4}
