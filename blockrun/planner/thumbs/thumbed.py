"""A turn into which thumbs were pressed, and what they say of it; `blockrun.planner.thumbs.turns` works it out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.errors import BadInput
from blockrun.files.day_names import day_name

if TYPE_CHECKING:
    from blockrun.cure.thumb import Pace
    from blockrun.planner.in_moulds import Turn
    from blockrun.planner.thumbs.pressed import ThumbTest
    from blockrun.site import Calendar


@dataclass(frozen=True)
class Span:
    """A job as it can be now: from when it is old enough, as reckoned and by its thumbs; its begin and end."""

    reckoned: datetime
    ripe: datetime
    begins: datetime
    ends: datetime


@dataclass(frozen=True)
class Thumbed:
    """A turn into which thumbs were pressed.

    Attributes
    ----------
    iced : those of them that leave no mark in air that freezes: they tell nothing.
    counted : those others that no softer one gainsays; see `blockrun.cure.thumb`.
    froze : whether the air froze at any minute from the pour to the last test.
    told : the pace that these tell together.
    firm_counts : the moment from which a thumb that leaves no mark counts, whatever was softer before.
    firm_strip : the first working minute, after the last test, from which one pressed then and firm has it stripped.
    strip : its strip, not before the plan has it; of one poured on an earlier day as soon as it may be.
    may_strip : the first working minute from which it can be stripped, be it before the plan has it.
    sides : likewise, where the sides were on at the first test; else None.
    is_early : whether it was poured on a day before that of the plan.
    """

    turn: Turn
    tests: tuple[ThumbTest, ...]
    iced: tuple[ThumbTest, ...]
    counted: tuple[ThumbTest, ...]
    froze: bool
    told: Pace
    firm_counts: datetime
    firm_strip: datetime
    strip: Span
    may_strip: datetime
    sides: Span | None = None
    is_early: bool = False

    @property
    def set_aside(self) -> tuple[ThumbTest, ...]:
        """Tests that a softer one leaves no room for."""
        return tuple(test for test in self.tests if test not in self.counted and test not in self.iced)

    @property
    def sinks_in(self) -> bool:
        """Whether the last thumb that counts sinks in: no strip then, only the next press."""
        return bool(self.counted) and self.counted[-1].thumb == "soft"

    @property
    def is_firm(self) -> bool:
        """Whether the last thumb counts and leaves no mark."""
        return bool(self.counted) and self.tests[-1] not in self.iced and self.counted[-1].thumb == "firm"

    @property
    def press_again(self) -> bool:
        """Whether it is to be stripped only once another thumb leaves no mark."""
        if not self.counted or self.tests[-1] in self.iced or self.sinks_in:
            return True
        return self.told.factor < 1 and self.counted[-1].thumb != "firm"

    @property
    def is_later(self) -> bool:
        """Whether the strip is to wait longer than planned."""
        return self.strip.begins > self.turn.strip

    @property
    def is_sooner(self) -> bool:
        """Whether it may be stripped before the plan strips it: firm before it was due, or poured on an earlier day."""
        return (self.is_early or self.strip.ripe < self.strip.reckoned) and self.may_strip < self.turn.strip

    @property
    def sides_later(self) -> bool:
        """Whether the sides are to stay on longer than planned."""
        return self.sides is not None and self.turn.sides is not None and self.sides.begins > self.turn.sides

    def moved(self, task: str) -> datetime | None:
        """From when ``strip`` or ``sides`` may be done, where thumbs move that, planned so late or not; else None."""
        if task == "sides":
            return self._put_off(self.sides, is_later=self.sides_later) if self.sides else None
        return self.may_strip if self.is_sooner else self._put_off(self.strip, is_later=self.is_later)

    def _put_off(self, span: Span, *, is_later: bool) -> datetime | None:
        if is_later:
            return span.begins
        return span.ripe if span.ripe > max(span.reckoned, self.tests[-1].pressed) else None


def check_pressed(place: str, at: datetime, age_h: float, calendar: Calendar) -> None:
    """Refuse a thumb pressed into what has no age yet.

    Raises
    ------
    BadInput : it was poured just before, or no age is counted yet: that begins with the calendar.
    """
    if age_h > 0:
        return
    if at.date() < calendar.start:
        what = f"the clock of the site begins on {day_name(calendar.start)}, and {place} was pressed on {day_name(at)}"
        raise BadInput(what, "Press again from then on; or let the calendar start sooner, and plan again.", value=at)
    raise BadInput(f"{place} was poured just before", "Press it some hours after the pour.", value=at)
