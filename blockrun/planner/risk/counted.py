"""What many runs of a plan told, counted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from blockrun.planner.intervals import wilson
from blockrun.planner.risk.rates import Cause, Rates

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


@dataclass(frozen=True)
class Chance:
    """In how many runs something held.

    ``low`` and ``high`` are the ends of its interval, by :func:`blockrun.planner.intervals.wilson`.
    """

    held: int
    runs: int

    @property
    def share(self) -> float:
        """Share of the runs."""
        return self.held / self.runs

    @property
    def low(self) -> float:
        """Lower end."""
        return wilson(self.share, self.runs)[0]

    @property
    def high(self) -> float:
        """Upper end."""
        return wilson(self.share, self.runs)[1]


@dataclass(frozen=True)
class Spread:
    """How far a number goes: planned, mean, what half of the runs stay within, and nine in ten."""

    planned: int
    mean: float
    median: int
    worst: int


@dataclass(frozen=True)
class LastPour:
    """The day of the last pour: planned, days later on the mean, the day half of the runs keep, and nine in ten."""

    planned: date
    mean_days: float
    median: date
    worst: date


@dataclass(frozen=True)
class OfCourse:
    """A course, the chance that it is there in time, and the days it has to be needed later for nine in ten runs."""

    course: int | None
    needed: date
    chance: Chance
    slack: int


@dataclass(frozen=True)
class OfPart:
    """The same of all courses of a part together."""

    part: str
    chance: Chance
    slack: int
    courses: tuple[OfCourse, ...]


@dataclass(frozen=True)
class Cost:
    """What a cause costs: block-days and days of the last pour that runs without it save, and their chance."""

    cause: Cause
    block_days: float
    days: float
    chance: Chance


@dataclass(frozen=True)
class SparesWorth:
    """Spares by mark, counted in runs in which blocks break and nothing else goes wrong.

    Attributes
    ----------
    wanted : the fewest found with which fewer than one run in twenty miss a course, by mark and mix; there before they
        are missed, and as likely to break as any block. None where no number of spares does it.
    planned : those of the plan.
    missed, missed_none : share of the runs that miss a course with the spares of the plan when it casts them, and
        without any.
    """

    wanted: Mapping[tuple[str, str], int] | None
    planned: Mapping[tuple[str, str], int]
    missed: float
    missed_none: float


@dataclass(frozen=True)
class Risk:
    """What many runs of a plan tell.

    Attributes
    ----------
    plan, rates, seed, runs : what was played; ``runs`` how often.
    in_time : all courses were.
    parts : by part.
    block_days, last_pour : how late it gets.
    slack : days later that all need dates have to be for nine in ten runs to hold.
    costs : of the causes, the dearest first.
    spares : what broken blocks alone ask for.
    never : mean of blocks not cast within the days that runs have.
    """

    plan: Plan
    rates: Rates
    seed: int
    runs: int
    in_time: Chance
    parts: tuple[OfPart, ...]
    block_days: Spread
    last_pour: LastPour
    slack: int
    costs: tuple[Cost, ...]
    spares: SparesWorth
    never: float
