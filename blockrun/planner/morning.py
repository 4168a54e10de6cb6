"""The words of a morning: what can be stripped, what leaves a rack, what can be laid; `yard` fills, `show` prints."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING, Final, Literal

if TYPE_CHECKING:
    from blockrun.mix.off_card import OffCard

Counts = tuple[tuple[str, int], ...]
"""Blocks by mark."""

NEVER: Final = datetime.fromisoformat("9999-12-31T23:59")
"""Later than anything, to sort by."""

FELT: Final = {"soft": "sank into", "dents": "left a mark in"}
"""What a thumb did that tells of a strip to wait for, in words."""


DoubtedAir = Literal["", "warmer", "colder", "untold"]
"""Of a day since the pour: told far warmer than forecast; its night was colder; or over, and nobody told its air."""


@dataclass(frozen=True)
class Doubt:
    """Why a thumb is to be pressed before a strip, whatever is reckoned; nothing is doubted unless told.

    Attributes
    ----------
    again : its own last thumb did not let it be stripped.
    beside : moulds of the same pour in which a thumb was behind, and what it showed there.
    air : what is doubted of the air since the pour: there one thumb goes for all of the pour.
    """

    again: bool = False
    beside: tuple[tuple[str, str], ...] = ()
    air: DoubtedAir = ""


@dataclass(frozen=True)
class InMould:
    """A mould, or a base, with something in it.

    Attributes
    ----------
    place : its name.
    rack : where its blocks go by the plan; empty where that does not say.
    blocks : in it.
    sides_from : since when its sides may come off; None where there are none, or they are off. What is still to come
        lies within working hours, here and below.
    strip_from : since when it can be stripped; None where it is never old enough, in this weather.
    held : numbers of its batches whose cubes were too weak; it is not to be stripped then.
    doubt : why a thumb is to be pressed first.
    off_card : its batches that are outside their cards.
    """

    place: str
    rack: str
    blocks: Counts
    sides_from: datetime | None
    strip_from: datetime | None
    held: tuple[int, ...] = ()
    doubt: Doubt = Doubt()
    off_card: tuple[str, ...] = ()


@dataclass(frozen=True)
class OnRack:
    """A rack.

    Attributes
    ----------
    name : of it.
    leave : blocks that have been there long enough.
    stay : how many more there are.
    next_off : when the next of these leave; None where all may go.
    apart : those of them that leave and are of batches outside their cards.
    """

    name: str
    leave: Counts
    stay: int
    next_off: datetime | None
    apart: Counts = ()


@dataclass(frozen=True)
class Some:
    """Blocks of a course in one kind of place.

    Attributes
    ----------
    where : such as ``on the east rack``.
    blocks : by mark.
    lay_from : since when all of them may be laid; None where that is not known.
    poured : days on which they were poured, or are to be by the plan.
    unplanned : of those that are not cast yet, such as are in no pour of the plan.
    found : days on which counts found some that nobody had recorded: they are as old as if they were poured then.
    """

    where: str
    blocks: Counts
    lay_from: datetime | None
    poured: tuple[date, ...]
    unplanned: Counts = ()
    found: tuple[date, ...] = ()

    @property
    def count(self) -> int:
        """How many."""
        return sum(count for _, count in self.blocks)


@dataclass(frozen=True)
class CourseNow:
    """A course that is not yet laid whole.

    Attributes
    ----------
    part, course : which; course None where the part has none.
    ring : of a dome: it is laid whole or not at all.
    needed : the first day on which any of it is needed; None where no day is told.
    blocks : it has in all.
    laid : of them.
    ready : blocks that can be laid now.
    some : the others, by where they are.
    missing : those that are not cast yet; None where all are.
    after : the lowest course of the same part under it that cannot be laid whole yet; None without.
    dues : of the blocks that cannot be laid now, the days on which they are needed, each with when the last of those
        may be laid, None for never; some of a course, such as its lining, may be needed later than the others.
    apart : blocks among these that are of a batch outside its card.
    """

    part: str
    course: int | None
    ring: bool
    needed: date | None
    blocks: int
    laid: int
    ready: int
    some: tuple[Some, ...]
    missing: Some | None
    after: int | None = None
    dues: tuple[tuple[date, datetime | None], ...] = ()
    apart: int = 0

    @property
    def is_whole(self) -> bool:
        """Whether all that is left of it can be laid now."""
        return self.laid + self.ready == self.blocks

    @property
    def whole_from(self) -> datetime | None:
        """Since when it can be laid whole, by what is cast; None where that is not known."""
        moments = [one.lay_from for one in self.some]
        known = [moment for moment in moments if moment is not None]
        return max(known) if known and self.missing is None and len(known) == len(moments) else None


@dataclass(frozen=True)
class CubesNow:
    """What the cubes of a batch, crushed last, say of its blocks.

    Attributes
    ----------
    batch : its number.
    weakest_mpa : of them.
    age_h : hours at 20 degC that it had.
    job : ``strip`` or ``lay``.
    asked_mpa : the strength that waits for; None where the site asks for an age.
    holds : they are too weak, and the blocks have to wait.
    sooner : by them the blocks come sooner than reckoned.
    """

    batch: int
    weakest_mpa: float
    age_h: float
    job: str
    asked_mpa: float | None
    holds: bool = False
    sooner: bool = False


@dataclass(frozen=True)
class BatchOffCard:
    """A batch outside its card, of which blocks are yet to be laid and for which nothing speaks so far.

    Attributes
    ----------
    batch : its number, such as ``7`` or ``extra 1``.
    off : what of it weighed too much or too little.
    where : its blocks by where they are.
    asked_mpa : what its cubes are to have for it to count again; None where no strength is asked for.
    """

    batch: str
    off: OffCard
    where: tuple[tuple[str, Counts], ...]
    asked_mpa: float | None = None


@dataclass(frozen=True)
class StrippedEarly:
    """Blocks that came out of a mould too soon, and are not stacked yet.

    Attributes
    ----------
    place : the mould, or the base.
    blocks : of it that are there, by mark.
    stripped : when.
    early_h : whole hours before they were old enough; None where they never are, by their cubes or in this cold.
    beside : of those that were old enough as reckoned, moulds of the same pour in which a thumb was behind.
    """

    place: str
    blocks: Counts
    stripped: datetime
    early_h: int | None
    beside: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True)
class Morning:
    """What can be done at a moment.

    Attributes
    ----------
    moulds : with something in them, by when they may be stripped.
    beside : blocks that are out of a mould and on no rack yet, by where they stood.
    racks : with something on them.
    courses : in the order in which they are needed.
    next_whole : the course that can be finished next, all under it first; None where no further one is cast whole.
    seen_until : the last day of which the air was seen; None where nobody told.
    clashes : entries that cannot have been, with what speaks against them.
    cubes : of batches that stand in moulds, and of those whose blocks may not be laid.
    cubes_doubted : what is odd about cubes that were recorded; empty where nothing is.
    units : that the site prints in.
    off_card : batches whose blocks are not to be laid as they are.
    early : what came out of its mould too soon and is not stacked yet.
    """

    at: datetime
    moulds: tuple[InMould, ...]
    beside: tuple[tuple[str, Counts], ...]
    racks: tuple[OnRack, ...]
    courses: tuple[CourseNow, ...]
    next_whole: CourseNow | None
    seen_until: date | None
    clashes: tuple[str, ...]
    cubes: tuple[CubesNow, ...] = ()
    cubes_doubted: str = ""
    units: str = "SI"
    off_card: tuple[BatchOffCard, ...] = ()
    early: tuple[StrippedEarly, ...] = ()
