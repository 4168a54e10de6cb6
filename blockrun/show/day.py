"""What a sheet tells of one day: equal things together, each with its time."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Literal

from blockrun.planner.rows import Row
from blockrun.show.cubes import CubesCast, CubesDue
from blockrun.show.inserts import NOTHING, Inserts
from blockrun.show.overnight import NOTHING_STANDS, Overnight
from blockrun.show.sawing import AS_CAST, To, Work

if TYPE_CHECKING:
    from blockrun.cure.pour_life import PourLife
    from blockrun.mix import Proportions
    from blockrun.planner.left_over import Left, Ripe
    from blockrun.planner.lots import NewLot
    from blockrun.show.apart import Apart
    from blockrun.show.thumbed import Note
    from blockrun.site import DayWeather


@dataclass(frozen=True)
class Limit:
    """A moment of the working day before which some moulds or bases may not be touched."""

    not_before: datetime
    names: tuple[str, ...]


@dataclass(frozen=True)
class Due:
    """A moment by which some moulds or bases must be done, for a batch of the day is poured into them then."""

    by: datetime
    names: tuple[str, ...]
    batch: int


@dataclass(frozen=True)
class SlabsSawn:
    """Slabs that are sawn alike: by which saw plan, in which moulds they are, and blocks of each mark from one."""

    saw_plan: int
    moulds: tuple[str, ...]
    gives: tuple[tuple[str, int], ...]


@dataclass(frozen=True)
class Job:
    """Equal things the crew does one after another, or side by side, before the next batch.

    Attributes
    ----------
    task : ``sides``, ``strip`` (with the move to the rack), ``clean`` or ``chore``.
    start, end : of the first and of the last of them.
    names : moulds or bases they are done to; the names of chores.
    people : people at it at the busiest minute.
    on_bases : the names are of bases.
    racks : blocks that go to each rack.
    limits : what is not old enough yet when the day begins.
    old_enough : since when all the rest is, but for where a thumb goes first; None for cleaning and chores.
    to_do : what is done to stripped blocks before they are laid, and to how many of each.
    slabs : what is stripped and sawn right then.
    due : what a batch waits for before the last of them is done.
    lift : who lifts the heaviest of what is stripped; empty where one person may.
    weak : what of it is too weak to be lifted; empty where nothing is known to be.
    lifters : people who lift the heaviest of it together, without a trolley.
    on_racks : of chores, blocks that are on the racks when they begin.
    thumb_first : those into which a thumb goes before anything is done to them, however old they are.
    apart : blocks of batches outside their cards that are stripped.
    """

    task: Literal["sides", "strip", "clean", "chore"]
    start: datetime
    end: datetime
    names: tuple[str, ...]
    people: int
    on_bases: bool = False
    racks: tuple[tuple[str, int], ...] = ()
    limits: tuple[Limit, ...] = ()
    old_enough: datetime | None = None
    to_do: tuple[tuple[To, int], ...] = ()
    slabs: tuple[SlabsSawn, ...] = ()
    due: tuple[Due, ...] = ()
    lift: str = ""
    weak: str = ""
    lifters: int = 1
    on_racks: int = 0
    thumb_first: tuple[str, ...] = ()
    apart: tuple[Apart, ...] = ()


@dataclass(frozen=True)
class Filled:
    """One cavity, counted from 1, the mark it casts, what is set in for it; what for and what is done to it later."""

    cavity: int
    mark: str
    inserts: Inserts = NOTHING
    role: str = ""
    work: Work = AS_CAST


@dataclass(frozen=True)
class Fill:
    """What one mould gets from one batch, by cavity; or the saw plan of a slab (0 for none), by block."""

    mould: str
    base: str
    cavities: tuple[Filled, ...]
    alone: bool
    """No other batch pours into this mould before it is stripped."""
    saw_plan: int = 0
    turn: int = 0


@dataclass(frozen=True)
class Pour:
    """A batch, its crew, how long it keeps, what it fills in filling order, what is left, and its mix.

    ``cubes`` are the sets of test cubes that it gives, ``tank_fills`` litres of dilution filled in for it.
    """

    batch: Row
    start: datetime
    end: datetime
    people: int
    pour_life: PourLife
    fills: tuple[Fill, ...]
    left: Left
    mix: Proportions
    cubes: tuple[CubesCast, ...] = ()
    tank_fills: tuple[float, ...] = ()

    @property
    def until_poured_min(self) -> float:
        """How long it takes from the foam to the end of the pour."""
        return (self.batch.pour_to - self.batch.foam_at).total_seconds() / 60  # type: ignore[no-any-return]

    @property
    def is_in_time(self) -> bool:
        """Whether it is poured while it keeps, as the plan has it."""
        return self.pour_life.leaves_time_to_pour(self.until_poured_min)

    @property
    def pour_by(self) -> datetime:
        """When its pour life is over, in whole minutes."""
        return self.batch.foam_at + timedelta(minutes=int(self.pour_life.minutes))  # type: ignore[no-any-return]


@dataclass(frozen=True)
class Ready:
    """Blocks of one kind for one course, ready on one day; spares have no part, ``needed`` is ``None`` without a day.

    ``to_come`` are blocks of the course that are not ready yet at the end of the day, and ``apart`` those of batches
    outside their cards: it can be laid when there are none of either.
    """

    part: str
    course: int | None
    block: str
    count: int
    needed: date | None
    days_late: int
    to_come: int = 0
    apart: int = 0


@dataclass(frozen=True)
class OffRack:
    """Blocks whose time on a rack is over: how many of each, from when the first and the last of them may leave it.

    ``apart`` are those among them that are of batches outside their cards.
    """

    rack: str
    first: datetime
    last: datetime
    blocks: tuple[tuple[str, int], ...]
    apart: tuple[Apart, ...] = ()

    @property
    def count(self) -> int:
        """Blocks of all kinds."""
        return sum(n for _, n in self.blocks)


@dataclass(frozen=True)
class Day:
    """One day of the plan.

    Attributes
    ----------
    people : who is there; 0 on a day that is not worked.
    jobs : what the crew does, by start; empty on a day without work in the yard.
    delivered : what, and bags or litres of it.
    overnight : blocks that stand in the yard in the night after it.
    no_pour : why a working day before the last pour pours nothing; "" where that is not plain.
    fillers : filler moulds that can be stripped from some minute of it on.
    new_lots : cement or foaming agent of another lot, or of what may be one, first drawn on it.
    trials : of these, what a trial can be made of on it, before the day of the batch.
    agent_short_l : foaming agent that is missing on it, the foam weighed before each batch counted.
    kept_full : moulds and bases that are old enough, and stay full because the racks have no room.
    notes : what thumbs pressed into moulds make later or sooner, and which to press again, before what waits for it.
    crushed : test cubes whose day has come.
    apart : blocks that would be ready, were they not of batches outside their cards.
    """

    day: date
    people: int
    weather: DayWeather
    jobs: tuple[Job | Pour, ...]
    delivered: tuple[tuple[str, float], ...]
    ready: tuple[Ready, ...]
    off_rack: tuple[OffRack, ...]
    overnight: Overnight = NOTHING_STANDS
    no_pour: str = ""
    fillers: tuple[Ripe, ...] = ()
    new_lots: tuple[NewLot, ...] = ()
    trials: tuple[NewLot, ...] = ()
    kept_full: tuple[str, ...] = ()
    notes: tuple[Note, ...] = ()
    crushed: tuple[CubesDue, ...] = ()
    apart: tuple[Apart, ...] = ()
    agent_short_l: float = 0.0

    @property
    def pours(self) -> tuple[Pour, ...]:
        """Batches of the day."""
        return tuple(job for job in self.jobs if isinstance(job, Pour))

    def at(self, *tasks: str) -> tuple[Job, ...]:
        """Jobs of some tasks."""
        return tuple(job for job in self.jobs if isinstance(job, Job) and job.task in tasks)

    @property
    def has_work(self) -> bool:
        """Anything is done in the yard, or comes."""
        return any((self.jobs, self.delivered, self.off_rack, self.fillers, self.trials, self.notes, self.crushed))

    @property
    def is_quiet(self) -> bool:
        """Nothing happens."""
        return not (self.has_work or self.ready or self.apart)

    @property
    def saw_plans(self) -> frozenset[int]:
        """Numbers of the saw plans of slabs that are poured or sawn."""
        poured = {fill.saw_plan for pour in self.pours for fill in pour.fills}
        sawn = {slabs.saw_plan for job in self.at("strip") for slabs in job.slabs}
        return frozenset((poured | sawn) - {0})


def names_of(jobs: Iterable[Job]) -> list[str]:
    """What some jobs are done to."""
    return [name for job in jobs for name in job.names]


def onto_racks(jobs: Iterable[Job]) -> list[tuple[str, int]]:
    """Blocks that some jobs move to each rack, by its name."""
    blocks: Counter[str] = Counter()
    for job in jobs:
        blocks.update(dict(job.racks))
    return sorted(blocks.items())
