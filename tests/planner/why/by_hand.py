"""A yard of one mould that can be reckoned by hand, and what is ordered of it.

A batch begins at 7:00 on the first day, a Monday: 10 minutes of slurry, 4 of foam, 10 of pouring, 4 of washing. It is
20 degC all the time, so a turn poured by 7:24 is stripped 24 h 3 min later, cleaned at 7:42, and poured again on that
day: one turn of two blocks a day. Blocks are laid seven days after the pour: those wanted on a Thursday are poured by
the Thursday before, in four turns. A block is 8 L; a bag of 25 kg makes 50 L of mix, six blocks.
"""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

from blockrun.order import BlockList, ListPart, ListRow, MixSpec, Order
from blockrun.site import (
    Calendar,
    Cement,
    CementDelivery,
    Crew,
    Curing,
    FoamGenerator,
    FoamingAgent,
    Mixer,
    MouldKind,
    Rack,
    Site,
    Stack,
    Stock,
    Weather,
)

DAY = 1440
HORIZON = 30
MONDAY, THURSDAY = date(2027, 4, 5), date(2027, 4, 15)
SIZE = (400.0, 200.0, 100.0)
STEADY = ((20.0, 20.0),) * 60

LOW = (400.0, 150.0, 100.0)

DRUM = Mixer(
    name="drum",
    usable_volume_l=220.0,
    least_volume_l=5.0,
    bag_step=Fraction(1, 4),
    slurry_time_min=10,
    foam_time_min=4,
    pour_time_min=10,
    wash_time_min=4,
    left_behind_l=0.0,
    crew=1,
)
GANG = MouldKind(kind="gang", count=1, cavities=2, cavity=SIZE, strip_time_min=10, clean_time_min=5)
LOW_GANG = GANG.model_copy(update={"kind": "low", "cavity": LOW})
ON_BASES = GANG.model_copy(update={"bases": 4, "sides_off_at_h": 5.0, "sides_time_min": 5})
CALENDAR = Calendar(start=MONDAY, workdays=frozenset(range(5)), hours=(7 * 60, 17 * 60))
SHORT_DAYS = CALENDAR.model_copy(update={"hours": (7 * 60, 8 * 60 + 30)})
ENOUGH = Stock(
    cement=Cement(bag_kg=25.0, on_hand_bags=100.0, price=6.0), foaming_agent=FoamingAgent(on_hand_l=50.0, price=10.0)
)


def gangs(count: int) -> tuple[MouldKind, ...]:
    return (GANG.model_copy(update={"count": count}),)


def stock(bags: float, later: float) -> Stock:
    """So many bags now, and more a week later, which is too late for Thursday."""
    delivery = CementDelivery(day=MONDAY + timedelta(days=7), amount=later)
    cement = Cement(bag_kg=25.0, on_hand_bags=bags, deliveries=(delivery,), price=6.0)
    return ENOUGH.model_copy(update={"cement": cement})


def a_site(**changes: Any) -> Site:
    of: dict[str, Any] = {
        "name": "by hand",
        "calendar": CALENDAR,
        "mixers": (DRUM,),
        "foam_generator": FoamGenerator(rate_l_min=60.0, foam_density_kg_m3=95.0, agent_dilution=(1.0, 40.0)),
        "pour_life_min": 25.0,
        "overfill": 0.0,
        "moulds": gangs(1),
        "racks": (Rack(name="east", places=500),),
        "move_time_min": 1.0,
        "curing": Curing(strip_at_h=24.0, rack_for_min=DAY, lay_at_min=7 * DAY, least_air_c=5.0),
        "crew": Crew(people=2),
        "stock": ENOUGH,
        "weather": Weather(MONDAY, STEADY),
    }
    return Site(**{**of, **changes})


def an_order(count: int, needed: date | None = THURSDAY) -> Order:
    row = ListRow("A", *SIZE, count=count, mix="wall", course=1, needed=needed)
    return Order(
        name="blocks",
        mixes=(MixSpec(name="wall", oven_dry_density_kg_m3=600.0, slurry_water_cement=0.5),),
        spares=Decimal(0),
        parts=(ListPart(name="north", blocks=BlockList("north.csv", (row,))),),
    )


def needed_on(*days: int) -> Order:
    """Two blocks needed on each of some days of April."""
    orders = [an_order(2, date(2027, 4, day)) for day in days]
    rows = tuple(row for order in orders for part in order.parts for row in part.blocks.rows)  # type: ignore[union-attr]
    part = orders[0].parts[0].model_copy(update={"blocks": BlockList("north.csv", rows)})
    return orders[0].model_copy(update={"parts": (part,)})


def two_sizes(*rows: tuple[str, int, date | None]) -> Order:
    """Courses one after the other, each of so many blocks of mark A or of the lower B, needed on a day."""
    sizes = {"A": SIZE, "B": LOW}
    listed = tuple(
        ListRow(mark, *sizes[mark], count=count, mix="wall", course=course, needed=needed)
        for course, (mark, count, needed) in enumerate(rows, 1)
    )
    order = an_order(1)
    part = order.parts[0].model_copy(update={"blocks": BlockList("north.csv", listed)})
    return order.model_copy(update={"parts": (part,)})


MANY_PEOPLE = Crew(people=10)
COLD_WEEK = Weather(MONDAY, ((8.0, 8.0),) * 20 + STEADY)
FROSTY = Weather(MONDAY, ((4.0, 36.0),) * 4 + STEADY)
SMALL_DRUM = DRUM.model_copy(update={"usable_volume_l": 30.0})
LONG_ON_RACK = Curing(strip_at_h=24.0, rack_for_min=7 * DAY, lay_at_min=7 * DAY, least_air_c=5.0)

CLASHES: dict[str, tuple[Site, Order, set[str], int, set[str]]] = {
    # four turns of two blocks
    "moulds": (a_site(), an_order(10), {"moulds", "age"}, 8, {"one more gang mould"}),
    # what is ready on Friday has left a place by then, and none of the two is free again within the week
    "racks": (
        a_site(moulds=gangs(2), racks=(Rack(name="east", places=2),), curing=LONG_ON_RACK),
        an_order(10, date(2027, 4, 16)),
        {"racks", "age"},
        2,
        {"eight more rack places"},
    ),
    # begun at 7:00, 7:28 and 7:56, with three blocks each, on four days
    "mixers": (
        a_site(moulds=gangs(40), mixers=(SMALL_DRUM,), calendar=SHORT_DAYS, crew=MANY_PEOPLE),
        an_order(50),
        {"mixers", "age"},
        36,
        {"one more mixer", "an hour longer each day"},
    ),
    # two bags make 100 L
    "cement": (
        a_site(moulds=gangs(20), stock=stock(2, 40)),
        an_order(30),
        {"cement", "age"},
        12,
        {"3 bags more of cement in time"},
    ),
    # a column of four, and eight are laid on one day
    "stack": (
        a_site(stack=Stack(places=1, layers=4)),
        an_order(8),
        {"the stack"},
        4,
        {"one more place on the stack"},
    ),
    # frost from Monday to Thursday
    "frost": (a_site(weather=FROSTY), an_order(2), {"frost", "age"}, 0, {"moulds kept 1 degC warmer"}),
    # the first pour of all is seven days before Monday 12 April
    "age": (a_site(), an_order(2, date(2027, 4, 9)), {"age"}, 0, set()),
    # 43 hours to the strip: a turn every second day
    "cold": (a_site(weather=COLD_WEEK), an_order(6), {"cold", "moulds", "age"}, 4, {"one more gang mould"}),
    # sides come off after five hours: two turns a day
    "sides": (
        a_site(moulds=(ON_BASES.model_copy(update={"bases": 40}),)),
        an_order(20),
        {"sides", "age"},
        16,
        {"sides for one more gang"},
    ),
    # each base one turn a day
    "bases": (
        a_site(moulds=(ON_BASES.model_copy(update={"count": 8, "bases": 2}),)),
        an_order(20),
        {"bases", "age"},
        16,
        {"one more gang base"},
    ),
}
"""By what is short: the yard, its order, the things that clash, the blocks there can be, and ways out among others."""
