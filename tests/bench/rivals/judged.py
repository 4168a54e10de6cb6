"""What the audit says of a rival's plan and of what it reached."""

from __future__ import annotations

from datetime import date

from blockrun.order import Order
from blockrun.planner.audit import audit
from blockrun.planner.tables import STAGES, PlanTables, Stage
from blockrun.site import Site
from tests.bench.answer import Number


def findings(site: Site, order: Order, tables: PlanTables, values: tuple[Number, ...]) -> tuple[str, ...]:
    """What is wrong with a plan; bounds are none of its business, so that the least there can be are given."""
    late, finish, batches, cement = values
    reached: tuple[int | float | date, ...] = (
        int(late or 0),
        date.fromisoformat(str(finish)),
        int(batches or 0),
        float(cement or 0),
    )
    least: tuple[int | float | date, ...] = (0, site.calendar.start, 0, 0.0)
    stages = tuple(
        Stage(name, value, bound, proven=value == bound)
        for name, value, bound in zip(STAGES, reached, least, strict=True)
    )
    return tuple(map(str, audit(site, order, tables, stages)))
