"""Who lifts what is stripped, where one person may not, and what is too weak to be lifted then."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from blockrun.planner.heavy import PEOPLE, enough, wet_kg
from blockrun.planner.weak import bearing_h
from blockrun.show.measures import by_mass
from blockrun.show.page import glued
from blockrun.show.words import at_said
from blockrun.units import listed

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping, Sequence
    from datetime import datetime

    from blockrun.mix import Proportions
    from blockrun.order import OrderLine
    from blockrun.planner.rows import Row
    from blockrun.show.saw_plans import SawPlan
    from blockrun.site import Site

_HOIST: Final = "hoist or trolley"
"""As short as may be: a phone shows it in one line."""


class Lifted:
    """What the blocks and slabs of a plan weigh as poured, and who may lift them."""

    def __init__(
        self, site: Site, lines: Iterable[OrderLine], mixes: Mapping[str, Proportions], saw_plans: Iterable[SawPlan]
    ) -> None:
        self._site = site
        self._block_kg = {(line.mark, line.mix): wet_kg(line, mixes) for line in lines}
        self._slab_kg = {turn: saw_plan.wet_kg for saw_plan in saw_plans for turn in saw_plan.slabs}

    def said(self, stripped: Sequence[Row]) -> str:
        """``14.5 kg wet: two people or trolley``; empty where one person may lift it alone.

        Of blocks stripped together it is the heaviest. A slab is never for one person: nobody reaches round it.
        """
        heaviest, is_slab = self._heaviest(stripped)
        people = enough(self._site.lifting, heaviest)
        if people == 1 and not is_slab:
            return ""
        who = f"{PEOPLE[max(2, people)]} or trolley" if people else _HOIST + (", two people" if is_slab else "")
        return f"{'slab, ' if is_slab else ''}{by_mass(heaviest, self._site.units)} wet: {who}"

    def by(self, stripped: Sequence[Row]) -> int:
        """How many people lift it together; 1, too, where a hoist does, but for a slab, which two lead."""
        heaviest, is_slab = self._heaviest(stripped)
        return max(2 if is_slab else 1, enough(self._site.lifting, heaviest) or 1)

    def _heaviest(self, stripped: Sequence[Row]) -> tuple[float, bool]:
        """The heaviest of what is stripped together, in kg, and whether that is a slab."""
        slabs = [self._slab_kg[turn] for cast in stripped if (turn := (cast.mould, cast.turn)) in self._slab_kg]
        blocks = [self._block_kg[cast.mark, cast.mix] for cast in stripped]
        return max(slabs or blocks, default=0.0), bool(slabs)


class Weak:
    """Which blocks of a plan may break when they are lifted as they are stripped."""

    def __init__(
        self, site: Site, lines: Iterable[OrderLine], mixes: Mapping[str, Proportions], strip_h: float
    ) -> None:
        self._bear_h = bearing_h(site, lines, mixes, strip_h)

    def said(self, stripped: Sequence[Row], aged: Callable[[Row, float], datetime | None]) -> str:
        """``TOO WEAK TO LIFT A until Thu 8 Apr 12:40: carry it on a board, or strip later``; empty where none is.

        Parameters
        ----------
        stripped : casts, each with the end of its strip.
        aged : from when a cast has an age; None where it never has.
        """
        until: dict[str, datetime | None] = {}
        for cast in stripped:
            if (age_h := self._bear_h.get((cast.mark, cast.mix))) is not None:
                bears = None if math.isinf(age_h) else aged(cast, age_h)
                if bears is None or bears > cast.strip:
                    until[cast.mark] = bears
        if not until:
            return ""
        last = None if None in until.values() else max(moment for moment in until.values() if moment)
        when = "" if last is None else f" until {glued(at_said(last, stripped[0].strip.date()))}"
        them = "it" if len(until) == 1 else "them"
        return f"TOO WEAK TO LIFT {listed(sorted(until))}{when}: strip later, or carry {them} on a board"
