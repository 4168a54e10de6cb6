"""The days of a plan: of each thing how much was taken and how much there was, and what ran out."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from blockrun.order.castable import castable
from blockrun.planner.ages import ages_of
from blockrun.planner.clocks import Clocks
from blockrun.planner.full import full_of
from blockrun.planner.moments import rows_with_moments
from blockrun.planner.on_rack import OnRacks
from blockrun.planner.on_stack import OnStack
from blockrun.planner.stopped import frost_before_strip, why_stopped
from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.site import Mixer, MouldKind

Span = tuple[datetime, datetime]


@dataclass(frozen=True)
class Taken:
    """So much of a thing was taken on a day, of so much there was.

    Attributes
    ----------
    thing : ``gang-4``, ``gang-4 sides``, ``gang-4 bases``, the name of a mixer, ``rack``, ``stack``, ``people``,
        ``cement``, ``foaming agent``, ``frost``, ``heat and rain``.
    unit : what it is counted in: ``moulds``, ``places``, ``min``, ``bags``, ``L`` or ``day``.
    ran_out : whether no more of it could be had, so that the next pour had to wait for it.
    cold : of moulds, whether they would have been ripe again were it 20 degC all the time.
    """

    thing: str
    taken: float
    there: float
    unit: str
    ran_out: bool
    cold: bool = False


@dataclass(frozen=True)
class HeldDay:
    """A working day: blocks poured, those still to pour in its evening, and all that was taken."""

    day: date
    blocks: int
    left: int
    taken: tuple[Taken, ...]

    @property
    def held_by(self) -> tuple[str, ...]:
        """What ran out, and cold where that is why moulds did."""
        things = [each.thing for each in self.taken if each.ran_out]
        return (*things, *(["cold"] if any(each.cold for each in self.taken) else []))


def _by_day(rows: list[Any]) -> defaultdict[date, list[Any]]:
    """Rows by the day on which they start."""
    found: defaultdict[date, list[Any]] = defaultdict(list)
    for row in rows:
        found[row.start.date()].append(row)
    return found


def _last_pours(casts: list[Any]) -> dict[tuple[str, str], date]:
    """The day on which each mark of a mix is poured last."""
    found: dict[tuple[str, str], date] = {}
    for cast in casts:
        of, day = (cast.mark, cast.mix), cast.poured.date()
        found[of] = max(day, found.get(of, day))
    return found


def _turns_of(casts: list[Any]) -> list[list[Any]]:
    """Casts of each turn."""
    found: defaultdict[tuple[str, int], list[Any]] = defaultdict(list)
    for cast in casts:
        found[cast.mould, cast.turn].append(cast)
    return list(found.values())


class PlannedDays:
    """The tables of a plan, by what they take."""

    def __init__(self, plan: Plan) -> None:
        self.plan, self.site = plan, plan.site
        self.casts, self.batches = rows_with_moments(plan.tables.casts), rows_with_moments(plan.tables.batches)
        self._tasks = _by_day(rows_with_moments(plan.tables.tasks))
        self._mixed = _by_day(self.batches)
        self._poured = Counter(cast.poured.date() for cast in self.casts)
        self._last_of = _last_pours(self.casts)
        self.materials = {row.day.date(): row for row in rows_with_moments(plan.tables.materials)}
        self.last = max(batch.start for batch in self.batches).date()
        self._ages = ages_of(plan.site, plan.order, {line.mix for line in plan.ordered})
        self._clocks = Clocks(plan.site, plan.order, plan.ordered)
        self._lines = {(line.mark, line.mix): line for line in plan.ordered}
        self._full, self._on_racks = full_of(plan.tables), OnRacks(plan.tables.casts)
        self._on_stack = OnStack(plan)
        self._turns = _turns_of(self.casts)

    def day(self, day: date) -> HeldDay:
        """All of one day."""
        poured = self._poured[day]
        taken = [
            *(taken for kind in self.site.moulds for taken in self._moulds(kind, day)),
            self._rack(day),
            *self._stack(day),
            *self._mixing(day),
            *self._stock(day),
            *self._weather(day, poured),
        ]
        left = sum(n for on, n in self._poured.items() if on > day)
        return HeldDay(day, poured, left, tuple(taken))

    def _moulds(self, kind: MouldKind, day: date) -> Iterator[Taken]:
        """What of a kind stands full when the last foam may go in, while it could cast what is poured later."""
        wanted_later = self._wanted_later(kind, day)
        sides, bases = kind.mould_names, kind.base_names
        if not any(name in self._full for name in (*sides, *bases)):
            return
        of = [(f"{kind.kind} sides" if bases else kind.kind, sides, self._ages.sides_h(kind) or self._ages.strip_h)]
        for thing, names, hours in [*of, *([(f"{kind.kind} bases", bases, self._ages.strip_h)] if bases else [])]:
            full = self._full_at(names, self._closing(day))
            ran_out = wanted_later and len(full) >= len(names)
            yield Taken(
                thing,
                len(full),
                len(names),
                "moulds",
                ran_out,
                ran_out and self._waits_for_cold(kind, hours, full, day),
            )

    def _wanted_later(self, kind: MouldKind, day: date) -> bool:
        """Whether a kind casts something that is poured after a day."""
        return any(last > day and castable(kind, self._lines[of]) for of, last in self._last_of.items())

    def _full_at(self, names: Iterable[str], moment: datetime) -> list[datetime]:
        """Of moulds or bases that stand full at a moment, when they were poured."""
        turns = (turn for name in names for turn in self._full.get(name, []))
        return [turn.poured for turn in turns if turn.since <= moment < turn.free]

    def _closing(self, day: date) -> datetime:
        """The last moment at which foam may go in."""
        return datetime.combine(day, time()) + timedelta(minutes=self._last_foam())

    def _last_foam(self) -> int:
        calendar, mixers = self.site.calendar, self.site.mixers
        shortest = min(mixer.foam_time_min + mixer.pour_time_min + mixer.wash_time_min for mixer in mixers)
        return min(calendar.last_foam_min, calendar.windows[-1][1] - shortest)

    def _waits_for_cold(self, kind: MouldKind, hours: float, poured: list[datetime], day: date) -> bool:
        """Whether the oldest turn is not ripe in the evening, and would have been at 20 degC."""
        oldest, evening = min(poured), self._closing(day)
        ripe = self.site.calendar.moment_of(self._clocks.ripe_min(kind, oldest, hours))
        mild = oldest + timedelta(hours=hours, minutes=kind.strip_and_saw_min + kind.clean_time_min)
        return mild <= evening < ripe

    def _rack(self, day: date) -> Taken:
        """The racks at their fullest; no room for the smallest turn to come, or for one that could be stripped."""
        places = sum(rack.places for rack in self.site.racks)
        held, room = self._on_racks.most(day), places - self._on_racks.at(self._closing(day))
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
        since = self._off_rack(self._closing(day))
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
        closing = self._closing(day)
        for turn in self._turns:
            if turn[0].poured.date() < day < turn[0].strip.date() and all(self._ripe(cast, closing) for cast in turn):
                yield turn

    def _would_wait_for_the_stack(self, day: date) -> bool:
        """Whether of what is poured on the next day nothing had room on the stack, were it poured today.

        What has to wait for a mould counts for nothing.
        """
        following = min((on for on in self._poured if on > day), default=None)
        poured = self._closing(day)
        aged = (poured + timedelta(minutes=self._ages.lay_min)).date()
        free = {kind.kind for kind in self.site.moulds if self._has_free(kind, poured)}
        turns = [
            turn for turn in self._turns if turn[0].poured.date() == following and kind_named(turn[0].mould) in free
        ]
        return bool(turns) and not any(
            self._on_stack.has_room(turn, self._off_rack(self._stripped(turn, poured)), [aged] * len(turn))
            for turn in turns
        )

    def _has_free(self, kind: MouldKind, moment: datetime) -> bool:
        """Whether sides and a base of a kind are free at a moment."""
        both = [kind.mould_names, *([kind.base_names] if kind.base_names else [])]
        return all(len(self._full_at(names, moment)) < len(names) for names in both)

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
        return self.site.calendar.moment_of(self._clocks.ripe_min(kind, poured, self._ages.strip_h))

    def _mixing(self, day: date) -> Iterator[Taken]:
        """Mixers, and the people of a batch: what left no stretch long enough for one batch more.

        Time before a mould is free for that batch is of no use to it.
        """
        people = self.site.crew.on(day)
        work = self._tasks[day]
        minutes = sum(end - start for start, end in self.site.calendar.windows)
        used = sum(row.people * (row.end - row.start) // timedelta(minutes=1) for row in work)
        room = {mixer.name: self._room(mixer, day, work, people) for mixer in self.site.mixers}
        since = self._mould_free_from(day)
        mixers_free = False
        for mixer in self.site.mixers:
            busy = self._busy(mixer.name, day)
            taken = sum((end - start) // timedelta(minutes=1) for start, end in busy)
            free = self._takes_a_batch(mixer, self._gaps(day, busy), since)
            mixers_free |= free
            yield Taken(mixer.name, taken, minutes, "min", bool(busy) and not free)
        none = not any(self._takes_a_batch(mixer, room[mixer.name], since) for mixer in self.site.mixers)
        yield Taken("people", used, people * minutes, "min", none and mixers_free)

    def _takes_a_batch(self, mixer: Mixer, gaps: Iterable[tuple[int, int]], since: int) -> bool:
        """Whether a whole batch fits one of some stretches, poured from a minute on, its foam in by the last."""
        slurry_min, last_foam = math.ceil(mixer.slurry_time_min), self.site.calendar.last_foam_min
        soonest = since - math.ceil(mixer.slurry_time_min + mixer.foam_time_min)
        return any(min(end - _batch_min(mixer), last_foam - slurry_min) >= max(start, soonest) for start, end in gaps)

    def _mould_free_from(self, day: date) -> int:
        """The minute of a day from which a mould is free for one turn more that is poured later, and stays so.

        0 where all are full at the last foam, or none casts what is still to come: then time is judged by itself.
        """
        kinds = [kind for kind in self.site.moulds if not kind.filler and self._wanted_later(kind, day)]
        since = [
            max(self._spare_from(names, day) for names in (kind.mould_names, kind.base_names) if names)
            for kind in kinds
            if self._has_free(kind, self._closing(day))
        ]
        midnight = datetime.combine(day, time())
        return max(0, (min(since) - midnight) // timedelta(minutes=1)) if since else 0

    def _spare_from(self, names: Sequence[str], day: date) -> datetime:
        """From when on one of some moulds or bases is free that is still free at the last foam, whichever it is."""
        closing = self._closing(day)
        turns = [turn for name in names for turn in self._full.get(name, []) if turn.since <= closing]
        changes = sorted(
            [(turn.since, 1) for turn in turns] + [(turn.free, -1) for turn in turns if turn.free <= closing]
        )
        full, since = 0, datetime.combine(day, time())
        for moment, change in changes:
            full += change
            if change < 0 and full == len(names) - 1:
                since = max(since, moment)
        return since

    def _busy(self, mixer: str, day: date) -> list[Span]:
        return [(batch.start, batch.end) for batch in self._mixed[day] if batch.mixer == mixer]

    def _room(self, mixer: Mixer, day: date, work: list[Any], people: int) -> list[tuple[int, int]]:
        """Stretches in which a mixer and its people are free together."""
        moments = sorted({moment for row in work for moment in (row.start, row.end)})
        short: list[Span] = []
        for since, until in pairwise(moments):
            busy = sum(row.people for row in work if row.start <= since < row.end)
            if people - busy < mixer.crew:
                short.append((since, until))
        if people < mixer.crew:
            return []
        return self._gaps(day, [*short, *self._busy(mixer.name, day)])

    def _gaps(self, day: date, busy: Iterable[Span]) -> list[tuple[int, int]]:
        """Stretches of the working time that nothing of this takes, from a minute of the day to another."""
        midnight = datetime.combine(day, time())
        taken = sorted(
            ((a - midnight) // timedelta(minutes=1), (b - midnight) // timedelta(minutes=1)) for a, b in busy
        )
        gaps = []
        for start, end in self.site.calendar.windows:
            at = start
            for since, until in taken:
                if since < end and until > at:
                    gaps.append((at, min(since, end)))
                    at = max(at, until)
            gaps.append((at, end))
        return [(start, end) for start, end in gaps if end > start]

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

    def _weather(self, day: date, poured: int) -> Iterator[Taken]:
        """Days on which nothing may be poured."""
        if poured:
            return
        if why_stopped(self.site, day):
            yield Taken("heat and rain", 1, 1, "day", ran_out=True)
        noon = datetime.combine(day, time(12))
        kinds = [kind for kind in self.site.moulds if kind.kind in set(map(kind_named, self._full))]
        ripe = min(self._clocks.ripe_min(kind, noon, self._ages.strip_h) for kind in kinds)
        stripped = self.site.calendar.next_working_minute(self.site.calendar.moment_of(ripe)).date()
        if frost_before_strip(self.site, day, stripped):
            yield Taken("frost", 1, 1, "day", ran_out=True)


def _batch_min(mixer: Mixer) -> int:
    """Minutes from the start of a batch to its end, foam at its quickest."""
    return math.ceil(mixer.slurry_time_min + mixer.foam_time_min + mixer.pour_time_min + mixer.wash_time_min)
