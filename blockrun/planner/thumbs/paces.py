"""How fast blocks set by all thumbs that were kept, and the age at which to strip that they speak for."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final

from blockrun.cure.thumb import Pace, Pressed, pace
from blockrun.planner.thumbs.pressed import ThumbTest

SEVERAL: Final = 3
"""Pours that each tell a slower pace before another age is proposed (our choice)."""

_ROUNDING_H: Final = 1e-6


@dataclass(frozen=True)
class Paces:
    """What tests tell together.

    Attributes
    ----------
    mix : of which they are; empty for all of them.
    n_tests, n_pours : how many; moulds filled by the same batches are one pour.
    told : their pace.
    n_slower : pours that tell a slower pace by themselves.
    """

    mix: str
    n_tests: int
    n_pours: int
    told: Pace
    n_slower: int


def paces(tests: Iterable[ThumbTest], strip_h: float) -> list[Paces]:
    """Paces of all tests together, then of those of each mix where there are several.

    Parameters
    ----------
    strip_h : hours at 20 degC at which moulds are stripped now, > 0; older tests are held against it too.
    """
    every = list(tests)
    mixes = sorted({test.mix for test in every})
    found = [_paces("", every, strip_h)] if every else []
    if len(mixes) > 1:
        found += [_paces(mix, [test for test in every if test.mix == mix], strip_h) for mix in mixes]
    return found


def _paces(mix: str, tests: Sequence[ThumbTest], strip_h: float) -> Paces:
    pours: dict[object, list[ThumbTest]] = {}
    for test in tests:
        pours.setdefault((test.poured, test.batches), []).append(test)
    slower = sum(_pace(of, strip_h).factor < 1 for of in pours.values())
    return Paces(mix, len(tests), len(pours), _pace(tests, strip_h), slower)


def _pace(tests: Sequence[ThumbTest], strip_h: float) -> Pace:
    return pace([Pressed(test.age_h, test.thumb) for test in tests], strip_h)


def strip_at_proposed(found: Sequence[Paces], strip_h: float) -> tuple[int, Paces] | None:
    """Whole hours at 20 degC to strip at, and the tests that speak for them; None where they do not.

    One age goes for all mixes, so the slowest sets it. A faster pace proposes nothing: a thumb feels no strength.
    """
    slow = [one for one in found if one.told.agrees and one.told.factor < 1 and one.n_slower >= SEVERAL]
    if not slow:
        return None
    slowest = min(slow, key=lambda one: one.told.factor)
    return math.ceil(strip_h / slowest.told.factor - _ROUNDING_H), slowest
