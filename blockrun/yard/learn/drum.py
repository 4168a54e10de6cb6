"""What a batch makes, and what of it stays in the drum, by the cavities that it filled and those it had no mix for.

A batch that filled all that was planned left no more behind than what it made beyond that; one that was short left so
much that the next cavity could not be filled. What it made is its mass over its density as weighed, or as planned. So
each batch tells bounds, none of them sharp, for a bucket is weighed roughly; together they tell which volume is likely.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING, Final

from blockrun.planner.learned import Change, Finding
from blockrun.site.mould_names import kind_named
from blockrun.units import counted, show
from blockrun.yard.journal.events import MouldBack, MouldOut
from blockrun.yard.learn.left import Bounds, Left, left_of
from blockrun.yard.learn.spread import LEAST

if TYPE_CHECKING:
    from datetime import datetime

    from blockrun.mix import Proportions
    from blockrun.site import Mixer
    from blockrun.yard.learn.past import Past, Pour

WEIGHED: Final = 0.015
NOT_WEIGHED: Final = 0.03
"""By how much what a batch made may be off, one deviation, with its mix weighed and without (our choice)."""

LATEST: Final = 200
"""Batches that are looked at, the latest: a drum of long ago tells little of this one (our choice)."""

ASSUMED: Final = (
    "Assumed: batches were made up as on their cards, cavities were poured as far over as overfill says, and a cavity "
    "that was left empty had no mix, unless its mould was out of use or not yet stripped. Spilt mix counts as left."
)


@dataclass(frozen=True)
class Drums:
    """What pours tell of the drums of a yard.

    Parameters
    ----------
    past : what was recorded.
    mixes : as planned.
    """

    past: Past
    mixes: dict[str, Proportions]

    def found(self) -> Iterator[Finding]:
        """What is learnt of each mixer."""
        for mixer in sorted(self.past.plan.site.mixers, key=lambda one: one.name):
            pours = [pour for pour in self.past.mixed_in(mixer) if self._compares(pour)][-LATEST:]
            yield self._finding(mixer, [one for pour in pours if (one := self.bounds(pour)) is not None])

    def _compares(self, pour: Pour) -> bool:
        """Whether its cavities took as much as they do now."""
        kinds = {kind_named(cast.mould) for cast in pour.casts}
        alike = all(self.past.is_alike(pour.plan, kind) for kind in kinds)
        return alike and pour.plan.site.overfill == self.past.plan.site.overfill

    def bounds(self, pour: Pour) -> Bounds | None:
        """What one batch tells; None where its empty cavities had another reason, as that it was thrown away whole."""
        planned, measured = pour.planned, pour.event.wet_density_kg_m3
        made_l = planned.yield_l
        if measured is not None:
            made_l *= self.mixes[planned.mix].wet_density_kg_m3 / measured
        sigma = made_l * (NOT_WEIGHED if measured is None else WEIGHED)
        missing = self._missing(pour) if pour.event.filled else None
        if missing is None:
            return None
        most = made_l - planned.poured_l + sum(missing)
        return Bounds(most - min(missing) if missing else -math.inf, most, sigma)

    def _missing(self, pour: Pour) -> list[float] | None:
        """Litres, with overfill, of each cavity that the plan has for a batch and that was left empty."""
        planned = Counter(cast.mark for cast in pour.casts)
        filled = Counter(mark for fill in pour.event.fills for mark in fill.marks if mark)
        missing = list((planned - filled).elements())
        if not missing:
            return []
        if self._another_reason(pour) or any(mark not in self._volumes_l for mark in missing):
            return None
        over = 1 + self.past.plan.site.overfill
        return [self._volumes_l[mark] * over for mark in missing]

    def _another_reason(self, pour: Pour) -> bool:
        """Whether a mould that got nothing was not to be had, or casts slabs, whose blocks fill no cavity each."""
        got = {fill.base or fill.mould for fill in pour.event.fills}
        places = {(cast.place, cast.mould) for cast in pour.casts}
        at = pour.entry.happened
        return any(
            self.past.plan.kind_of(mould).saw is not None
            or (place not in got and (self._full(place, at) or {place, mould} & self._out_at(at)))
            for place, mould in places
        )

    def _full(self, place: str, at: datetime) -> bool:
        turns = (turn for turn in self.past.state.turns if turn.place == place)
        return any(turn.filled[0].poured < at and (turn.stripped is None or turn.stripped > at) for turn in turns)

    def _out_at(self, at: datetime) -> set[str]:
        out: set[str] = set()
        for entry in self.past.entries:
            if entry.happened > at:
                break
            if isinstance(entry.event, MouldOut):
                out.add(entry.event.mould)
            elif isinstance(entry.event, MouldBack):
                out.discard(entry.event.mould)
        return out

    @cached_property
    def _volumes_l(self) -> dict[str, float]:
        """Volume of a block of each mark; the order is laid out only where a batch was short."""
        from blockrun.order import load_order, takeoff

        plan = self.past.plan
        order = load_order(plan.order[""], files=plan.order)
        return {line.mark: line.shape.volume_l for line in takeoff(order, plan.site.calendar, plan.site.moulds)}

    def _finding(self, mixer: Mixer, batches: Sequence[Bounds]) -> Finding:
        units = self.past.plan.site.units
        about, says = f"Left in {mixer.name}", f"left_behind {show(mixer.left_behind_l, 'volume', units)}"
        short = sum(one.short for one in batches)
        seen = f"{counted(len(batches), 'batch')} recorded, {short or 'none'} of them short of mix for a cavity"
        if len(batches) < LEAST:
            return Finding(about, says, seen, f"too few to tell ({len(batches)} of {LEAST})")
        left = left_of(batches, mixer.usable_volume_l / 2)
        seen += f": {_left_said(left, short, units)}"
        if left.low <= mixer.left_behind_l <= left.high:
            return Finding(about, says, seen, "as the site says")
        where = ("mixers", ("name", mixer.name), "left_behind")
        change = Change("left_behind", where, "volume", mixer.left_behind_l, left.likeliest)
        return Finding(about, says, seen, "", change, (ASSUMED,))


def _left_said(left: Left, short: int, units: str) -> str:
    if not short:
        return f"no more than {show(left.high, 'volume', units)} stay behind"
    low, high = (show(volume, "volume", units) for volume in (left.low, left.high))
    return f"{show(left.likeliest, 'volume', units)} stay behind, likely {low.rpartition(' ')[0]} to {high}"
