"""Saw plans for all that slabs may give: those that are needed, and others that a plan of days may choose from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Final

from blockrun.optimiser.engine import Effort
from blockrun.optimiser.sawing.grid import best_plan
from blockrun.optimiser.sawing.plan import Sawn, SawPlan, Settled, ToSaw
from blockrun.optimiser.sawing.rests import filled, trimmed
from blockrun.optimiser.sawing.solve import saw

_WORK: Final = 5.0
"""What the saw plans of one thickness are worth."""


def settle(found: Sequence[ToSaw], seed: int, *, stop: Callable[[], bool], tell: object = None) -> tuple[Settled, ...]:
    """Saw plans for each of these; there is nothing to ``tell`` on the way."""
    effort = Effort(_WORK, stop, seed)
    return tuple(_SawPlans(of, effort).settled() for of in found)


@dataclass(frozen=True)
class _SawPlans:
    """Saw plans for what ``of`` names; ``effort`` for each."""

    of: ToSaw
    effort: Effort

    def settled(self) -> Settled:
        """Those that are needed, and those to choose from."""
        of = self.of
        needed = self._needed() if of.sawn_only else Sawn((), 0, 0.0, proven=True)
        choice = tuple((kind, of.kept(kind, plan)) for kind, plan in self._of_choice())
        return Settled(needed, choice)

    def _needed(self) -> Sawn:
        """For what only slabs give; the rest of the pieces come out of what is left over."""
        of = self.of
        first = saw(of.slabs, of.kerfs, of.sizes, of.demand, self.effort, offcuts=of.offcuts)
        used = Counter({(kind, of.kept(kind, plan)): count for kind, plan, count in first.plans})
        whole = all(len(of.kept(kind, plan).pieces) == len(plan.pieces) for kind, plan, _ in first.plans)
        if not whole:
            used = self._few_at_a_time()
        cost = sum(of.slabs[kind].area * count for (kind, _), count in used.items())
        plans = tuple((kind, plan, count) for (kind, plan), count in used.items())
        return Sawn(plans, cost, first.bound, first.proven and whole)

    def _few_at_a_time(self) -> Counter[tuple[int, SawPlan]]:
        """Where a slab may give fewer pieces than go into it: slabs of so many, until nothing is wanted."""
        of = self.of
        left, used = Counter(dict(enumerate(of.demand))), Counter[tuple[int, SawPlan]]()
        while any(left[item] > 0 for item in of.sawn_only):
            wanted = [max(0, left[item]) for item in range(len(of.demand))]
            kind, plan, _ = saw(of.slabs, of.kerfs, of.sizes, wanted, self.effort, offcuts=of.offcuts).plans[0]
            kept = of.kept(kind, plan)
            count = min(left[item] // each for item, each in kept.gives().items())
            left.subtract({item: count * each for item, each in kept.gives().items()})
            used[kind, kept] += count
        return used

    def _of_choice(self) -> Iterator[tuple[int, SawPlan]]:
        """Of all items together, where something else gives some, and for each item as many as go in."""
        of = self.of
        if of.offcuts:
            sawn = saw(of.slabs, of.kerfs, of.sizes, of.demand, self.effort)
            yield from ((kind, plan) for kind, plan, _ in sawn.plans)
        wanted, areas = Counter(dict(enumerate(of.demand))), [float(a * b) for a, b in of.sizes]
        for kind, (slab, kerf) in enumerate(zip(of.slabs, of.kerfs, strict=True)):
            for item, area in enumerate(areas):
                only = [area if other == item else 0.0 for other in range(len(areas))]
                alone = trimmed(best_plan(slab, kerf, of.sizes, only), wanted)
                yield kind, alone
                yield kind, filled(slab, kerf, of.sizes, alone, wanted - Counter(alone.gives()), areas)
