"""Saw plans in words, for somebody with a tape, a square and a saw."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.planner.heavy import PEOPLE, enough
from blockrun.show.cautions import DUST
from blockrun.show.cuts import Cut
from blockrun.show.measures import by_mass
from blockrun.show.page import HEADING, QUIET, Page, glued
from blockrun.show.tape import on_tape, size_on_tape, tape_unit
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from blockrun.show.day import Day
    from blockrun.show.saw_plans import SawPlan
    from blockrun.site import Site

HOW: Final = (
    "Draw all lines before the first cut: upright ones measured from the slab's left end, level ones from its bottom. "
    "Saw on the far side of each line: right of it, or above it."
)


def used_on(days: Iterable[Day], saw_plans: Sequence[SawPlan]) -> list[SawPlan]:
    """Saw plans of slabs that are poured or sawn on some days."""
    numbers = {number for day in days for number in day.saw_plans}
    return [saw_plan for saw_plan in saw_plans if saw_plan.number in numbers]


def write_saw_plans(page: Page, saw_plans: Sequence[SawPlan], site: Site) -> None:
    """Write saw plans, how their lines are drawn, and what to take care of."""
    units = site.units
    page.rule("Saw plans")
    page.line(f"{HOW} {lengths_in(units)}")
    page.line((f"{heavy(max(saw_plan.wet_kg for saw_plan in saw_plans), site)} {DUST}", QUIET))
    for saw_plan in saw_plans:
        page.blank()
        page.line((f"saw plan {saw_plan.number}", HEADING), f": {saw_plan_said(saw_plan, units)}")
        page.line(f"gives {listed([glued(block) for block in blocks_said(saw_plan, units)])}")
        room = len(str(len(saw_plan.sawn.cuts)))
        for number, cut in enumerate(saw_plan.sawn.cuts, start=1):
            page.line(cut_said(cut, saw_plan, units), label=f"{number:>{room}}", indent=room + 1)


def lengths_in(units: str) -> str:
    """Say what all lengths are in: ``Lengths in mm.``."""
    return f"Lengths in {'inches' if units == 'US' else tape_unit(units)}."


def heavy(wet_kg: float, site: Site) -> str:
    """How a slab is lifted: never by one person alone, for nobody reaches round it."""
    weighs = f"A slab weighs about {by_mass(wet_kg, site.units)} as poured:"
    if people := enough(site.lifting, wet_kg):
        return f"{weighs} {PEOPLE[max(2, people)]} lift it, or a trolley."
    return f"{weighs} too heavy to lift by hand; two people or more with a trolley or a hoist."


def saw_plan_said(saw_plan: SawPlan, units: str) -> str:
    """The slab, the saw cut, and how many slabs of the plan are sawn so."""
    size = glued(size_on_tape(units, *saw_plan.kind.cavity))
    kerf = glued(f"saw cut {size_on_tape(units, saw_plan.kerf_mm)}")
    return f"{saw_plan.kind.kind} {size}, {kerf}, {glued(counted(len(saw_plan.slabs), 'slab'))} in all"


def blocks_said(saw_plan: SawPlan, units: str) -> Iterator[str]:
    """``5 B (450 x 300)``: how many of each mark, and its size, whichever way it lies."""
    sizes = {block.name: sorted((block.length_mm, block.height_mm)) for block in saw_plan.sawn.blocks}
    for mark, n in saw_plan.gives.items():
        short, long = (on_tape(side, units) for side in sizes[mark])
        yield f"{n} {mark} ({long} x {short})"


def cut_said(cut: Cut, saw_plan: SawPlan, units: str) -> str:
    """``upright at 600, from 0 to 150: F and F``."""
    whole_mm = saw_plan.kind.height_mm if cut.upright else saw_plan.kind.length_mm
    start, end = (on_tape(place, units) for place in (cut.from_mm, cut.to_mm))
    through = "from bottom to top" if cut.upright else "from left to right"
    way = glued(through if cut.length_mm > whole_mm - 1 else f"from {start} to {end}")
    line = glued(f"{'upright' if cut.upright else 'level'} at {on_tape(cut.at_mm, units)}")
    return f"{line}, {way}" + (f": {glued(listed(cut.frees))}" if cut.frees else "")
