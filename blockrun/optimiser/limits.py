"""Numbers that the counts need: how soon, how many, how much, each valid for every real plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, cached_property

from blockrun.optimiser.makers import Maker, makers
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.reach import Reach, batch_starts
from blockrun.optimiser.slots import NEVER, Slots
from blockrun.optimiser.standing import busy_until, strip_from
from blockrun.optimiser.state import State
from blockrun.optimiser.weighing import Weighing

_CHAIN_TURNS = 6
_CHAIN_DAYS = 45
_LONGEST_TAIL = 15


@dataclass(frozen=True)
class Row:
    """``sum(costs[maker] x batches) <= most``."""

    costs: dict[int, int]
    most: int


class Limits:
    """Limits of a problem, worked out once and kept.

    With a ``delay`` of some minutes every pour is taken to end that much later than the earliest:
    no bound any more, but nearer to what a day really manages.
    """

    def __init__(self, problem: Problem, *, delay: int = 0, slots_a_day: int = 5) -> None:
        self.problem, self.delay = problem, delay
        self.reach = Reach(problem)
        self.slots = Slots(problem, self.reach, slots_a_day)
        self.makers = makers(problem)
        self.weighing = Weighing(problem)
        self.strip_slot = cache(self._strip_slot)
        self.sides_slot = cache(self._sides_slot)
        self.refill_slot = cache(self._refill_slot)
        self.leave_slot = cache(self._leave_slot)
        self.ready_day = cache(self._ready_day)
        self.mixer_rows = cache(self._mixer_rows)
        self.chain_from = cache(self._chain_from)

    # when

    def opening(self, day: int) -> int:
        """First working minute of a day."""
        return self.problem.days[day].windows[0][0]

    def first_poured(self, kind: int, slot: int) -> int | None:
        """Earliest end of a pour into this kind in a slot; ``None`` where none may end."""
        of_slot = self.slots.all[slot]
        first = self.slots.first_poured(kind, of_slot.day)
        if first is None or first > of_slot.last:
            return None
        poured = min(max(first, of_slot.first) + self.delay, self.problem.days[of_slot.day].windows[-1][1])
        # frost may forbid what ends this late in the day
        return poured if self.reach.frost_allows(kind, poured - self.reach.pours[kind].shortest_pour) else None

    def _strip_slot(self, kind: int, slot: int) -> int:
        """Earliest slot in which a turn poured in this one is stripped."""
        poured = self.first_poured(kind, slot)
        return NEVER if poured is None else self.slots.index(self.reach.stripped(kind, poured))

    def _sides_slot(self, kind: int, slot: int) -> int:
        """Earliest slot in which sides of a turn poured in this one may stand round another poured."""
        return self._refill(kind, slot, base=False)

    def _refill_slot(self, kind: int, slot: int) -> int:
        """Earliest slot in which the mould, or base, of a turn poured in this one may be poured again."""
        return self._refill(kind, slot, base=True)

    def _refill(self, kind: int, slot: int, *, base: bool) -> int:
        poured = self.first_poured(kind, slot)
        if poured is None:
            return NEVER
        pour = self.reach.pours[kind].shortest_pour
        return self.poured_again(kind, self.reach.free_again(kind, poured - pour, base=base))

    def poured_again(self, kind: int, free: int | None) -> int:
        """Earliest slot in which a mould free at a minute is poured."""
        again = None if free is None else self.reach.next_pour(kind, free)
        return NEVER if again is None else self.slots.index(again + self.reach.pours[kind].shortest_pour)

    def _ready_day(self, kind: int, slot: int) -> int:
        """Number of the earliest day a block poured in this slot may be laid."""
        poured = self.first_poured(kind, slot)
        stripped = None if poured is None else self.reach.stripped(kind, poured)
        if poured is None or stripped is None:
            return self.problem.horizon
        return self.problem.ready(poured, stripped) // MINUTES_A_DAY

    @cached_property
    def ready_from(self) -> list[int]:
        """For each working day, the earliest day on which a block poured on it or later may be laid."""
        earliest, soonest = [self.problem.horizon] * len(self.problem.days), self.problem.horizon
        for day in reversed(range(len(self.problem.days))):
            for kind in range(len(self.problem.moulds)):
                slots = (slot for slot in self.slots.of_day[day] if self.first_poured(kind, slot) is not None)
                first = next(slots, None)
                if first is not None:
                    soonest = min(soonest, self.ready_day(kind, first))
            earliest[day] = soonest
        return earliest

    def _leave_slot(self, slot: int) -> int:
        """Earliest slot in which a block stripped in this one leaves the rack."""
        of_slot = self.slots.all[slot]
        quickest = min(mould.strip for mould in self.problem.moulds)
        stripped = max(of_slot.first, self.opening(of_slot.day) + quickest)
        return self.slots.index(self.problem.leaves_rack(stripped))

    # frost

    def tail(self, last: int) -> int:
        """Last day to follow: on to the coming frost, if one is near, for all must be stripped by then."""
        clear = int(self.problem.clear_until[self.problem.days[last].number])
        if clear >= self.problem.horizon - 1:
            return last
        end = last
        while end + 1 < len(self.problem.days) and self.problem.days[end + 1].number <= clear:
            end += 1
        return end if end - last <= _LONGEST_TAIL else last

    def last_days_before_frost(self, days: Iterable[int]) -> Iterator[int]:
        """Those of the days that are the last working day of a frost-free run."""
        for day in days:
            clear = int(self.problem.clear_until[self.problem.days[day].number])
            if clear < 0 or clear >= self.problem.horizon - 1:
                continue
            if day + 1 == len(self.problem.days) or self.problem.days[day + 1].number > clear:
                yield day

    # moulds

    def turns_on(self, kind: int, day: int) -> int:
        """Most turns of a kind begun on one day."""
        number = self.problem.days[day].number
        mould = self.problem.moulds[kind]
        most = mould.count * sum(on == number for on in self.chain_from(kind, day, False))
        if mould.bases:
            most = min(most, mould.bases * sum(on == number for on in self.chain_from(kind, day, True)))
        return most

    def _chain_from(self, kind: int, day: int, base: bool) -> tuple[int, ...]:
        days = self.problem.days
        until = days[min(day + _CHAIN_DAYS, len(days) - 1)].number
        base = base or not self.problem.moulds[kind].bases
        return tuple(self.reach.chain(kind, self.opening(day), base=base, until=until))

    def chain_rows(self, kind: int, state: State, last: int) -> Iterator[tuple[range, int]]:
        """(Days, most turns begun on them): every run of days that holds fewer turns than a longer one."""
        mould = self.problem.moulds[kind]
        for base in (False, True) if mould.bases else (True,):
            units = mould.bases if base and mould.bases else mould.count
            yield from self._rows_of_state(kind, state, last, base=base)
            for day in range(state.day + 1, last + 1):
                chain = self.chain_from(kind, day, base)
                for turns, begun in enumerate(chain[: _CHAIN_TURNS + 1]):
                    end = self.problem.day_index[begun] - 1
                    if turns and end >= day:
                        yield range(day, min(end, last) + 1), units * turns
                    if end >= last:
                        break

    def _rows_of_state(self, kind: int, state: State, last: int, *, base: bool) -> Iterator[tuple[range, int]]:
        until, now = self.problem.days[last].number, self.opening(state.day)
        busy = busy_until(self.problem, kind, state, now, base=base)
        mould = self.problem.moulds[kind]
        units = mould.bases if base and mould.bases else mould.count
        free = [now] * (units - len(busy)) + [minute for minute in busy if minute is not None]
        begun = [
            self.problem.day_index[number]
            for minute in free
            for number in self.reach.chain(kind, minute, base=base, until=until)
        ]
        for day in range(state.day, last + 1):
            if day == last or day + 1 in begun:
                yield range(state.day, day + 1), sum(on <= day for on in begun)

    def standing(self, kind: int, state: State) -> Standing:
        """Where the moulds of a kind stand at the opening of the state's day."""
        problem, mould, now = self.problem, self.problem.moulds[kind], self.opening(state.day)
        turns = [turn for turn in state.open_turns if turn.mould == kind]
        in_mould = [turn for turn in turns if turn.strip is None]
        strips = [strip_from(problem, turn, now) for turn in in_mould]
        bases = busy_until(problem, kind, state, now, base=True)
        sides = busy_until(problem, kind, state, now, base=False) if mould.bases else []
        on_sides = [turn for turn in in_mould if turn.sides is None]
        return Standing(
            free=(mould.bases or mould.count) - len(turns),
            free_sides=mould.count - len(on_sides),
            bare=len(in_mould) - len(on_sides),
            blocks_in_moulds=sum(turn.blocks for turn in in_mould),
            to_clean=len(turns) - len(in_mould),
            strip_slots=tuple(self.slots.index(strip) for strip in strips),
            free_slots=tuple(self.poured_again(kind, free) for free in bases),
            free_sides_slots=tuple(self.poured_again(kind, free) for free in sides),
        )

    # rack, people, mixers

    def left_on_rack(self, state: State, slot: int) -> int:
        """Blocks on the rack at the start that are still there at the end of a slot."""
        last = self.slots.all[slot].last
        return sum(blocks for leaves, blocks in state.on_rack(self.problem) if leaves > last)

    def person_minutes(self, first: int, last: int) -> int:
        """Minutes all people have for what ends from one slot to another of a day, begun before it or not."""
        since, until = self.slots.all[first], self.slots.all[last]
        day = self.problem.days[since.day]
        minutes = sum(max(0, min(end, until.last + 1) - max(start, since.first)) for start, end in day.windows)
        whole = first == self.slots.of_day[since.day][0]
        return day.people * (minutes if whole else minutes + self._longest_task)

    @cached_property
    def _longest_task(self) -> int:
        moulds, loads = self.problem.moulds, self.problem.loads
        return max([max(m.strip, m.clean, m.sides) for m in moulds] + [load.to_poured for load in loads])

    def batches_in(self, first: int, last: int, maker: Maker) -> int:
        """Most batches of one maker poured from one slot to another of the same day."""
        spans = self._pours(first, last, [maker])
        return sum(1 + (late - early) // maker.shortest.length for early, late in spans)

    def batches_of(self, first: int, last: int, mixer: int) -> int:
        """Most batches of one mixer poured from one slot to another of the same day."""
        own = [maker for maker in self.makers if maker.mixer == mixer]
        shortest = min((maker.shortest.length for maker in own), default=1)
        return sum(1 + (late - early) // shortest for early, late in self._pours(first, last, own))

    def _pours(self, first: int, last: int, makers: list[Maker]) -> list[tuple[int, int]]:
        """First and last minute, in each part of the day, at which a batch's pour may end in these slots."""
        since, until = self.slots.all[first].first, self.slots.all[last].last
        day = self.problem.days[self.slots.all[first].day]
        spans: list[tuple[int, int]] = []
        for load in (self.problem.loads[index] for maker in makers for index in maker.loads):
            for start, end in batch_starts(day, load):
                early, late = max(start + load.to_poured, since), min(end + load.to_poured, until)
                if early <= late:
                    spans.append((early, late))
        return _joined(spans)

    def _mixer_rows(self, first: int, last: int) -> tuple[Row, ...]:
        """Rows over the batches poured from one slot to another of the same day.

        From the end of one pour to the end of the next in a mixer passes at least the length of the
        next, so all but the first of a part lie between its first and last minute.
        """
        of_mixer: dict[int, dict[int, Maker]] = {}
        for index, maker in enumerate(self.makers):
            of_mixer.setdefault(maker.mixer, {})[index] = maker
        rows = []
        for mixer, own in of_mixer.items():
            rows.append(Row(dict.fromkeys(own, 1), self.batches_of(first, last, mixer)))
            spans = self._pours(first, last, list(own.values()))
            lengths = {index: maker.shortest.length for index, maker in own.items()}
            longest = max(lengths.values())
            rows.append(Row(lengths, sum(late - early + longest for early, late in spans)))
        if len(of_mixer) > 1:
            rows.append(self._foam_row(first, last))
        return tuple(rows)

    def _foam_row(self, first: int, last: int) -> Row:
        """Foam steps of all mixers follow one another, each ending its own pour time before its pour does."""
        foam = {i: min(self.problem.loads[j].foam for j in maker.loads) for i, maker in enumerate(self.makers)}
        pours = [self.problem.loads[j].pour for maker in self.makers for j in maker.loads]
        spans = self._pours(first, last, list(self.makers))
        slack = max(foam.values()) + max(pours) - min(pours)
        return Row(foam, sum(late - early + slack for early, late in spans))


@dataclass(frozen=True)
class Standing:
    """Where the moulds of one kind stand when the counted days begin, each by its earliest slot."""

    free: int
    free_sides: int
    bare: int
    blocks_in_moulds: int
    to_clean: int
    strip_slots: tuple[int, ...]
    free_slots: tuple[int, ...]
    free_sides_slots: tuple[int, ...]

    @property
    def to_strip(self) -> int:
        """Turns not stripped yet."""
        return len(self.strip_slots)

    def ripe_by(self, slot: int) -> int:
        """Turns that may have been stripped by the end of a slot."""
        return sum(at <= slot for at in self.strip_slots)

    def free_by(self, slot: int) -> int:
        """Busy moulds, or bases, that may have been poured again by the end of a slot."""
        return sum(at <= slot for at in self.free_slots)

    def sides_by(self, slot: int) -> int:
        """Busy sides that may have been poured in again by the end of a slot."""
        return sum(at <= slot for at in self.free_sides_slots)


def _joined(spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Spans, both ends included, in order and joined where they overlap."""
    joined: list[tuple[int, int]] = []
    for early, late in sorted(spans):
        if joined and early <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], late))
        else:
            joined.append((early, late))
    return joined
