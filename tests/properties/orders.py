"""Orders written to files, and orders derived from a plan that is known to work."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from pathlib import Path

from blockrun.order import BlockList, ListPart, ListRow, Order, load_order
from tests.bench.rule import Worked, ready_by_size

COLUMNS = ("mark", "length_mm", "height_mm", "thickness_mm", "count", "mix", "course", "needed")

Shuffle = Callable[[list[ListRow]], list[ListRow]]


def written_order(order: Order, folder: Path, rows: Shuffle = list) -> Order:
    """The same order, read back from files whose lists have their rows in another order."""
    lines = [f"order: {order.name}", f"spares: {100 * order.spares:f} %", "mixes:"]
    for mix in order.mixes:
        density = (
            f"oven_dry_density: {mix.oven_dry_density_kg_m3} kg/m3"
            if mix.oven_dry_density_kg_m3 is not None
            else f"wet_density: {mix.wet_density_kg_m3} kg/m3"
        )
        lines.append(f"  - {{name: {mix.name}, {density}, slurry_water_cement: {mix.slurry_water_cement}}}")
    lines.append("parts:")
    for number, part in enumerate(order.parts):
        assert isinstance(part, ListPart)
        lines.append(f"  - {{list: list{number}.csv, name: {part.name}{_need(part)}}}")
        with (folder / f"list{number}.csv").open("w", encoding="utf-8", newline="") as file:
            writer = csv.writer(file)
            writer.writerow(COLUMNS)
            writer.writerows([getattr(row, name) for name in COLUMNS] for row in rows(list(part.blocks.rows)))
    path = folder / "order.yaml"
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")
    return load_order(path)


def _need(part: ListPart) -> str:
    if part.needed is None:
        return ""
    return f", needed: {{from: {part.needed.from_day}, courses_a_day: {part.needed.courses_a_day}}}"


def just_in_time(worked: Worked) -> Order:
    """The blocks of a plan, each needed on the day on which that plan has it ready: late by nothing, at best."""
    start, mark_of = worked.site.calendar.start, {}
    for part in worked.order.parts:
        for row in part.blocks.rows:
            mark_of[row.mix, row.length_mm, row.height_mm, row.thickness_mm] = row.mark
    rows = []
    for size, days in sorted(ready_by_size(worked).items()):
        mix, length, height, thickness = size
        for course, (day, count) in enumerate(sorted(Counter(days).items()), 1):
            needed: date = start + timedelta(days=day)
            rows.append(
                ListRow(mark_of[size], length, height, thickness, count=count, mix=mix, course=course, needed=needed)
            )
    part = ListPart(name="wall", blocks=BlockList("wall.csv", tuple(rows)), needed=None)
    return worked.order.model_copy(update={"parts": (part,), "spares": Decimal(0)})
