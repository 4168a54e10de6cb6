"""Rules on the way of a block after the pour: its copies of the times, its rack and its stack, and when it is ready."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Final

from blockrun.order.shape import Shape
from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import counted
from blockrun.planner.audit.finding import Rule, Said
from blockrun.planner.audit.sweep import levels
from blockrun.planner.audit.turns import Turn


def block_times(case: Case) -> Iterator[Said]:
    """Give a block the times of its batch and turn.

    ``poured`` is the end of the pour, ``sides_off`` the end of taking off the sides (empty without bases),
    ``strip`` and ``rack_from`` the end of stripping, ``rack_to`` the first working minute at or after strip and
    ``rack_for``, ``ready`` the later of ``rack_to`` and poured and ``lay_at``,
    or where that is a strength the minute at which blocks poured then have it. A block that was laid sooner was ready
    then, and never before ``rack_to``.
    """
    for turn in case.turns:
        strip, rack_to = turn.strip, case.rack_to[turn.strip]
        for cast in turn.casts:
            poured = case.batches[cast.batch].pour_to
            right = {
                "poured": poured,
                "sides_off": turn.sides_off,
                "strip": strip,
                "rack_from": strip,
                "rack_to": rack_to,
                "ready": case.ready_of(cast, turn),
            }
            for column, minute in right.items():
                written = getattr(cast, column)
                if written != minute:
                    block = f"block {cast.cast}"
                    yield (
                        block,
                        f"{_WORDS[column]} of {block} is written {_at(case, written)}, but its batch and turn give "
                        f"{_at(case, minute)}",
                    )


_WORDS: Final = {
    "poured": "the end of the pour",
    "sides_off": "the end of taking the sides off",
    "strip": "the end of stripping",
    "rack_from": "the first minute on the rack",
    "rack_to": "the last minute on the rack",
    "ready": "the moment to lay",
}


def _at(case: Case, minute: int | None) -> str:
    return "none" if minute is None else case.at(minute)


def rack_places(case: Case) -> Iterator[Said]:
    """Put no more blocks on a rack than it has places. The fullest moment of each rack is said."""
    now = case.past.now
    racked, racked_before = _racked(case, case.turns), _racked(case, _stripped_before(case))
    for rack in case.site.racks:
        there = list(levels(racked_before[rack.name]))
        held_at = [(held, -minute) for minute, held in levels(racked[rack.name]) if minute >= now]
        # what came there before a plan was made anew is there, be it too much
        over = [(held, minute) for held, minute in held_at if held > max(rack.places, _level(there, -minute))]
        fullest, minute = max(over, default=(0, 0))
        if over:
            yield (
                f"rack {rack.name}",
                f"rack {rack.name} holds {counted(fullest, 'block')} {case.at(-minute)}, but has "
                f"{counted(rack.places, 'place')}",
            )


def _racked(case: Case, turns: Iterable[Turn]) -> defaultdict[str, list[tuple[int, int]]]:
    """By rack: minutes at which blocks come or leave."""
    changes: defaultdict[str, list[tuple[int, int]]] = defaultdict(list)
    for turn in turns:
        for cast in turn.casts:
            changes[cast.rack] += ((turn.strip, 1), (case.rack_to[turn.strip], -1))
    return changes


def _stripped_before(case: Case) -> list[Turn]:
    """Turns that were stripped before the plan was made anew."""
    return [turn for turn in case.turns if case.past.has_done(turn, "strip")]


def stack_places(case: Case) -> Iterator[Said]:
    """Stand no more columns of blocks on the stack than it has places. The fullest day is said.

    A block is there from the day it leaves the rack to the day it is laid, both included: the later of its need date
    and the day it is ready. A column holds up to ``layers`` blocks of one size and mix.
    """
    stack = case.site.stack
    if stack is None:
        return
    today = case.day_of(case.past.now)
    there = _taken(_stacked(case, _stripped_before(case)), stack.layers)
    days = [(taken, -day) for day, taken in _taken(_stacked(case, case.turns), stack.layers) if day >= today]
    # what came there before a plan was made anew is there, be it too much
    over = [(taken, day) for taken, day in days if taken > _level(there, -day)]
    fullest, day = max(over, default=(0, 0))
    if fullest > stack.places:
        yield (
            "stack",
            f"on {case.on(-day)} blocks take {counted(fullest, 'place')} of the stack, in columns of up to "
            f"{stack.layers}, but it has {counted(stack.places, 'place')}",
        )


def _taken(stacked: Mapping[tuple[str, Shape], list[tuple[int, int]]], layers: int) -> list[tuple[int, int]]:
    """Days on which blocks take more or fewer places of the stack, and how many they take from then on."""
    return list(levels(change for of_format in stacked.values() for change in _columns(of_format, layers)))


def _level(taken: Sequence[tuple[int, int]], when: int) -> int:
    """Places taken on a day, or at a minute."""
    return next((number for since, number in reversed(taken) if since <= when), 0)


def _stacked(case: Case, turns: Iterable[Turn]) -> Mapping[tuple[str, Shape], list[tuple[int, int]]]:
    """By mix and size: days on which blocks come to the stack or are no longer there, and how many."""
    found: defaultdict[tuple[str, Shape], list[tuple[int, int]]] = defaultdict(list)
    for turn in turns:
        for cast in turn.casts:
            came, ready = case.rack_to[turn.strip], case.ready_of(cast, turn)
            laid = case.day_of(ready) if cast.needed is None else max(case.day_of(ready), cast.needed)
            found[cast.mix, case.blocks[cast.mark].shape] += ((case.day_of(came), 1), (laid + 1, -1))
    return found


def _columns(blocks: Iterable[tuple[int, int]], layers: int) -> Iterator[tuple[int, int]]:
    """Days on which blocks of one size and mix take more columns or fewer, and how many more."""
    taken = 0
    for day, held in levels(blocks):
        before, taken = taken, math.ceil(held / layers)
        yield day, taken - before


RACKS: tuple[Rule, ...] = (block_times, rack_places, stack_places)
