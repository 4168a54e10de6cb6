"""Places on the rack over time."""

from __future__ import annotations

from dataclasses import replace

from blockrun.optimiser.quick.rack import Rack
from blockrun.optimiser.state import Turn
from tests.optimiser.small import YARD, a_turn, at


def rack(places: int = 4) -> Rack:
    return Rack(replace(YARD, places=places))


def blocks(count: int) -> Turn:
    """So many, poured in the first minute."""
    return a_turn(0, count)


def test_where_there_is_room_blocks_come_at_once() -> None:
    of = rack()
    of.take(blocks(2), at(0, 700))
    assert of.room_from(blocks(2), at(0, 710)) == at(0, 710)


def test_where_there_is_none_they_wait_for_others_to_leave() -> None:
    of = rack()
    of.take(blocks(3), at(0, 700))
    assert of.room_from(blocks(2), at(0, 710)) == at(1, 700)


def test_blocks_that_come_later_need_their_places_too() -> None:
    of = rack()
    of.take(blocks(3), at(0, 700))
    assert of.room_from(blocks(2), at(0, 650)) == at(1, 700)
    assert of.room_from(blocks(1), at(0, 650)) == at(0, 650)


def test_what_has_left_is_forgotten_and_what_is_there_is_not() -> None:
    of = rack()
    of.take(blocks(2), at(0, 500))
    of.take(blocks(2), at(0, 700))
    of.forget(at(1, 600))
    assert of.free_at(at(1, 650)) == 2


def test_what_is_released_leaves_its_places() -> None:
    of = rack()
    of.take(blocks(3), at(0, 700))
    of.release(blocks(3), at(0, 700))
    assert of.room_from(blocks(4), at(0, 710)) == at(0, 710)


def test_what_is_released_leaves_its_places_where_some_of_its_blocks_had_none() -> None:
    of, some_beyond = rack(), blocks(3)
    some_beyond.beyond = 1
    of.take(some_beyond, at(0, 700))
    of.release(some_beyond, at(0, 700))
    assert of.free_at(at(0, 710)) == 4


def test_blocks_that_do_not_stay_take_no_place() -> None:
    of = Rack(replace(YARD, places=1, rack_for=0))
    of.take(blocks(5), at(0, 700))
    assert of.room_from(blocks(5), at(0, 700)) == at(0, 700)
