"""Which mould, base and rack: the numbers given to equal things, on turns written by hand."""

from __future__ import annotations

from collections import Counter
from datetime import date
from itertools import islice

import pytest

from blockrun.optimiser.state import Batch, Span, Turn
from blockrun.order import OrderLine
from blockrun.planner.assign import Placed, further_spares, place_turns, rack_blocks, share_blocks
from blockrun.planner.brief import Brief, brief
from blockrun.planner.plan import Plan

GANG, TRAY = 0, 1
HEAVY, LIGHT, THIN, HALF = 0, 1, 2, 3
DAY = 1440
TO_POUR = 14
"""Minutes from the start of a batch to the first block poured."""


@pytest.fixture(scope="module")
def asked(small_plan: Plan) -> Brief:
    return brief(small_plan.site, small_plan.order, 60)


def turn(asked: Brief, kind: int, poured_from: int, blocks: list[int], *, strip: int, sides: int | None = None) -> Turn:
    """A turn whose blocks are poured from one batch, stripped from a minute on and cleaned at once after the move."""
    load = next(load for load in asked.problem.loads if load.mix == asked.problem.formats[blocks[0]].mix)
    batch = Batch(load, poured_from - TO_POUR, dict(Counter(blocks)))
    mould = asked.problem.moulds[kind]
    stripped = Span(strip, strip + mould.strip)
    moved = stripped.end + asked.problem.move[len(blocks)]
    off = None if sides is None else Span(sides, sides + mould.sides)
    return Turn(kind, [(block, batch) for block in blocks], off, stripped, Span(moved, moved + mould.clean))


def numbers(placed: list[Placed]) -> list[tuple[int, int, int]]:
    return [(item.mould, item.base, item.number) for item in placed]


def test_a_mould_is_taken_again_the_minute_it_is_clean(asked: Brief) -> None:
    # stripped at 2000 for 10 min, 2 blocks moved in 2, cleaned in 10: free at 2022
    first = turn(asked, GANG, 500, [LIGHT, LIGHT], strip=2000)
    second = turn(asked, GANG, 2022, [LIGHT, LIGHT], strip=4000)
    assert numbers(place_turns(asked, [second, first])) == [(1, 0, 1), (1, 0, 2)]


def test_a_mould_that_is_not_clean_is_left_alone(asked: Brief) -> None:
    first = turn(asked, GANG, 500, [LIGHT, LIGHT], strip=2000)
    second = turn(asked, GANG, 2021, [LIGHT, LIGHT], strip=4000)
    assert numbers(place_turns(asked, [first, second])) == [(1, 0, 1), (2, 0, 1)]


def test_sides_are_free_before_the_base_they_stood_on(asked: Brief) -> None:
    first = turn(asked, TRAY, 500, [THIN], strip=2000, sides=1000)
    second = turn(asked, TRAY, 1005, [THIN], strip=2600, sides=2500)
    assert numbers(place_turns(asked, [first, second])) == [(1, 1, 1), (1, 2, 2)]


def test_turns_of_two_kinds_are_numbered_apart(asked: Brief) -> None:
    turns = [turn(asked, TRAY, 500, [THIN], strip=2000, sides=1000), turn(asked, GANG, 500, [LIGHT], strip=2000)]
    assert [(item.turn.mould, item.mould, item.base) for item in place_turns(asked, turns)] == [
        (GANG, 1, 0),
        (TRAY, 1, 1),
    ]


def test_a_turn_never_cleaned_is_not_placed(asked: Brief) -> None:
    open_turn = turn(asked, GANG, 500, [LIGHT], strip=2000)
    open_turn.clean = None
    with pytest.raises(ValueError, match="never cleaned"):
        place_turns(asked, [open_turn])


def racks(asked: Brief, turns: list[Turn]) -> list[list[str]]:
    """Racks of the blocks of each turn; east has 14 places and west 4."""
    where = rack_blocks(asked, place_turns(asked, turns))
    return [[where[id(item), position] for position in range(item.blocks)] for item in turns]


def test_a_turn_goes_whole_to_the_fullest_rack_that_takes_it(asked: Brief) -> None:
    turns = [turn(asked, GANG, 500 + n, [LIGHT, LIGHT], strip=2000 + n) for n in range(3)]
    assert racks(asked, turns) == [["west", "west"], ["west", "west"], ["east", "east"]]


def test_a_turn_is_parted_only_where_no_rack_takes_it_whole(asked: Brief) -> None:
    # four fill west, thirteen leave one place in east; the first of the four leaves at 08:00 a week later
    week_later = 8 * DAY + 480
    ones = [turn(asked, GANG, 500 + n, [LIGHT], strip=strip) for n, strip in enumerate((1900, 2000, 2000, 2000))]
    twos = [turn(asked, GANG, 600 + n, [LIGHT, LIGHT], strip=2100 + n) for n in range(6)]
    odd = turn(asked, GANG, 700, [LIGHT], strip=2200)
    parted = turn(asked, GANG, 800, [LIGHT, LIGHT], strip=week_later - 10)
    *before, last = racks(asked, [*ones, *twos, odd, parted])
    assert before == [["west"]] * 4 + [["east", "east"]] * 6 + [["east"]]
    assert sorted(last) == ["east", "west"]


def test_racks_are_full_to_the_last_place_and_never_over(asked: Brief) -> None:
    ones = [turn(asked, GANG, 500 + n, [LIGHT], strip=2000 + n) for n in range(3)]
    twos = [turn(asked, GANG, 600 + n, [LIGHT, LIGHT], strip=2100 + n) for n in range(7)]
    last = turn(asked, GANG, 800, [LIGHT], strip=2300)
    where = racks(asked, [*ones, *twos, last])
    assert Counter(rack for blocks in where for rack in blocks) == {"east": 14, "west": 4}


def test_a_place_is_free_the_minute_its_block_leaves(asked: Brief) -> None:
    first = [turn(asked, GANG, 500 + n, [LIGHT, LIGHT], strip=2000) for n in range(9)]
    stripped = 2000 + 10
    leaves = asked.problem.leaves_rack(stripped)
    assert leaves == stripped + 7 * DAY
    after = turn(asked, GANG, 5000, [LIGHT, LIGHT], strip=leaves - 10)
    assert racks(asked, [*first, after])[-1] in (["east", "east"], ["west", "west"])


def test_what_is_ready_first_goes_to_what_is_needed_first(small_plan: Plan) -> None:
    asked = brief(small_plan.site, small_plan.order, 90)
    halves = [turn(asked, GANG, n * DAY + 500, [HALF], strip=(n + 2) * DAY + 500) for n in (3, 0, 1)]
    shared = share_blocks(asked, place_turns(asked, halves))
    by_day = sorted((block.batch.start, block.line.needed, block.line.part) for block in shared)
    assert [(str(needed), part) for _, needed, part in by_day] == [
        ("2027-05-04", "wall"),
        ("2027-05-05", "wall"),
        ("None", ""),
    ]


def test_further_spares_are_of_the_mark_that_has_the_fewest_for_its_blocks() -> None:
    """Of two marks of one size: ten of A and a spare, four of B and none."""

    def line(mark: str, part: str) -> OrderLine:
        needed = date(2027, 4, 12) if part else None
        return OrderLine(part, 1 if part else None, mark, "wall", 600.0, 300.0, 200.0, 10, needed)

    wanted = [line("A", "north")] * 10 + [line("B", "south")] * 4 + [line("A", "")]
    further = list(islice(further_spares(wanted), 6))
    assert [one.mark for one in further] == ["B", "A", "A", "B", "A", "A"]
    assert {(one.part, one.course, one.needed, one.count) for one in further} == {("", None, None, 1)}
