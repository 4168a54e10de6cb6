"""One pair of sides filled twice in a day on two bases, beside a mould without bases, from two mixers, by hand.

Mix light: 480 kg/m3 oven dry holds 400 kg of cement and 200 kg of slurry water in a cubic metre; they fill
400/3150 + 0.2 = 0.326984, so foam fills 0.673016. Half a bag, 12.5 kg, makes 31.25 L with 6.25 kg of slurry water
and 21.03 L of foam, 2.10 kg, 0.05 L of it agent. Two S (400 x 200 x 100 mm, 8 L) with 5 % overfill take 16.8 L.
Small mixer: slurry 5, foam 21.03 / 20 = 1.05 so 2, pour 5, wash 5 minutes.

Mix wall: 600 kg/m3, as in the yard without bases. One bag, 25 kg, makes 50 L with 12.5 kg of slurry water and
29.56 L of foam, 2.96 kg, 0.07 L of it agent. One G (600 x 300 x 200 mm, 36 L) takes 37.8 L.
Big mixer: slurry 10, foam 29.56 / 20 = 1.48 so 2, pour 10, wash 5 minutes.

Age at a steady 20 degC: 6 h are reached after 6.0113 h: 6 h 1 min; 24 h after 24 h 3 min.
Turn 1 of slab-2/01 is poured Mon 07:42: sides off from 13:43, strip from Tue 07:45.
Turn 2 is poured Mon 14:02: sides off from 20:03, so on Tuesday; strip from Tue 14:05.
The turn of gang-1/01 is poured Mon 07:52: strip from Tue 07:55.

Thursday is closed, so what may leave the rack on Thursday leaves it Friday 07:30.
Need: one course a day from Thursday, moved on to Friday; course 2 a working day later, on Monday the 12th.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction

from written_plan import WrittenPlan, written

from blockrun.order import BlockList, ListPart, ListRow, MixSpec, Need, Order
from blockrun.planner.tables import Stage
from blockrun.site import (
    Calendar,
    Cement,
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

MONDAY, THURSDAY = date(2027, 4, 5), date(2027, 4, 8)


def the_site() -> Site:
    return Site(
        name="two mixers",
        calendar=Calendar(
            start=MONDAY,
            workdays=frozenset(range(5)),
            hours=(7 * 60 + 30, 16 * 60 + 30),
            closed=frozenset({THURSDAY}),
        ),
        mixers=(
            a_mixer(
                "big",
                usable_volume_l=220.0,
                least_volume_l=40.0,
                slurry_time_min=10,
                pour_time_min=10,
                left_behind_l=2.0,
            ),
            a_mixer(
                "small",
                usable_volume_l=65.0,
                least_volume_l=20.0,
                slurry_time_min=5,
                pour_time_min=5,
                left_behind_l=1.0,
            ),
        ),
        foam_generator=FoamGenerator(rate_l_min=20.0, foam_density_kg_m3=100.0, agent_dilution=(1.0, 39.0)),
        pour_life_min=25.0,
        overfill=0.05,
        moulds=(
            MouldKind(
                kind="slab-2",
                count=1,
                cavities=2,
                cavity=(400.0, 200.0, 100.0),
                strip_time_min=6,
                clean_time_min=8,
                bases=2,
                sides_off_at_h=6.0,
                sides_time_min=5,
            ),
            MouldKind(
                kind="gang-1",
                count=1,
                cavities=1,
                cavity=(600.0, 300.0, 200.0),
                strip_time_min=10,
                clean_time_min=5,
            ),
        ),
        racks=(Rack(name="east", places=4), Rack(name="west", places=1)),
        move_time_min=1.5,  # 2 blocks: 3 min; 1 block: 1.5, so 2 min
        curing=Curing(strip_at_h=24.0, rack_for_min=2 * 1440, lay_at_min=3 * 1440, least_air_c=5.0),
        crew=Crew(people=2),
        stock=Stock(
            cement=Cement(bag_kg=25.0, on_hand_bags=10.0),
            foaming_agent=FoamingAgent(on_hand_l=1.0),
        ),
        weather=Weather(MONDAY, ((20.0, 20.0),) * 7),
    )


def a_mixer(name: str, **values: float) -> Mixer:
    return Mixer(name=name, bag_step=Fraction(1, 2), foam_time_min=2, wash_time_min=5, crew=1, **values)


def the_order() -> Order:
    slabs = (
        ListRow("S", 400.0, 200.0, 100.0, count=2, course=1),
        ListRow("S", 400.0, 200.0, 100.0, count=2, course=2),
    )
    lintel = (ListRow("G", 600.0, 300.0, 200.0, count=1, mix="wall", needed=date(2027, 4, 9)),)
    return Order(
        name="slabs and one block",
        mixes=(
            MixSpec(name="wall", oven_dry_density_kg_m3=600.0, slurry_water_cement=0.5),
            MixSpec(name="light", oven_dry_density_kg_m3=480.0, slurry_water_cement=0.5),
        ),
        parts=(
            ListPart(
                name="slabs",
                blocks=BlockList("slabs.csv", slabs),
                mix="light",
                needed=Need(from_day=THURSDAY, courses_a_day=Fraction(1)),
            ),
            ListPart(name="rest", blocks=BlockList("rest.csv", lintel)),
        ),
    )


CASTS = """
1 slabs 1 S light no slab-2/01 slab-2/b01 1 1 1 05T07:42 05T13:50 06T07:51 east 06T07:51 09T07:30 09T07:30 09
2 slabs 1 S light no slab-2/01 slab-2/b01 1 2 1 05T07:42 05T13:50 06T07:51 east 06T07:51 09T07:30 09T07:30 09
3 rest  - G wall  no gang-1/01 -          1 1 2 05T07:52 -        06T08:10 west 06T08:10 09T07:30 09T07:30 09
4 slabs 2 S light no slab-2/01 slab-2/b02 2 1 3 05T14:02 06T07:35 06T14:11 east 06T14:11 09T07:30 09T07:30 12
5 slabs 2 S light no slab-2/01 slab-2/b02 2 2 3 05T14:02 06T07:35 06T14:11 east 06T14:11 09T07:30 09T07:30 12
"""
BATCHES = """
1 small light 05T07:30 05T07:35 05T07:37 05T07:42 05T07:47 0.5 12.5 6.25 21.03 2.10 0.05 31.25 16.8
2 big   wall  05T07:30 05T07:40 05T07:42 05T07:52 05T07:57 1   25   12.5 29.56 2.96 0.07 50    37.8
3 small light 05T13:50 05T13:55 05T13:57 05T14:02 05T14:07 0.5 12.5 6.25 21.03 2.10 0.05 31.25 16.8
"""
TASKS = """
05T07:30 05T07:47 batch 1 -         -          1 2
05T07:30 05T07:57 batch 1 -         -          2 1
05T13:45 05T13:50 sides 1 slab-2/01 slab-2/b01 - 2
05T13:50 05T14:07 batch 1 -         -          3 2
06T07:30 06T07:35 sides 1 slab-2/01 slab-2/b02 - 2
06T07:45 06T07:51 strip 1 slab-2/01 slab-2/b01 - 2
06T07:51 06T07:54 move  1 slab-2/01 slab-2/b01 - 2
06T07:54 06T08:02 clean 1 slab-2/01 slab-2/b01 - -
06T08:00 06T08:10 strip 1 gang-1/01 -          - 1
06T08:10 06T08:12 move  1 gang-1/01 -          - 1
06T08:12 06T08:17 clean 1 gang-1/01 -          - -
06T14:05 06T14:11 strip 1 slab-2/01 slab-2/b02 - 2
06T14:11 06T14:14 move  1 slab-2/01 slab-2/b02 - 2
06T14:14 06T14:22 clean 1 slab-2/01 slab-2/b02 - -
"""
MATERIALS = """
05 50 31.98 0.18 0 0 200 0.82
"""


def the_plan() -> WrittenPlan:
    """Foam: 2 x 21.03 + 29.56 = 71.63 L, 7.16 kg, 0.18 L of it agent; slurry water: 2 x 6.25 + 12.5 = 25 kg."""
    return WrittenPlan(
        the_site(),
        the_order(),
        written("casts", CASTS),
        written("batches", BATCHES),
        written("tasks", TASKS),
        written("materials", MATERIALS),
        [
            Stage("block_days_late", 0, 0, proven=True),
            Stage("finish", MONDAY, MONDAY, proven=True),
            Stage("batches", 3, 3, proven=True),
            Stage("cement", 50.0, 50.0, proven=True),
        ],
        {
            "blocks": 5,
            "spares": 0,
            "batches": 3,
            "cement_kg": 50.0,
            "cement_bags": 2.0,
            "water_kg": 34.91,  # of it 3 x 0.975 of the foam weighed
            "agent_l": 0.26,  # of it 3 x 0.025 of the foam weighed
            "cost": None,
            "thrown_away_l": 41.1,  # 2 x (31.25 - 16.8) + 50 - 37.8
            "days_of_pouring": 1,
        },
    )
