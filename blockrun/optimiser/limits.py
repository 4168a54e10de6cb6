"""Numbers that the counts need: how soon, how many, how much, each valid for every real plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, cached_property

from blockrun.optimiser.makers import Maker, makers
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.reach import Reach, batch_starts
from blockrun.optimiser.slots import Slots, Stretch
from blockrun.optimiser.standing import busy_until
from blockrun.optimiser.state import State
from blockrun.optimiser.weighing import Weighing
from blockrun.optimiser.when import When

_CHAIN_TURNS = 6
_CHAIN_DAYS = 45
_LONGEST_TAIL = 15
_SLOTS_A_DAY = 5


@dataclass(frozen=True)
class Row:
    """``sum(costs[maker] x batches) <= most``."""

    costs: dict[int, int]
    most: int


class Limits:
    """Limits of a problem, worked out once and kept: no plan passes any of them."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.reach = Reach(problem)
        self.slots = Slots(problem, self.reach, _SLOTS_A_DAY)
        self.when = When(problem, self.reach, self.slots)
        self.makers = makers(problem)
        self.weighing = Weighing(problem)
        self.mixer_rows = cache(self._mixer_rows)
        self.chain_from = cache(self._chain_from)

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
        return tuple(self.reach.chain(kind, self.problem.days[day].opens, base=base, until=until))

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
        until, now = self.problem.days[last].number, self.problem.days[state.day].opens
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

    # rack, people, mixers

    def left_on_rack(self, state: State, minute: int) -> int:
        """Blocks on the rack at the start that are still there after a minute."""
        return sum(blocks for leaves, blocks in state.on_rack(self.problem) if leaves > minute)

    def person_minutes(self, stretch: Stretch) -> int:
        """Minutes all people have for what ends in a stretch of a day, begun before it or not."""
        day = self.problem.days[stretch.day]
        minutes = sum(max(0, min(end, stretch.last + 1) - max(start, stretch.first)) for start, end in day.windows)
        from_opening = stretch.first <= day.opens
        return day.people * (minutes if from_opening else minutes + self._longest_task)

    @cached_property
    def _longest_task(self) -> int:
        moulds, loads = self.problem.moulds, self.problem.loads
        return max([max(m.strip, m.clean, m.sides) for m in moulds] + [load.to_poured for load in loads])

    def batches_in(self, stretch: Stretch, maker: Maker) -> int:
        """Most batches of one maker poured in a stretch of a day."""
        spans = self._pours(stretch, [maker])
        return sum(1 + (late - early) // maker.shortest.length for early, late in spans)

    def batches_of(self, stretch: Stretch, mixer: int) -> int:
        """Most batches of one mixer poured in a stretch of a day."""
        own = [maker for maker in self.makers if maker.mixer == mixer]
        shortest = min((maker.shortest.length for maker in own), default=1)
        return sum(1 + (late - early) // shortest for early, late in self._pours(stretch, own))

    def _pours(self, stretch: Stretch, of: list[Maker]) -> list[tuple[int, int]]:
        """First and last minute, in each part of the day, at which a batch's pour may end in a stretch of it."""
        day = self.problem.days[stretch.day]
        spans: list[tuple[int, int]] = []
        for load in (self.problem.loads[index] for maker in of for index in maker.loads):
            for start, end in batch_starts(day, load):
                early, late = max(start + load.to_poured, stretch.first), min(end + load.to_poured, stretch.last)
                if early <= late:
                    spans.append((early, late))
        return _joined(spans)

    def _mixer_rows(self, stretch: Stretch) -> tuple[Row, ...]:
        """Rows over the batches poured in a stretch of a day.

        From the end of one pour to the end of the next in a mixer passes at least the length of the
        next, so all but the first of a part lie between its first and last minute.
        """
        of_mixer: dict[int, dict[int, Maker]] = {}
        for index, maker in enumerate(self.makers):
            of_mixer.setdefault(maker.mixer, {})[index] = maker
        rows = []
        for mixer, own in of_mixer.items():
            rows.append(Row(dict.fromkeys(own, 1), self.batches_of(stretch, mixer)))
            spans = self._pours(stretch, list(own.values()))
            lengths = {index: maker.shortest.length for index, maker in own.items()}
            longest = max(lengths.values())
            rows.append(Row(lengths, sum(late - early + longest for early, late in spans)))
        if len(of_mixer) > 1:
            rows.append(self._foam_row(stretch))
        return tuple(rows)

    def _foam_row(self, stretch: Stretch) -> Row:
        """Foam steps of all mixers follow one another, each ending its own pour time before its pour does."""
        foam = {i: min(self.problem.loads[j].foam for j in maker.loads) for i, maker in enumerate(self.makers)}
        pours = [self.problem.loads[j].pour for maker in self.makers for j in maker.loads]
        spans = self._pours(stretch, list(self.makers))
        slack = max(foam.values()) + max(pours) - min(pours)
        return Row(foam, sum(late - early + slack for early, late in spans))


def _joined(spans: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Spans, both ends included, in order and joined where they overlap."""
    joined: list[tuple[int, int]] = []
    for early, late in sorted(spans):
        if joined and early <= joined[-1][1]:
            joined[-1] = (joined[-1][0], max(joined[-1][1], late))
        else:
            joined.append((early, late))
    return joined
