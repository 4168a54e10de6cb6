"""What a builder should know of a plan and its inputs, though nothing of it is against the rules."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from blockrun.mix import notes
from blockrun.order import Order
from blockrun.planner.brief import Brief, mix_proportions
from blockrun.planner.tables import PlanTables
from blockrun.site import MouldKind, Site


def warnings(asked: Brief, tables: PlanTables) -> tuple[str, ...]:
    """Sentences, the most pressing first: lateness, guessed weather, odd inputs, unusual mixes."""
    return (
        *_late(tables),
        *_past_forecast(asked.site, tables),
        *_given_twice(asked.order),
        *(said for kind in asked.moulds for said in _bases(kind, asked.site)),
        *_mixes(asked, tables),
    )


def _late(tables: PlanTables) -> Iterator[str]:
    casts = tables.casts
    late = casts[casts["needed"].notna() & (casts["ready"].dt.normalize() > casts["needed"])]
    for part, rows in late.groupby("part", sort=True):
        blocks = f"{len(rows)} blocks are" if len(rows) > 1 else "1 block is"
        yield f"{part}: {blocks} ready later than needed."


def _past_forecast(site: Site, tables: PlanTables) -> Iterator[str]:
    last = site.weather.last
    if tables.casts["strip"].max().date() > last:
        yield f"The forecast ends on {last:%a %d %b}; after it the mean of its last seven days is taken."


def _given_twice(order: Order) -> Iterator[str]:
    times = Counter(part.blocks.reference for part in order.parts)
    for reference, n in sorted(times.items()):
        if n > 1:
            yield f"{reference} is named in {n} parts: its blocks are cast {n} times."


def _bases(kind: MouldKind, site: Site) -> Iterator[str]:
    """Sides that can never all be used, or that need not come off first."""
    if kind.bases is not None and kind.bases < kind.count:
        yield f"{kind.kind}: {kind.count} moulds on {kind.bases} bases; the other sides are never used."
    if kind.sides_off_at_h is not None and kind.sides_off_at_h > site.curing.strip_at_h:
        yield f"{kind.kind}: sides_off_at is later than strip_at, so the blocks wait for the sides."


def _mixes(asked: Brief, tables: PlanTables) -> Iterator[str]:
    mixes, foam = mix_proportions(asked.site, asked.order), asked.site.foam_generator.foam_density_kg_m3
    for name in sorted(set(tables.casts["mix"])):
        for note in notes(mixes[name], foam, units=asked.site.units):
            yield f"{name}: {note}"
