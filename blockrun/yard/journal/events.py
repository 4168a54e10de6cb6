"""The kinds of things that happen in a yard, and what is told of each.

An event tells all that is to be known of it without the plan, which may be another one by the time it is read. A field
that nobody told has its default; times are not here, for every entry has them.
"""

from __future__ import annotations

from datetime import date, datetime
from typing import Annotated, Any, Final, Literal, Self, get_args

from pydantic import BaseModel, ConfigDict, Field, TypeAdapter, model_validator

Name = Annotated[str, Field(min_length=1, max_length=200)]
Words = Annotated[str, Field(max_length=2000)]
Count = Annotated[int, Field(ge=1, le=1_000_000)]
Measured = Annotated[float, Field(gt=0, lt=1e9)]
Degrees = Annotated[float, Field(ge=-90, le=90)]
Digits = Annotated[str, Field(max_length=40)]


class _Told(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class Blocks(_Told):
    """So many blocks of one mark and mix."""

    mark: Name
    mix: Name
    count: Count


class OfBatch(_Told):
    """A batch, by the digits of the plan by which it has its number; 0 of blocks that a count found."""

    plan: Digits = ""
    batch: Annotated[int, Field(ge=0, le=1_000_000)]


class Fill(_Told):
    """What one mould got: the mark in each cavity from the first on, empty for a cavity left empty."""

    mould: Name
    base: str = ""
    marks: tuple[str, ...]


class Event(_Told):
    """What every event may tell besides: by whom, and a remark."""

    who: Words = ""
    remark: Words = ""


class Poured(Event):
    """A batch was poured; ``plan`` are the digits of the plan by which it has its number.

    A mould whose cavity is sawn into several blocks is named among the fills once for each of them. Of a batch that was
    thrown away in the drum all cavities of all moulds that it was for are left empty. ``foam_due_g_l`` and
    ``wet_due_kg_m3`` are what its card asked of what was weighed, for a later plan may ask for something else.
    """

    kind: Literal["poured"] = "poured"
    batch: Count
    plan: Digits = ""
    mix: Name
    fills: Annotated[tuple[Fill, ...], Field(min_length=1)]
    foam_g_l: Measured | None = None
    wet_density_kg_m3: Measured | None = None
    foam_due_g_l: Measured | None = None
    wet_due_kg_m3: Measured | None = None
    mix_degc: Degrees | None = None

    @property
    def is_weighed(self) -> bool:
        """Whether its foam or its mix was weighed."""
        return self.foam_g_l is not None or self.wet_density_kg_m3 is not None

    @property
    def filled(self) -> tuple[Fill, ...]:
        """What moulds got that got anything; nothing where the batch was thrown away."""
        return tuple(fill for fill in self.fills if any(fill.marks))


class SidesOff(Event):
    """The sides came off a mould, and its block stays on the base."""

    kind: Literal["sides off"] = "sides off"
    mould: Name
    base: Name


class Stripped(Event):
    """A mould, or a base, was stripped: what came out whole, and what broke."""

    kind: Literal["stripped"] = "stripped"
    mould: Name
    base: str = ""
    whole: tuple[Blocks, ...] = ()
    broken: tuple[Blocks, ...] = ()


class Moved(Event):
    """Blocks were moved to a rack, of some batches alone where these are told.

    They came from beside ``mould``, if one is told, or from ``from_rack``, if one is; else from wherever they were.
    """

    kind: Literal["moved"] = "moved"
    rack: Name
    blocks: Annotated[tuple[Blocks, ...], Field(min_length=1)]
    mould: str = ""
    from_rack: str = ""
    of: tuple[OfBatch, ...] = ()


class Stacked(Event):
    """Blocks left a rack for the stack, of some batches alone where these are told."""

    kind: Literal["stacked"] = "stacked"
    rack: Name
    where: Words = ""
    blocks: Annotated[tuple[Blocks, ...], Field(min_length=1)]
    of: tuple[OfBatch, ...] = ()


class Laid(Event):
    """Blocks were laid in a course of a part; of batches that were set apart then, only for want of others.

    Where batches are told, ``of``, they are of these alone.
    """

    kind: Literal["laid"] = "laid"
    part: Name
    course: Count | None = None
    blocks: Annotated[tuple[Blocks, ...], Field(min_length=1)]
    apart: tuple[OfBatch, ...] = ()
    of: tuple[OfBatch, ...] = ()


class Rejected(Event):
    """Blocks were thrown out: from where, and why; those of batches that were set apart then before others.

    Where batches are told, ``of``, they are of these alone.
    """

    kind: Literal["rejected"] = "rejected"
    place: Literal["mould", "rack", "stack"]
    name: str = ""
    blocks: Annotated[tuple[Blocks, ...], Field(min_length=1)]
    why: Words
    apart: tuple[OfBatch, ...] = ()
    of: tuple[OfBatch, ...] = ()


class Passed(Event):
    """A batch outside its card may be used all the same: somebody has looked, and answers for it."""

    kind: Literal["passed"] = "passed"
    batch: Count
    plan: Digits = ""
    why: Words


_KN_A_MM2_IN_MPA: Final = 1000.0


class Crushed(Event):
    """A cube or a block was crushed: the load that broke it, its size as loaded, and its age."""

    kind: Literal["crushed"] = "crushed"
    what: Literal["cube", "block"]
    mix: Name
    batch: Count | None = None
    plan: Digits = ""
    marked: Words = ""
    load_kn: Measured
    length_mm: Measured
    width_mm: Measured
    age_d: Annotated[float, Field(gt=0, le=3650)]
    dry_density_kg_m3: Measured | None = None

    @property
    def strength_mpa(self) -> float:
        """Load over area."""
        return _KN_A_MM2_IN_MPA * self.load_kn / (self.length_mm * self.width_mm)


class Stood(_Told):
    """What stood in a mould when it was pressed: batches by which plan, their pour, and ages reckoned then."""

    plan: Digits = ""
    turn: Annotated[int, Field(ge=0, le=1_000_000)] = 0
    batches: tuple[Count, ...] = ()
    mix: str = ""
    poured: datetime
    age_h: Measured
    strip_planned: datetime | None = None
    strip_now: datetime


class Thumbed(Event):
    """A thumb was pressed into a block in its mould."""

    kind: Literal["thumbed"] = "thumbed"
    mould: Name
    base: str = ""
    thumb: Literal["soft", "dents", "firm"]
    stood: Stood | None = None


COUNTED_IN: Final = {"cement": "bags", "foaming agent": "L", "oil": "L"}
"""What stock is counted in."""

ELSE_IN: Final = "kg"
"""What all other stock is."""


class Delivered(Event):
    """Something came; cement in bags, foaming agent and oil in litres, else kilograms."""

    kind: Literal["delivered"] = "delivered"
    material: Name
    amount: Measured
    lot: Words = ""


class Counted(Event):
    """Stock was counted by hand; in the units of `Delivered`."""

    kind: Literal["counted"] = "counted"
    material: Name
    amount: Annotated[float, Field(ge=0, lt=1e9)]


class BlocksCounted(Event):
    """Blocks on a rack or a stack were counted by hand; none of a mark is a count, too.

    Where some are missing, these are of batches that were set apart then, ``apart``, only for want of others.
    """

    kind: Literal["blocks counted"] = "blocks counted"
    place: Literal["rack", "stack"]
    name: str = ""
    mark: Name
    mix: Name
    count: Annotated[int, Field(ge=0, le=1_000_000)]
    apart: tuple[OfBatch, ...] = ()


class WeatherSeen(Event):
    """The least and the most of the air on a day, as somebody read it."""

    kind: Literal["weather seen"] = "weather seen"
    day: date
    min_degc: Degrees
    max_degc: Degrees

    @model_validator(mode="after")
    def _least_first(self) -> Self:
        if self.min_degc > self.max_degc:
            raise ValueError("the least of the air is more than the most of it")
        return self


class DayLost(Event):
    """Nobody works on a day."""

    kind: Literal["day lost"] = "day lost"
    day: date
    why: Words = ""


class PersonAway(Event):
    """So many people are missing from one day to another, both included; who, where that is told of all of them."""

    kind: Literal["person away"] = "person away"
    first: date
    last: date
    people: Count = 1
    names: tuple[Name, ...] = ()

    @model_validator(mode="after")
    def _first_first(self) -> Self:
        if self.first > self.last:
            raise ValueError("the last day comes before the first")
        return self


class MouldOut(Event):
    """A mould, or a base, is out of use."""

    kind: Literal["mould out"] = "mould out"
    mould: Name
    why: Words = ""


class MouldBack(Event):
    """A mould, or a base, is in use again."""

    kind: Literal["mould back"] = "mould back"
    mould: Name


class Note(Event):
    """Words to keep."""

    kind: Literal["note"] = "note"
    words: Annotated[str, Field(min_length=1, max_length=2000)]


class Undone(Event):
    """An entry that was a mistake: the one with this key counts no longer."""

    kind: Literal["undone"] = "undone"
    key: Name


AnyEvent = (
    Poured
    | SidesOff
    | Stripped
    | Moved
    | Stacked
    | Laid
    | Rejected
    | Passed
    | Crushed
    | Thumbed
    | Delivered
    | Counted
    | BlocksCounted
    | WeatherSeen
    | DayLost
    | PersonAway
    | MouldOut
    | MouldBack
    | Note
    | Undone
)

KINDS: Final[dict[str, type[Event]]] = {one.model_fields["kind"].default: one for one in get_args(AnyEvent)}
"""Every kind of event by its name, in the order above."""

EVENTS: Final[TypeAdapter[Any]] = TypeAdapter(Annotated[AnyEvent, Field(discriminator="kind")])
"""Reads any event from the text of it."""
