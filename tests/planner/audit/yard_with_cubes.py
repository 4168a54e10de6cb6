"""The two turns of :mod:`yard_without_bases`, whose first batch gives a set of test cubes.

Three cubes of 100 mm are 3 L, with 5 % overfill 3.15: the first batch pours 132.3 + 3.15 = 135.45 L, and with 4 L that
stay in the drum that is 139.45 of 150. A lot is 200 L, so on Tuesday, 150 L later, none is due.
"""

from __future__ import annotations

import yard_without_bases
from written_plan import WrittenPlan, written

from blockrun.site import CubeSets


def the_plan() -> WrittenPlan:
    plan = yard_without_bases.the_plan()
    plan.change_site(test_cubes=CubeSets(every_l=200.0, count=3, size_mm=100.0))
    plan.cubes = written("cubes", "1 3 3.15")
    plan.set("batches", {"batch": 1}, poured_l=135.45)
    assert plan.totals is not None
    plan.totals["thrown_away_l"] = 32.25
    return plan
