"""Two turns of one mould, worked out by hand.

Mix: 600 kg/m3 oven dry holds 600 / 1.2 = 500 kg of cement and 250 kg of slurry water in a cubic metre; they fill
500/3150 + 250/1000 = 0.408730 of it, so foam fills 0.591270.

A batch of 3 bags of 25 kg: 75 kg of cement make 75 / 500 = 150 L, with 37.5 kg of slurry water and 150 x 0.591270 =
88.69 L of foam; at 100 g/L that is 8.87 kg, of which 1/40, 0.22 L, is agent. Water in all: 37.5 + 8.87 - 0.22 = 46.15.

A turn casts A, A, A (600 x 300 x 200 mm, 36 L) and H (300 x 300 x 200 mm, 18 L) with a stop-end: 126 L, with 5 %
overfill 132.3 L, and 4 L stays in the drum: 136.3 of 150.

Minutes of a batch: slurry 10; foam 88.69 / 20 L/min = 4.4, so 5; pour 10; wash 4.

Age: at a steady 20 degC an hour counts exp(13.65 - 4000/293) = 0.998125 h, so 24 h take 24 h 3 min.
Turn 1 is poured Mon 07:55, may be stripped Tue 07:58. Turn 2 is poured Tue 09:05, may be stripped Wed 09:08.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

from written_plan import WrittenPlan, written

from blockrun.order import BlockList, ListPart, ListRow, MixSpec, Order
from blockrun.planner.tables import Stage
from blockrun.site import (
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

MONDAY, TUESDAY = date(2027, 4, 5), date(2027, 4, 6)


def the_site() -> Site:
    return Site(
        name="two turns",
        calendar=Calendar(
            start=MONDAY,
            workdays=frozenset(range(5)),
            hours=(7 * 60, 17 * 60),
            breaks=((12 * 60, 12 * 60 + 30),),
            set_up_min=30,  # so work is done 07:30-12:00 and 12:30-16:30
            close_down_min=30,
            last_foam=15 * 60 + 30,
        ),
        mixers=(the_mixer(),),
        foam_generator=FoamGenerator(rate_l_min=20.0, foam_density_kg_m3=100.0, agent_dilution=(1.0, 39.0)),
        pour_life_min=15.0,  # foam and pour take 5 + 10: just in time
        overfill=0.05,
        moulds=(
            MouldKind(
                kind="gang-4",
                count=2,
                cavities=4,
                cavity=(600.0, 300.0, 200.0),
                stop_ends=True,
                strip_time_min=12,
                clean_time_min=10,
            ),
        ),
        racks=(Rack(name="east", places=8), Rack(name="west", places=4)),
        move_time_min=1.5,  # 4 blocks: 6 min
        curing=Curing(strip_at_h=24.0, rack_for_min=7 * 1440, lay_at_min=28 * 1440, least_air_c=5.0),
        crew=Crew(people=3),
        chores=(Chore(name="wet the rack", at=(9 * 60,), time_min=10, people=1),),
        stock=Stock(
            cement=Cement(
                bag_kg=25.0, on_hand_bags=3.0, deliveries=(CementDelivery(day=TUESDAY, amount=3.0),), price=6.0
            ),
            foaming_agent=FoamingAgent(on_hand_l=1.0, price=10.0),
        ),
        weather=Weather(MONDAY, ((20.0, 20.0),) * 7),
    )


def the_mixer() -> Mixer:
    return Mixer(
        name="drum",
        usable_volume_l=220.0,
        least_volume_l=80.0,
        bag_step=Fraction(1, 2),
        slurry_time_min=10,
        foam_time_min=4,
        pour_time_min=10,
        wash_time_min=4,
        left_behind_l=4.0,
        crew=2,
    )


def the_order() -> Order:
    """Five A and one H; 10 % spares are one of each."""
    rows = (
        ListRow("A", 600.0, 300.0, 200.0, count=3, mix="wall", course=1, needed=date(2027, 5, 3)),
        ListRow("H", 300.0, 300.0, 200.0, count=1, mix="wall", course=1, needed=date(2027, 5, 3)),
        ListRow("A", 600.0, 300.0, 200.0, count=2, mix="wall", course=2, needed=date(2027, 5, 3)),
    )
    return Order(
        name="a small wall",
        mixes=(MixSpec(name="wall", oven_dry_density_kg_m3=600.0, slurry_water_cement=0.5),),
        spares=Decimal("0.10"),
        parts=(ListPart(name="north", blocks=BlockList("north.csv", rows)),),
    )


CASTS = """
1 north 1 A wall no  gang-4/01 - 1 1 1 05T07:55 - 06T08:12 east 06T08:12 13T08:12 2027-05-03T07:55 2027-05-03
2 north 1 A wall no  gang-4/01 - 1 2 1 05T07:55 - 06T08:12 east 06T08:12 13T08:12 2027-05-03T07:55 2027-05-03
3 north 1 A wall no  gang-4/01 - 1 3 1 05T07:55 - 06T08:12 east 06T08:12 13T08:12 2027-05-03T07:55 2027-05-03
4 north 1 H wall no  gang-4/01 - 1 4 1 05T07:55 - 06T08:12 east 06T08:12 13T08:12 2027-05-03T07:55 2027-05-03
5 north 2 A wall no  gang-4/01 - 2 1 2 06T09:05 - 07T09:22 east 07T09:22 14T09:22 2027-05-04T09:05 2027-05-03
6 north 2 A wall no  gang-4/01 - 2 2 2 06T09:05 - 07T09:22 east 07T09:22 14T09:22 2027-05-04T09:05 2027-05-03
7 -     - A wall yes gang-4/01 - 2 3 2 06T09:05 - 07T09:22 east 07T09:22 14T09:22 2027-05-04T09:05 -
8 -     - H wall yes gang-4/01 - 2 4 2 06T09:05 - 07T09:22 east 07T09:22 14T09:22 2027-05-04T09:05 -
"""
BATCHES = """
1 drum wall 05T07:30 05T07:40 05T07:45 05T07:55 05T07:59 3 75 37.5 88.69 8.87 0.22 150 132.3
2 drum wall 06T08:40 06T08:50 06T08:55 06T09:05 06T09:09 3 75 37.5 88.69 8.87 0.22 150 132.3
"""
TASKS = """
05T07:30 05T07:59 batch 2 -         - 1 4
05T09:00 05T09:10 chore 1 -         - - -
06T08:00 06T08:12 strip 1 gang-4/01 - - 4
06T08:12 06T08:18 move  1 gang-4/01 - - 4
06T08:20 06T08:30 clean 1 gang-4/01 - - -
06T08:40 06T09:09 batch 2 -         - 2 4
06T09:00 06T09:10 chore 1 -         - - -
07T09:10 07T09:22 strip 1 gang-4/01 - - 4
07T09:22 07T09:28 move  1 gang-4/01 - - 4
07T09:30 07T09:40 clean 1 gang-4/01 - - -
"""
MATERIALS = """
05 75 46.15 0.22 0  0 0 0.78
06 75 46.15 0.22 75 0 0 0.56
"""


def the_plan() -> WrittenPlan:
    """Two blocks of course 2 are a day late. Six bags cost 36, 0.443 L of agent 4.43."""
    return WrittenPlan(
        the_site(),
        the_order(),
        written("casts", CASTS),
        written("batches", BATCHES),
        written("tasks", TASKS),
        written("materials", MATERIALS),
        [
            Stage("block_days_late", 2, 0, proven=False),
            Stage("finish", TUESDAY, MONDAY, proven=False),
            Stage("batches", 2, 2, proven=True),
            Stage("cement", 150.0, 125.0, proven=False),
        ],
        {
            "blocks": 6,
            "spares": 2,
            "batches": 2,
            "cement_kg": 150.0,
            "cement_bags": 6.0,
            "water_kg": 94.24,  # 2 x (46.147 + 0.975 of the foam weighed)
            "agent_l": 0.49,  # of it 2 x 0.025 of the foam weighed
            "cost": 40.93,
            "thrown_away_l": 35.4,  # 2 x (150 - 132.3)
            "days_of_pouring": 2,
        },
    )
