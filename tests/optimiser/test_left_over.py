"""What is left of batches goes into further blocks, worked out by hand: batches of 200, blocks of 100."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blockrun.optimiser.left_over import with_left_over
from blockrun.optimiser.problem import Chore, Cubes, Problem, Stack
from blockrun.optimiser.score import score
from blockrun.optimiser.state import Batch, Span, State, Turn
from tests.optimiser.small import BLOCK, LOAD, MOULD, NEXT_DAY, ON_BASES, YARD, at, days, frost_on, ripe

WELCOME = replace(BLOCK, demand=1, further=True)
ONE_MOULD = replace(MOULD, count=1)
STRIPPED = 520
"""Minute of the next day at which a turn is stripped: it was poured at 500, and is ripe 1000 minutes later."""


def asks(yard: Problem = YARD, **changes: object) -> Problem:
    """A yard with one mould that is asked for one block and welcomes more."""
    return replace(yard, **({"formats": (WELCOME,), "moulds": (ONE_MOULD,)} | changes))  # type: ignore[arg-type]


def poured(start: int = 480, *, day: int = 0, strip: int = STRIPPED, blocks: int = 1) -> Turn:
    """One block in a mould of two cavities, of a batch begun then; stripped and cleaned the day after."""
    batch = Batch(LOAD, at(day, start), {0: blocks})
    stripped = Span(at(day + 1, strip), at(day + 1, strip + 10))
    return Turn(0, [(0, batch)] * blocks, strip=stripped, clean=Span(stripped.end + 10, stripped.end + 15))


def plan(*turns: Turn) -> State:
    batches = {id(batch): batch for turn in turns for _, batch in turn.fills}
    return State(9, list(turns), list(batches.values()))


def contents(state: State) -> list[int]:
    return [sum(batch.content.values()) for batch in state.batches]


def test_one_block_more_goes_into_the_cavity_that_stands_empty() -> None:
    before = plan(poured())
    after = with_left_over(asks(), before)
    assert (contents(after), [len(turn.fills) for turn in after.turns], after.turns[0].blocks) == ([2], [2], 2)
    assert score(asks(), after).stages == score(asks(), before).stages
    assert contents(before) == [1]


def test_where_no_more_are_welcome_the_plan_stays_as_it_is() -> None:
    before = plan(poured())
    assert with_left_over(asks(formats=(replace(WELCOME, further=False),)), before) is before


@pytest.mark.parametrize(
    "change",
    [
        pytest.param({"places": 1}, id="the rack is full"),
        pytest.param({"stack": Stack(places=1, layers=1)}, id="the stack is full"),
        pytest.param({"formats": (replace(WELCOME, volume=101),)}, id="what is left is too little"),
        pytest.param({"moulds": (replace(ONE_MOULD, cavities=1),)}, id="there is no cavity"),
        pytest.param({"cubes": Cubes(volume=100)}, id="test cubes take it"),
        pytest.param({"days": days(people=1, windows=((480, 532),))}, id="nobody is there to move it"),
    ],
)
def test_no_block_more_is_cast_where(change: dict[str, object]) -> None:
    """One block is moved from 530 to 531, two until 532: one more minute and a window that ends at 532 is enough."""
    turn = poured()
    turn.fills[0][1].cubes = 1
    turn.clean = Span(at(2, 480), at(2, 485))
    if "days" in change:
        assert contents(with_left_over(asks(**change), plan(turn))) == [2]
        change = {"days": days(people=1, windows=((480, 531),))}
    assert contents(with_left_over(asks(**change), plan(turn))) == [1]


def test_a_chore_at_the_minute_in_which_it_would_be_moved_keeps_it_out() -> None:
    """The second block is moved from 531 to 532, on the day of the last batch, so its chores are done."""

    def with_a_chore(minute: int) -> Problem:
        of_days = (
            replace(day, chores=(Chore(at(day.number, minute), at(day.number, minute + 1), 1),))
            for day in days(people=1)
        )
        return asks(days=tuple(of_days), formats=(replace(WELCOME, demand=3),))

    plans = plan(poured(), poured(620, day=1, strip=700, blocks=2))
    assert contents(with_left_over(with_a_chore(531), plans)) == [1, 2]
    assert contents(with_left_over(with_a_chore(532), plans)) == [2, 2]


def test_a_batch_poured_later_in_the_day_fills_the_mould_where_it_is_still_ripe_in_time() -> None:
    """The second batch is poured until 520, and ripe at that minute of the next day."""
    yard = asks(
        moulds=(replace(ONE_MOULD, cavities=3), replace(ONE_MOULD, cavities=1)),
        ripe_strip=(ripe(1440), ripe(1440)),
        ripe_sides=(None, None),
        formats=(replace(WELCOME, demand=3),),
    )
    other = replace(poured(500, strip=700), mould=1)
    assert contents(with_left_over(yard, plan(poured(strip=520, blocks=2), other))) == [2, 2]
    assert contents(with_left_over(yard, plan(poured(strip=519, blocks=2), other))) == [2, 1]


def test_no_more_are_cast_than_leave_every_batch_needed() -> None:
    """Two batches of one block each: with one more of the first the second would be made for nothing."""
    yard = asks(formats=(replace(WELCOME, demand=2),), moulds=(replace(MOULD, count=2),))
    assert contents(with_left_over(yard, plan(poured(), poured(day=3)))) == [1, 1]


def test_the_largest_block_that_fits_comes_first_and_of_equals_the_one_with_the_fewest_to_spare() -> None:
    """Of 100 that are left a block of 60 is cast, and one of 40; of the second there is one to spare already."""
    other, small = replace(WELCOME, further=False), replace(WELCOME, volume=40)
    formats = (other, small, replace(WELCOME, volume=60, demand=4), replace(WELCOME, volume=60, demand=8))
    yard = asks(formats=formats, moulds=(replace(ONE_MOULD, cavities=3, casts=frozenset(range(4))),))
    before = plan(poured())
    before.batches.append(Batch(LOAD, at(4, 480), {1: 1, 2: 5, 3: 8}))
    assert with_left_over(yard, before).batches[0].content == {0: 1, 3: 1, 1: 1}


def test_a_mould_that_stands_empty_is_filled_where_somebody_can_strip_and_clean_it() -> None:
    """It is stripped once ripe, at 60 of the next day, so at its opening; its block moved, and then it is cleaned."""
    yard = asks(moulds=(replace(MOULD, count=2, cavities=1),))
    after = with_left_over(yard, plan(poured()))
    more = after.turns[1]
    assert contents(after) == [2]
    assert (more.strip, more.clean) == (Span(at(1, 480), at(1, 490)), Span(at(1, 491), at(1, 496)))


@pytest.mark.parametrize(
    "change",
    [
        pytest.param({"clear_until": frost_on(1)}, id="frost comes"),
        pytest.param({"days": days(numbers=(0,))}, id="nobody works any more"),
        pytest.param({"moulds": (replace(MOULD, count=1, cavities=1),)}, id="it is not there"),
        pytest.param({"ripe_strip": (ripe(15 * NEXT_DAY),)}, id="it is never ripe"),
    ],
)
def test_a_mould_stays_empty_where(change: dict[str, object]) -> None:
    yard = asks(moulds=(replace(MOULD, count=2, cavities=1),))
    assert contents(with_left_over(replace(yard, **change), plan(poured()))) == [1]  # type: ignore[arg-type]


def test_sides_and_base_of_an_empty_mould_are_taken_too() -> None:
    """Ripe 30 minutes after 500, its sides come off from 530; with one pair of sides there is none to fill."""
    base = replace(ON_BASES.moulds[0], bases=3)
    turn = poured()
    turn.sides = Span(at(0, 560), at(0, 566))
    for sides, blocks in ((1, [1]), (2, [2])):
        after = with_left_over(asks(ON_BASES, moulds=(replace(base, count=sides),)), plan(turn))
        assert contents(after) == blocks
    assert after.turns[1].sides == Span(at(0, 530), at(0, 536))
