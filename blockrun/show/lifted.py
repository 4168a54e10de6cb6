"""Who lifts what is stripped, where that is more than those who do in this yard."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from blockrun.planner.heavy import enough, wet_kg
from blockrun.show.measures import by_mass

if TYPE_CHECKING:
    from collections.abc import Iterable, Mapping, Sequence

    from blockrun.mix import Proportions
    from blockrun.order import OrderLine
    from blockrun.show.day import Row
    from blockrun.show.saw_plans import SawPlan
    from blockrun.site import Site

_TEAMS: Final = {2: "two people or trolley", 3: "three people or trolley"}
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
        """``14.5 kg wet: two people or trolley``; empty where those who lift in this yard may.

        Of blocks stripped together it is the heaviest. A slab is never for one person: nobody reaches round it.
        """
        slabs = [self._slab_kg[turn] for cast in stripped if (turn := (cast.mould, cast.turn)) in self._slab_kg]
        blocks = [self._block_kg[cast.mark, cast.mix] for cast in stripped]
        heaviest = max(slabs or blocks, default=0.0)
        people = enough(self._site.lifting, heaviest)
        if people is not None and people <= self._site.lifting.people and not slabs:
            return ""
        who = _TEAMS[max(2, people)] if people else _HOIST + (", two people" if slabs else "")
        return f"{'slab, ' if slabs else ''}{by_mass(heaviest, self._site.units)} wet: {who}"
