"""Which turn stands in a mould at a moment, by the plan made by hand."""

from __future__ import annotations

from datetime import datetime

import pytest

from blockrun.errors import BadInput
from blockrun.planner.in_moulds import Turn, named, standing, turns_of
from blockrun.planner.plan import Plan


def at(text: str) -> datetime:
    return datetime.fromisoformat(f"2027-04-{text}")


@pytest.fixture(scope="module")
def turns(small_plan: Plan) -> list[Turn]:
    return turns_of(small_plan)


def test_a_turn_has_its_moments_from_the_tables(turns: list[Turn]) -> None:
    turn = next(turn for turn in turns if (turn.mould, turn.number) == ("tray-1/01", 1))
    assert (turn.base, turn.batches, turn.mix, turn.place) == ("tray-1/b01", (1,), "light", "tray-1/b01")
    assert (turn.filled, turn.poured) == (at("05 08:14"), at("05 08:24"))
    assert (turn.sides, turn.sides_off) == (at("06 08:00"), at("06 08:05"))
    assert (turn.strip, turn.stripped, turn.cleaned) == (at("06 13:02"), at("06 13:07"), at("06 13:28"))


def test_each_turn_is_cleaned_after_its_own_strip(turns: list[Turn]) -> None:
    cleaned = [turn.cleaned for turn in turns if turn.mould == "gang-2/01"]
    assert cleaned == [at("06 13:13"), at("08 08:22"), at("12 08:32")]


def test_a_turn_poured_from_two_batches_ends_with_the_later_and_names_both_mixes(turns: list[Turn]) -> None:
    turn = next(turn for turn in turns if (turn.mould, turn.number) == ("gang-2/01", 3))
    assert (turn.batches, turn.mix, turn.poured) == ((3, 4), "heavy + light", at("08 09:42"))


@pytest.mark.parametrize("written", ["gang-2/01", "gang-2/1", "GANG-2/001", " gang-2/01 "])
def test_a_mould_is_named_as_people_type(turns: list[Turn], written: str) -> None:
    assert named(written, turns) == "gang-2/01"


def test_a_base_has_its_own_name(turns: list[Turn]) -> None:
    assert named("tray-1/B1", turns) == "tray-1/b01"


def test_a_mould_that_is_not_there_is_answered_with_the_nearest(turns: list[Turn]) -> None:
    with pytest.raises(BadInput, match="fills no mould gang-2/07") as refused:
        named("gang-2/07", turns)
    assert refused.value.todo == "Did you mean gang-2/02?"


@pytest.mark.parametrize(
    ("name", "when", "number"),
    [
        ("gang-2/01", "05 08:25", 1),
        ("gang-2/01", "06 12:59", 1),
        ("gang-2/01", "06 13:30", 1),  # a crew behind its plan has it standing still
        ("gang-2/01", "06 14:10", 2),
        ("gang-2/01", "08 15:00", 3),
        ("tray-1/01", "06 07:59", 1),
        ("tray-1/b01", "06 12:00", 1),
        ("tray-1/b02", "06 15:00", 2),
        ("tray-1/01", "07 15:00", 2),  # its sides are off, and hold nothing newer
    ],
)
def test_the_turn_that_stands_is_found(turns: list[Turn], name: str, when: str, number: int) -> None:
    assert standing(turns, name, at(when)).number == number


@pytest.mark.parametrize(
    ("name", "when", "said"),
    [
        ("gang-2/01", "05 08:00", "by the plan nothing stands in gang-2/01 at 2027-04-05 08:00"),
        ("gang-2/01", "05 08:20", "gang-2/01 is being poured at 2027-04-05 08:20"),
        ("gang-2/01", "06 14:05", "gang-2/01 is being poured at 2027-04-06 14:05"),
        ("tray-1/b01", "07 12:00", "by the plan nothing stands in tray-1/b01 at 2027-04-07 12:00"),
    ],
)
def test_where_nothing_stands_the_plan_says_what_it_has(turns: list[Turn], name: str, when: str, said: str) -> None:
    with pytest.raises(BadInput) as refused:
        standing(turns, name, at(when))
    assert refused.value.what == said
    assert refused.value.todo is not None
    assert "such as --at" in refused.value.todo


def test_what_a_thumb_put_off_still_stands_though_the_plan_has_filled_it_again(turns: list[Turn]) -> None:
    def put_off(turn: Turn) -> datetime:
        return at("07 08:10") if (turn.mould, turn.number) == ("gang-2/01", 1) else turn.stripped

    assert standing(turns, "gang-2/01", at("06 16:00"), put_off).number == 1
    assert standing(turns, "gang-2/02", at("06 16:00"), put_off).number == 2
