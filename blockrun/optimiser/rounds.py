"""Rounds of a search: how many there are, which look for a sooner day, and when bounds are due.

All of it follows from what is known before a round, and nothing from the clock, so a search repeats.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import IntEnum
from typing import Final

_MOST_IF_SHORT: Final = 6
"""Times as many rounds as were asked for, where these are short and a sooner day is not ruled out."""
_MOST_IF_LATE: Final = 3
"""Times as many where some blocks are later than is proven to be needed, and a round takes a glance."""
_AFTER_A_SOONER: Final = 2
"""Rounds that come after one that came to a sooner day."""
_STANDS_BEFORE, _STANDS_AFTER = 1, 3
"""A last day counts as one that stands so many rounds before the last one, and so many after it was come to."""
_BEFORE_LAPS: Final = 0.4
_MOST_BEFORE_LAPS: Final = 7
"""Share of all rounds that come before those with laps, and their number where rounds have no end."""
_FIRST_WITH_LAPS: Final = 2
"""The first one with laps, where rounds take some seconds and there are but a few of them, or a lap is but a day."""
_ONE_IN: Final = 3
"""Of so many rounds one is without laps where each is but a day: else they may come to the same again and again."""
_BOUNDED_WITHIN, _BOUNDED_WITHIN_IF_LONG = 1, 2
"""Rounds after the one in which bounds are asked for, until they are waited for."""


class Length(IntEnum):
    """How long a round takes: a glance, under a second, some seconds, or more than there can be many of."""

    A_GLANCE = 0
    SHORT = 1
    SOME_SECONDS = 2
    LONG = 3


@dataclass(frozen=True)
class Round:
    """One round, as things stand before it.

    Attributes
    ----------
    number, asked : its number, from 0 on, and how many rounds besides were asked for.
    length : of a round.
    in_time, proven : whether no plan is less late than the best, and whether besides none can end sooner.
    sooner : number of the last round that came to a sooner day; 0 where none did, or none but the first.
    shortened : whether the search begins from an answer that differs little.
    fewest : whether no plan at all takes fewer batches than the best.
    """

    number: int
    asked: int
    length: Length
    in_time: bool
    proven: bool
    sooner: int = 0
    shortened: bool = False
    fewest: bool = False

    @property
    def last(self) -> int:
        """Number of the last round: more come once a sooner day is come to, and for one, or for less late, if short."""
        if self.shortened:
            return min(1, self.asked)
        if not self.in_time:
            return _MOST_IF_LATE * self.asked if self.length == Length.A_GLANCE else self.asked
        if self.length <= Length.SHORT:
            return self.asked + self.sooner if self.proven else _MOST_IF_SHORT * self.asked
        then = self.sooner + _AFTER_A_SOONER if self.sooner else 0
        if self.length == Length.LONG:
            return max(self.asked, min(then, self.asked + 1))
        return max(self.asked if self.proven else 2 * self.asked, then)

    @property
    def chases(self) -> bool:
        """Whether it looks for a sooner day: every other one does, for those between save batches and so find the time.

        Where no batch can be saved, each does. What is late is better poured in another order than sooner.
        """
        may = self.in_time and not self.proven
        return may and (self.fewest or self.number % 2 == 0) and self.number < max(1, self.last)

    def may_have_laps(self, *, by_day: bool) -> bool:
        """Whether plans may be put together lap by lap, once others were tried.

        Where each lap is but a day that is soon, in short rounds: over many days they win nothing and take long.
        """
        if by_day:
            soon = self.number >= _FIRST_WITH_LAPS and self.length <= Length.SHORT
            return soon and self.number % _ONE_IN != 1
        if self.length == Length.SOME_SECONDS:
            return self.number >= _FIRST_WITH_LAPS
        return self.number > min(_BEFORE_LAPS * self.last, _MOST_BEFORE_LAPS)

    @property
    def last_day_stands(self) -> bool:
        """Whether no sooner day seems to come; before, long bounds of what hangs on the last day are not worth it."""
        soon_over = self.number >= min(self.last - _STANDS_BEFORE, self.sooner + _STANDS_AFTER)
        return soon_over or self.proven or self.length < Length.LONG

    def is_due(self, asked_in: int, *, leads_on: bool) -> bool:
        """Whether bounds asked for in some round are waited for after this one.

        Those of a long round may take more than one. Bounds that lead on to others come in time for these: a round
        before the last there may be, should they prove the last day.
        """
        if self.length <= Length.SHORT:
            return True
        long = self.length == Length.LONG
        within = _BOUNDED_WITHIN_IF_LONG if long and self.in_time else _BOUNDED_WITHIN
        if leads_on:
            return self.number >= min(asked_in + within, min(self.asked, self.last) - 1)
        return self.number >= min(asked_in + within, self.last if long else self.last - 1)
