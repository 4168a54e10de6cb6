"""Problems so small that every plan worth having can be tried.

They pour on their first three days; the days after these are there to strip, to clean and to leave the rack.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from fractions import Fraction
from random import Random

import numpy as np

from blockrun.optimiser.problem import (
    MINUTES_A_DAY,
    Casting,
    Chore,
    Cubes,
    Day,
    Format,
    Load,
    Minutes,
    Mould,
    Problem,
    Stack,
    Supply,
)

POUR_DAYS = 3
HORIZON = 16
SLOW = {
    "plain": {0, 3, 5, 12, 13, 20, 27, 35, 38, 44, 50, 57, 60, 71, 77, 80, 84, 90, 93, 99, 100, 107, 116, 118, 131, 134}
    | {138, 139, 148, 151, 154, 155, 160, 162, 164, 171, 173, 174, 193, 195, 196, 198, 199},
    "sawn": {0, 3, 5, 12, 13, 16, 20, 27, 34, 35, 44, 48, 50, 57, 60, 68, 77, 80, 84, 90, 91, 93, 111, 112, 118, 129}
    | {133, 134, 138, 139, 148, 150, 151, 154, 155, 160, 162, 164, 171, 173, 174, 182, 191, 195, 196, 198, 199},
}
"""Seeds of yards of which all plans take more than some tenths of a second to try, by kind."""
EVERY = {kind: tuple(seed for seed in range(200) if seed not in slow) for kind, slow in SLOW.items()} | {
    "cubed": (2, 4, 11, 14, 18, 22, 25, 29, 33, 36, 55, 59, 62)
}
"""Seeds of all other yards, and of some that give test cubes and take longer."""
SEEDS = EVERY["plain"][:48]
SAWN_SEEDS = EVERY["sawn"][:44]
CUBED_SEEDS = EVERY["cubed"]
"""Those of yards that more than the search itself is held to."""


def ripe(minutes: int) -> Minutes:
    """A turn is ripe so many minutes after it is poured, up to the horizon."""
    of = np.arange(HORIZON * MINUTES_A_DAY) + minutes
    return np.where(of < HORIZON * MINUTES_A_DAY, of, -1).astype(np.int32)


def tiny(seed: int) -> Problem:
    """Two or three blocks, one or two moulds, days of an hour or two."""
    rng = Random(seed)
    mixes = rng.choice((1, 1, 2))
    blocks = rng.choice((2, 3, 3))
    formats = _formats(rng, mixes, blocks)
    moulds = _moulds(rng, len(formats))
    people = rng.choice((1, 1, 2))
    frost = rng.choice((None, None, 1, 2))
    clear = np.full(HORIZON, HORIZON - 1, dtype=np.int32)
    if frost is not None:
        clear[:frost] = frost - 1
        clear[frost] = -1
    sides = ripe(rng.choice((10, 200)))
    cement = rng.choice((((0, 99),), ((0, 99),), ((0, 2), (1, 99)), ((0, 4), (2, 99))))
    return Problem(
        days=peopled(Random(seed + 10_000), days_of(rng, people), people),
        horizon=HORIZON,
        formats=formats,
        moulds=moulds,
        loads=_loads(rng, mixes, people),
        places=rng.choice((max(m.cavities for m in moulds), 2, 3, 9)),
        move=(0, *((1, 2) if rng.random() < 0.5 else (2, 3))),
        move_seconds=60,
        rack_for=rng.choice((0, 40, MINUTES_A_DAY)),
        lay_at=rng.choice((0, MINUTES_A_DAY)),
        ripe_strip=tuple(ripe(rng.choice((15, 30, 600, 1300, 1440))) for _ in moulds),
        ripe_sides=tuple(sides if mould.bases else None for mould in moulds),
        clear_until=clear,
        cement=Supply(cement),
        agent=Supply(((0, 10_000),)),
    )


def tiny_sawn(seed: int) -> Problem:
    """The yard of a seed with a mould more, whose slab of two or three blocks may give some to spare."""
    problem, rng = tiny(seed), Random(seed + 20_000)
    mix = rng.choice(problem.mixes)
    of_mix = [number for number, block in enumerate(problem.formats) if block.mix == mix]
    given = Counter(rng.choice(of_mix) for _ in range(rng.choice((2, 2, 3))))
    slab = Casting(mix, rng.choice((700, 1_000, 1_450)) * 1000, tuple(sorted(given.items())))
    moulds = problem.moulds
    if rng.random() < 0.5:
        moulds = tuple(replace(mould, casts=mould.casts - frozenset(given) or mould.casts) for mould in moulds)
    mould = Mould("slab", rng.choice((1, 1, 2)), 1, frozenset({len(problem.formats)}), rng.choice((8, 15)), 4)
    return replace(
        problem,
        slabs=(slab,),
        moulds=(*moulds, mould),
        move=tuple(range(4)),
        places=max(problem.places, slab.blocks),
        ripe_strip=(*problem.ripe_strip, problem.ripe_strip[0]),
        ripe_sides=(*problem.ripe_sides, None),
    )


def tiny_cubed(seed: int) -> Problem:
    """The yard of a seed whose batches give test cubes too: some for each lot, some each day, some after deliveries."""
    problem, rng = tiny(seed), Random(seed + 30_000)
    volume = rng.choice((90, 250, 450)) * 1000
    lots = tuple(Fraction(rng.choice((2, 3, 5, 7)) * 1_000_000_001, 1_000_000_000) for _ in problem.mixes)
    days = rng.choice((tuple(range(1, HORIZON)), (1,)))
    by_volume = rng.random() < 0.6
    return replace(problem, cubes=Cubes(volume, lots) if by_volume else Cubes(volume, days=days))


def tiny_stacked(seed: int) -> Problem:
    """The yard of a seed with ground for one, two or four blocks off the rack."""
    rng = Random(seed + 40_000)
    return replace(tiny(seed), stack=Stack(rng.choice((1, 1, 2)), rng.choice((1, 1, 2))))


def tiny_hot(seed: int) -> Problem:
    """The yard of a seed with hot hours on its days for pouring; its bigger batches take longer from their foam on."""
    problem, rng = tiny(seed), Random(seed + 50_000)
    loads = tuple(replace(load, foam=2 if load.cement == 2 else rng.choice((2, 4, 7))) for load in problem.loads)
    return replace(problem, loads=loads, days=tuple(_with_heat(rng, day) for day in problem.days))


def _with_heat(rng: Random, day: Day) -> Day:
    """Hours in which no batch, or only a small one, keeps until it is poured; a day of them, or none."""
    midnight, small = day.number * MINUTES_A_DAY, 12
    cool, hot, late = rng.choice((480, 489, 500)), rng.choice((506, 520)), rng.choice((540, 560))
    stretches = rng.choice(
        (((480, hot, 0),), ((cool, hot, small), (hot, late, 0)), ((480, 600, small),), ((480, 600, 0),))
    )
    return replace(day, hot=tuple((midnight + first, midnight + end, keeps) for first, end, keeps in stretches))


def _formats(rng: Random, mixes: int, blocks: int) -> tuple[Format, ...]:
    of = [(rng.randrange(mixes), rng.choice((400, 600, 900)) * 1000) for _ in range(blocks)]
    formats = []
    for mix, volume in sorted(set(of)):
        demand = of.count((mix, volume))
        due = sorted({rng.randrange(5) for _ in range(rng.randint(0, demand))})
        formats.append(Format(mix, volume, demand, tuple((day, 1) for day in due)))
    used = sorted({block.mix for block in formats})
    return tuple(replace(block, mix=used.index(block.mix)) for block in formats)


def _moulds(rng: Random, formats: int) -> tuple[Mould, ...]:
    moulds = []
    for kind in range(rng.choice((1, 1, 2))):
        bases = rng.choice((0, 0, 2))
        casts = frozenset(range(formats)) if kind == 0 else frozenset({rng.randrange(formats)})
        strip, clean = rng.choice((5, 12)), rng.choice((0, 8))
        count = 1 if bases else rng.choice((1, 1, 2))
        moulds.append(Mould(f"m{kind}", count, rng.choice((1, 1, 2)), casts, strip, clean, bases, 4 if bases else 0))
    return tuple(moulds)


def days_of(rng: Random, people: int) -> tuple[Day, ...]:
    windows = rng.choice((((480, 560),), ((480, 525), (540, 580)), ((480, 600),)))
    off = rng.choice((None, 1, 2))
    numbers = [number for number in range(HORIZON) if number != off]
    last_foams = [rng.choice((540, 600)) for _ in numbers]
    last_foams[POUR_DAYS:] = [windows[0][0] - 1] * (len(numbers) - POUR_DAYS)
    return tuple(
        Day(
            number,
            tuple((number * MINUTES_A_DAY + a, number * MINUTES_A_DAY + b) for a, b in windows),
            number * MINUTES_A_DAY + last_foam,
            people,
            (),
        )
        for number, last_foam in zip(numbers, last_foams, strict=True)
    )


def peopled(rng: Random, days: tuple[Day, ...], people: int) -> tuple[Day, ...]:
    """Some yards have chores, and some other people on some days; drawn apart, so that all else stays as it was."""
    chore = rng.choice((None, None, (480, 490), (505, 520), (545, 555)))
    others = rng.choice(((0,), (0,), (0, 0, -1, 1)))
    return tuple(
        replace(
            day,
            people=max(1, people + rng.choice(others)),
            chores=tuple(
                Chore(day.number * MINUTES_A_DAY + start, day.number * MINUTES_A_DAY + end, 1)
                for start, end in [chore] * (chore is not None)
            ),
        )
        for day in days
    )


def _loads(rng: Random, mixes: int, people: int) -> tuple[Load, ...]:
    wash, crew = rng.choice((0, 3)), rng.randint(1, people)
    return tuple(
        Load(mixer, mix, cement, 10 * cement, 500_000 * cement, slurry=8, foam=2, pour=10, wash=wash, crew=crew)
        for mixer in range(rng.choice((1, 1, 2)))
        for mix in range(mixes)
        for cement in (2, 3)
    )


WITHOUT_STACK = {"plain": tiny, "sawn": tiny_sawn, "cubed": tiny_cubed}
KINDS = {**WITHOUT_STACK, "stacked": tiny_stacked, "hot": tiny_hot}
"""Yards of a seed by their kind."""
