"""Days to pack: what is to be poured, the batches there are, what the mixers manage, and the test cubes due."""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction
from random import Random

from blockrun.optimiser.cubes import Due
from blockrun.optimiser.mixing import Ceiling
from blockrun.optimiser.problem import Cubes, Load, Problem
from tests.optimiser.small import BLOCK, LOAD, YARD

LOTS = (Fraction(3), Fraction(7, 2), Fraction(5), Fraction(16, 3), Fraction(9))


@dataclass(frozen=True)
class PackedDay:
    """What is asked of ``pack``; ``wanted`` by casting, ``cubes`` by mix."""

    problem: Problem
    wanted: dict[int, int]
    ceilings: tuple[Ceiling, ...]
    cubes: dict[int, Due]


def a_day(seed: int) -> PackedDay:
    """One or two mixes and mixers, up to four kinds of block, up to a dozen blocks."""
    rng = Random(seed)
    mixes = rng.choice((1, 1, 2))
    loads = _loads(rng, mixes)
    formats = tuple(
        replace(BLOCK, mix=mix, volume=_volume(rng, loads, mix))
        for mix in range(mixes)
        for _ in range(rng.choice((1, 2)))
    )
    blocks = [rng.randrange(len(formats)) for _ in range(rng.randint(2, 12))]
    set_volume = rng.choice((None, None, 9, 25))
    problem = replace(
        YARD, formats=formats, loads=loads, cubes=None if set_volume is None else Cubes(set_volume, (Fraction(1),))
    )
    cubes = {} if set_volume is None else {mix: _due(rng) for mix in range(mixes)}
    wanted = {number: blocks.count(number) for number in range(len(formats))}
    return PackedDay(problem, wanted, _ceilings(rng, loads), cubes)


def _volume(rng: Random, loads: tuple[Load, ...], mix: int) -> int:
    """Some blocks fill a small batch in pairs, so that small batches waste less than big ones."""
    half = min(load.room for load in loads if load.mix == mix) // 2
    return rng.choice((rng.randint(12, 95), rng.randint(12, 95), half))


def _loads(rng: Random, mixes: int) -> tuple[Load, ...]:
    """Batches by the step; some of each stays in the mixer."""
    least, lost = rng.choice((1, 2, 3)), rng.choice((0, 4))
    return tuple(
        replace(LOAD, mixer=mixer, mix=mix, cement=cement, room=(33 + 5 * mix) * cement - lost)
        for mixer, most in enumerate(rng.choice(((4,), (5,), (5, 3))))
        for mix in range(mixes)
        for cement in range(min(least, most), most + 1)
    )


def _ceilings(rng: Random, loads: tuple[Load, ...]) -> tuple[Ceiling, ...]:
    """Each mixer makes so many batches a day, or as many as it likes."""
    found = []
    for mixer in sorted({load.mixer for load in loads}):
        most = rng.choice((None, None, 2, 4))
        if most is not None:
            of_load = {index: 1 for index, load in enumerate(loads) if load.mixer == mixer}
            found.append(Ceiling({}, of_load, most))
    return tuple(found)


def _due(rng: Random) -> Due:
    """Lots by cement with the last of those begun not ended yet, or by date with a set given or not."""
    if rng.random() < 0.3:
        return Due(None, made=0, given=rng.choice((0, 1)))
    lot, made = rng.choice(LOTS), rng.choice((0, 0, 2, 7))
    return Due(lot, made, -(-made // lot))
