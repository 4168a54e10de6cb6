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
    """The day of the last pour: planned, the day half of the runs keep, and nine in ten; None where none will do."""

    planned: date
    median: date | None
    worst: date | None


@dataclass(frozen=True)
class Never:
    """Runs in which blocks are never cast, how many on the mean of these, and the day to which runs go on.

    Such blocks count as late until that day.
    """

    runs: int
    blocks: float
    until: date


@dataclass(frozen=True)
class OfCourse:
    """A course, the chance that it is there in time, and the days it has to be needed later for nine in ten runs.

    ``marks`` are of its blocks; ``slack`` is None where no day is late enough: too many runs never cast it. ``planned``
    are the days that the plan itself has it late.
    """

    course: int | None
    needed: date
    marks: tuple[str, ...]
    chance: Chance
    slack: int | None
    planned: int = 0


@dataclass(frozen=True)
class OfPart:
    """The same of all courses of a part together; its chance is that none is later than needed, or than planned."""

    part: str
    chance: Chance
    slack: int | None
    courses: tuple[OfCourse, ...]

    @property
    def is_planned_late(self) -> bool:
        """Whether the plan itself has some of it late."""
        return any(course.planned for course in self.courses)


@dataclass(frozen=True)
class Cost:
    """What a cause costs: block-days, days of the last pour and batches that runs without it save, and their chance."""

    cause: Cause
    block_days: float
    days: float
    batches: float
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
    plan, rates, seed, runs, asked : what was played; ``runs`` how often, ``asked`` how often it was to be.
    in_time : all courses were; those that the plan itself has late, no later than that.
    parts : by part.
    block_days, last_pour, batches : how late it gets, and how much is poured.
    slack : days later that all need dates have to be for nine in ten runs to hold; None where no day is late enough.
    costs : of the causes: the one without which most runs hold comes first.
    spares : what broken blocks alone ask for.
    never : what is not cast within the days that runs have.
    """

    plan: Plan
    rates: Rates
    seed: int
    runs: int
    asked: int
    in_time: Chance
    parts: tuple[OfPart, ...]
    block_days: Spread
    last_pour: LastPour
    batches: Spread
    slack: int | None
    costs: tuple[Cost, ...]
    spares: SparesWorth
    never: Never

    @property
    def is_planned_late(self) -> bool:
        """Whether the plan itself has some course late."""
        return any(part.is_planned_late for part in self.parts)
