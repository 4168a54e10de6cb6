"""People, mixers and foam of a day."""

from __future__ import annotations

from dataclasses import replace

from blockrun.optimiser.problem import Chore
from blockrun.optimiser.quick.shift import Shift
from tests.optimiser.small import LOAD, YARD, at

DAY = YARD.days[1]


def shift(*chores: Chore, mixers: int = 1, chores_done: bool = True) -> Shift:
    return Shift(replace(DAY, chores=chores), mixers, chores=chores_done)


def test_a_task_lies_in_one_window() -> None:
    assert shift().first(at(1, 595), 10) == at(1, 620)
    assert shift().first(at(1, 590), 10) == at(1, 590)
    assert shift().first(at(1, 791), 10) is None


def test_people_who_are_busy_are_missed_and_no_others() -> None:
    of = shift()
    of.take(at(1, 480), at(1, 500))
    assert of.first(0, 10) == at(1, 480)
    of.take(at(1, 480), at(1, 490))
    assert of.first(0, 10) == at(1, 490)


def test_who_is_released_is_free_again() -> None:
    of = shift()
    for _ in range(2):
        of.take(at(1, 480), at(1, 500))
    of.release(at(1, 480), at(1, 500))
    assert of.first(0, 10) == at(1, 480)
    of.take(at(1, 480), at(1, 500))
    assert of.first(0, 10) == at(1, 500)


def test_chores_take_people_where_they_are_done() -> None:
    chore = Chore(at(1, 480), at(1, 495), 2)
    assert shift(chore).first(0, 5) == at(1, 495)
    assert shift(chore, chores_done=False).first(0, 5) == at(1, 480)


def test_a_chore_for_more_people_than_are_there_makes_the_day_impossible() -> None:
    assert shift(Chore(at(1, 480), at(1, 495), 2)).possible
    assert not shift(Chore(at(1, 480), at(1, 495), 3)).possible


def test_a_mixer_has_one_batch_at_a_time() -> None:
    of = shift(mixers=2)
    of.take_batch(LOAD, at(1, 480))
    assert of.first_batch(LOAD, 0) == at(1, 500)


def test_foam_is_made_for_one_mixer_at_a_time() -> None:
    of = shift(mixers=2)
    of.take_batch(LOAD, at(1, 480))
    assert of.first_batch(replace(LOAD, mixer=1), 0) == at(1, 482)


def test_no_foam_goes_in_after_the_last() -> None:
    early = Shift(replace(DAY, last_foam=at(1, 640)), 1, chores=False)
    assert early.first_batch(LOAD, at(1, 632)) == at(1, 632)
    assert early.first_batch(LOAD, at(1, 633)) is None


def test_a_batch_waits_until_the_hour_is_cool_enough_for_it() -> None:
    hot = Shift(replace(DAY, hot=((at(1, 470), at(1, 500), 0), (at(1, 500), at(1, 540), 12))), 1, chores=False)
    slow, hardy = replace(LOAD, foam=3), replace(LOAD, hardy=True)
    assert [hot.first_batch(load, 0) for load in (LOAD, slow, hardy)] == [at(1, 492), at(1, 532), at(1, 480)]


def test_going_back_frees_what_was_taken_since() -> None:
    of = shift()
    before = of.as_is()
    of.take_batch(LOAD, at(1, 480))
    of.back_to(before)
    assert of.first_batch(LOAD, 0) == at(1, 480)


def test_a_batch_asked_for_again_starts_when_it_can_by_then() -> None:
    of = shift(mixers=2)
    assert of.first_batch(LOAD, 0) == at(1, 480)
    before = of.as_is()
    for _ in range(2):
        of.take(at(1, 480), at(1, 490))
    assert of.first_batch(LOAD, 0) == at(1, 490)
    of.release(at(1, 480), at(1, 490))
    assert of.first_batch(LOAD, 0) == at(1, 480)
    of.take_batch(LOAD, at(1, 490))
    assert of.first_batch(LOAD, 0) == at(1, 510)
    of.back_to(before)
    assert of.first_batch(LOAD, 0) == at(1, 480)
