"""How the foreman empties moulds: sides, strip, move and clean, as early as can be, the oldest turn first."""

from __future__ import annotations

import math

from blockrun.cure import AgeClock
from blockrun.site import MouldKind, Site
from tests.bench.ledger import MINUTES_A_DAY, People, Places
from tests.bench.rule.things import Mould, Turn, leaves_rack, number_of
from tests.bench.rule.ways import Way


class Stripping:
    """The moulds that stand, and what their blocks find on the rack."""

    def __init__(self, site: Site, way: Way) -> None:
        self.site, self.step = site, way.age_step_min
        self.clock = AgeClock(site.weather, site.calendar.start)
        self.moulds = {(kind.kind, n): Mould(kind, n) for kind in site.moulds for n in range(1, kind.count + 1)}
        self.bases = {(k.kind, n): Mould(k, n) for k in site.moulds for n in range(1, (k.bases or 0) + 1)}
        self.rack = Places(sum(rack.places for rack in site.racks))
        self.open: list[Turn] = []

    def ripe(self, poured: int, age_h: float) -> int:
        """First minute at which what was poured then has an age."""
        return self.clock.when(-(-poured // self.step) * self.step, age_h)

    def mould_of(self, turn: Turn) -> Mould:
        """The mould, or the sides, of a turn."""
        return self.moulds[turn.kind.kind, turn.unit]

    def base_of(self, turn: Turn) -> Mould:
        """The base of a turn."""
        return self.bases[turn.kind.kind, turn.base]

    def strip(self, people: People) -> None:
        """All that can be done today for the moulds that stand."""
        self.rack.forget(people.midnight)
        for turn in sorted(self.open, key=lambda turn: (turn.poured, turn.kind.kind, turn.unit)):
            kind = turn.kind
            if kind.bases is not None and turn.sides is None:
                ripe = self.ripe(turn.poured, number_of(kind.sides_off_at_h or 0.0))
                turn.sides = self._booked(people, kind.sides_time_min or 0, ripe)
                self.mould_of(turn).free = turn.sides_off
            if turn.strip is None and (kind.bases is None or turn.sides_off is not None):
                turn.strip = self._strip_start(people, turn)
            if turn.stripped is not None and turn.clean is None:
                turn.clean = self._booked(people, kind.clean_time_min, turn.stripped)
                (self.mould_of(turn) if kind.bases is None else self.base_of(turn)).free = turn.cleaned
        self.open = [turn for turn in self.open if turn.clean is None]

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
        ripe = max(self.ripe(turn.poured, number_of(self.site.curing.strip_at_h)), turn.sides_off or 0)
        blocks, strip_min = len(turn.fills), turn.kind.strip_and_saw_min
        length, full_until = strip_min + self.move_min(blocks), 0
        for start in people.starts(length, 1, ripe):
            stripped = start + strip_min
            if stripped < full_until:
                continue
            leaves = leaves_rack(self.site, stripped)
            if self.rack.has_room(stripped, leaves, blocks):
                people.take(start, start + length, 1)
                self.rack.take(stripped, leaves, blocks)
                return start
            full_until = self.rack.next_leaves(stripped)
        return None

    def move_min(self, blocks: int) -> int:
        """Minutes to move so many blocks, whole ones."""
        return math.ceil(blocks * self.site.move_time_min - 1e-9)

    def most(self, kind: MouldKind, in_mould: int) -> int:
        """Blocks of those in a mould that can be stripped and moved in one stretch, and find places."""
        longest = max(end - start for start, end in self.site.calendar.windows)
        return max(
            n
            for n in range(in_mould + 1)
            if kind.strip_and_saw_min + self.move_min(n) <= longest and n <= self.rack.places
        )

    def places_ahead(self, people: People) -> int:
        """Places that will be free when what is poured today is ripe, those of all that stands taken off."""
        ripe = self.ripe(people.midnight + MINUTES_A_DAY // 2, number_of(self.site.curing.strip_at_h))
        standing = sum(len(turn.fills) for turn in self.open if turn.strip is None)
        return self.rack.places - self.rack.taken(ripe + MINUTES_A_DAY // 2) - standing
