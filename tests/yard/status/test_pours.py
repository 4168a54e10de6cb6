"""Batches poured of those planned: hand-checked."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from blockrun.planner.as_planned import AsPlanned
from blockrun.yard.now import State
from blockrun.yard.status.pours import batches_of, still_due
from tests.yard.status.conftest import POURED, SECOND, STRIPPED, Status


def at(text: str) -> datetime:
    return datetime.fromisoformat(text)


def after(plan: AsPlanned, *numbers: int) -> State:
    """A yard in which some batches were poured as planned."""
    state = State()
    for number in numbers:
        state.poured[plan.id, number].append(plan.batches[number][0].poured)
    return state


def test_nothing_is_behind_before_the_first_pour(status: Status) -> None:
    batches = status("2027-04-05 08:00").batches
    assert (batches.poured, batches.due, batches.in_all, batches.behind, batches.open) == (0, 0, 4, 0, ())
    assert (batches.first, batches.last) == (at("2027-04-05T08:24"), date(2027, 4, 8))


def test_a_batch_is_due_once_it_would_be_poured(status: Status) -> None:
    assert status("2027-04-05 08:23").batches.due == 0
    assert status("2027-04-05 08:24").batches.open == ((1, date(2027, 4, 5)),)


def test_what_a_lost_day_did_not_pour_is_behind_and_nobody_is_asked_for_it(status: Status) -> None:
    batches = status("2027-04-06 16:00", POURED, *STRIPPED, "2027-04-06 15:00 lost 2027-04-06").batches
    assert (batches.behind, batches.open) == (1, ())


def test_what_is_poured_as_planned_is_not_behind(status: Status) -> None:
    assert status("2027-04-06 15:00", POURED, *STRIPPED, SECOND).batches.behind == 0


def test_days_behind_are_batches_over_what_a_working_day_pours(small: AsPlanned) -> None:
    # four batches from Monday to Thursday: one a working day
    assert batches_of(small, after(small, 1), at("2027-04-08T12:00")).behind_days == 3


def test_what_is_poured_sooner_is_ahead(small: AsPlanned) -> None:
    assert batches_of(small, after(small, 1, 2), at("2027-04-05T12:00")).behind == -1


def test_a_batch_poured_again_counts_once_and_is_told(status: Status) -> None:
    batches = status("2027-04-06 15:00", POURED, *STRIPPED, "2027-04-06 14:09 poured 1 again").batches
    assert (batches.poured, batches.again, batches.behind) == (1, 1, 1)


def test_a_batch_that_went_flat_before_a_plan_made_anew_is_one_of_its_batches(anew: AsPlanned) -> None:
    """As the plan itself counts it, and the batches that were thrown away: it has no blocks in the plan."""
    flat = anew.poured_before[0].model_copy(update={"number": 5, "was": 8, "poured": at("2027-04-05T10:00")})
    anew.__dict__["poured_before"] = (*anew.poured_before, flat)
    state = State()
    state.poured["1234", 7].append(at("2027-04-05T08:24"))
    state.poured["1234", 8].append(at("2027-04-05T10:00"))
    batches = batches_of(anew, state, at("2027-04-05T12:00"))
    assert (batches.poured, batches.due, batches.in_all, batches.behind, batches.again) == (2, 2, 5, 0, 0)


def test_a_batch_made_twice_before_a_plan_made_anew_is_two_of_its_batches(anew: AsPlanned) -> None:
    second = anew.poured_before[0].model_copy(update={"number": 5, "poured": at("2027-04-05T10:00")})
    anew.__dict__["poured_before"] = (*anew.poured_before, second)
    state = State()
    state.poured["1234", 7] += [at("2027-04-05T08:24"), at("2027-04-05T10:00")]
    batches = batches_of(anew, state, at("2027-04-05T12:00"))
    assert (batches.poured, batches.due, batches.in_all, batches.again) == (2, 2, 5, 0)


def test_a_pour_of_another_plan_is_no_batch_of_this_one(small: AsPlanned) -> None:
    state = State()
    state.poured["another", 1].append(at("2027-04-05T08:24"))
    batches = batches_of(small, state, at("2027-04-05T12:00"))
    assert (batches.poured, batches.of_others) == (0, ((1, date(2027, 4, 5)),))


def test_what_no_plan_has_is_of_no_other_plan(small: AsPlanned) -> None:
    state = State()
    state.poured["", 1].append(at("2027-04-05T08:24"))
    assert batches_of(small, state, at("2027-04-05T12:00")).of_others == ()


def test_what_was_poured_before_the_plan_was_made_anew_is_poured(anew: AsPlanned) -> None:
    state = State()
    state.poured["1234", 7] += [at("2027-04-05T07:00"), at("2027-04-05T08:24")]
    batches = batches_of(anew, state, at("2027-04-05T12:00"))
    assert (batches.poured, batches.again, batches.open) == (1, 1, ())
    assert 1 not in still_due(anew, state, at("2027-04-05T12:00"))


def test_the_pace_so_far_tells_a_last_pour(demo: AsPlanned) -> None:
    # 11 of 22 are poured. 49 are left of 38 that should be: at half the pace they are 98, 60 too many. 60 batches in
    # 20 working days are 3 a day, so 20 working days after Tuesday 27 April, 1 May closed: Friday 21 May
    batches = batches_of(demo, after(demo, *range(1, 12)), at("2027-04-09T12:00"))
    assert (batches.due, batches.in_all, batches.last) == (22, 60, date(2027, 4, 27))
    assert batches.a_day == pytest.approx(60 / 20)
    assert batches.last_at_pace == date(2027, 5, 21)


@pytest.mark.parametrize("numbers", [range(1, 5), range(1, 23)])
def test_no_pace_is_told_by_few_batches_or_with_none_behind(demo: AsPlanned, numbers: range) -> None:
    assert batches_of(demo, after(demo, *numbers), at("2027-04-09T12:00")).last_at_pace is None


def test_what_is_not_due_yet_is_poured_as_planned(small: AsPlanned) -> None:
    assert still_due(small, after(small, 1), at("2027-04-06T12:00")) == {
        2: at("2027-04-06T14:09"), 3: at("2027-04-08T09:14"), 4: at("2027-04-08T09:42"),
    }  # fmt: skip


def test_what_is_overdue_fills_days_as_the_fullest_of_the_plan(small: AsPlanned) -> None:
    # two batches on Thursday are the most of a day; Saturday and Sunday are closed
    assert still_due(small, after(small), at("2027-04-10T12:00")) == {
        1: at("2027-04-12T08:24"), 2: at("2027-04-12T14:09"), 3: at("2027-04-13T09:14"), 4: at("2027-04-13T09:42"),
    }  # fmt: skip


def test_nothing_is_poured_before_now(small: AsPlanned) -> None:
    assert still_due(small, after(small), at("2027-04-05T10:00"))[1] == at("2027-04-05T10:00")
