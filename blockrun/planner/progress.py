"""How a job stands at a moment, against its plan: words that `yard` fills and `show` prints."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, Final, Literal

from blockrun.planner.intervals import counts_for, wilson

if TYPE_CHECKING:
    from blockrun.mix.records import Record
    from blockrun.planner.morning import Counts
    from blockrun.planner.supplies import Supply

UNTOLD_BELOW: Final = 3.0
"""A share that may be so many times what was assumed is told by too few to say that it is as assumed (our choice)."""


LEAST_TOLD: Final = 3
"""Fewer bad ones are not told to be more than assumed: a first block that breaks is no share yet (our choice)."""


@dataclass(frozen=True)
class Batches:
    """Batches of a plan.

    Attributes
    ----------
    poured, due, in_all : how many were poured at least once, should be by now, and are planned.
    again : how many more times some of them were poured.
    open : numbers that should be poured by now and are not, and the days of their pours; none of days that were lost.
    first, last : when the plan begins to pour, and the day on which it pours last.
    a_day : how many the plan pours on a working day, days on which it cannot pour among them.
    last_at_pace : the day of the last pour if of what is left as small a share is poured when it is due as so far; a
        rough guess, and None where nothing is behind, or too little was poured to tell.
    of_others : numbers and days of batches poured by another plan, one gone back from, that are none of this one.
    """

    poured: int
    due: int
    in_all: int
    again: int
    open: tuple[tuple[int, date], ...]
    first: datetime
    last: date
    a_day: float
    last_at_pace: date | None
    of_others: tuple[tuple[int, date], ...] = ()

    @property
    def behind(self) -> int:
        """How many more should be poured by now; under nought when more are than should be."""
        return self.due - self.poured

    @property
    def behind_days(self) -> float:
        """The same in working days of the plan."""
        return self.behind / self.a_day


@dataclass(frozen=True)
class Blocks:
    """Blocks of a job, by where they are; all but ``ordered``, ``in_all`` and ``due`` as recorded.

    Attributes
    ----------
    ordered, spares : what the plan has for courses, cast or found in a count, and on top of that.
    due : what it has by now.
    """

    ordered: int
    spares: int
    due: int
    cast: int
    in_moulds: int
    beside: int
    on_racks: int
    stacked: int
    laid: int
    broken: int
    rejected: int
    missing: int
    found: int

    @property
    def in_all(self) -> int:
        """All that the plan casts."""
        return self.ordered + self.spares

    @property
    def lost(self) -> int:
        """Those that nobody will lay."""
        return self.broken + self.rejected + self.missing

    @property
    def good(self) -> int:
        """Those that are there, laid or to be laid."""
        return self.cast + self.found - self.lost


@dataclass(frozen=True)
class LateCourse:
    """A course that cannot be laid on the day it is needed.

    Attributes
    ----------
    part, course, ring : which; as in `blockrun.planner.morning.CourseNow`.
    needed : the day.
    ready : the day on which the last of its blocks may be laid, if all that is left of the plan is done in time; None
        where that is never, in the weather that is forecast or while some are set apart.
    planned : the same by the plan.
    apart : blocks of it that are of a batch outside its card, and of no use until somebody answers for that.
    """

    part: str
    course: int | None
    ring: bool
    needed: date
    ready: date | None
    planned: date
    apart: int = 0

    @property
    def days(self) -> int | None:
        """Days late; None where it is never ready."""
        return None if self.ready is None else (self.ready - self.needed).days

    @property
    def is_planned(self) -> bool:
        """Whether the plan has it no sooner."""
        return self.ready is not None and self.ready <= self.planned


@dataclass(frozen=True)
class ShortCourse:
    """A course of which some blocks are neither there nor in any pour of the plan.

    Attributes
    ----------
    blocks : those, by mark.
    """

    part: str
    course: int | None
    ring: bool
    needed: date | None
    blocks: Counts


@dataclass(frozen=True)
class Reserve:
    """One material: what is left, and how far it goes for the batches that the plan still has.

    Attributes
    ----------
    material : its name; amounts are in its unit of `blockrun.planner.uses.UNITS`.
    amount : left now; under nought where more was drawn than anybody recorded to be there.
    used : for the batches to come.
    counted : when somebody counted it last.
    untold, believed : as in `blockrun.yard.stock.InStock`.
    to_come : deliveries that the site plans.
    out_on : the day on which more is needed than is there; None where it lasts to the last pour.
    missing : what all that is there and comes falls short of, 0 where it is enough.
    order_by : the last working day to order that, where the site tells how long it takes.
    at_once : that day is gone by, or it is out already.
    """

    material: str
    amount: float
    used: float
    counted: datetime | None
    untold: tuple[Supply, ...]
    believed: bool
    to_come: tuple[Supply, ...]
    out_on: date | None
    missing: float
    order_by: date | None
    at_once: bool = False


Verdict = Literal["more", "fewer", "as assumed", "too few"]


@dataclass(frozen=True)
class Seen:
    """A share as it was seen, beside what was assumed.

    Attributes
    ----------
    groups : how many of how many in each mould that was stripped, or each batch: what goes together counts for less.
    assumed : share.
    most : the place of which more were bad than its share, beyond chance, with how many of how many; None without.
    """

    groups: tuple[tuple[int, int], ...]
    assumed: float
    most: tuple[str, int, int] | None = None

    @property
    def held(self) -> int:
        """How many were bad."""
        return sum(held for held, _ in self.groups)

    @property
    def of(self) -> int:
        """Of how many."""
        return sum(of for _, of in self.groups)

    @property
    def share(self) -> float:
        """Of those seen."""
        return self.held / self.of

    @property
    def ends(self) -> tuple[float, float]:
        """What the share may be, 95 times in 100."""
        return wilson(self.share, counts_for(self.groups))

    @property
    def verdict(self) -> Verdict:
        """Whether what was assumed holds."""
        low, high = self.ends
        if low > self.assumed and self.held >= LEAST_TOLD:
            return "more"
        if high < self.assumed:
            return "fewer"
        return "as assumed" if high < UNTOLD_BELOW * self.assumed else "too few"


@dataclass(frozen=True)
class Losses:
    """What was lost, beside what was assumed; each None where there is nothing to tell it by.

    Attributes
    ----------
    broken : blocks that broke at the strip, of those stripped.
    flat : batches of which every block was thrown out of its mould, or none got into one, of those poured.
    rejected : blocks rejected otherwise, of those cast.
    """

    broken: Seen | None
    flat: Seen | None
    rejected: Seen | None


@dataclass(frozen=True)
class Undone:
    """A strip, or sides to take off, that the plan has until now and nobody recorded, or that a thumb has put off.

    Attributes
    ----------
    job : which.
    place : mould, or base.
    due : the day on which the plan has it.
    is_old_enough : whether it could be done by now, by air, thumbs and cubes; else it waits, and was not forgotten.
    until : when it can be begun, where it waits; None also for never.
    by_thumb : it waits for its thumbs, where it would not without them.
    """

    job: Literal["strip", "sides"]
    place: str
    due: date
    is_old_enough: bool
    until: datetime | None = None
    by_thumb: bool = False


@dataclass(frozen=True)
class Away:
    """People who are missing, from one day to another, both included; ``everybody`` where no others are in the crew."""

    first: date
    last: date
    people: int
    everybody: bool = False


@dataclass(frozen=True)
class Progress:
    """How a job stands.

    Attributes
    ----------
    entries : how many were recorded until then and count.
    batches, blocks : how far it is.
    courses, courses_left : how many the plan casts for, and how many are not yet laid whole.
    late, short : courses, in the order in which they are needed.
    reserves : materials in the order in which they are measured.
    strange_pours : how many pours are of no plan that is there, so that nothing is drawn from stock for them.
    losses : broken and rejected.
    lost_blocks : of all that were cast, for what is to be expected of the rest; None where none were.
    weighed : batches as they were poured, with what was weighed of them.
    off_card : those outside their cards, of which nothing is to be laid: as in `blockrun.planner.morning.Morning`.
    blocks_off_card : what is there of these; it counts as good until it is rejected.
    lost_days, away, out_of_use : days lost, people missing today or later, moulds out of use and since when.
    clashes : how many entries cannot have been.
    undone : strips and sides of the plan that nobody recorded, and those that thumbs put off, due or not.
    hot : numbers of batches to come that heat leaves no time to pour, and the days of their pours.
    nobody : days, from today on, on which the plan pours or strips and all of the crew are recorded to be away.
    """

    at: datetime
    entries: int
    batches: Batches
    blocks: Blocks
    courses: int
    courses_left: int
    late: tuple[LateCourse, ...]
    short: tuple[ShortCourse, ...]
    reserves: tuple[Reserve, ...]
    strange_pours: int
    losses: Losses
    lost_blocks: Seen | None
    weighed: tuple[Record, ...]
    lost_days: tuple[date, ...]
    away: tuple[Away, ...]
    out_of_use: tuple[tuple[str, datetime], ...]
    clashes: int
    off_card: tuple[str, ...] = ()
    blocks_off_card: int = 0
    undone: tuple[Undone, ...] = ()
    hot: tuple[tuple[int, date], ...] = ()
    nobody: tuple[date, ...] = ()
