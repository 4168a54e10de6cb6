"""A yard small enough to reckon by hand: two moulds of two cavities, one mixer, two people, no frost.

Minutes of a day: it opens at 480, rests from 600 to 620, and closes at 800. A batch takes 8 minutes of slurry,
2 of foam, 10 of pouring and no washing; so its pour ends 20 minutes after its start.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

import numpy as np

from blockrun.optimiser.engine import Effort
from blockrun.optimiser.problem import MINUTES_A_DAY, Day, Format, Load, Minutes, Mould, Problem, Supply
from blockrun.optimiser.state import Batch, Turn

HORIZON = 10
OPENS, CLOSES = 480, 800
WINDOWS = ((OPENS, 600), (620, CLOSES))
NEXT_DAY = 1000
EFFORT = Effort(5.0, lambda: False)
LOAD = Load(0, 0, cement=2, agent=1, room=200, slurry=8, foam=2, pour=10, wash=0, crew=1)
MOULD = Mould("gang", count=2, cavities=2, casts=frozenset({0}), strip=10, clean=5)
BLOCK = Format(mix=0, volume=100, demand=4, needs=())


def at(day: int, minute: int) -> int:
    """Minute of the problem."""
    return day * MINUTES_A_DAY + minute


def ripe(minutes: int) -> Minutes:
    """Ripe so many minutes after the pour."""
    of = np.arange(HORIZON * MINUTES_A_DAY) + minutes
    return np.where(of < HORIZON * MINUTES_A_DAY, of, -1).astype(np.int32)


def days(
    people: int = 2, windows: Iterable[tuple[int, int]] = WINDOWS, numbers: Iterable[int] = range(HORIZON)
) -> tuple[Day, ...]:
    """Working days, all alike, without chores."""
    return tuple(
        Day(number, tuple((at(number, a), at(number, b)) for a, b in windows), at(number, CLOSES), people, ())
        for number in numbers
    )


def frost_on(day: int) -> np.typing.NDArray[np.int32]:
    """One cold day."""
    clear = np.full(HORIZON, HORIZON - 1, dtype=np.int32)
    clear[:day] = day - 1
    clear[day] = -1
    return clear


YARD = Problem(
    days=days(),
    horizon=HORIZON,
    formats=(BLOCK,),
    moulds=(MOULD,),
    loads=(LOAD,),
    places=20,
    move=(0, 1, 2, 3, 4),
    move_seconds=60,
    rack_for=MINUTES_A_DAY,
    lay_at=2 * MINUTES_A_DAY,
    ripe_strip=(ripe(NEXT_DAY),),
    ripe_sides=(None,),
    clear_until=np.full(HORIZON, HORIZON - 1, dtype=np.int32),
    cement=Supply(((0, 1000),)),
    agent=Supply(((0, 1000),)),
)

ON_BASES = replace(
    YARD,
    moulds=(replace(MOULD, count=1, cavities=1, bases=2, sides=6),),
    ripe_sides=(ripe(30),),
    ripe_strip=(ripe(900),),
)


def a_turn(start: int, blocks: int = 2, load: Load = LOAD) -> Turn:
    """A mould filled from one batch begun then."""
    return Turn(0, [(0, Batch(load, start, {0: blocks}))] * blocks)
