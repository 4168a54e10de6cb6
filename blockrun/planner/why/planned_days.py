"""The days of a plan: of each thing how much was taken and how much there was, and what ran out."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator
from datetime import date, datetime, time, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Any

from blockrun.cure.pour_life import pour_lives
from blockrun.optimiser.crew import batch_windows
from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.planner.ages import ages_of
from blockrun.planner.hot_pours import hot_pours
from blockrun.planner.minutes import day_of
from blockrun.planner.on_rack import OnRacks
from blockrun.planner.on_stack import OnStack
from blockrun.planner.rows import grouped, rows_of
from blockrun.planner.stopped import frost_before_strip, why_stopped
from blockrun.planner.why.mixing_days import MixingDays
from blockrun.planner.why.mould_days import MouldDays
from blockrun.planner.why.taken import HeldDay, Taken
from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


def _by_day(rows: list[Any]) -> defaultdict[date, list[Any]]:
    """Rows by the day on which they start."""
    found: defaultdict[date, list[Any]] = defaultdict(list)
    for row in rows:
        found[row.start.date()].append(row)
    return found


def _minutes(time: timedelta) -> int:
    return time // timedelta(minutes=1)


class PlannedDays:
    """The tables of a plan, by what they take."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self.site = plan, plan.site
        self.casts, self.batches = rows_of(plan.tables.casts), rows_of(plan.tables.batches)
        tasks = _by_day(rows_of(plan.tables.tasks))
        self._mixing = MixingDays(plan.site, _by_day(self.batches), tasks)
        self._poured = Counter(cast.poured.date() for cast in self.casts)
        self.materials = {row.day.date(): row for row in rows_of(plan.tables.materials)}
        self.last = max(batch.start for batch in self.batches).date()
        self._crews = {mixer.name: mixer.crew for mixer in plan.site.mixers}
        self._ages = ages_of(plan.site, plan.order, {line.mix for line in plan.ordered})
        self._moulds = MouldDays(plan, self.casts, self._ages)
        self._on_racks, self._on_stack = OnRacks(plan.tables.casts), OnStack(plan)
        self._turns = list(grouped(self.casts, lambda cast: (cast.mould, cast.turn)).values())

    def day(self, day: date) -> HeldDay:
        """All of one day."""
        poured = self._poured[day]
        taken = [
            *(taken for kind in self.site.moulds for taken in self._moulds.taken(kind, day)),
            self._rack(day),
            *self._stack(day),
            *self._mixing.taken(day, self._moulds.free_from(day)),
            *self._stock(day),
            *self._weather(day, poured),
        ]
        left = sum(n for on, n in self._poured.items() if on > day)
        return HeldDay(day, poured, left, tuple(taken))

    def _rack(self, day: date) -> Taken:
        """The racks at their fullest; no room for the smallest turn to come, or for one that could be stripped."""
        places = sum(rack.places for rack in self.site.racks)
        held, room = self._on_racks.most_on(day), places - self._on_racks.at(self._moulds.closing(day))
        least = min((len(turn) for turn in self._turns if turn[0].rack_from.date() > day), default=0)
        waits = places - held < least or any(len(turn) > room for turn in self._waiting(day))
        return Taken("rack", held, places, "places", bool(self.site.curing.rack_for_min) and waits)

    def _stack(self, day: date) -> Iterator[Taken]:
        """The stack at its fullest from when what is stripped today comes to it; full moulds may wait for that.

        So may pours: where none of the turns poured next for which a mould is free would have had room there.
        """
        stack = self.site.stack
        if stack is None:
            return
        since = self._off_rack(self._moulds.closing(day))
        before = [taken for on, taken in self._on_stack.taken.items() if on <= since]
        taken = max([*before[-1:], *(taken for on, taken in self._on_stack.taken.items() if on > since)], default=0)
        waits = self._waits_for_the_stack(day, since) or self._would_wait_for_the_stack(day)
        yield Taken("stack", taken, stack.places, "places", waits)

    def _waits_for_the_stack(self, day: date, since: date) -> bool:
        """Whether a turn that could be stripped today had no room on the stack from a day on."""
        lay_after = timedelta(minutes=self._ages.lay_min)
        return any(
            not self._on_stack.has_room(turn, since, [(cast.poured + lay_after).date() for cast in turn])
            for turn in self._waiting(day)
        )

    def _waiting(self, day: date) -> Iterator[list[Any]]:
        """Turns poured before a day and stripped after it, that could be stripped on it for their age."""
        closing = self._moulds.closing(day)
        for turn in self._turns:
            if turn[0].poured.date() < day < turn[0].strip.date() and all(self._ripe(cast, closing) for cast in turn):
                yield turn

    def _would_wait_for_the_stack(self, day: date) -> bool:
        """Whether of what is poured on the next day nothing had room on the stack, were it poured today.

        What has to wait for a mould counts for nothing.
        """
        following = min((on for on in self._poured if on > day), default=None)
        poured = self._moulds.closing(day)
        aged = (poured + timedelta(minutes=self._ages.lay_min)).date()
        free = {kind.kind for kind in self.site.moulds if self._moulds.has_free(kind, poured)}
        turns = [
            turn for turn in self._turns if turn[0].poured.date() == following and kind_named(turn[0].mould) in free
        ]
        return bool(turns) and not any(
            self._on_stack.has_room(turn, self._off_rack(self._stripped(turn, poured)), [aged] * len(turn))
            for turn in turns
        )

    def _off_rack(self, stripped: datetime) -> date:
        """The day on which blocks stripped at a moment leave the rack."""
        return self.site.off_rack(stripped).date()

    def _stripped(self, turn: list[Any], poured: datetime) -> datetime:
        """When the mould of a turn could be stripped for its age, were it poured at a moment."""
        return self.site.calendar.next_working_minute(self._ripe_at(turn[0], poured))

    def _ripe(self, cast: Any, by: datetime) -> bool:
        """Whether a block could be stripped by a moment, for its age alone."""
        return self._ripe_at(cast, cast.poured) <= by

    def _ripe_at(self, cast: Any, poured: datetime) -> datetime:
        """From when on the mould of a block can be stripped, poured at a moment."""
        kind = next(kind for kind in self.site.moulds if kind.kind == kind_named(cast.mould))
        return self._moulds.ripe_at(kind, poured)

    def _stock(self, day: date) -> Iterator[Taken]:
        """Cement and agent: too little left for the smallest batch of the plan, while more is used later."""
        bag = self.site.stock.cement.bag_kg
        least = {
            "cement": min(batch.cement_kg for batch in self.batches) / bag,
            "foaming agent": min(batch.agent_l for batch in self.batches),
        }
        last = max((told for told in self.materials if told <= day), default=None)  # a day without use has no row
        if last is None:
            return
        row, used_now = self.materials[last], last == day
        more = day < self.last
        amounts = {
            "cement": (row.cement_used_kg / bag, row.cement_left_kg / bag),
            "foaming agent": (row.agent_used_l, row.agent_left_l),
        }
        for name, (used, left) in amounts.items():
            unit = "bags" if name == "cement" else "L"
            used = used if used_now else 0.0
            yield Taken(name, used, used + left, unit, more and left < least[name] - 1e-6)

    def _hot_hours(self, day: date) -> Iterator[Taken]:
        """Working minutes at which heat alone keeps the foam of even the quickest batch of the plan out, if any.

        Batches of mixes that are poured however hot it is count for nothing: none of theirs is in time.
        """
        lives, quickest = pour_lives(self.site, day), self._quickest
        if lives is None or quickest is None:
            return
        takes_min = _minutes(quickest.pour_to - quickest.foam_at)
        there = day_of(self.site, (day - self.site.calendar.start).days)
        hot = 0
        for start, end in batch_windows(there, self._crews[quickest.mixer]):
            first = start + _minutes(quickest.foam_at - quickest.start)
            last = min(end - _minutes(quickest.end - quickest.foam_at), there.last_foam)
            midnight = there.number * MINUTES_A_DAY
            hot += int((lives[first - midnight : max(first, last + 1) - midnight] < takes_min).sum())
        if hot:
            yield Taken("hot hours", hot, sum(end - start for start, end in there.windows), "min", ran_out=True)

    @cached_property
    def _quickest(self) -> Any | None:
        """The batch that takes least from its foam on, of mixes of which not all are too hot."""
        hot = {pour.batch for pour in hot_pours(self.site, self.batches)}
        in_time = {batch.mix for batch in self.batches if batch.batch not in hot}
        return min(
            (batch for batch in self.batches if batch.mix in in_time and batch.mixer in self._crews),
            key=lambda batch: batch.pour_to - batch.foam_at,
            default=None,
        )

    def _weather(self, day: date, poured: int) -> Iterator[Taken]:
        """Days on which nothing may be poured, or not in their hot hours."""
        yield from self._hot_hours(day)
        if poured:
            return
        if why_stopped(self.site, day):
            yield Taken("heat and rain", 1, 1, "day", ran_out=True)
        noon = datetime.combine(day, time(12))
        ripe = min(self._moulds.ripe_at(kind, noon) for kind in self._moulds.used())
        stripped = self.site.calendar.next_working_minute(ripe).date()
        if frost_before_strip(self.site, day, stripped):
            yield Taken("frost", 1, 1, "day", ran_out=True)
