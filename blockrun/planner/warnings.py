"""What a builder should know of a plan and its inputs, though nothing of it is against the rules."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping

from blockrun import units
from blockrun.mix import notes
from blockrun.order import Order
from blockrun.order.castable import castable
from blockrun.order.laid import CAUTION
from blockrun.order.parts import notes_of_parts
from blockrun.planner.agent_short import agent_short
from blockrun.planner.ages import Ages
from blockrun.planner.before_start import left_out
from blockrun.planner.brief import Brief
from blockrun.planner.cubes import cubes_said
from blockrun.planner.frozen import frozen_in_plan
from blockrun.planner.hasty import hasty
from blockrun.planner.heat import heat_said
from blockrun.planner.heavy import heavy_said, helpers_said, too_heavy
from blockrun.planner.hot_hours import hot_hours_said
from blockrun.planner.hot_pours import hot_pours_said
from blockrun.planner.inputs import MUCH_OVERFILL, USUAL_OVERFILL
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.need_dates import odd_need_dates
from blockrun.planner.slabs import pourable
from blockrun.planner.tables import PlanTables
from blockrun.planner.untimed import untimed_said
from blockrun.planner.weak import weak_said
from blockrun.site import MouldKind, Site, Strength
from blockrun.units import listed

_WORTH_SAYING = 0.25
_NAMED = 3
_SHORT_OF = {
    "moulds": "moulds",
    "racks": "rack places",
    "mixers": "mixing time",
    "cement": "cement when it is needed",
    "agent": "foaming agent when it is needed",
}


def warnings(asked: Brief, tables: PlanTables, late_alone: Mapping[str, int]) -> tuple[str, ...]:
    """Sentences, the most pressing first: lateness and why, what is guessed or short, odd inputs, heavy blocks, mixes.

    Parameters
    ----------
    late_alone : block-days late that cannot be helped, by the one thing that is short.
    """
    return (
        *_late(tables),
        *_why_late(tables, late_alone),
        *odd_need_dates(asked.site, asked.order),
        *left_out(asked.site),
        *_past_forecast(asked.site, tables),
        *agent_short(asked.site, tables, asked.begun),
        *frozen_in_plan(asked, tables),
        *hot_hours_said(asked, tables.batches["start"].max().date()),
        *hot_pours_said(asked.site, tables, asked.begun.since if asked.begun else None),
        *heat_said(asked.site, asked.clocks, tables, asked.ages.strip_h),
        *_given_twice(asked.order),
        *asked.ages.said(),
        *hasty(asked.site),
        *_odd(asked.site),
        *untimed_said(asked.site, tables),
        *cubes_said(asked.site, tables, asked.begun.poured if asked.begun else ()),
        *_idle_moulds(asked),
        *_of_no_use(asked),
        *(said for kind in asked.moulds for said in _bases(kind, asked.ages)),
        *_lifted(asked),
        *_mixes(asked, tables),
        *(
            f"{name}: {note}"
            for name, notes in notes_of_parts(asked.order, asked.site.moulds)
            for note in notes
            if note.startswith(CAUTION)
        ),
    )


def _late(tables: PlanTables) -> Iterator[str]:
    casts = tables.casts
    late = casts[casts["needed"].notna() & (casts["ready"].dt.normalize() > casts["needed"])]
    for part, rows in late.groupby("part", sort=True):
        blocks = f"{len(rows)} blocks are" if len(rows) > 1 else "1 block is"
        yield f"{part}: {blocks} ready later than needed."


def _why_late(tables: PlanTables, late_alone: Mapping[str, int]) -> Iterator[str]:
    """What alone makes a good part of the lateness, over what the age of the blocks does."""
    casts = tables.casts
    days = (casts["ready"].dt.normalize() - casts["needed"]).dt.days
    late, age = int(days.clip(lower=0).sum()), late_alone.get("age", 0)
    if age:
        yield (
            f"Needed too soon: were all poured on the first day, they would still be {age} block-days late, "
            "for they are not old enough before."
        )
    heavy = {name: n for name, n in late_alone.items() if n - age > _WORTH_SAYING * max(1, late - age)}
    short = [_SHORT_OF[name] for name in sorted(heavy, key=lambda name: -heavy[name]) if name in _SHORT_OF]
    if len(short) > 1:
        yield f"Short of {listed(short)}: each of them alone makes {min(heavy.values())} block-days late, or more."
    elif short:
        yield f"Short of {short[0]}: that alone makes {heavy.popitem()[1]} block-days late."


def _past_forecast(site: Site, tables: PlanTables) -> Iterator[str]:
    if tables.casts["strip"].max().date() > site.weather.last:
        yield site.weather.said_beyond()


def _given_twice(order: Order) -> Iterator[str]:
    times = Counter(blocks.reference for blocks in order.lists)
    for reference, n in sorted(times.items()):
        if n > 1:
            yield f"{reference} is named in {n} parts: its blocks are cast {n} times."


def _odd(site: Site) -> Iterator[str]:
    """Values that go ill together, or that are far from what is usual (common practice, no source)."""
    lay, rack = site.curing.lay_at_min, site.curing.rack_for_min
    if not isinstance(lay, Strength) and lay < rack:
        times = units.show_time(lay), units.show_time(rack)
        yield f"lay_at, {times[0]}, is shorter than rack_for, {times[1]}: blocks are laid straight off the rack."
    if site.overfill > MUCH_OVERFILL:
        struck, usual = 100 * site.overfill, 100 * USUAL_OVERFILL
        yield f"overfill is {struck:g} %: so much is struck off every cavity, and {usual:g} % is usual."


def _idle_moulds(asked: Brief) -> Iterator[str]:
    """Moulds that could cast something that is ordered, and are never used."""
    for kind in asked.site.moulds:
        mixes = {line.mix for line in asked.lines if castable(kind, line)}
        if kind not in asked.moulds and mixes:
            why = "no part of a day is long enough to strip it and move a block"
            if kind.saw and not any(pourable(asked.site, asked.order, kind, mix) for mix in mixes):
                why = "its slab takes more than any batch pours"
            yield f"{kind.kind} is never used: {why}."


def _of_no_use(asked: Brief) -> Iterator[str]:
    """Moulds that nothing ordered fits: they may be of another job, or their size is mistyped."""
    idle = [
        f"{kind.kind} ({units.show_size(*kind.cavity, asked.site.units)})"
        for kind in asked.site.moulds
        if not kind.filler and not any(castable(kind, line) for line in asked.lines)
    ]
    if idle:
        right = "Are their sizes right?" if idle[1:] else "Is its size right?"
        yield f"Nothing that is ordered fits {' or '.join(idle)}. {right}"


def _bases(kind: MouldKind, ages: Ages) -> Iterator[str]:
    """Sides that can never all be used, or that need not come off first."""
    if kind.bases is not None and kind.bases < kind.count:
        yield f"{kind.kind}: {kind.count} moulds on {kind.bases} bases; the other sides are never used."
    if (ages.sides_h(kind) or 0) > ages.strip_h:
        yield f"{kind.kind}: sides_off_at is later than strip_at, so the blocks wait for the sides."


def _lifted(asked: Brief) -> Iterator[str]:
    """The heaviest of the blocks, as poured, that are too heavy to lift, and those too weak for it when stripped."""
    mixes = mix_proportions(asked.site, asked.order)
    yield from heavy_said(too_heavy(asked.site, asked.lines, mixes), asked.site, _NAMED)
    yield from helpers_said(asked.site, asked.lines, mixes)
    yield from weak_said(asked.site, asked.lines, mixes, asked.ages.strip_h, _NAMED)


def _mixes(asked: Brief, tables: PlanTables) -> Iterator[str]:
    mixes, foam = mix_proportions(asked.site, asked.order), asked.site.foam_generator.density_kg_m3
    specs = {spec.name: spec for spec in asked.order.mixes}
    for name in sorted(set(tables.casts["mix"])):
        for note in notes(mixes[name], foam, units=asked.site.units, asked=specs[name]):
            yield f"{name}: {note}"
