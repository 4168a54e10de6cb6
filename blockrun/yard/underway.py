"""What had happened before a run of a plan that was made anew in the middle of its job."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from functools import cached_property
from typing import TYPE_CHECKING

from blockrun.planner.begun.facts import Begun, BlockCast, TurnBegun
from blockrun.planner.in_moulds import Turn
from blockrun.planner.rows import Row, rows_of
from blockrun.site.mould_names import number_named
from blockrun.yard.setting import Before, Out, PlannedTurn, Stood

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.yard.numbered import Numbered


def before_run(plan: Plan, numbered: Numbered) -> Before:
    """What had happened; nothing for a plan from the start."""
    return Before() if plan.begun is None else _Underway(plan, numbered, plan.begun).before()


def out_of_use(plan: Plan, names: Iterable[str]) -> frozenset[int]:
    """Numbers of those of some moulds, or bases, that are out of use."""
    gone = plan.begun.out_of_use if plan.begun else ()
    return frozenset(number_named(name) for name in names if name in gone)


@dataclass(frozen=True)
class _Underway:
    plan: Plan
    numbered: Numbered
    begun: Begun

    def before(self) -> Before:
        batches = [row for row in self._batches if row.batch in self.begun.poured]
        return Before(
            opens=max([self._minute(self.begun.since), *(self._minute(row.end) for row in batches)]),
            stood=tuple(sorted(self._stood(), key=lambda stood: stood.last_pour)),
            out=Counter(self._out()),
            batches=len(batches),
            last_pour=max((self._minute(row.start) for row in batches), default=0),
            cement=sum(row.bags for row in batches),
            agent=sum(row.agent_l for row in batches),
        )

    def _minute(self, moment: datetime) -> int:
        return self.numbered.minute(moment)

    @cached_property
    def _batches(self) -> list[Row]:
        return rows_of(self.plan.tables.batches)

    @cached_property
    def _turns(self) -> dict[tuple[str, int], tuple[int, Turn]]:
        """Turns of the plan with their numbers, by mould and number among those of it."""
        return {turn.key: (nth, turn) for nth, turn in enumerate(self.numbered.turns)}

    def _stood(self) -> Iterator[Stood]:
        """Turns that are still to be stripped, or to be cleaned."""
        for told in self.begun.turns:
            if told.clean is None and told.kind in self.numbered.kinds:
                bared, stripped = (-1 if at is None else self._minute(at) for at in (told.sides_off, told.strip))
                bared = stripped if told.base and bared < 0 else bared
                if told.poured is not None:
                    yield Stood(self._to_clean(told), (), self._minute(told.poured), bared, stripped)
                    continue
                number, turn = self._turns[told.mould, told.turn]
                poured = {row.batch: self._minute(row.poured) for row in turn.casts}
                fills = tuple((fill, at) for batch, at in poured.items() for fill in self.numbered.fills[number, batch])
                yield Stood(self.numbered.planned(turn), fills, max(poured.values()), bared, stripped)

    def _to_clean(self, told: TurnBegun) -> PlannedTurn:
        """A turn of which nothing good came, as the plan has it cleaned."""
        rows = rows_of(self.plan.tables.tasks)
        here = ("clean", told.mould, told.base)
        begins = (row.start for row in rows if (row.task, row.mould, row.base) == here)
        clean = min((at for at in begins if at >= self.begun.since), default=self.begun.since)
        base = number_named(told.base) if told.base else 0
        kind = self.numbered.kinds.index(told.kind)
        return PlannedTurn(kind, number_named(told.mould), base, 0, 0, 0, self._minute(clean))

    def _out(self) -> Iterator[Out]:
        """Good blocks out of their moulds."""
        for told in self.begun.turns:
            if told.strip is not None and told.blocks:
                _, turn = self._turns[told.mould, told.turn]
                casts = {row.cavity: row for row in turn.casts}
                yield from (self._one_out(block, casts[block.cavity]) for block in told.blocks)

    def _one_out(self, block: BlockCast, row: Row) -> Out:
        day = self.numbered.day
        ready = day(row.ready) if block.laid is None else min(day(row.ready), day(block.laid))
        leaves = self._minute(row.rack_to)
        is_on_rack = not block.off_rack and block.laid is None and leaves > self._minute(self.begun.since)
        mark = self.numbered.mark(row)
        return Out(mark, ready, leaves if is_on_rack else 0, bool(row.spare), block.laid is not None)
