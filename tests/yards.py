"""Whole yards with their orders, invented from a seed: every rule of the trade bites in some of them.

A yard is drawn piece by piece from plain choices, so that each seed is a yard a builder could have. Half of them
are hard in some way: tight racks, few people, cold weeks, cement that comes late, needs that cannot be met.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from random import Random
from typing import Final

from blockrun.mix import batch_sizes, proportions
from blockrun.order import BlockList, ListPart, ListRow, MixSpec, Need, Order
from blockrun.site import (
    AgentDelivery,
    Calendar,
    Cement,
    CementDelivery,
    Chore,
    Crew,
    Curing,
    FoamGenerator,
    FoamingAgent,
    Mixer,
    MouldKind,
    Rack,
    Site,
    Stock,
    Weather,
)
from blockrun.site.crew import Absence

SMALL: Final = (10, 60)
MEDIUM: Final = (120, 350)
DAY: Final = 1440
WALL, LIGHT = "wall", "light"

Sizes = tuple[tuple[float, float, float], ...]
_FAMILIES: Final[tuple[Sizes, ...]] = (
    ((600.0, 300.0, 200.0), (400.0, 300.0, 200.0), (300.0, 300.0, 200.0)),
    ((500.0, 250.0, 150.0), (250.0, 250.0, 150.0)),
    ((400.0, 200.0, 100.0), (200.0, 200.0, 100.0)),
)
"""Sizes of one height and thickness, longest first: a mould with stop-ends casts them all."""


@dataclass(frozen=True)
class Yard:
    """A site and what is ordered of it."""

    site: Site
    order: Order


def a_yard(seed: int, blocks: tuple[int, int] = SMALL) -> Yard:
    """Invent a yard that is ordered so many blocks, from the least to the most."""
    rng = Random(seed)
    mixes = _mixes(rng)
    calendar = _calendar(rng)
    families = rng.sample(_FAMILIES, rng.choice((1, 1, 2)))
    rows = _rows(rng, families, mixes, rng.randint(*blocks), calendar)
    order = Order(
        name=f"order {seed}",
        mixes=mixes,
        spares=rng.choice((Decimal(0), Decimal("0.05"), Decimal("0.1"))),
        parts=_parts(rng, rows, calendar),
    )
    return Yard(_site(rng, seed, calendar, order, families), order)


def blocks_of(order: Order) -> int:
    """Blocks ordered, without spares."""
    return sum(row.count for part in order.parts for row in part.blocks.rows)


# what is ordered


def _mixes(rng: Random) -> tuple[MixSpec, ...]:
    wall = MixSpec(name=WALL, oven_dry_density_kg_m3=600.0, slurry_water_cement=0.5)
    light = MixSpec(name=LIGHT, wet_density_kg_m3=650.0, slurry_water_cement=0.45)
    return rng.choice(((wall,), (wall,), (wall, light)))


def _rows(
    rng: Random, families: list[Sizes], mixes: tuple[MixSpec, ...], total: int, calendar: Calendar
) -> list[ListRow]:
    sizes = [size for family in families for size in family]
    chosen = rng.sample(sizes, rng.randint(1, min(4, len(sizes))))
    marks = [(f"{mix.name[0].upper()}{n}", size, mix.name) for n, size in enumerate(chosen, 1) for mix in mixes]
    marks = rng.sample(marks, rng.randint(1, len(marks)))
    shares = [rng.randint(1, 4) for _ in marks]
    rows = []
    first = calendar.start + timedelta(days=rng.randint(4, 25))
    dated = rng.random() < 0.7
    for share, (mark, size, mix) in zip(shares, marks, strict=True):
        left = max(1, total * share // sum(shares))
        for course in range(1, 4):
            count = left if course == 3 else rng.randint(0, left)
            left -= count
            needed = first + timedelta(days=3 * course) if dated and rng.random() < 0.8 else None
            if count:
                rows.append(ListRow(mark, *size, count=count, mix=mix, course=course, needed=needed))
    return rows


def _parts(rng: Random, rows: list[ListRow], calendar: Calendar) -> tuple[ListPart, ...]:
    need = Need(
        from_day=calendar.start + timedelta(days=rng.randint(5, 20)),
        courses_a_day=rng.choice((Fraction(1), Fraction(2), Fraction(1, 2))),
    )
    cut = rng.randint(1, len(rows))
    halves = [half for half in (rows[:cut], rows[cut:]) if half]
    return tuple(
        ListPart(name=f"part {n}", blocks=BlockList(f"part{n}.csv", tuple(half)), needed=rng.choice((need, None)))
        for n, half in enumerate(halves, 1)
    )


# what there is


def _site(rng: Random, seed: int, calendar: Calendar, order: Order, families: list[Sizes]) -> Site:
    people = rng.choice((2, 2, 3, 4))
    generator = FoamGenerator(
        rate_l_min=rng.choice((20.0, 45.0, 60.0)),
        foam_density_kg_m3=rng.choice((80.0, 95.0)),
        agent_dilution=rng.choice(((1.0, 40.0), (1.0, 25.0))),
    )
    moulds = _moulds(rng, families)
    site = Site(
        name=f"yard {seed}",
        calendar=calendar,
        mixers=_mixers(rng, people),
        foam_generator=generator,
        pour_life_min=25.0,
        overfill=rng.choice((0.0, 0.03, 0.05)),
        moulds=moulds,
        racks=_racks(rng, moulds),
        move_time_min=rng.choice((0.5, 1.0, 1.5)),
        curing=_curing(rng),
        crew=_crew(rng, people, calendar),
        chores=_chores(rng, calendar),
        stock=Stock(cement=Cement(bag_kg=25.0, on_hand_bags=0.0), foaming_agent=FoamingAgent(on_hand_l=0.0)),
        weather=_weather(rng, calendar.start),
    )
    return site.model_copy(update={"stock": _stock(rng, site, order)})


def _calendar(rng: Random) -> Calendar:
    start = date(2027, 4, 5) + timedelta(days=rng.randint(0, 6))
    closed = frozenset(start + timedelta(days=rng.randint(0, 20)) for _ in range(rng.choice((0, 0, 1, 2))))
    return Calendar(
        start=start,
        workdays=frozenset(range(rng.choice((5, 6, 6, 7)))),
        hours=rng.choice(((7 * 60 + 30, 16 * 60 + 30), (8 * 60, 17 * 60), (7 * 60, 15 * 60))),
        breaks=rng.choice(((), ((720, 750),), ((570, 585), (720, 765)))),
        closed=closed,
        set_up_min=rng.choice((0, 0, 15)),
        close_down_min=rng.choice((0, 0, 20)),
        last_foam=rng.choice((None, None, 14 * 60 + 30)),
    )


def _mixers(rng: Random, people: int) -> tuple[Mixer, ...]:
    drum = Mixer(
        name="drum",
        usable_volume_l=rng.choice((120.0, 180.0, 220.0)),
        least_volume_l=rng.choice((40.0, 50.0)),
        bag_step=rng.choice((Fraction(1, 2), Fraction(1, 4), Fraction(1))),
        slurry_time_min=rng.choice((8, 10)),
        foam_time_min=rng.choice((3, 4)),
        pour_time_min=rng.choice((8, 10)),
        wash_time_min=rng.choice((0, 4)),
        left_behind_l=rng.choice((0.0, 2.0, 4.0)),
        crew=rng.randint(1, min(3, people)),
    )
    small = Mixer(
        name="pan",
        usable_volume_l=90.0,
        least_volume_l=45.0,
        bag_step=Fraction(1, 3),
        slurry_time_min=6,
        foam_time_min=2,
        pour_time_min=6,
        wash_time_min=3,
        left_behind_l=1.5,
        crew=rng.randint(1, min(2, people)),
    )
    return rng.choice(((drum,), (drum,), (drum, small)))


def _moulds(rng: Random, families: list[Sizes]) -> tuple[MouldKind, ...]:
    kinds: list[MouldKind] = []
    for family in families:
        stop_ends = rng.random() < 0.6
        for size in family[:1] if stop_ends else family:
            kinds.append(_mould(rng, f"m{len(kinds) + 1}", size, stop_ends=stop_ends))
        if rng.random() < 0.3:
            kinds.append(_mould(rng, f"m{len(kinds) + 1}", rng.choice(family), stop_ends=False))
    return tuple(kinds)


def _mould(rng: Random, name: str, size: tuple[float, float, float], *, stop_ends: bool) -> MouldKind:
    count = rng.randint(1, 4)
    on_bases = rng.random() < 0.35
    return MouldKind(
        kind=name,
        count=count,
        cavities=rng.choice((1, 2, 3, 4)),
        cavity=size,
        stop_ends=stop_ends,
        strip_time_min=rng.choice((6, 12, 15)),
        clean_time_min=rng.choice((0, 5, 12)),
        bases=count + rng.randint(0, 3) if on_bases else None,
        sides_off_at_h=rng.choice((5.0, 10.0, 18.0)) if on_bases else None,
        sides_time_min=rng.choice((4, 6)) if on_bases else None,
    )


def _racks(rng: Random, moulds: tuple[MouldKind, ...]) -> tuple[Rack, ...]:
    most = sum(kind.count * kind.cavities for kind in moulds)
    places = rng.choice((max(kind.cavities for kind in moulds), most, 2 * most, 10 * most))
    east = math.ceil(places / 2)
    if rng.random() < 0.5 or places < 2:
        return (Rack(name="east", places=places),)
    return (Rack(name="east", places=east), Rack(name="west", places=places - east))


def _curing(rng: Random) -> Curing:
    return Curing(
        strip_at_h=rng.choice((8.0, 16.0, 24.0, 36.0)),
        rack_for_min=rng.choice((0, 1, 3, 7)) * DAY + rng.choice((0, 0, 90)),
        lay_at_min=rng.choice((3, 7, 28)) * DAY,
        least_air_c=5.0,
    )


def _crew(rng: Random, people: int, calendar: Calendar) -> Crew:
    away = rng.sample(range(15), rng.choice((0, 0, 1, 3)))
    return Crew(
        people=people,
        absences=tuple(Absence(day=calendar.start + timedelta(days=day), people=1) for day in sorted(away)),
    )


def _chores(rng: Random, calendar: Calendar) -> tuple[Chore, ...]:
    opens = calendar.windows[0][0]
    wet = Chore(name="wet the rack", at=(opens + 60, 13 * 60 + 30), time_min=10, people=1)
    sweep = Chore(name="sweep", at=(opens,), time_min=15, people=1)
    return rng.choice(((), (), (wet,), (wet, sweep)))


def _weather(rng: Random, start: date) -> Weather:
    base = rng.choice((6.5, 9.0, 14.0))
    lows = [base + rng.uniform(-1, 1) for _ in range(rng.choice((10, 25, 40)))]
    if rng.random() < 0.4:
        cold = rng.randint(2, 8)
        lows[cold : cold + rng.randint(1, 6)] = [2.0] * len(lows[cold : cold + rng.randint(1, 6)])
    if rng.random() < 0.2:
        lows[rng.randint(3, 8)] = 4.5
    # a forecast that ends in the cold would be cold for ever
    lows += [7.0] * 7
    return Weather(start, tuple((round(low, 1), round(low + rng.uniform(5, 12), 1)) for low in lows))


def _stock(rng: Random, site: Site, order: Order) -> Stock:
    """Enough in the end, even if each block takes a batch of its own; in part only by delivery."""
    bags = litres = 0.0
    for mix in order.mixes:
        made = proportions(
            slurry_water_cement=mix.slurry_water_cement,
            foam_density_kg_m3=site.foam_generator.foam_density_kg_m3,
            oven_dry_density_kg_m3=mix.oven_dry_density_kg_m3,
            wet_density_kg_m3=mix.wet_density_kg_m3,
        )
        smallest = [batch_sizes(site, mixer, made)[0] for mixer in site.mixers]
        bags = max(bags, *(float(size.bags) for size in smallest))
        litres = max(litres, *(size.agent_l for size in smallest))
    blocks = math.ceil(1.2 * blocks_of(order)) + 10
    bags, litres = math.ceil(blocks * bags), math.ceil(blocks * litres)
    start, late = site.calendar.start, rng.random() < 0.4
    day = start + timedelta(days=rng.randint(1, 9))
    here = rng.choice((0.05, 0.1)) if late else 1.0
    return Stock(
        cement=Cement(
            bag_kg=25.0,
            on_hand_bags=math.floor(bags * here),
            deliveries=(CementDelivery(day=day, amount=bags - math.floor(bags * here)),) if late else (),
            price=rng.choice((None, 6.1)),
        ),
        foaming_agent=FoamingAgent(
            on_hand_l=litres * here,
            deliveries=(AgentDelivery(day=day, amount=litres * (1 - here)),) if late else (),
            price=9.5,
        ),
    )
