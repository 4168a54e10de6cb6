"""When moulds were clean again after their strips: nobody records it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Iterator

    from blockrun.planner.as_planned import PlannedCast
    from blockrun.planner.begun.facts import TurnBegun
    from blockrun.yard.now import Pour, Standing
    from blockrun.yard.replan.kept import Kept


@dataclass(frozen=True)
class Cleans:
    """Cleans by the plans.

    Parameters
    ----------
    plans : made for the job, the one in hand first.
    at : the moment.
    """

    plans: Sequence[Kept]
    at: datetime

    def after(self, turn: Standing, number: int, following: datetime | None) -> datetime | None:
        """When a mould was clean after a turn; None where it is not yet.

        It was before the next pour. After the last turn it was when the plan has it, if it was stripped by then; else
        on another day than that of the strip. Where all was thrown out, no plan and no sheet had anybody clean it then.

        Parameters
        ----------
        number : of the turn, among those of its mould.
        following : when the next turn was poured in its place; None where none was.
        """
        if turn.stripped is None:
            return None
        told = self._told(turn, number)
        if told is not None and told.clean is not None and told.strip == turn.stripped:
            return told.clean
        begin, end = self._planned(turn, told) or (None, None)
        by = self.at if following is None else min(self.at, following)
        if begin is not None and end is not None and turn.stripped <= begin and end <= by:
            return end
        takes = timedelta() if begin is None or end is None else end - begin
        if following is not None:
            return max(turn.stripped, min(turn.stripped + takes, following))
        all_lost = len(turn.lost) >= len(turn.filled)
        return turn.stripped + takes if turn.stripped.date() < self.at.date() and not all_lost else None

    def _told(self, turn: Standing, number: int) -> TurnBegun | None:
        """What the plan in hand was told of a turn."""
        return self._all_told.get((turn.mould, turn.base, number))

    @cached_property
    def _all_told(self) -> dict[tuple[str, str, int], TurnBegun]:
        begun = self.plans[0].plan.begun
        return {(turn.mould, turn.base, turn.turn): turn for turn in (begun.turns if begun else ())}

    def _planned(self, turn: Standing, told: TurnBegun | None) -> tuple[datetime, datetime] | None:
        """Begin and end of the clean that the plan in hand has after a turn, or else the plan of its batch."""
        if told is not None and not told.blocks and told.strip is not None:
            row = self.plans[0].clean_from(turn.mould, turn.base, told.strip)
            return None if row is None else (row.start.to_pydatetime(), row.end.to_pydatetime())
        for kept, cast in self._casts(turn):
            if cast.place == turn.place and (row := kept.clean_from(cast.mould, cast.base, cast.strip)) is not None:
                return row.start.to_pydatetime(), row.end.to_pydatetime()
        return None

    def _casts(self, turn: Standing) -> Iterator[tuple[Kept, PlannedCast]]:
        """What plans have for the batches of a turn."""
        pours = dict.fromkeys((one.batch, one.poured) for one in turn.filled)
        hand, by_id = self.plans[0], {kept.id: kept for kept in self.plans}
        for pour in pours:
            number = self._in_hand.get(pour)
            yield from ((hand, cast) for cast in hand.as_planned.batches.get(number or 0, ()))
        for (plan, batch), _ in pours:
            if plan in by_id:
                yield from ((by_id[plan], cast) for cast in by_id[plan].as_planned.batches.get(batch, ()))

    @cached_property
    def _in_hand(self) -> dict[Pour, int]:
        """Numbers that the plan in hand has for what was poured before it."""
        begun = self.plans[0].plan.begun
        return {((one.plan, one.was), one.poured): one.number for one in (begun.batches if begun else ())}
