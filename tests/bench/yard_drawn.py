"""A bench yard drawn by chance, piece by piece: what is ordered, what there is, and the air."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from random import Random
from typing import Final

from tests.bench.yard_files import blocks_text, order_text, site_text, weather_text

Size3 = tuple[int, int, int]
"""Length, height and thickness in mm."""


@dataclass(frozen=True)
class Extent:
    """How much is ordered, in how many formats, and about how many days it takes to pour."""

    blocks: int
    formats: int
    days: int


WALL, HEAVY = "wall", "heavy"
CEMENT_KG_M3: Final = {WALL: 500, HEAVY: 750}
BAG_KG: Final = 25
WORKDAYS_A_WEEK: Final = 6


@dataclass(frozen=True)
class Family:
    """Sizes of one height and thickness, and the gang mould that casts the longest."""

    kind: str
    cavities: int
    sizes: tuple[Size3, ...]


FAMILIES: Final = (
    Family("gang-4", 4, ((600, 300, 200), (300, 300, 200), (450, 300, 200))),
    Family("gang-6", 6, ((600, 200, 100), (300, 200, 100), (400, 200, 100))),
    Family("gang-5", 5, ((500, 250, 150), (250, 250, 150), (375, 250, 150))),
    Family("gang-3", 3, ((400, 200, 200), (200, 200, 200), (300, 200, 200))),
)
SAWN_ONLY: Final = (390, 240, 200)
"""A size that no gang mould casts: it is sawn out of the slab."""


@dataclass(frozen=True)
class Nature:
    """What makes a yard of its kind: each a share of what its order needs on the average day, or days."""

    cycle_d: float
    """Working days that moulds allow for one turn."""
    rack: float
    haste: float
    """Needs come after so many times the days of pouring."""
    wait_d: int
    """Days from ready to needed at the first course."""
    at_hand: float
    """Cement that is there on the first day."""


NATURES: Final = {
    "easy": Nature(cycle_d=3.0, rack=1.6, haste=1.4, wait_d=8, at_hand=1.0),
    "tight": Nature(cycle_d=2.0, rack=0.95, haste=1.0, wait_d=0, at_hand=0.5),
    "cold": Nature(cycle_d=4.0, rack=1.4, haste=1.4, wait_d=8, at_hand=1.0),
    "full": Nature(cycle_d=3.0, rack=1.25, haste=1.3, wait_d=6, at_hand=0.4),
}


@dataclass(frozen=True)
class Ordered:
    """Blocks of one size and mix."""

    mark: str
    size: Size3
    mix: str
    count: int

    @property
    def volume_l(self) -> float:
        """Of all of them."""
        return self.count * math.prod(self.size) / 1e6


class Drawn:
    """A yard on its way from chance to its files."""

    def __init__(self, chance: Random, extent: Extent, kind: str, name: str) -> None:
        self.chance, self.extent, self.kind, self.name = chance, extent, kind, name
        self.nature = NATURES[kind]
        first = {"easy": date(2027, 4, 26), "cold": date(2027, 3, 15)}.get(kind, date(2027, 4, 12))
        self.start = first + timedelta(days=7 * chance.randrange(3))
        self.work_d = max(1.0, extent.days * WORKDAYS_A_WEEK / 7)
        self.ordered = self._ordered()
        self.a_day = extent.blocks / self.work_d

    def files(self) -> dict[str, str]:
        return {
            "site.yaml": site_text(self._site()),
            "order.yaml": order_text(self.name, sorted({of.mix for of in self.ordered}), self.chance.choice((3, 4, 5))),
            "blocks.csv": blocks_text(self._rows()),
            "weather.csv": weather_text(self.start, self._air()),
        }

    # what is ordered

    def _formats(self) -> list[tuple[Size3, str]]:
        """As many sizes as asked; of a full yard, a third of them are of the heavy mix, and one is sawn."""
        n = self.extent.formats
        n_heavy = n // 3 if self.kind == "full" else 0
        n_families = max(1, min(len(FAMILIES), math.ceil((n - n_heavy) / 3), n - n_heavy))
        if self.kind != "full" and n > 2:
            n_families = max(2, n_families)
        sizes = [family.sizes[nth] for nth in range(3) for family in FAMILIES[:n_families]][: n - n_heavy]
        if self.kind == "full":
            sizes[-1] = SAWN_ONLY
        return [(size, WALL) for size in sizes] + [(size, HEAVY) for size in sizes[:n_heavy]]

    def _ordered(self) -> list[Ordered]:
        formats = self._formats()
        shares = [self.chance.randint(2, 5) for _ in formats]
        shares[0] += 4
        left, ordered = self.extent.blocks, []
        for nth, ((size, mix), share) in enumerate(zip(formats, shares, strict=True)):
            last = nth == len(formats) - 1
            count = left if last else max(1, round(self.extent.blocks * share / sum(shares)))
            left -= count
            ordered.append(Ordered(f"{mix[0].upper()}{nth + 1}", size, mix, count))
        return ordered

    def _rows(self) -> list[tuple[object, ...]]:
        """Course after course, each with its part of every mark."""
        n_courses = max(2, min(120, self.extent.blocks // 40))
        first = self.start + timedelta(days=2 + 28 + self.nature.wait_d)
        rows: list[tuple[object, ...]] = []
        for course in range(1, n_courses + 1):
            after = round(self.nature.haste * self.extent.days * (course - 1) / n_courses)
            needed = first + timedelta(days=after)
            for of in self.ordered:
                count = of.count * course // n_courses - of.count * (course - 1) // n_courses
                if count:
                    rows.append((of.mark, *of.size, count, of.mix, course, needed.isoformat()))
        return rows

    # what there is

    def _site(self) -> dict[str, object]:
        full = self.kind == "full"
        step = self.chance.choice(("1/2", "1/2", "1/4"))
        site: dict[str, object] = {
            "name": f"Yard {self.name}",
            "start": self.start.isoformat(),
            "closed": self._closed() if full else [],
            "mixers": [_drum(self.chance.choice((220, 240)), step, 2 if full else 3)],
            "moulds": list(self._moulds()),
            "racks": self._racks(),
            "strip_at": self.chance.choice((20, 24)),
            "people": self.chance.choice((4, 5)) if full else self.chance.choice((3, 4)),
            "away": self._away() if full else [],
            "chores": full,
            "test_cubes": full,
            **self._stock(),
        }
        if full:
            site["mixers"] = [*_as_list(site["mixers"]), _pan(step)]
        return site

    def _moulds(self) -> Iterator[dict[str, object]]:
        full = self.kind == "full"
        for nth, family in enumerate(FAMILIES):
            a_day = sum(of.count for of in self.ordered if of.size in family.sizes) / self.work_d
            if not a_day:
                continue
            lengths = {of.size for of in self.ordered if of.size in family.sizes}
            count = max(1, math.ceil(a_day * self.nature.cycle_d / family.cavities))
            mould: dict[str, object] = {
                "kind": family.kind,
                "count": count,
                "cavities": family.cavities,
                "cavity": "{} x {} x {} mm".format(*family.sizes[0]),
                "strip_time": f"{self.chance.choice((10, 12))} min",
                "clean_time": f"{self.chance.choice((8, 10))} min",
            }
            if len(lengths) > 1:
                mould["stop_ends"] = "true"
            if full and nth == 0:
                sides = max(1, math.ceil(count * 0.6))
                mould |= {"count": sides, "bases": max(count, sides), "sides_off_at": "12 h", "sides_time": "6 min"}
            yield mould
        if full:
            yield self._slab()

    def _slab(self) -> dict[str, object]:
        """Six of the sawn size go into one."""
        sawn = sum(of.count for of in self.ordered if of.size == SAWN_ONLY)
        return {
            "kind": "slab",
            "count": max(1, math.ceil(sawn / self.work_d * self.nature.cycle_d / 6)),
            "cavities": 1,
            "cavity": "1205 x 605 x 200 mm",
            "saw": "{kerf: 5 mm, time: 20 min}",
            "strip_time": "12 min",
            "clean_time": "10 min",
        }

    def _racks(self) -> list[tuple[str, int]]:
        places = math.ceil(self.a_day * WORKDAYS_A_WEEK * self.nature.rack)
        return [("east", places - places // 3), ("west", places // 3)] if places > 9 else [("east", places)]

    def _closed(self) -> list[str]:
        days = sorted(self.chance.sample(range(3, self.extent.days + 3), max(1, self.extent.days // 15)))
        return [(self.start + timedelta(days=day)).isoformat() for day in days]

    def _away(self) -> list[str]:
        days = sorted(self.chance.sample(range(1, self.extent.days), max(1, self.extent.days // 8)))
        return [(self.start + timedelta(days=day)).isoformat() for day in days]

    def _stock(self) -> dict[str, object]:
        """Cement a third more than the blocks take, for what drums and half-filled batches keep."""
        need_kg = sum(of.volume_l / 1000 * CEMENT_KG_M3[of.mix] for of in self.ordered)
        bags = math.ceil(1.34 * need_kg / BAG_KG) + 10
        here = math.ceil(bags * self.nature.at_hand)
        loads = 0 if here == bags else max(1, self.extent.days // 20)
        deliveries, left = [], bags - here
        for nth in range(loads):
            day = self.start + timedelta(days=round(self.extent.days * 0.3 + nth * self.extent.days * 0.5 / loads))
            some = left if nth == loads - 1 else (bags - here) // loads
            left -= some
            deliveries.append((day.isoformat(), some))
        agent_l = math.ceil(2.2 * sum(of.volume_l for of in self.ordered) / 1000 + 4)
        return {"bags": here, "deliveries": deliveries, "agent_l": agent_l}

    # the air

    def _air(self) -> list[tuple[float, float]]:
        """Lowest and highest of each day until well after the last pour, cold weeks and frost in cold yards only."""
        days = round(self.extent.days * 1.6) + 60
        drift, air = 0.0, []
        cold = self._cold_weeks(days) if self.kind == "cold" else set()
        for number in range(days):
            of_year = (self.start + timedelta(days=number)).timetuple().tm_yday
            drift = 0.7 * drift + self.chance.gauss(0, 1)
            low = 9.5 + 5.5 * math.sin(2 * math.pi * (of_year - 110) / 365) + drift
            low = max(low, 6.5) if number // 7 not in cold else 5.1 + self.chance.random()
            high = low + (3 + 2 * self.chance.random() if number // 7 in cold else 6 + 4 * self.chance.random())
            air.append((round(low, 1), round(high, 1)))
        for number in self._frost(days) if self.kind == "cold" else ():
            air[number] = (round(1 + 3 * self.chance.random(), 1), round(6 + 2 * self.chance.random(), 1))
        return air

    def _cold_weeks(self, days: int) -> set[int]:
        """The first, and of the later ones every third or so."""
        until = max(2, self.extent.days // 7)
        return {0} | {week for week in range(1, until) if self.chance.random() < 0.3 and 7 * week < days}

    def _frost(self, days: int) -> Iterator[int]:
        """A day or two of frost, then at least six without."""
        day = self.chance.randint(3, 5)
        while day < min(days - 20, self.extent.days + 2):
            yield from range(day, day + self.chance.choice((1, 1, 2)))
            day += self.chance.randint(8, 20)


def _drum(volume_l: int, step: str, crew: int) -> dict[str, object]:
    return {
        "name": "drum",
        "usable_volume": f"{volume_l} L",
        "least_volume": "60 L",
        "bag_step": step,
        "slurry_time": "10 min",
        "foam_time": "4 min",
        "pour_time": "10 min",
        "wash_time": "4 min",
        "left_behind": "4 L",
        "crew": crew,
    }


def _pan(step: str) -> dict[str, object]:
    small = {"name": "pan", "usable_volume": "120 L", "least_volume": "40 L", "left_behind": "2 L"}
    return _drum(0, step, 2) | small | {"slurry_time": "8 min", "foam_time": "3 min", "pour_time": "8 min"}


def _as_list(found: object) -> list[object]:
    assert isinstance(found, list)
    return found
