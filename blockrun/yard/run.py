"""One run of a plan: whatever befalls the yard, it carries on by one light rule, day after day.

The rule, without a search:

- Work follows the days and minutes of the plan. What could not be done goes on the next day it can, first things first.
- A batch pours what has a free mould that day; what has none waits, and so does a batch on a day that is too
  cold, or in hours so hot that it would set before it is poured.
- What was lost is poured again, unless a spare takes its place: in free cavities and batches with room, and in a batch
  of its own when it is urgent, or half a batch full, or the plan has no more batches of its mix.
- Strips wait for age, for a person, for places on the rack and for room on the stack; batches for people, cement and
  foaming agent.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from blockrun.units import MINUTES_A_DAY
from blockrun.yard.day import WorkDay
from blockrun.yard.luck import Luck
from blockrun.yard.pool import Pool
from blockrun.yard.ripening import Ripe
from blockrun.yard.setting import NEVER
from blockrun.yard.state import State, Turn

if TYPE_CHECKING:
    from blockrun.planner.risk.rates import Cause
    from blockrun.yard.setting import Fill, Load, PlannedBatch, Setting


class Event(NamedTuple):
    """Something that was done: minutes from the first midnight, what, by how many people, and with what.

    ``task`` is batch, fill, sides, strip, move, clean or chore, or rack, which lasts until the blocks leave it, or
    stack, from then until a block may be laid. ``amount`` is of litres in a batch, of blocks on the rack; of a block
    on the stack it is the mark.
    """

    start: int
    end: int
    task: str
    people: int
    turn: Turn | None = None
    load: Load | None = None
    amount: float = 0


class Outcome(NamedTuple):
    """What came of one run.

    Attributes
    ----------
    late : by course, the days until its last block was there after the day it was needed, 0 or more; `NEVER` where a
        block of it was never cast.
    block_days : days late, added up over blocks; one that is never cast is late until the last day looked at.
    late_blocks : blocks that were late, by mark.
    never : blocks not cast within the days that a run has.
    last_pour : day of the last batch; the last day on which one may be poured, where blocks are never cast.
    lost : blocks lost, and batches poured.
    struck : causes that did something.
    """

    late: tuple[int, ...]
    block_days: int
    late_blocks: tuple[int, ...]
    never: int
    last_pour: int
    lost: int
    batches: int
    struck: frozenset[Cause]


@dataclass(slots=True)
class ToPour:
    """A batch of the plan, or what is left of it."""

    planned: PlannedBatch
    parts: list[tuple[int, tuple[Fill, ...]]]
    whole: bool = True


class Run:
    """A yard and what befalls it; each run is played once."""

    def __init__(self, setting: Setting, luck: Luck, *, with_spares: bool = True, told: list[Event] | None = None):
        self.setting = setting
        self.luck = luck
        self.told = told
        self.ripe = Ripe(setting.ripening, luck.cold)
        self.state = State(setting)
        self.pool = Pool(setting, with_spares=with_spares)
        self.to_pour = [ToPour(batch, list(batch.parts)) for batch in setting.batches]
        self.ready: list[list[int]] = [[] for _ in setting.marks]
        self.last_pour = setting.before.last_pour
        self.batches = setting.before.batches
        self._rack_to: dict[int, int] = {}
        self._begin()

    def _begin(self) -> None:
        """Have what had happened before stand in its moulds, on the rack and on the stack."""
        before = self.setting.before
        for stood in before.stood:
            planned, fills = stood.planned, list(stood.fills)
            turn = Turn(planned.kind, planned.unit, planned.base, planned, 0, 0, fills, stood.last_pour)
            turn.bared, turn.stripped = stood.bared, stood.stripped
            self.state.begin(turn, self.setting.kinds[turn.kind])
            self.tell(min([stood.last_pour, *(poured for _, poured in fills)]), 0, "fill", 0, turn)
            if stood.bared >= 0:
                self.tell(stood.bared, 0, "sides", 1, turn)
                self.state.moulds[turn.kind].give_back(turn.unit, stood.bared)
        for out, count in before.out.items():
            if out.leaves:
                self.state.rack.put(count, out.leaves)
                self.tell(before.opens, out.leaves - before.opens, "rack", 0, amount=count)
            if out.is_spare and not self.pool.with_spares:
                continue
            self.ready[out.mark] += [out.ready] * count
            if self.state.ground is not None and not out.is_laid:
                self.state.ground.put([(out.mark, out.ready)] * count, max(out.leaves // MINUTES_A_DAY, before.day))

    def play(self) -> Outcome:
        """Go through the days until all is cast and stripped, or there are no more days."""
        last = 0
        for day in self.setting.days:
            if not (self.to_pour or self.pool.waiting or self.state.standing):
                break
            last = day.number
            if not self.luck.is_lost(last):
                WorkDay(self, day).work()
        self.luck.felt_cold(last if self.setting.ripening.lay_h is None else self.setting.n_days)
        return self._outcome()

    def tell(
        self, start: int, length: int, task: str, people: int, of: Turn | Load | None = None, amount: float = 0
    ) -> None:
        """Note what was done, if somebody asked."""
        if self.told is not None:
            turn, load = (of, None) if isinstance(of, Turn) else (None, of)
            self.told.append(Event(start, start + length, task, people, turn, load, amount))

    def leaves_rack(self, stripped: int) -> int:
        """Minute at which a block stripped then leaves the rack."""
        known = self._rack_to
        if stripped not in known:
            known[stripped] = self.setting.working_minute(stripped + self.setting.rack_for)
        return known[stripped]

    def _outcome(self) -> Outcome:
        setting = self.setting
        late, late_blocks = [0] * len(setting.courses), [0] * len(setting.marks)
        block_days = 0
        end = setting.n_days
        for mark, needs in enumerate(setting.needs):
            there = sorted(self.ready[mark])
            there += [NEVER] * (len(needs) - len(there))
            for (needed, course), ready in zip(needs, there, strict=False):
                if ready > needed:
                    block_days += min(ready, end) - needed
                    late_blocks[mark] += 1
                    late[course] = NEVER if ready == NEVER else max(late[course], ready - needed)
        never = sum(max(0, wanted - len(ready)) for wanted, ready in zip(setting.wanted, self.ready, strict=True))
        return Outcome(
            tuple(late),
            block_days,
            tuple(late_blocks),
            never,
            setting.days[-1].number if never else self.last_pour // MINUTES_A_DAY,
            sum(self.pool.lost.values()),
            self.batches,
            frozenset(self.luck.struck),
        )
