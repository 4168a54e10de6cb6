"""What a day is to do, as counts: the word between whoever guides the days and the day itself."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.optimiser.counts import Counts
    from blockrun.optimiser.engine import Value


@dataclass(frozen=True)
class DayCounts:
    """What a day is to do.

    ``waves`` are the castings by (mould, casting), those that can be poured sooner first: the foreman has
    moulds that stand free, those stripped first and second turns, counting ahead has one wave. ``strips`` by
    mould; ``early`` the turns of each mould to be poured by a minute: (mould, minute, turns).
    """

    waves: tuple[dict[tuple[int, int], int], ...] = ()
    strips: dict[int, int] = field(default_factory=dict)
    early: tuple[tuple[int, int, int], ...] = ()

    @property
    def castings(self) -> int:
        """Castings of all waves."""
        return sum(sum(wave.values()) for wave in self.waves)


def read(counts: Counts, value: Value) -> dict[int, DayCounts]:
    """Counts of each day of an answer; a day has one wave."""
    return {day: _read_day(counts, day, value) for day in counts.days}


def _read_day(counts: Counts, day: int, value: Value) -> DayCounts:
    slots = counts.when.slots
    of_day = slots.of_day[day]
    filled: dict[tuple[int, int], int] = {}
    for slot in of_day:
        for key, var in counts.filled[slot].items():
            if count := value(var):
                filled[key] = filled.get(key, 0) + count
    early: list[tuple[int, int, int]] = []
    strips = {}
    for kind in counts.kinds:
        strips[kind] = value(counts.stripped[kind].between(of_day[0], of_day[-1]))
        for slot in of_day[:-1]:
            if by_then := value(counts.turns[kind].between(of_day[0], slot)):
                early.append((kind, slots.all[slot].last, by_then))
    return DayCounts((filled,), {k: n for k, n in strips.items() if n}, tuple(early))
