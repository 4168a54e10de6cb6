"""Work that was done one after the other, as the plan has it too: how much longer it took than planned.

Entries are made roughly, with wet hands, so only gaps between two of them that follow one another at work are looked
at, and their median.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from math import floor
from typing import TYPE_CHECKING, Final

from blockrun.planner.learned import Change, Finding
from blockrun.yard.learn.spread import LEAST, Median, median_of

if TYPE_CHECKING:
    from blockrun.files.yaml import Where
    from blockrun.site import Calendar

TIMES: Final = 3.0
"""A gap so many times the planned one, or so small a part of it, is no work in a row: somebody waited, or typed in a
whole row at once (our choice)."""

_MINUTE: Final = timedelta(minutes=1)


@dataclass(frozen=True)
class Gap:
    """Minutes from one entry to the next: planned, and as it went."""

    planned: float
    took: float

    @property
    def in_a_row(self) -> bool:
        """Whether it can be work that went on without a halt."""
        return self.planned / TIMES <= self.took <= self.planned * TIMES

    @property
    def longer(self) -> float:
        """Minutes longer than planned."""
        return self.took - self.planned


def gap_between(planned: tuple[datetime, datetime], took: tuple[datetime, datetime]) -> Gap:
    """The gap between two moments."""
    return Gap((planned[1] - planned[0]) / _MINUTE, (took[1] - took[0]) / _MINUTE)


def one_stretch(calendar: Calendar, first: datetime, second: datetime) -> bool:
    """Whether two moments lie on one day with no break between them."""
    if first.date() != second.date():
        return False
    begin, end = (moment.hour * 60 + moment.minute for moment in (first, second))
    return not any(begin < pause_to and pause_from < end for pause_from, pause_to in calendar.breaks)


@dataclass(frozen=True)
class Timed:
    """A time of the site that gaps tell of.

    Parameters
    ----------
    about, says : as for a finding.
    things : what follows one another, such as ``pours``.
    key, where : of the time that is to change.
    now_min : what the site says of it.
    notes : what was assumed.
    """

    about: str
    says: str
    things: str
    key: str
    where: Where
    now_min: int
    notes: tuple[str, ...]

    def found(self, gaps: Iterable[Gap]) -> Finding:
        """What the gaps tell."""
        longer = [gap.longer for gap in gaps if gap.in_a_row]
        if len(longer) < LEAST:
            seen = f"{self.things} timed right after another: {len(longer)}"
            return Finding(self.about, self.says, seen, f"too few to tell ({len(longer)} of {LEAST})")
        middle = median_of(longer)
        new = max(1, self.now_min + floor(middle.middle + 0.5))
        seen = f"{middle.n} {self.things} in a row: {_longer_said(middle)}"
        if not middle.excludes(0) or new == self.now_min:
            return Finding(self.about, self.says, seen, "as the site says")
        change = Change(self.key, self.where, "time", self.now_min, new)
        return Finding(self.about, self.says, seen, "", change, self.notes)


def _longer_said(middle: Median) -> str:
    """``4 min longer each than planned, likely 3 to 5``; with signs where it may be either."""
    if middle.middle == 0:
        said, low, high = "as long as planned", _signed(middle.low), _signed(middle.high)
    else:
        sign = 1 if middle.middle > 0 else -1
        said = f"{abs(middle.middle):g} min {'longer' if sign > 0 else 'shorter'} each than planned"
        low, high = (f"{end:g}" for end in sorted((sign * middle.low, sign * middle.high)))
    return said if low == high else f"{said}, likely {low} to {high}{' min' if not middle.middle else ''}"


def _signed(value: float) -> str:
    return f"{value:+g}" if value else "0"
