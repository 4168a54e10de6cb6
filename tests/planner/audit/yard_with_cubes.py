"""The two turns of :mod:`yard_without_bases`, whose first batch gives a set of test cubes.

Three cubes of 100 mm are 3 L, with 5 % overfill 3.15: the first batch pours 132.3 + 3.15 = 135.45 L, and with 4 L that
stay in the drum that is 139.45 of 150. A lot is 400 L, so on Tuesday, when 300 L are made, it is still the first. One
cube is crushed after 2 days, on Wednesday 7 April, and two after 7, on Monday 12 April.
"""

from __future__ import annotations

import yard_without_bases
from written_plan import WrittenPlan, written

from blockrun.site import CubeSets

DAY_MIN = 1440


def the_plan() -> WrittenPlan:
    plan = yard_without_bases.the_plan()
    ages = (2 * DAY_MIN, 7 * DAY_MIN)
    plan.change_site(test_cubes=CubeSets(every_l=400.0, count=3, size_mm=100.0, crush_at_min=ages))
    plan.cubes = written("cubes", "1 1 1.05 1 1-1 07T00:00\n1 2 2.1 1 1-2,1-3 12T00:00")
    plan.cubes["marked"] = plan.cubes["marked"].replace("1-2,1-3", "1-2 to 1-3")
    plan.set("batches", {"batch": 1}, poured_l=135.45)
    assert plan.totals is not None
    plan.totals["thrown_away_l"] = 32.25
    return plan
