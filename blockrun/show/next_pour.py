"""Why a day leaves what it might pour to the next pour: its moulds are full, it takes a batch more, or is in time."""

from __future__ import annotations

import math
from collections import defaultdict
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import day_name
from blockrun.mix import batch_sizes
from blockrun.order.castable import castable
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.rows import Row, grouped, rows_of
from blockrun.show.page import glued

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.show.occupied import Occupied
    from blockrun.site import MouldKind

_SPECK_L: Final = 1e-6


class NextPour:
    """What is poured after a day on which nothing is."""

    def __init__(self, plan: Plan, occupied: Occupied) -> None:
        self._plan, self._site, self._occupied = plan, plan.site, occupied
        self._casts: dict[date, list[Row]] = grouped(rows_of(plan.tables.casts), lambda row: row.poured.date())
        self._batches: dict[date, list[Row]] = grouped(rows_of(plan.tables.batches), lambda row: row.start.date())
        self._lines = {(line.mark, line.mix): line for line in plan.ordered}

    def why_not_sooner(self, day: date) -> str:
        """Say why what is poured next is not poured on a day; empty where that is not plain."""
        following = min((on for on in self._casts if on > day), default=None)
        if following is None:
            return ""
        on, may = glued(day_name(following)), self._may_l(day, following)
        if not any(may.values()):
            return f"the moulds for what is poured next, on {on}, are full or not clean"
        if all(self._is_one_more(mix, litres, following) for mix, litres in may.items() if litres):
            return f"a batch would be one more; what free moulds could take is poured with the rest on {on}"
        if all(not cast.needed or cast.ready.date() <= cast.needed.date() for cast in self._casts[following]):
            return f"what is poured next, on {on}, is all in time"
        return ""

    def _may_l(self, day: date, following: date) -> dict[str, float]:
        """At the most so much of each mix, overfill included, goes into free moulds, of what is poured next."""
        free = [(kind, self._occupied.n_free(kind, day)) for kind in self._site.moulds if not kind.filler]
        blocks: defaultdict[str, float] = defaultdict(float)
        moulds: defaultdict[str, dict[str, float]] = defaultdict(dict)
        for cast in self._casts[following]:
            line = self._lines[cast.mark, cast.mix]
            fits = [(kind, n) for kind, n in free if n and castable(kind, line)]
            moulds[cast.mix] |= {kind.kind: n * _holds_l(kind) for kind, n in fits}
            if fits:  # of a slab more is poured than its blocks
                blocks[cast.mix] += math.inf if any(kind.saw for kind, _ in fits) else line.volume_l
        return {mix: min(blocks[mix], sum(held.values())) * (1 + self._site.overfill) for mix, held in moulds.items()}

    def _is_one_more(self, mix: str, may_l: float, following: date) -> bool:
        """Whether the next pour takes as many batches of a mix though so much of it were poured before."""
        batches = [row for row in self._batches[following] if row.mix == mix]
        left_l = sum(row.poured_l for row in batches) - may_l
        return bool(math.ceil((left_l - _SPECK_L) / self._room_l[mix]) >= len(batches))

    @cached_property
    def _room_l(self) -> dict[str, float]:
        """What the largest batch of each mix fills."""
        site, mixes = self._site, mix_proportions(self._site, self._plan.order)
        return {
            name: max(size.room_l for mixer in site.mixers for size in batch_sizes(site, mixer, mix))
            for name, mix in mixes.items()
        }


def _holds_l(kind: MouldKind) -> float:
    """Litres in all cavities of a mould."""
    return kind.length_mm * kind.height_mm * kind.thickness_mm * kind.cavities / 1e6
