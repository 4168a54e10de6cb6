"""The two turns of :mod:`yard_without_bases` with a slab in place of four cavities, worked out by hand.

A slab of 1202 x 602 x 200 mm is 144.7208 L, cast without overfill; with 4 L that stay in the drum 148.72 of 150. Cuts
of 2 mm part it into A, A, A (600 x 300 mm) and H (300 x 300 mm)::

    from the left     0    602
    from the bottom 302    A    H
                      0    A    A

It is stripped in 7 min and sawn in 5.
"""

from __future__ import annotations

import yard_without_bases
from written_plan import WrittenPlan, written

from blockrun.site import Saw

SAWING = """
slab/01 1 1 0   0   600 300
slab/01 1 2 0   302 600 300
slab/01 1 3 602 0   600 300
slab/01 1 4 602 302 300 300
slab/01 2 1 0   0   600 300
slab/01 2 2 0   302 600 300
slab/01 2 3 602 0   600 300
slab/01 2 4 602 302 300 300
"""


def the_plan() -> WrittenPlan:
    plan = yard_without_bases.the_plan()
    gang = plan.site.moulds[0]
    slab = {"kind": "slab", "cavities": 1, "cavity": (1202.0, 602.0, 200.0), "stop_ends": False, "strip_time_min": 7}
    saw = Saw(kerf_mm=2.0, time_min=5)
    plan.change_site(moulds=(gang.model_copy(update={**slab, "saw": saw}),), overfill=0.0)
    for table in (plan.casts, plan.tasks):
        table["mould"] = table["mould"].str.replace("gang-4", "slab")
    plan.batches["poured_l"] = 144.72
    plan.sawing = written("sawing", SAWING)
    assert plan.totals is not None
    plan.totals["thrown_away_l"] = 10.56
    return plan
