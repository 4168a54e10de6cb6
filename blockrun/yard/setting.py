"""What a run has to know of a saved plan: plain numbers alone, so that they travel to any worker.

Minutes count from midnight before the first day of the calendar, days from that day. Blocks of one mark and mix are one
and the same to every course that needs them, so both have one number: the *mark*.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.units import MINUTES_A_DAY
from blockrun.yard.ripening import Ripening

if TYPE_CHECKING:
    from blockrun.site import Stack
    from blockrun.yard.hot import Hot

NEVER: Final = 10_000_000
"""A minute, or a day, later than any run."""


@dataclass(frozen=True, slots=True)
class Fill:
    """What one cavity holds: a block, or a slab that is sawn into several.

    Attributes
    ----------
    marks : of its blocks.
    volume_l : poured for it, overfill included.
    blocks : numbers of its blocks in the plan, by which chance finds them; empty for a fill that is not planned.
    due : the last day on which it should be poured; `NEVER` where no course waits for it.
    """

    mix: int
    marks: tuple[int, ...]
    volume_l: float
    blocks: tuple[int, ...] = ()
    due: int = NEVER

    def each(self) -> Iterator[tuple[int, int | None]]:
        """The mark of each block, and its number in the plan, if it has one."""
        return zip(self.marks, self.blocks or (None,) * len(self.marks), strict=True)


@dataclass(frozen=True, slots=True)
class Load:
    """One size of batch: of `blockrun.mix.BatchSize` and its mixer, what a run asks for.

    ``hardy`` is one that is poured however hot it is, for no hour of a year is cool enough for any batch of its mix.
    """

    mixer: int
    bags: float
    agent_l: float
    room_l: float
    slurry: int
    foam: int
    pour: int
    wash: int
    crew: int
    hardy: bool = False

    @property
    def from_foam(self) -> int:
        """Minutes from the foam going in to the last block poured."""
        return self.foam + self.pour

    @property
    def to_pour(self) -> int:
        """Minutes from the start to the first block poured."""
        return self.slurry + self.foam

    @property
    def length(self) -> int:
        """Minutes the mixer and its crew are busy."""
        return self.to_pour + self.pour + self.wash


@dataclass(frozen=True, slots=True)
class Kind:
    """Equal moulds: minutes of their jobs, hours at 20 degC they wait, what they cast.

    ``moves`` are minutes to move 0, 1, 2, ... blocks; ``bases`` is 0 and ``sides_h`` unused for moulds without.
    ``no_moulds`` and ``no_bases`` are numbers of those out of use.
    """

    count: int
    cavities: int
    strip: int
    clean: int
    bases: int
    sides: int
    sides_h: float
    moves: tuple[int, ...]
    no_moulds: frozenset[int] = frozenset()
    no_bases: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class PlannedTurn:
    """A turn as planned: which mould and base, how many cavities it fills, and when its jobs begin."""

    kind: int
    unit: int
    base: int
    n_fills: int
    sides: int
    strip: int
    clean: int


@dataclass(frozen=True, slots=True)
class PlannedBatch:
    """A batch as planned.

    Attributes
    ----------
    load : its size.
    cubes_l : what test cubes take of it.
    parts : what it pours, by turn.
    """

    number: int
    day: int
    start: int
    mix: int
    load: Load
    cubes_l: float
    parts: tuple[tuple[int, tuple[Fill, ...]], ...]


@dataclass(frozen=True, slots=True)
class Stood:
    """A turn that was begun before a run begins, and is not over.

    Attributes
    ----------
    fills : each with the end of its pour; none where no block is good, and its mould is still to be cleaned.
    last_pour, bared, stripped : minutes, -1 for what is still to be done.
    """

    planned: PlannedTurn
    fills: tuple[tuple[Fill, int], ...]
    last_pour: int
    bared: int
    stripped: int


class Out(NamedTuple):
    """Good blocks of one mark that were out of their moulds before a run begins.

    Attributes
    ----------
    ready : the day from which they may be laid; of those that are laid already not after the day they were.
    leaves : the minute at which they leave the rack; 0 for those that are off it.
    is_spare, is_laid : whether they were cast as spares; whether they are laid.
    """

    mark: int
    ready: int
    leaves: int
    is_spare: bool
    is_laid: bool


@dataclass(frozen=True)
class Before:
    """What had happened before a run begins; nothing for a plan from the start.

    Attributes
    ----------
    opens : the first minute at which anything may be done.
    stood : turns that are not over, in the order in which they were filled.
    out : how many blocks there are of each.
    batches, last_pour : made; the minute at which the last one began.
    cement, agent : bags and litres that they took.
    """

    opens: int = 0
    stood: tuple[Stood, ...] = ()
    out: Mapping[Out, int] = field(default_factory=dict)
    batches: int = 0
    last_pour: int = 0
    cement: float = 0.0
    agent: float = 0.0

    @property
    def day(self) -> int:
        """The first day of which something is still to come."""
        return self.opens // MINUTES_A_DAY

    def n_laid(self, mark: int) -> int:
        """Blocks of a mark that are laid."""
        return sum(count for out, count in self.out.items() if out.mark == mark and out.is_laid)


@dataclass(frozen=True, slots=True)
class Day:
    """A working day: people the plan counts on, chores in minutes of the day; ``last_foam`` is under 0 for no pour.

    ``hot`` are the minutes too hot for some batches, in the air as forecast and in that of a snap.
    """

    number: int
    people: int
    last_foam: int
    chores: tuple[tuple[int, int, int], ...]
    hot: tuple[Hot, Hot] = ({}, {})


@dataclass(frozen=True, slots=True)
class Course:
    """A part and course whose blocks are needed on one day."""

    part: str
    course: int | None
    day: int


@dataclass(frozen=True)
class Setting:
    """A plan as a run sees it.

    Attributes
    ----------
    mixes, marks : their names.
    kinds, batches, turns : of moulds; of the plan.
    loads : by mix and then by mixer, smallest first.
    casts : by mark, what a new fill of it may be: kind of mould, and the fill.
    days : all working days, many after the last one planned; those a run may use.
    windows : minutes of a working day in which tasks may run.
    wanted : blocks ordered, by mark.
    courses : with the day each is needed.
    needs : by mark, the day and the course of each block that has one, soonest first.
    spares : blocks cast as spares, and the day each is poured; ``days_of_spares`` has these by mark, ascending.
    least_c : coldest air of a day in which blocks stand in moulds.
    lowest_c : forecast minimum, by day; a snap is ``colder_c`` under it.
    stack : ground for blocks off the rack, where it is small; ``formats`` is by mark, equal for one size and mix.
    cement, agent : ascending (day, bags or litres that have come by then).
    more_cement, more_agent : days until more is there when it runs out.
    before : what had happened, of a plan made anew in the middle of the job.
    """

    mixes: tuple[str, ...]
    marks: tuple[str, ...]
    kinds: tuple[Kind, ...]
    batches: tuple[PlannedBatch, ...]
    turns: tuple[PlannedTurn, ...]
    loads: tuple[tuple[tuple[Load, ...], ...], ...]
    casts: tuple[tuple[tuple[int, Fill], ...], ...]
    days: tuple[Day, ...]
    windows: tuple[tuple[int, int], ...]
    wanted: tuple[int, ...]
    courses: tuple[Course, ...]
    needs: tuple[tuple[tuple[int, int], ...], ...]
    n_blocks: int
    spares: Mapping[int, int]
    days_of_spares: Mapping[int, Sequence[int]]
    places: int
    rack_for: int
    ripening: Ripening = field(repr=False)
    people: int
    least_c: float
    colder_c: float
    lowest_c: tuple[float, ...] = field(repr=False)
    cement: tuple[tuple[int, float], ...] = ()
    agent: tuple[tuple[int, float], ...] = ()
    more_cement: int = 5
    more_agent: int = 5
    stack: Stack | None = None
    formats: tuple[int, ...] = ()
    before: Before = field(default_factory=Before)

    @property
    def n_days(self) -> int:
        """Calendar days that are looked at."""
        return len(self.lowest_c)

    @cached_property
    def next_days(self) -> list[int]:
        """By calendar day, itself or the next that is worked; after the last of these, itself."""
        found = list(range(self.n_days))
        following = -1
        worked = {day.number for day in self.days}
        for number in reversed(range(self.days[-1].number + 1)):
            following = number if number in worked else following
            found[number] = following
        return found

    def marks_of(self, course: int) -> tuple[str, ...]:
        """Marks of the blocks of a course, by its number."""
        needs = zip(self.marks, self.needs, strict=True)
        return tuple(mark for mark, of_mark in needs if any(needed_by == course for _, needed_by in of_mark))

    def working_minute(self, at: int) -> int:
        """First working minute at or after one."""
        number, minute = divmod(at, MINUTES_A_DAY)
        if number >= self.n_days - 1:
            return at
        if self.next_days[number] == number:
            for start, end in self.windows:
                if minute < end:
                    return number * MINUTES_A_DAY + max(start, minute)
            number += 1
        return max(at, self.next_days[number] * MINUTES_A_DAY + self.windows[0][0])
