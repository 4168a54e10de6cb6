"""The page of materials: what to order when, what each day takes and leaves, and what it all costs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import TYPE_CHECKING, Any, Final

from blockrun.files.day_names import day_name
from blockrun.planner.supplies import Cover, has_come, order_by, short
from blockrun.show.cautions import SHORT
from blockrun.show.materials_said import MaterialsSaid
from blockrun.show.page import GLUE
from blockrun.show.paper.press import Sheet
from blockrun.units import counted

if TYPE_CHECKING:
    from datetime import date

    from blockrun.planner.supplies import Material
    from blockrun.show.paper.asked import Asked

_MOST_UPRIGHT: Final = 8
"""Columns that an upright page holds; with more it lies on its side."""


def materials_page(asked: Asked) -> Iterator[Sheet]:
    """What the whole plan takes, whatever days are asked for."""
    said = MaterialsSaid(asked.plan)
    head, *days = said.table()
    yield Sheet(
        "materials",
        {
            "title": "Materials",
            "cautions": SHORT,
            "deliveries": _deliveries(said),
            "no_order": said.no_order() if not said.order_next() else "",
            "short": list(map(_parted, said.short())),
            "stock": [[material.name, list(map(_parted, said.stock(material)))] for material in said.counted],
            "head": ["day", *head[1:]],
            "days": [list(map(_parted, row)) for row in days],
            "sideways": len(head) > _MOST_UPRIGHT,
            "blocks": counted(len(asked.plan.tables.casts), "block"),
            "sums": list(map(_parted, said.sums())),
            "cost": list(said.cost()),
            "by_mark": list(said.cost_by_mark()),
        },
    )


def _deliveries(said: MaterialsSaid) -> list[dict[str, Any]]:
    """A row for each delivery to come of which something is needed, and for what no delivery covers.

    They stand in the order in which they are to be ordered.
    """
    rows = [
        (cover.order_by or cover.needed, cover.needed, cover.supply.day, _row(said, material, cover))
        for material in said.counted
        for cover in said.covers[material.name]
        if cover.supply.day and cover.needed and not has_come(cover.supply, said.since)
    ]
    for material in said.counted:
        missing = short(material)
        if missing and missing.day:
            by = order_by(missing.day, material.lead_days, said.plan.site.calendar)
            needed = Cover(replace(missing, day=None), missing.amount, missing.day, None, by)
            rows.append((by or missing.day, missing.day, missing.day, _row(said, material, needed)))
    return [row for *_, row in sorted(rows, key=lambda row: row[:3])]


def _row(said: MaterialsSaid, material: Material, cover: Cover) -> dict[str, Any]:
    """What is to be ordered; it comes on no day where no delivery of it is written."""
    comes = cover.supply.day
    more = "" if comes else " more"
    return {
        "by": day_name(cover.order_by) if cover.order_by else "",
        "late": _late(said, cover.order_by),
        "what": _parted(f"{said.amount(material.name, cover.supply.amount)}{more} of {material.name}"),
        "lot": cover.supply.lot,
        "needed": day_name(cover.needed) if cover.needed else "",
        "comes": day_name(comes) if comes else "no delivery is written",
        "too_late": cover.late,
    }


def _late(said: MaterialsSaid, by: date | None) -> str:
    """What to know of a day to order that is gone by."""
    if by is None:
        return ""
    if said.is_late(by):
        return "gone by: if it was not ordered, order at once"
    return "before the plan starts" if by < said.plan.site.calendar.start else ""


def _parted(words: str) -> str:
    """Words that a narrow column may break anywhere."""
    return words.replace(GLUE, " ")
