"""Plans as if somebody had made them: every block of an order cast somewhere, for pages that only look at casts."""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import cache
from pathlib import Path
from typing import Final

from blockrun.order import Order, load_order, spares, takeoff
from blockrun.planner.plan import Plan
from blockrun.planner.tables import PlanTables, table
from blockrun.site import Site, load_site

EXAMPLES = Path(__file__).parents[3] / "examples"
A_DAY = 40
"""Blocks cast on one day, eight turns of five."""


def as_if(site: Site, order: Order) -> Plan:
    """A plan whose blocks are cast five a turn, in the order of the take-off, on every day; no audit would pass it."""
    lines = takeoff(order, site.calendar, site.moulds)
    blocks = [line for line in (*lines, *spares(order, lines)) for _ in range(line.count)]
    first = datetime.combine(site.calendar.start, datetime.min.time())
    rows: list[dict[str, object]] = []
    for index, line in enumerate(blocks):
        poured = first + timedelta(days=index // A_DAY, hours=8, minutes=index % A_DAY // 5)
        strip = poured + timedelta(days=1)
        turn, cavity = divmod(index, 5)
        rows.append(
            {"cast": index + 1, "part": line.part, "course": line.course, "mark": line.mark, "mix": line.mix,
             "spare": not line.part, "mould": f"{site.moulds[0].kind}/{turn % 8 + 1:02}", "base": "",
             "turn": turn // 8 + 1, "cavity": cavity + 1, "batch": turn + 1, "poured": poured, "sides_off": None,
             "strip": strip, "rack": site.racks[turn % len(site.racks)].name, "rack_from": strip,
             "rack_to": strip + timedelta(days=7), "ready": poured + timedelta(days=28), "needed": line.needed}
        )  # fmt: skip
    empty = {name: table(name, []) for name in ("batches", "tasks", "materials")}
    return Plan(site, order, PlanTables(casts=table("casts", rows), **empty), (), (), {})


@cache
def tool_store() -> Plan:
    """The demo as it is now, with its wall and its dome."""
    folder = EXAMPLES / "demo"
    return as_if(load_site(folder / "site.yaml"), load_order(folder / "order.yaml"))


LONG: Final = "Northern garden wall behind the old sheds, by the lane"
"""A name as long as a patient builder writes."""


def forty_marks(folder: Path, units: str = "SI") -> Plan:
    """A list of forty marks with long names, for one course of a part with a long one."""
    rows = [f"block-with-a-long-name-{number:02},{600 - number},300,200,3,light,1,2027-05-10" for number in range(40)]
    head = "mark,length_mm,height_mm,thickness_mm,count,mix,course,needed"
    (folder / "blocks.csv").write_text("\n".join([head, *rows]) + "\n", encoding="utf-8")
    (folder / "order.yaml").write_text(
        f"order: {LONG}\nmixes: [{{name: light, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.50}}]\n"
        f"parts: [{{list: blocks.csv, name: '{LONG}'}}]\n",
        encoding="utf-8",
    )
    site = load_site(EXAMPLES / "demo" / "site.yaml").model_copy(update={"units": units, "name": LONG})
    return as_if(site, load_order(folder / "order.yaml"))
