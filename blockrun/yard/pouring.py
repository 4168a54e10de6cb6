"""The batches of a day: which are poured, into which moulds, and what is added to them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.yard.again import Again, Place, Unit
from blockrun.yard.conditions import Conditions
from blockrun.yard.setting import NEVER
from blockrun.yard.state import Turn

if TYPE_CHECKING:
    from blockrun.yard.day import WorkDay
    from blockrun.yard.run import ToPour
    from blockrun.yard.setting import Load

_SPECK_L: Final = 1e-6


class Pouring:
    """Pours of one day.

    Attributes
    ----------
    today : batches of the plan that are due, the ones of earlier days first.
    """

    def __init__(self, work: WorkDay) -> None:
        self._work = work
        self._run = work.run
        self._again = Again(work.run, work.day)
        self._conditions = Conditions(work.run, work.day)
        self.today = [batch for batch in self._run.to_pour if batch.planned.day <= work.day.number]
        self._put_off: list[tuple[ToPour, int]] = []  # and the kind of mould it waits for, -1 for a crew
        self._begun: dict[int, Turn] = {}
        turns = self._run.setting.turns
        self._still_fed = Counter(number for batch in self.today for number, _ in batch.parts)
        # moulds that the plan has something for today are left to it
        self._kept = {(turns[number].kind, turns[number].unit): number for number in self._still_fed}

    def starts_from(self, batch: ToPour) -> int:
        """Minute of the day at which a batch may begin: as planned, or at once if that was on another day."""
        planned = batch.planned
        return planned.start - self._work.midnight if planned.day == self._work.day.number else 0

    def pours_from(self, batch: ToPour) -> int:
        """Minute of the day from which its moulds are needed."""
        return self.starts_from(batch) + batch.planned.load.to_pour

    def wake(self, kind: int, at: int) -> None:
        """A mould or base of a kind is free from a minute on: batches that wait for one look again."""
        put_off, self._put_off = self._put_off, []
        for batch, missing in put_off:
            if missing == kind:
                self._work.push_batch(batch, max(at, self.pours_from(batch)))
            else:
                self._put_off.append((batch, missing))

    def put_off(self) -> list[ToPour]:
        """Batches that wait; they do so no longer."""
        put_off, self._put_off = self._put_off, []
        return [batch for batch, _ in put_off]

    def pour(self, batch: ToPour) -> None:
        """Pour a batch; put it off where a mould is missing."""
        if not batch.parts or not self._warm_enough(batch):
            return
        places, missing = self._places(batch, self._kept, some=False)
        if missing >= 0 or not self._made(batch, places):
            self._put_off.append((batch, missing))

    def pour_what_can_be(self, batch: ToPour) -> None:
        """In the evening: pour what of a batch had a mould in time, any mould."""
        places, missing = self._places(batch, {}, some=True)
        if missing < 0 and self._made(batch, places):
            return
        needed_at = self._work.midnight + self.pours_from(batch)
        in_time = [place for place in places if place.turn.free <= needed_at]
        if in_time and len(in_time) < len(batch.parts):
            self._made(batch, in_time)

    def _warm_enough(self, batch: ToPour) -> bool:
        kinds = {self._run.setting.turns[number].kind for number, _ in batch.parts}
        poured = self._work.midnight + self.pours_from(batch) + batch.planned.load.pour
        return self._conditions.warm_enough(kinds, poured)

    def pour_again(self) -> bool:
        """Pour a batch of what was lost or left, where that is worth it; False where none is."""
        for mix in self._again.mixes():
            for loads in filter(None, self._run.setting.loads[mix]):
                for largest in self._conditions.largest(loads):
                    places = self._again.fit(mix, largest.room_l, (), {}, NEVER)
                    if self._again.worth_a_batch(mix, places, largest.room_l) and self._made_again(loads, places):
                        return True
        return False

    def leave(self) -> None:
        """In the evening: what was to be poured into moulds that are partly full has to go elsewhere.

        So has what it is too hot for, where smaller batches can be made of it.
        """
        for batch in self.today:
            if batch.parts:
                all_of_it = self._conditions.only_smaller(batch.planned.load, self._loads(batch))
                self._leave(batch, [number for number, _ in batch.parts if all_of_it or number in self._begun])
        for turn in self._begun.values():
            if turn.at == NEVER:
                self._work.settle(turn)

    def make_way(self) -> None:
        """In the morning: have what can wait longest make way for what is to be poured again at once."""
        for kind, moulds in self._again.urgent(self._kept).items():
            parts = [
                (min(fill.due for fill in fills), number, batch)
                for batch in self.today
                for number, fills in batch.parts
                if self._run.setting.turns[number].kind == kind and self._still_fed[number] == 1
            ]
            can_wait = [part for part in parts if part[0] > self._work.day.number]
            for _, number, batch in sorted(can_wait, key=lambda part: part[:2])[::-1][:moulds]:
                self._leave(batch, [number], urgent=False)

    def _leave(self, batch: ToPour, numbers: Sequence[int], *, urgent: bool = True) -> None:
        """Have what a batch pours into some turns poured again instead."""
        for number, fills in batch.parts:
            if number in numbers:
                for fill in fills:
                    self._run.pool.leave(fill, self._work.day.number if urgent else NEVER)
        if numbers:
            batch.parts = [part for part in batch.parts if part[0] not in numbers]
            batch.whole = False
        if not batch.parts and batch in self._run.to_pour:
            self._run.to_pour.remove(batch)

    # moulds

    def _places(self, batch: ToPour, kept: dict[Unit, int], *, some: bool) -> tuple[list[Place], int]:
        """Moulds that are, or will be, free today for what a batch pours, those kept for other turns left out.

        Returns
        -------
        The places, and the kind of a mould that is missing, -1 where none is; then the rest is looked for if ``some``
        will do.
        """
        places: list[Place] = []
        missing = -1
        for number, fills in batch.parts:
            begun = self._begun.get(number)
            turn = begun or self._free_for(number, [place.turn for place in places], kept)
            if turn is not None:
                places.append(Place(turn, number, fills, begun is not None))
                continue
            missing = self._run.setting.turns[number].kind
            if not some:
                break
        return places, missing

    def _free_for(self, number: int, others: Iterable[Turn], kept: dict[Unit, int]) -> Turn | None:
        """The mould and base that were planned for a turn, or else the first ones that are free."""
        planned, state = self._run.setting.turns[number], self._run.state
        kind = self._run.setting.kinds[planned.kind]
        taken = [turn for turn in others if turn.kind == planned.kind]
        units = {turn.unit for turn in taken}
        moulds, unit = state.moulds[planned.kind], planned.unit
        if unit in units or unit not in moulds:
            other = moulds.first(NEVER, lambda one: one not in units and (planned.kind, one) not in kept)
            if other is None:
                return None
            unit = other
        free, base = moulds.since(unit), 0
        if kind.bases:
            bases, under = state.bases[planned.kind], {turn.base for turn in taken}
            base = planned.base
            if base in under or base not in bases:
                other = bases.first(NEVER, lambda one: one not in under)
                if other is None:
                    return None
                base = other
            free = max(free, bases.since(base))
        return Turn(planned.kind, unit, base, planned, kind.cavities - planned.n_fills, free)

    # batches

    def _made(self, batch: ToPour, places: list[Place]) -> bool:
        """Make a batch for places, with blocks poured again where there is room; False where it cannot be today."""
        as_planned = batch.whole and len(places) == len(batch.parts)
        if self._run.pool.waiting:
            most = self._loads(batch)[-1].room_l - batch.planned.cubes_l - _litres(places)
            by = self._work.midnight + self.pours_from(batch)
            more = [*places, *self._again.fit(batch.planned.mix, most, places, self._kept, by)]
            if any(place.new for place in more) and self._begin(batch, more, None):
                return True
            for place in places:
                place.new.clear()
        return self._begin(batch, places, batch.planned.load if as_planned else None)

    def _loads(self, batch: ToPour) -> tuple[Load, ...]:
        return self._run.setting.loads[batch.planned.mix][batch.planned.load.mixer]

    def _begin(self, batch: ToPour, places: Sequence[Place], load: Load | None) -> bool:
        """Pour a batch at the first minute there is, of this size or the smallest that will do."""
        load = load or smallest(self._loads(batch), _litres(places) + batch.planned.cubes_l)
        start = self._start(load, self.starts_from(batch), places)
        if load is None or start is None:
            return False
        flat = self._run.luck.flat(batch.planned.number if batch.whole else None)
        self._pour(load, start, places, flat=flat)
        poured = {place.number for place in places}
        batch.parts = [part for part in batch.parts if part[0] not in poured]
        self._leave(batch, [number for number, _ in batch.parts])
        self._go_on_with(places)
        return True

    def _made_again(self, loads: Sequence[Load], places: Sequence[Place]) -> bool:
        """Make a batch of what is poured again."""
        load = smallest(loads, _litres(places))
        start = self._start(load, 0, places)
        if load is None or start is None:
            return False
        poured = self._work.midnight + start + load.to_pour + load.pour
        if not self._conditions.warm_enough({place.turn.kind for place in places}, poured):
            return False
        self._pour(load, start, places, flat=self._run.luck.flat(None))
        self._go_on_with(places)
        return True

    def _start(self, load: Load | None, at: int, places: Iterable[Place]) -> int | None:
        """First minute of the day at which a batch can begin whose moulds are free when it is poured."""
        if load is None or not self._conditions.has(load):
            return None
        free = max(place.turn.free for place in places) - self._work.midnight - load.to_pour
        hot = self._conditions.too_hot(load)
        return self._work.board.find_batch(load, max(at, free), self._work.day.last_foam, hot)

    def _pour(self, load: Load, start: int, places: Sequence[Place], *, flat: bool) -> None:
        """Use up what a batch takes, and fill the moulds, unless it is flat."""
        run, start_min = self._run, self._work.midnight + start
        self._work.board.take_batch(load, start)
        run.state.cement.used += load.bags
        run.state.agent.used += load.agent_l
        run.batches += 1
        run.last_pour = max(run.last_pour, start_min)
        if run.told is not None:
            run.tell(start_min, load.length, "batch", load.crew, load, _litres(places))
        for place in places:
            if not place.begun:
                self._fill(place, start_min + load.to_pour)
            place.turn.last_pour = max(place.turn.last_pour, start_min + load.to_pour + load.pour)
            place.turn.room -= len(place.new)
            for fill in place.new:
                run.pool.take(fill, self._work.day.number)
            for fill in place.all:
                if flat:
                    run.pool.lose_all(fill, self._work.day.number)
                else:
                    place.turn.fills.append((fill, start_min + load.to_pour + load.pour))

    def _fill(self, place: Place, at: int) -> None:
        """Begin a turn."""
        turn = place.turn
        self._run.state.begin(turn, self._run.setting.kinds[turn.kind])
        self._run.tell(at, 0, "fill", 0, turn)
        if place.number >= 0:
            self._begun[place.number] = turn
            planned = self._run.setting.turns[place.number]
            self._kept.pop((planned.kind, planned.unit), None)

    def _go_on_with(self, places: Iterable[Place]) -> None:
        """Have moulds that get no more today stripped when they are ripe, or cleaned if all in them was flat."""
        for place in places:
            self._still_fed[place.number] -= 1
            if place.number < 0 or self._still_fed[place.number] <= 0:
                self._work.go_on_with(place.turn)


def smallest(loads: Iterable[Load], litres: float) -> Load | None:
    """The smallest size that holds so much."""
    return next((load for load in loads if load.room_l >= litres - _SPECK_L), None)


def _litres(places: Iterable[Place]) -> float:
    return sum(fill.volume_l for place in places for fill in place.all)
