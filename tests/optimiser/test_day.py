"""Days small enough that the best of them can be written down."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from blockrun.optimiser.asked import Asked
from blockrun.optimiser.day import DayModel
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.pack import Filling
from blockrun.optimiser.problem import Chore, Problem
from blockrun.optimiser.state import Span, State, Turn
from tests.optimiser.small import BLOCK, CLOSES, EFFORT, LOAD, MOULD, ON_BASES, OPENS, YARD, a_turn, at, days, frost_on
from tests.optimiser.small import ripe as ripe_after

TWO = Filling(0, {0: 2})
ONE = Filling(0, {0: 1})


def standing(turns: list[Turn], day: int = 1) -> State:
    return State(day, turns, [batch for turn in turns for _, batch in turn.fills[:1]])


def solved(problem: Problem, state: State, asked: Asked) -> State:
    after = DayModel(problem, Limits(problem), state, asked).solve(EFFORT)
    assert after is not None
    return after


def pour(*fillings: Filling, turns: int = 2) -> Asked:
    return Asked({(0, 0): sum(filling.blocks for filling in fillings)}, {0: turns}, fillings)


def starts(state: State, before: int = 0) -> list[int]:
    return [batch.start for batch in state.batches[before:]]


def spans_of(state: State) -> list[Span]:
    return [span for turn in state.turns for span in (turn.sides, turn.strip, turn.clean) if span is not None]


def test_batches_follow_one_another_from_opening_on() -> None:
    after = solved(YARD, State(), pour(TWO, TWO))
    assert starts(after) == [OPENS, OPENS + 20]
    assert sorted(turn.start for turn in after.turns) == [OPENS + 10, OPENS + 30]


def test_no_more_is_poured_than_moulds_stand_free() -> None:
    assert len(solved(YARD, State(), pour(TWO, TWO, TWO, turns=3)).batches) == 2


def test_one_person_cannot_strip_while_pouring() -> None:
    alone = replace(YARD, days=days(people=1))
    after = solved(alone, standing([a_turn(at(0, OPENS))]), pour(TWO, turns=1))
    batch, turn = after.batches[-1], after.turns[0]
    assert turn.strip is not None
    assert turn.clean is not None
    busy = sorted(
        [(batch.start, batch.end), (turn.strip.start, turn.strip.end + 2), (turn.clean.start, turn.clean.end)]
    )
    assert all(before[1] <= after[0] for before, after in pairwise(busy))


def test_a_crew_that_is_away_pours_nothing() -> None:
    crew_of_two = replace(YARD, loads=(replace(LOAD, crew=2),), days=days(people=1))
    assert solved(crew_of_two, State(), pour(TWO, turns=1)).batches == []


def test_chores_take_their_people_only_where_they_are_done() -> None:
    whole_morning = (Chore(OPENS, 600, 2),)
    busy = replace(YARD, days=(replace(YARD.days[0], chores=whole_morning), *YARD.days[1:]))
    assert starts(solved(busy, State(), pour(TWO))) == [620]
    chored = replace(
        YARD, days=tuple(replace(d, chores=(Chore(at(d.number, OPENS), at(d.number, 600), 2),)) for d in days())
    )
    turn = solved(chored, standing([a_turn(at(0, 620))]), Asked(chores=False)).turns[0]
    assert turn.strip == Span(at(1, OPENS), at(1, OPENS + 10))


def test_one_generator_foams_for_two_mixers_in_turn() -> None:
    slow_foam = replace(LOAD, foam=6)
    two_mixers = replace(YARD, loads=(slow_foam, replace(slow_foam, mixer=1)))
    after = solved(two_mixers, State(), pour(TWO, Filling(1, {0: 2})))
    assert sorted(starts(after)) == [OPENS, OPENS + 6]


def test_a_full_rack_keeps_blocks_in_their_mould() -> None:
    gone = a_turn(at(0, OPENS))
    gone.strip, gone.clean = Span(at(0, 700), at(0, 710)), Span(at(0, 710), at(0, 715))
    full = replace(YARD, places=2, ripe_strip=(ripe_after(100),))
    # the rack is free again at 710 of the next day
    after = solved(full, standing([gone, a_turn(at(0, 640))]), Asked())
    assert after.turns[1].strip == Span(at(1, 700), at(1, 710))
    longer = replace(full, rack_for=3 * 1440)
    assert solved(longer, standing([gone, a_turn(at(0, 640))]), Asked()).turns[1].strip is None


def test_sides_are_free_before_their_base() -> None:
    after = solved(ON_BASES, State(), Asked({(0, 0): 2}, {0: 2}, (ONE, ONE)))
    first, second = sorted(after.turns, key=lambda turn: turn.start)
    assert first.sides is not None
    assert first.sides.start >= first.poured + 30
    assert second.start >= first.sides.end
    assert first.strip is second.strip is None


def test_no_turn_begins_without_a_base() -> None:
    stand = [a_turn(at(0, start), blocks=1) for start in (OPENS, 700)]
    for turn in stand:
        turn.sides = Span(turn.poured + 30, turn.poured + 36)
    unripe = replace(ON_BASES, ripe_strip=(ripe_after(3000),))
    assert solved(unripe, standing(stand), Asked({(0, 0): 1}, {0: 1}, (ONE,))).batches[2:] == []


def test_what_stands_is_stripped_before_frost_though_a_pour_must_wait() -> None:
    alone = replace(YARD, days=days(people=1, windows=((OPENS, OPENS + 24),)), clear_until=frost_on(2))
    after = solved(alone, standing([a_turn(at(0, OPENS))]), pour(TWO, turns=1))
    assert after.turns[0].strip is not None
    assert len(after.batches) == 1


def test_a_day_on_which_not_all_can_be_stripped_before_frost_is_impossible() -> None:
    alone = replace(YARD, days=days(people=1, windows=((OPENS, OPENS + 20),)), clear_until=frost_on(2))
    model = DayModel(alone, Limits(alone), standing([a_turn(at(0, OPENS)), a_turn(at(0, OPENS))]), Asked())
    assert model.solve(EFFORT) is None
    assert model.impossible


def test_nothing_is_poured_that_would_stand_in_the_frost() -> None:
    assert solved(replace(YARD, clear_until=frost_on(1)), State(), pour(TWO)).batches == []


def test_warm_blocks_are_stripped_on_the_day_they_are_poured_and_their_mould_is_filled_again() -> None:
    warm = replace(YARD, ripe_strip=(ripe_after(30),), moulds=(replace(MOULD, count=1),))
    after = solved(warm, State(), pour(TWO, TWO))
    first, second = sorted(after.turns, key=lambda turn: turn.start)
    assert first.strip is not None
    assert first.clean is not None
    assert first.poured + 30 <= first.strip.start
    assert first.strip.end <= first.clean.start
    assert first.clean.end <= second.start


def test_no_task_spans_the_break_or_the_end_of_the_day() -> None:
    stand = [a_turn(at(0, OPENS + 20 * n)) for n in range(2)]
    alone = replace(YARD, days=days(people=1, windows=((OPENS, 495), (505, 520), (540, 570))))
    after = solved(alone, standing(stand), pour(TWO, turns=1))
    windows = [(at(1, a), at(1, b)) for a, b in ((OPENS, 495), (505, 520), (540, 570))]
    spans = [*spans_of(after), *(Span(batch.start, batch.end) for batch in after.batches[2:])]
    assert len(spans) >= 4
    assert all(any(a <= span.start and span.end <= b for a, b in windows) for span in spans)


def test_urgent_blocks_are_poured_where_not_all_can_be() -> None:
    small = replace(
        YARD,
        formats=(BLOCK, BLOCK),
        moulds=(replace(MOULD, casts=frozenset({0, 1})),),
        days=days(windows=((CLOSES - 25, CLOSES),)),
    )
    asked = Asked({(0, 0): 2, (0, 1): 2}, {0: 2}, (TWO, Filling(0, {1: 2})), worth={0: 1, 1: 2})
    assert [batch.content for batch in solved(small, State(), asked).batches] == [{1: 2}]


def test_a_batch_made_up_smaller_still_ends_with_the_bigger_one_unless_its_foam_then_goes_in_at_a_hot_hour() -> None:
    """Half the foam is made in a minute, and goes in a minute later: at 489, by when a mix keeps ten minutes."""
    small = replace(LOAD, cement=1, room=100, foam=1)
    yard = replace(YARD, loads=(small, LOAD))
    asked = Asked({(0, 0): 1}, {0: 1}, (Filling(1, {0: 1}),))
    assert starts(solved(yard, State(), asked)) == [OPENS + 1]
    hot = replace(
        yard, days=tuple(replace(day, hot=((at(day.number, 489), at(day.number, 800), 10),)) for day in yard.days)
    )
    assert starts(solved(hot, State(), asked)) == [OPENS]
