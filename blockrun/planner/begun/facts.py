"""What had happened in a yard by the moment at which its plan was made anew: no plan can change any of it.

The journal tells it, `yard` puts it together, and the plan keeps it beside its inputs, so that the plan stands alone.
"""

from __future__ import annotations

from datetime import date, datetime
from pathlib import Path
from typing import Annotated, Final, Literal, Self

from pydantic import BaseModel, ConfigDict, Field, ValidationError, model_validator

from blockrun.errors import BadPlan
from blockrun.files.text import read_text
from blockrun.planner.morning import DoubtedAir
from blockrun.site.mould_names import kind_named

FILE: Final = "begun.json"
"""Its name among the inputs of a plan."""

_AGAIN: Final = "Put the file back as it was, or go back to the plan before: blockrun replan DIR --undo"

Some = tuple[str, str, int]
"""A mark, a mix, and how many blocks."""


class _Fact(BaseModel):
    model_config = ConfigDict(frozen=True, extra="forbid")


class BatchPoured(_Fact):
    """A batch that was poured.

    Attributes
    ----------
    number : in this plan, and in those after it: it stands on its card, its label and its blocks.
    plan, was : digits of the plan by which it was recorded, and its number there.
    poured : when the last of it was in the moulds.
    cubes : sets of test cubes that it gave.
    sets : the numbers of these, which are written on their cubes; none where no plan has it.
    crushed : cubes of it that are crushed already, each by its age in days.
    lost_l : litres, without overfill, of the cavities that it filled and of which no good block is left.
    """

    number: Annotated[int, Field(ge=1)]
    plan: str
    was: int
    mixer: str
    mix: str
    bags: Annotated[float, Field(gt=0, allow_inf_nan=False)]
    poured: datetime
    cubes: Annotated[int, Field(ge=0)] = 0
    sets: tuple[Annotated[int, Field(ge=1)], ...] = ()
    crushed: tuple[float, ...] = ()
    lost_l: Annotated[float, Field(ge=0, allow_inf_nan=False)] = 0.0

    @model_validator(mode="after")
    def _numbers_its_sets(self) -> Self:
        if self.sets and len({*self.sets}) != self.cubes:
            raise ValueError("a batch has as many numbers of sets of test cubes as it gave, each but once")
        return self


class BlockCast(_Fact):
    """A good block.

    Attributes
    ----------
    cavity : it was cast in; of a slab, its place in the saw plan.
    batch : its number in this plan.
    rack : it is on; empty where it is on none, or not yet.
    off_rack : whether it was moved on, to the stack or the wall.
    laid : when it was laid; None where it is not. It is late no longer then, however young it was.
    sawn : of one sawn out of a slab: from the left, from the bottom, its length and height there, in mm.
    """

    cavity: Annotated[int, Field(ge=1)]
    mark: str
    mix: str
    batch: int
    rack: str = ""
    off_rack: bool = False
    laid: datetime | None = None
    sawn: tuple[float, float, float, float] | None = None


class TurnBegun(_Fact):
    """A turn of a mould that was begun: only its good blocks. One without any is told for the clean that it needs.

    Attributes
    ----------
    turn : its number among those of the mould.
    sides_off : when its sides came off; None where they have not, or there is no base.
    strip : when it was stripped; None while it stands.
    clean : when it was clean again; None where it is not.
    poured : when it was filled last, of one without a good block: no batch tells it.
    sides_from, strip_from : from when its sides may come off and it may be stripped, of one into which thumbs were
        pressed that put it off; None where none did.
    beside : places of the same pour in which a thumb was behind, and what it showed there: a thumb goes first here too.
    air : what is doubted of the air since the pour: there one thumb goes first for all of the pour.
    """

    mould: str
    base: str = ""
    turn: Annotated[int, Field(ge=1)]
    sides_off: datetime | None = None
    strip: datetime | None = None
    clean: datetime | None = None
    poured: datetime | None = None
    sides_from: datetime | None = None
    strip_from: datetime | None = None
    beside: tuple[tuple[str, str], ...] = ()
    air: DoubtedAir = ""
    blocks: tuple[BlockCast, ...] = ()

    @model_validator(mode="after")
    def _is_there(self) -> Self:
        if not self.blocks and (self.poured is None or self.strip is None or self.clean is not None):
            raise ValueError("a turn without a good block was poured and stripped, and is to be cleaned")
        return self

    @property
    def place(self) -> str:
        """Where its blocks stand until the strip."""
        return self.base or self.mould

    @property
    def kind(self) -> str:
        """Its kind of mould."""
        return kind_named(self.mould)


class Air(_Fact):
    """The least and the most of a day, as seen."""

    day: date
    min_c: float
    max_c: float


class Coming(_Fact):
    """A delivery, as it came or is still to come: bags of cement, or litres of foaming agent."""

    day: date
    amount: Annotated[float, Field(gt=0, allow_inf_nan=False)]
    lot: str | None = None


class MaterialBegun(_Fact):
    """A material as it was counted and came, in bags, litres or kilograms.

    Attributes
    ----------
    on_hand : on the first day of the calendar.
    came : what came, on its day, and what is to come.
    found, missing : what counts had more and less than the books, on their days, and what batches of no plan drew
        otherwise; foam that was weighed is in the books.
    """

    on_hand: Annotated[float, Field(ge=0, allow_inf_nan=False)]
    came: tuple[Coming, ...] = ()
    found: tuple[Coming, ...] = ()
    missing: tuple[Coming, ...] = ()


class SawPlanBefore(_Fact):
    """How slabs of a kind of mould are sawn, as the plans before numbered it.

    Attributes
    ----------
    blocks : of each, from the left, from the bottom, its length and height there, in mm.
    """

    number: Annotated[int, Field(ge=1)]
    kind: str
    blocks: tuple[tuple[float, float, float, float], ...]


class Begun(_Fact):
    """All that had happened.

    Attributes
    ----------
    since : the moment at which the plan was made anew: what is before it happened, what is after it is planned.
    number, after : of the plan, and of the one that it follows.
    batches : in order of the clock; their numbers need not be, nor follow one another.
    turns : with good blocks, or to be cleaned, by mould and number.
    spares : to be had in the end, of each mark and mix.
    found : blocks that a count found and nobody had cast, by mark and mix.
    lost : days on which nobody works, besides those closed.
    away : days and how many people are away, besides those that the site tells.
    out_of_use : moulds and bases.
    air : days that were seen.
    recorded : materials by their names, once one was counted or came; empty where the site tells all rightly.
    saw_plans : of the plans before: sheets with their numbers hang on walls, and slabs stand in moulds.
    last_entry : number of the last that was in the journal then, whatever it told.
    """

    format: Literal[1] = 1
    since: datetime
    number: Annotated[int, Field(ge=2)] = 2
    after: Annotated[int, Field(ge=1)] = 1
    batches: tuple[BatchPoured, ...] = ()
    turns: tuple[TurnBegun, ...] = ()
    spares: tuple[Some, ...] = ()
    found: tuple[Some, ...] = ()
    lost: tuple[date, ...] = ()
    away: tuple[tuple[date, int], ...] = ()
    out_of_use: tuple[str, ...] = ()
    air: tuple[Air, ...] = ()
    recorded: dict[str, MaterialBegun] = {}
    saw_plans: tuple[SawPlanBefore, ...] = ()
    last_entry: Annotated[int, Field(ge=0)] = 0

    @property
    def poured(self) -> frozenset[int]:
        """Numbers of its batches."""
        return frozenset(batch.number for batch in self.batches)

    @property
    def sets(self) -> dict[int, tuple[int, ...]]:
        """Numbers of the sets of test cubes that its batches gave, by the number of the batch."""
        return {batch.number: batch.sets for batch in self.batches}

    @property
    def lost_l(self) -> dict[int, float]:
        """Litres of what its batches filled besides their good blocks, by number."""
        return {batch.number: batch.lost_l for batch in self.batches}

    def text(self) -> str:
        """As it is saved."""
        return self.model_dump_json(indent=1, exclude_defaults=True) + "\n"


def read_begun(path: Path) -> Begun:
    """What had happened, as it was saved.

    Raises
    ------
    BadPlan : the file is not as it was written.
    """
    try:
        return Begun.model_validate_json(read_text(path))
    except ValidationError as error:
        fault = error.errors(include_url=False)[0]
        where = ".".join(str(step) for step in fault["loc"])
        raise BadPlan(f"{where}: {fault['msg']}" if where else fault["msg"], _AGAIN, file=path) from error
