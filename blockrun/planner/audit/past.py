"""What had happened before a plan was made anew: as it is told, for no clock says what was done."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.planner.audit.turns import Turn
    from blockrun.planner.begun.facts import Begun, BlockCast, TurnBegun


@dataclass(frozen=True)
class Past:
    """What had happened.

    Attributes
    ----------
    begun : as it is told; None for a plan from the start, before which nothing had.
    first_day : of the calendar.
    """

    begun: Begun | None
    first_day: date

    @cached_property
    def now(self) -> int:
        """Minute at which the plan was made anew: nothing is planned before; 0 for a plan from the start."""
        return self.minute(self.begun.since) if self.begun else 0

    def minute(self, moment: datetime) -> int:
        """Minutes since midnight of the first day; what was sooner counts as that."""
        return max(0, (moment - datetime.combine(self.first_day, time())) // timedelta(minutes=1))

    @cached_property
    def poured(self) -> frozenset[int]:
        """Numbers of the batches that were poured."""
        return self.begun.poured if self.begun else frozenset()

    @cached_property
    def lost_l(self) -> Mapping[int, float]:
        """Litres that batches filled besides their good blocks, by number."""
        return self.begun.lost_l if self.begun else {}

    def stock_besides(self, material: str, weighed: float) -> Mapping[int, float]:
        """What counts found more of a material, or less, under nought, by day, in its unit.

        Parameters
        ----------
        weighed : what of it the foam took that was weighed before each batch poured.
        """
        found: defaultdict[int, float] = defaultdict(float)
        told = self.begun.recorded.get(material) if self.begun else None
        if self.begun is None or told is None:
            return found
        for one in told.found:
            found[self._day(one.day)] += one.amount
        for one in told.missing:
            found[self._day(one.day)] -= one.amount
        for batch in self.begun.batches:
            found[self._day(batch.poured.date())] -= weighed
        return found

    def _day(self, day: date) -> int:
        return (day - self.first_day).days

    @cached_property
    def turns(self) -> Mapping[tuple[str, int], TurnBegun]:
        """Turns that were begun, by mould and number."""
        return {(turn.mould, turn.turn): turn for turn in self.begun.turns} if self.begun else {}

    @cached_property
    def blocks(self) -> Mapping[tuple[str, int, int], BlockCast]:
        """Good blocks by mould, turn and cavity."""
        return {(*name, block.cavity): block for name, turn in self.turns.items() for block in turn.blocks}

    def laid_at(self, mould: str, turn: int, cavity: int) -> int | None:
        """Minute at which a block was laid; None where it was not."""
        block = self.blocks.get((mould, turn, cavity))
        return None if block is None or block.laid is None else self.minute(block.laid)

    def has_begun(self, turn: Turn) -> bool:
        """Whether a turn was filled."""
        return (turn.mould, turn.number) in self.turns

    def has_done(self, turn: Turn, job: str) -> bool:
        """Whether a job of a turn was done; blocks are moved as soon as they are stripped."""
        return self.end_of(turn, "strip" if job == "move" else job) is not None

    def put_off(self, turn: Turn, job: str) -> int:
        """Minute to which thumbs put off the sides or the strip of a turn that stood; 0 where they did not."""
        told = self.turns.get((turn.mould, turn.number))
        moment = None if told is None else {"sides": told.sides_from, "strip": told.strip_from}[job]
        return 0 if moment is None else self.minute(moment)

    def end_of(self, turn: Turn, job: str) -> int | None:
        """Minute at which the sides of a turn were off, or it was stripped or clean; None where it was not."""
        told = self.turns.get((turn.mould, turn.number))
        if told is None or (job == "sides" and turn.kind.bases is None):
            return None
        moment = {"sides": told.sides_off, "strip": told.strip, "clean": told.clean}[job]
        if moment is None and job == "sides" and told.strip is not None:
            # nobody told of the sides: they came off just before
            return self.minute(told.strip) - turn.lengths["strip"]
        return None if moment is None else self.minute(moment)
