"""The foreman's yard, day after day."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from functools import cache

from blockrun.order import Order
from blockrun.site import Site
from tests.bench.ledger import MINUTES_A_DAY, People
from tests.bench.rule.filling import Filled, Mixing, free_pairs
from tests.bench.rule.stripping import Stripping
from tests.bench.rule.things import Batch, NoWayError, Turn, Worked, number_of
from tests.bench.rule.wants import Wants, in_slab
from tests.bench.rule.ways import PLAIN, Way


class _FrozenError(Exception):
    """What was poured on these days could not be stripped before the frost."""

    def __init__(self, days: set[int]) -> None:
        super().__init__(days)
        self.days = days


def work(
    site: Site, order: Order, longest_days: int = 900, way: Way = PLAIN, stop: Callable[[], bool] = lambda: False
) -> Worked:
    """Plan an order as he would.

    Raises
    ------
    NoWayError : he is not done within so many calendar days, or ``stop`` says so.
    """
    shut: set[int] = set()
    while True:
        try:
            return _Work(site, order, shut, longest_days, way, stop).plan()
        except _FrozenError as frozen:
            shut |= frozen.days


class _Work:
    """His yard, from the first day on; he does not pour on days that are shut."""

    def __init__(
        self, site: Site, order: Order, shut: set[int], longest_days: int, way: Way, stop: Callable[[], bool]
    ) -> None:
        self.site, self.order, self.shut, self.longest_days = site, order, shut, longest_days
        self.way, self.stop = way, stop
        self.wants = Wants(site, order, biggest_first=way.biggest_first)
        self.stripping, self.mixing = Stripping(site, way), Mixing(site, order, way)
        self.turns: list[Turn] = []
        self.last_pour = cache(self._last_pour)

    def date_of(self, day: int) -> date:
        return self.site.calendar.start + timedelta(days=day)

    def plan(self) -> Worked:
        """Day after day until all is poured, stripped and cleaned."""
        for day in range(self.longest_days):
            if not self.wants and not self.stripping.open:
                return Worked(self.site, self.order, tuple(self.mixing.batches), tuple(self.turns))
            if self.stop():
                break
            if self.site.calendar.is_working(self.date_of(day)):
                self._work_day(day)
                self.mixing.give_cubes()
            self._check_frost(day)
        raise NoWayError

    def _work_day(self, day: int) -> None:
        """Strip and clean, then fill; again where something poured today is ripe today."""
        people = People(day * MINUTES_A_DAY, self.site.calendar.windows, self.site.crew.on(self.date_of(day)))
        if self.wants:
            for chore in self.site.chores:
                for at in chore.at:
                    start = people.midnight + at
                    people.take(start, start + chore.time_min, chore.people)
        if self.way.pours_first and day not in self.shut:
            self._fill(people, people.windows[0][0] + 1)
        while True:
            self.stripping.strip(people)
            if day in self.shut or not self._fill(people, people.windows[-1][1]):
                return

    # frost

    @cache  # noqa: B019, a yard lives as long as its plan is made
    def cold(self, day: int) -> bool:
        """Whether the air is too cold on a day."""
        return self.site.weather.day(self.date_of(day)).min_c < self.site.curing.least_air_c

    def _ripens_before_frost(self, poured: int) -> bool:
        """Whether a turn poured then is ripe by a working day before the next cold one."""
        ripe = self.stripping.ripe(poured, number_of(self.site.curing.strip_at_h))
        last = ripe // MINUTES_A_DAY
        closes = self.site.calendar.windows[-1][1]
        if ripe % MINUTES_A_DAY >= closes - 60:
            last += 1
        while not self.site.calendar.is_working(self.date_of(last)):
            last += 1
        return not any(self.cold(on) for on in range(poured // MINUTES_A_DAY, last + 1))

    def _last_pour(self, day: int) -> int | None:
        """Latest minute of a day at which a pour may end, or None: a later pour never ripens earlier."""
        first, last = day * MINUTES_A_DAY, (day + 1) * MINUTES_A_DAY - 1
        if self._ripens_before_frost(last):
            return last
        if not self._ripens_before_frost(first):
            return None
        while first < last:
            middle = (first + last + 1) // 2
            first, last = (middle, last) if self._ripens_before_frost(middle) else (first, middle - 1)
        return first

    def _check_frost(self, day: int) -> None:
        """A turn that stands in the frost should not have been poured."""
        if self.cold(day):
            caught = {turn.begun // MINUTES_A_DAY for turn in self.stripping.open if turn.strip is None}
            stripped = {
                turn.begun // MINUTES_A_DAY
                for turn in self.turns
                if turn.strip is not None and turn.strip // MINUTES_A_DAY == day
            }
            if caught | stripped:
                raise _FrozenError(caught | stripped)

    # filling

    def _fill(self, people: People, by: int) -> bool:
        """Fill what is free by a minute with what is needed soonest; whether anything was poured."""
        filled = self._filled(people, by)
        day = people.midnight // MINUTES_A_DAY
        batches = self.mixing.batches_for(filled)
        in_batch: dict[int, list[Filled]] = {id(batch): [] for batch in batches}
        for of in filled:
            for batch_id in {id(batch) for _, batch in of.turn.fills}:
                in_batch[batch_id].append(of)
        waits = self.mixing.half_empty(batches, day) if self.way.half_waits and self.wants else set()
        free = {id(b): max(self._free_from(of.turn) for of in in_batch[id(b)]) for b in batches}
        for batch in sorted(batches, key=lambda batch: free[id(batch)]):
            waiting = id(batch) in waits
            if waiting or not self.mixing.pour(people, batch, free[id(batch)], self.last_pour(day)):
                for of in in_batch[id(batch)]:
                    self._leave_out(of, batch)
        self._begin(filled)
        return any(batch.start is not None for batch in batches)

    def _leave_out(self, of: Filled, batch: Batch) -> None:
        # batch by batch, so blocks and fills no longer stand side by side: match them by size
        for size, in_batch in list(of.turn.fills):
            if in_batch is batch:
                of.turn.fills.remove((size, in_batch))
                at = max(n for n, (taken, _) in enumerate(of.taken) if taken == size)
                self.wants.put_back([of.taken.pop(at)])

    def _begin(self, filled: list[Filled]) -> None:
        for of in filled:
            turn = of.turn
            if turn.fills:
                self.turns.append(turn)
                self.stripping.open.append(turn)
                self.stripping.mould_of(turn).free = None
                if turn.base:
                    self.stripping.base_of(turn).free = None

    def _free_from(self, turn: Turn) -> int:
        mould = self.stripping.mould_of(turn).free
        base = self.stripping.base_of(turn).free if turn.base else 0
        assert mould is not None
        assert base is not None
        return max(mould, base)

    def _filled(self, people: People, by: int) -> list[Filled]:
        """Moulds that are free by a minute, and the blocks to cast in each."""
        filled = []
        places = self.stripping.places_ahead(people) if self.way.rack_ahead else 1 << 30
        pairs = free_pairs(self.site.moulds, self.stripping.moulds.values(), self.stripping.bases.values(), by)
        for mould, base in sorted(pairs, key=lambda pair: max(m.free or 0 for m in pair if m)):
            kind = mould.kind
            in_mould = max((in_slab(kind, s) for s in self.wants.of), default=0) if kind.saw else kind.cavities
            taken = self.wants.taken(kind, min(places, self.stripping.most(kind, in_mould)))
            places -= len(taken)
            if taken:
                filled.append(Filled(Turn(kind, mould.number, base.number if base else 0, []), taken))
        return filled
