"""Rules on the way of a block after the pour: its copies of the times, its rack, and when it is ready."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import Final

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import counted
from blockrun.planner.audit.finding import Rule, Said
from blockrun.planner.audit.sweep import levels


def block_times(case: Case) -> Iterator[Said]:
    """Give a block the times of its batch and turn.

    ``poured`` is the end of the pour, ``sides_off`` the end of taking off the sides (empty without bases),
    ``strip`` and ``rack_from`` the end of stripping, ``rack_to`` the first working minute at or after strip and
    ``rack_for``, ``ready`` the later of ``rack_to`` and poured and ``lay_at``,
    or where that is a strength the minute at which blocks poured then have it.
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
                "ready": case.ready[strip, poured],
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
    changes: defaultdict[str, list[tuple[int, int]]] = defaultdict(list)
    for turn in case.turns:
        for cast in turn.casts:
            changes[cast.rack] += ((turn.strip, 1), (case.rack_to[turn.strip], -1))
    for rack in case.site.racks:
        fullest, minute = max(((held, -minute) for minute, held in levels(changes[rack.name])), default=(0, 0))
        if fullest > rack.places:
            yield (
                f"rack {rack.name}",
                f"rack {rack.name} holds {counted(fullest, 'block')} {case.at(-minute)}, but has "
                f"{counted(rack.places, 'place')}",
            )


RACKS: tuple[Rule, ...] = (block_times, rack_places)
