"""The foreman's rule: each morning fill every free mould with what is needed soonest, batches in order, first fit.

It looks no further than the day, and keeps every rule of the yard. It shares no code with the optimiser, so that
the two can be held against each other.
"""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta

from blockrun.cure import AgeClock
from blockrun.mix import BatchSize, batch_sizes, proportions
from blockrun.order import Order, OrderLine, spares, takeoff
from blockrun.order.castable import castable
from blockrun.site import Mixer, MouldKind, Site
from tests.bench.ledger import MINUTES_A_DAY, OneAtATime, People, Places

Size = tuple[str, float, float, float]
"""Mix, length, height and thickness: blocks that are alike in these are one and the same to him."""


class NoWayError(Exception):
    """He sees no way to finish."""


class _FrozenError(Exception):
    """What was poured on these days could not be stripped before the frost."""

    def __init__(self, days: set[int]) -> None:
        super().__init__(days)
        self.days = days


@dataclass(eq=False)
class Batch:
    """One load of a mixer, what it is to pour, and when it starts (None until it is known)."""

    mixer: Mixer
    size: BatchSize
    mix: str
    blocks: list[Size] = field(default_factory=list)
    start: int | None = None

    def at(self, step: str) -> int:
        """Minute of foam_at, pour_from, pour_to or end."""
        assert self.start is not None
        lengths = {
            "foam_at": self.mixer.slurry_time_min,
            "pour_from": self.size.foam_min,
            "pour_to": self.mixer.pour_time_min,
            "end": self.mixer.wash_time_min,
        }
        steps = list(lengths)
        return self.start + sum(lengths[name] for name in steps[: steps.index(step) + 1])


@dataclass(eq=False)
class Turn:
    """One mould filled; minutes at which its tasks start are None until they are planned."""

    kind: MouldKind
    unit: int
    base: int
    fills: list[tuple[Size, Batch]]
    sides: int | None = None
    strip: int | None = None
    clean: int | None = None

    @property
    def poured(self) -> int:
        """End of its last pour."""
        return max(batch.at("pour_to") for _, batch in self.fills)

    @property
    def begun(self) -> int:
        """Start of its first pour."""
        return min(batch.at("pour_from") for _, batch in self.fills)

    @property
    def sides_off(self) -> int | None:
        """Minute the sides are free again."""
        return None if self.sides is None else self.sides + (self.kind.sides_time_min or 0)

    @property
    def stripped(self) -> int | None:
        """End of stripping."""
        return None if self.strip is None else self.strip + self.kind.strip_time_min

    @property
    def cleaned(self) -> int | None:
        """Minute the mould, or its base, is free again."""
        return None if self.clean is None else self.clean + self.kind.clean_time_min


@dataclass(frozen=True)
class Worked:
    """A whole plan of his."""

    site: Site
    order: Order
    batches: tuple[Batch, ...]
    turns: tuple[Turn, ...]


@dataclass
class Mould:
    """One mould, or its sides, or one base: whose it is, its number, and the minute from which it is free."""

    kind: MouldKind
    number: int
    free: int | None = 0


def size_of(line: OrderLine) -> Size:
    """What a mould and a mixer see of a line."""
    return (line.mix, line.length_mm, line.height_mm, line.thickness_mm)


def lines_of(site: Site, order: Order) -> list[OrderLine]:
    """Blocks ordered, soonest needed first, then spares."""
    ordered = takeoff(order, site.calendar)
    return sorted(ordered, key=lambda line: line.needed or date.max) + spares(order, ordered)


def work(site: Site, order: Order, longest_days: int = 900) -> Worked:
    """Plan an order as he would.

    Raises
    ------
    NoWayError : he is not done within so many calendar days.
    """
    shut: set[int] = set()
    while True:
        try:
            return _Work(site, order, shut, longest_days).plan()
        except _FrozenError as frozen:
            shut |= frozen.days


class _Work:
    """His yard, from the first day on; he does not pour on days that are shut."""

    def __init__(self, site: Site, order: Order, shut: set[int], longest_days: int) -> None:
        self.site, self.order, self.shut, self.longest_days = site, order, shut, longest_days
        self.clock = AgeClock(site.weather, site.calendar.start)
        self.wanted: list[Size] = [size_of(line) for line in lines_of(site, order) for _ in range(line.count)]
        self.castable = {
            (kind.kind, size_of(line)): castable(kind, line) for kind in site.moulds for line in lines_of(site, order)
        }
        self.sizes = self._batch_sizes()
        self.moulds = [Mould(kind, n) for kind in site.moulds for n in range(1, kind.count + 1)]
        self.bases = [Mould(kind, n) for kind in site.moulds for n in range(1, (kind.bases or 0) + 1)]
        self.mixers = {mixer.name: OneAtATime() for mixer in site.mixers}
        self.generator = OneAtATime()
        self.rack = Places(sum(rack.places for rack in site.racks))
        self.batches: list[Batch] = []
        self.turns: list[Turn] = []
        self.bags = self.agent_l = 0.0

    def _batch_sizes(self) -> dict[tuple[str, str], list[BatchSize]]:
        made = {
            mix.name: proportions(
                slurry_water_cement=mix.slurry_water_cement,
                foam_density_kg_m3=self.site.foam_generator.foam_density_kg_m3,
                oven_dry_density_kg_m3=mix.oven_dry_density_kg_m3,
                wet_density_kg_m3=mix.wet_density_kg_m3,
            )
            for mix in self.order.mixes
        }
        return {
            (mixer.name, name): batch_sizes(self.site, mixer, mix)
            for mixer in self.site.mixers
            for name, mix in made.items()
        }

    # days

    def date_of(self, day: int) -> date:
        return self.site.calendar.start + timedelta(days=day)

    def plan(self) -> Worked:
        """Day after day until all is poured, stripped and cleaned."""
        for day in range(self.longest_days):
            if not self.wanted and not self._open():
                return Worked(self.site, self.order, tuple(self.batches), tuple(self.turns))
            if self.site.calendar.is_working(self.date_of(day)):
                self._work_day(day)
            self._check_frost(day)
        raise NoWayError

    def _open(self) -> list[Turn]:
        return [turn for turn in self.turns if turn.clean is None]

    def _work_day(self, day: int) -> None:
        """Strip and clean, then fill; again where something poured today is ripe today."""
        people = People(day * MINUTES_A_DAY, self.site.calendar.windows, self.site.crew.on(self.date_of(day)))
        if self.wanted:
            for chore in self.site.chores:
                for at in chore.at:
                    start = people.midnight + at
                    people.take(start, start + chore.time_min, chore.people)
        while True:
            self._strip(people)
            if day in self.shut or not self._fill(people):
                return

    # stripping

    def _strip(self, people: People) -> None:
        """All that can be done today for the moulds that stand, the oldest first."""
        for turn in sorted(self._open(), key=lambda turn: (turn.poured, turn.kind.kind, turn.unit)):
            kind = turn.kind
            if kind.bases is not None and turn.sides is None:
                ripe = self.clock.when(turn.poured, kind.sides_off_at_h or 0.0)
                turn.sides = self._booked(people, kind.sides_time_min or 0, ripe)
                self._mould_of(turn).free = turn.sides_off
            if turn.strip is None and (kind.bases is None or turn.sides_off is not None):
                turn.strip = self._strip_start(people, turn)
            if turn.stripped is not None and turn.clean is None:
                turn.clean = self._booked(people, kind.clean_time_min, turn.stripped)
                (self._mould_of(turn) if kind.bases is None else self._base_of(turn)).free = turn.cleaned

    def _booked(self, people: People, length: int, at: int) -> int | None:
        """Start of a task of one person as early as can be today, if it can be."""
        if length == 0:
            # no time and no person, but still not before its hour
            return at if at < people.midnight + MINUTES_A_DAY else None
        start = next(people.starts(length, 1, at), None)
        if start is not None:
            people.take(start, start + length, 1)
        return start

    def _strip_start(self, people: People, turn: Turn) -> int | None:
        ripe = max(self.clock.when(turn.poured, self.site.curing.strip_at_h), turn.sides_off or 0)
        blocks, strip_min = len(turn.fills), turn.kind.strip_time_min
        length = strip_min + self.move_min(blocks)
        for start in people.starts(length, 1, ripe):
            stripped = start + strip_min
            leaves = self.leaves_rack(stripped)
            if self.rack.has_room(stripped, leaves, blocks):
                people.take(start, start + length, 1)
                self.rack.take(stripped, leaves, blocks)
                return start
        return None

    def move_min(self, blocks: int) -> int:
        """Minutes to move so many blocks, whole ones."""
        return math.ceil(blocks * self.site.move_time_min - 1e-9)

    def leaves_rack(self, stripped: int) -> int:
        """First working minute after the time on the rack."""
        midnight = datetime.combine(self.site.calendar.start, time())
        due = midnight + timedelta(minutes=stripped + self.site.curing.rack_for_min)
        return (self.site.calendar.next_working_minute(due) - midnight) // timedelta(minutes=1)

    def _mould_of(self, turn: Turn) -> Mould:
        return next(m for m in self.moulds if m.kind is turn.kind and m.number == turn.unit)

    def _base_of(self, turn: Turn) -> Mould:
        return next(m for m in self.bases if m.kind is turn.kind and m.number == turn.base)

    # frost

    def cold(self, day: int) -> bool:
        """Whether the air is too cold on a day."""
        return self.site.weather.day(self.date_of(day)).min_c < self.site.curing.least_air_c

    def _ripens_before_frost(self, poured: int) -> bool:
        """Whether a turn poured then is ripe by a working day before the next cold one."""
        ripe = self.clock.when(poured, self.site.curing.strip_at_h)
        day = poured // MINUTES_A_DAY
        last = ripe // MINUTES_A_DAY
        closes = self.site.calendar.windows[-1][1]
        if ripe % MINUTES_A_DAY >= closes - 60:
            last += 1
        while not self.site.calendar.is_working(self.date_of(last)):
            last += 1
        return not any(self.cold(on) for on in range(day, last + 1))

    def _check_frost(self, day: int) -> None:
        """A turn that stands in the frost should not have been poured."""
        if self.cold(day):
            caught = {turn.begun // MINUTES_A_DAY for turn in self.turns if turn.strip is None}
            stripped = {
                turn.begun // MINUTES_A_DAY
                for turn in self.turns
                if turn.strip is not None and turn.strip // MINUTES_A_DAY == day
            }
            if caught | stripped:
                raise _FrozenError(caught | stripped)

    # filling

    def _fill(self, people: People) -> bool:
        """Fill what is free today with what is needed soonest; whether anything was poured."""
        batches, turns = self._batches_for(list(self._filled(people)))
        free = {id(turn): self._free_from(turn) for turn in turns}
        poured = False
        for batch in batches:
            earliest = max(free[id(turn)] for turn in turns if any(b is batch for _, b in turn.fills))
            if self._pour(people, batch, earliest):
                poured = True
                self.batches.append(batch)
            else:
                for turn in turns:
                    turn.fills = [fill for fill in turn.fills if fill[1] is not batch]
        for batch in batches:
            if batch.start is not None:
                for size in batch.blocks:
                    self.wanted.remove(size)
        for turn in turns:
            if turn.fills:
                self.turns.append(turn)
                self._mould_of(turn).free = None
                if turn.base:
                    self._base_of(turn).free = None
        return poured

    def _free_from(self, turn: Turn) -> int:
        mould = self._mould_of(turn).free
        base = self._base_of(turn).free if turn.base else 0
        assert mould is not None
        assert base is not None
        return max(mould, base)

    def _filled(self, people: People) -> Iterator[tuple[Turn, list[Size]]]:
        """Moulds that are free at some time today, and the blocks to cast in each."""
        tonight = people.windows[-1][1]
        left = list(self.wanted)
        for mould, base in sorted(self._pairs(tonight), key=lambda pair: max(m.free or 0 for m in pair if m)):
            blocks: list[Size] = []
            for size in left:
                if len(blocks) < self._most(mould.kind) and self.castable[mould.kind.kind, size]:
                    blocks.append(size)
            for size in blocks:
                left.remove(size)
            if blocks:
                yield Turn(mould.kind, mould.number, base.number if base else 0, []), blocks

    def _pairs(self, tonight: int) -> Iterator[tuple[Mould, Mould | None]]:
        def free(of_kind: Iterable[Mould], kind: MouldKind) -> list[Mould]:
            found = [m for m in of_kind if m.kind is kind and m.free is not None and m.free < tonight]
            return sorted(found, key=lambda m: (m.free or 0, m.number))

        for kind in self.site.moulds:
            moulds = free(self.moulds, kind)
            bases = free(self.bases, kind) if kind.bases is not None else [None] * len(moulds)
            yield from zip(moulds, bases, strict=False)

    def _most(self, kind: MouldKind) -> int:
        """Cavities that can be stripped and moved in one stretch, and find places."""
        longest = max(end - start for start, end in self.site.calendar.windows)
        return max(
            n
            for n in range(kind.cavities + 1)
            if kind.strip_time_min + self.move_min(n) <= longest and n <= self.rack.places
        )

    def _batches_for(self, filled: list[tuple[Turn, list[Size]]]) -> tuple[list[Batch], list[Turn]]:
        """First fit into the batches begun, in the order of the moulds."""
        batches: list[Batch] = []
        room: dict[int, float] = {}
        for turn, blocks in filled:
            for size in blocks:
                volume = size[1] * size[2] * size[3] / 1e6 * (1 + self.site.overfill)
                batch = next((b for b in batches if b.mix == size[0] and room[id(b)] >= volume), None)
                if batch is None:
                    batch = self._begun(size[0], volume, batches)
                    batches.append(batch)
                    room[id(batch)] = batch.size.room_l
                room[id(batch)] -= volume
                batch.blocks.append(size)
                turn.fills.append((size, batch))
        for batch in batches:
            poured = batch.size.room_l - room[id(batch)]
            batch.size = next(s for s in self.sizes[batch.mixer.name, batch.mix] if s.room_l >= poured - 1e-7)
        return batches, [turn for turn, _ in filled]

    def _begun(self, mix: str, volume: float, batches: list[Batch]) -> Batch:
        """A batch in the mixer that has the fewest so far, the bigger one first."""
        used = Counter(batch.mixer.name for batch in batches)
        able = [
            (used[mixer.name], -self.sizes[mixer.name, mix][-1].room_l, mixer.name)
            for mixer in self.site.mixers
            if self.sizes[mixer.name, mix] and self.sizes[mixer.name, mix][-1].room_l >= volume
        ]
        name = min(able)[2]
        mixer = next(mixer for mixer in self.site.mixers if mixer.name == name)
        return Batch(mixer, self.sizes[name, mix][-1], mix)

    def _pour(self, people: People, batch: Batch, free: int) -> bool:
        """Start a batch as early as can be today; whether it could be."""
        day = people.midnight // MINUTES_A_DAY
        if not self._in_stock(day, batch):
            return False
        to_pour = batch.mixer.slurry_time_min + batch.size.foam_min
        last_foam = people.midnight + self.site.calendar.last_foam_min
        for start in people.starts(batch.size.length_min, batch.mixer.crew, free - to_pour):
            trial = replace(batch, start=start)
            foam = (trial.at("foam_at"), trial.at("pour_from"))
            mixer = self.mixers[batch.mixer.name]
            if foam[0] > last_foam or not self._ripens_before_frost(trial.at("pour_to")):
                return False
            if mixer.is_free(start, trial.at("end")) and self.generator.is_free(*foam):
                batch.start = start
                people.take(start, trial.at("end"), batch.mixer.crew)
                mixer.take(start, trial.at("end"))
                self.generator.take(*foam)
                self.bags += float(batch.size.bags)
                self.agent_l += batch.size.agent_l
                return True
        return False

    def _in_stock(self, day: int, batch: Batch) -> bool:
        cement, agent = self.site.stock.cement, self.site.stock.foaming_agent
        on = self.date_of(day)
        bags = cement.on_hand_bags + sum(d.amount for d in cement.deliveries if d.day <= on)
        litres = agent.on_hand_l + sum(d.amount for d in agent.deliveries if d.day <= on)
        return self.bags + float(batch.size.bags) <= bags + 1e-9 and self.agent_l + batch.size.agent_l <= litres + 1e-9


def ready_of(worked: Worked, turn: Turn, batch: Batch) -> int:
    """Minute from which a block of a turn may be laid."""
    calendar, curing = worked.site.calendar, worked.site.curing
    midnight = datetime.combine(calendar.start, time())
    assert turn.stripped is not None
    due = midnight + timedelta(minutes=turn.stripped + curing.rack_for_min)
    leaves = (calendar.next_working_minute(due) - midnight) // timedelta(minutes=1)
    return max(leaves, batch.at("pour_to") + curing.lay_at_min)


def ready_by_size(worked: Worked) -> dict[Size, list[int]]:
    """Days on which the blocks of each size are ready, in order."""
    ready: dict[Size, list[int]] = defaultdict(list)
    for turn in worked.turns:
        for size, batch in turn.fills:
            ready[size].append(ready_of(worked, turn, batch) // MINUTES_A_DAY)
    return {size: sorted(days) for size, days in ready.items()}
