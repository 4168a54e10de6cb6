"""A thumb pressed into a block tells whether it sets as fast as its age says; a strip time of the day may follow it.

A thumb is a coarse gauge, so it says between which ages a block can be, as shares of the age it is stripped at:

====== ============================== =========================
thumb  what it does                   the block is as old as
====== ============================== =========================
soft   sinks in                       under 0.6 of the strip age
dents  leaves a mark                  0.6 to 0.9 of it
firm   leaves none                    all of it, or more
====== ============================== =========================

(common practice for the three words, our choice for 0.6 and 0.9.) It binds no more than that: where the reckoned age
agrees, nothing changes; where the block is ahead, the least haste that explains it is believed; where it is behind, the
middle of what the thumb leaves open, and less of that where it is hardly behind, so that no minute makes a leap. So
each dent from nine tenths of the strip age on puts the strip off. No thumb makes a block age more than half as fast
again as reckoned, or less than a third as fast: then it is the batch that wants looking at, not the hour.

A middle may be wrong by a fifth either way, so a strip put off by a dent is a time to press again and no promise: it is
stripped only once a thumb leaves no mark. One that sinks in gives no time at all but that of the next press.

A strip may always be later. It is sooner only once a thumb leaves no mark, never before four fifths of its reckoned age
(our choice), and not at all where it waits for a strength, for a thumb feels none, or where it froze: ice is firm too.

Of tests of one mould the softest count: one that a softer test leaves no room for is set aside. No block gets softer,
and none goes from a mark to no mark at once, so a firm thumb counts again only a ninth of its age after a dent, and no
strip is before that. Each soft or dented test sets a pace by itself and the slowest is believed; a firm one that counts
ends the wait when it was pressed. So no softer thumb ever strips sooner, whatever others there are.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal, Protocol, get_args

from blockrun.errors import OutOfRange

Thumb = Literal["soft", "dents", "firm"]

THUMBS: Final[tuple[Thumb, ...]] = get_args(Thumb)

SET: Final = 0.6
"""Share of the strip age at which a thumb no longer sinks in."""

MARKED: Final = 0.9
"""Share of it up to which a thumb may leave a mark in a block that sets as reckoned; one beyond is behind."""

SURELY: Final = 0.1
"""How far a block must be behind, as a share of its age, for the middle of what is open to be believed wholly."""

SLOWEST: Final = 1 / 3
FASTEST: Final = 1.5

SOONEST: Final = 0.8
"""Share of the age asked for before which no thumb lets a mould be stripped, nor any cube (our choice)."""

_SHARES: Final[dict[str, tuple[float, float]]] = {"soft": (0.0, SET), "dents": (SET, MARKED), "firm": (1.0, math.inf)}


@dataclass(frozen=True)
class Pressed:
    """A thumb test.

    Parameters
    ----------
    age_h : reckoned hours at 20 degC from the last pour to the test, > 0.
    thumb : what it showed.
    """

    age_h: float
    thumb: Thumb


@dataclass(frozen=True)
class Pace:
    """How fast blocks of a pour, or of a cement, age against what is reckoned.

    Attributes
    ----------
    factor : hours gained for each hour reckoned: 1 as reckoned, under 1 slower.
    agrees : whether the tests can all be true of one pace, within the limits of what a thumb may say. Where not,
        ``factor`` follows the slowest of them, and the batch is to be looked at.
    """

    factor: float
    agrees: bool


def pace(tests: Iterable[Pressed], strip_at_h: float) -> Pace:
    """The pace that thumb tests of one pour, or of pours of one cement, tell.

    Parameters
    ----------
    tests : none or more, in any order.
    strip_at_h : hours at 20 degC at which blocks are stripped, > 0.

    Returns
    -------
    1 without tests, and wherever all of them agree with what is reckoned.

    Raises
    ------
    OutOfRange : an age is not above nought, or a thumb shows something else than soft, dents or firm.

    Source
    ------
    Our choice; see the head of this file.
    """
    known = [*tests]
    paces = [_paces(test, strip_at_h) for test in known]
    slow = max([SLOWEST, *(low for low, _ in paces)])
    fast = min([FASTEST, *(high for _, high in paces)])
    # of blocks of one age the softer is the one that breaks
    alone = min((_believed(max(SLOWEST, low), min(FASTEST, high)) for low, high in paces), default=1.0)
    if slow <= fast and alone >= 1:
        return Pace(max(1.0, slow), agrees=True)
    firm = (_paces(one, strip_at_h)[0] for one in counting(known, strip_at_h) if one.thumb == "firm")
    return Pace(max(alone, min(1.0, max(firm, default=0.0))) if alone < 1 else alone, agrees=slow <= fast)


def counting(tests: Sequence[Pressed], strip_at_h: float) -> list[Pressed]:
    """Those tests of one mould that count, as they come: all but those that a softer one leaves no room for.

    Parameters
    ----------
    tests : of blocks that were poured together.
    strip_at_h : as for :func:`pace`.

    Returns
    -------
    At least the softest of them.
    """
    return [test for test in tests if not any(_gainsays(other, test, strip_at_h) for other in tests)]


def _gainsays(one: Pressed, other: Pressed, strip_at_h: float) -> bool:
    softer = THUMBS.index(one.thumb) < THUMBS.index(other.thumb)
    return softer and _paces(other, strip_at_h)[0] > _paces(one, strip_at_h)[1]


def firm_counts_from_h(tests: Iterable[Pressed]) -> float:
    """The age from which a thumb that leaves no mark counts, whatever was softer before: hours as reckoned."""
    return max((test.age_h / _SHARES[test.thumb][1] for test in tests if test.thumb != "firm"), default=0.0)


def _believed(slow: float, fast: float) -> float:
    """The pace to go by between a slowest and a fastest one; ``slow`` over ``fast`` where a limit is passed."""
    if slow > 1:
        return min(slow, FASTEST)
    if fast >= 1:
        return 1.0
    behind = min(1.0, (1 - fast) / SURELY)
    return max(SLOWEST, 1 - behind * (1 - (slow + fast) / 2))


def _paces(test: Pressed, strip_at_h: float) -> tuple[float, float]:
    """Paces between which a block that a thumb shows so can have aged."""
    if not (test.age_h > 0 and strip_at_h > 0):
        raise OutOfRange(
            "a thumb tells nothing at an age of nothing", name="age", value=min(test.age_h, strip_at_h), limit=0,
            unit="h", todo="Press it some hours after the pour.",
        )  # fmt: skip
    if test.thumb not in _SHARES:
        raise OutOfRange(
            f"{test.thumb} is not what a thumb shows", name="thumb", value=test.thumb, todo="Say soft, dents or firm."
        )
    low, high = _SHARES[test.thumb]
    return low * strip_at_h / test.age_h, high * strip_at_h / test.age_h


class Clock(Protocol):
    """What tells when blocks are of an age; see `blockrun.cure.age` and `blockrun.cure.warm`."""

    def when(self, from_min: int, hours: float, /) -> int:
        """The minute by which what was poured at one has an age."""


def old_enough(
    clock: Clock,
    poured: int,
    due_h: float,
    told: Pace,
    pressed: Sequence[tuple[int, Thumb]],
    *,
    ahead: float = 1.0,
    firm_h: float = 0.0,
) -> int:
    """Minute from which a mould is old enough to be stripped, or its sides to come off, now that it was pressed.

    Parameters
    ----------
    clock : of its blocks.
    poured : minute its last pour ended.
    due_h : hours at 20 degC at which it is done, > 0.
    told : the pace that all its tests tell together.
    pressed : minute and result of each test, after the pour, by time.
    ahead : the pace by which it may be sooner, see :func:`ahead_of`; 1 where no thumb may bring it forward.
    firm_h : the age before which it is not done, see :func:`firm_counts_from_h`; 0 for sides.

    Returns
    -------
    As reckoned without a test; else never before the last of them.
    """
    if not pressed:
        return clock.when(poured, due_h)
    pace = told.factor if told.factor < 1 else min(ahead, 1 / SOONEST)
    return max(clock.when(poured, due_h / pace), clock.when(poured, firm_h), pressed[-1][0])


def ahead_of(tests: Sequence[Pressed], strip_at_h: float) -> float:
    """The pace by which a strip may be sooner: that of the last test that counts, where it leaves no mark; else 1.

    Parameters
    ----------
    tests : those of one mould that count, by time.
    strip_at_h : as for :func:`pace`.
    """
    if not tests or tests[-1].thumb != "firm":
        return 1.0
    told = pace(tests[-1:], strip_at_h)
    return max(1.0, told.factor) if told.agrees else 1.0
