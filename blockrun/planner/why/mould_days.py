"""Moulds and bases of a plan by the day: which stand full, which are free for what is poured later, and since when."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Any

from blockrun.order.castable import castable
from blockrun.planner.clocks import Clocks
from blockrun.planner.full import full_of
from blockrun.planner.why.taken import Taken
from blockrun.site.calendar import moment_at
from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from blockrun.planner.ages import Ages
    from blockrun.planner.plan import Plan
    from blockrun.site import MouldKind


class MouldDays:
    """The moulds of a plan, day by day.

    Parameters
    ----------
    casts : its casts, in plain datetimes.
    ages : what its rules on ages come to.
    """

    def __init__(self, plan: Plan, casts: list[Any], ages: Ages) -> None:
        self.site = plan.site
        self._ages = ages
        self._clocks = Clocks(plan.site, plan.order, plan.ordered)
        self._lines = {(line.mark, line.mix): line for line in plan.ordered}
        self._last_of = _last_pours(casts)
        self._full = full_of(plan.tables)

    def taken(self, kind: MouldKind, day: date) -> Iterator[Taken]:
        """What of a kind stands full when the last foam may go in, while it could cast what is poured later."""
        wanted_later = self._wanted_later(kind, day)
        sides, bases = kind.mould_names, kind.base_names
        if not any(name in self._full for name in (*sides, *bases)):
            return
        of = [(f"{kind.kind} sides" if bases else kind.kind, sides, self._ages.sides_h(kind) or self._ages.strip_h)]
        for thing, names, hours in [*of, *([(f"{kind.kind} bases", bases, self._ages.strip_h)] if bases else [])]:
            full = self._full_at(names, self.closing(day))
            ran_out = wanted_later and len(full) >= len(names)
            yield Taken(
                thing,
                len(full),
                len(names),
                "moulds",
                ran_out,
                ran_out and self._waits_for_cold(kind, hours, full, day),
            )

    def closing(self, day: date) -> datetime:
        """The last moment at which foam may go in."""
        calendar, mixers = self.site.calendar, self.site.mixers
        shortest = min(mixer.foam_time_min + mixer.pour_time_min + mixer.wash_time_min for mixer in mixers)
        return moment_at(day, min(calendar.last_foam_min, calendar.ends_min - shortest))

    def _wanted_later(self, kind: MouldKind, day: date) -> bool:
        """Whether a kind casts something that is poured after a day."""
        return any(last > day and castable(kind, self._lines[of]) for of, last in self._last_of.items())

    def has_free(self, kind: MouldKind, moment: datetime) -> bool:
        """Whether sides and a base of a kind are free at a moment."""
        both = [kind.mould_names, *([kind.base_names] if kind.base_names else [])]
        return all(len(self._full_at(names, moment)) < len(names) for names in both)

    def _full_at(self, names: Iterable[str], moment: datetime) -> list[datetime]:
        """Of moulds or bases that stand full at a moment, when they were poured."""
        turns = (turn for name in names for turn in self._full.get(name, []))
        return [turn.poured for turn in turns if turn.since <= moment < turn.free]

    def _waits_for_cold(self, kind: MouldKind, hours: float, poured: list[datetime], day: date) -> bool:
        """Whether the oldest turn is not ripe in the evening, and would have been at 20 degC."""
        oldest, evening = min(poured), self.closing(day)
        ripe = self.site.calendar.moment_of(self._clocks.ripe_min(kind, oldest, hours))
        mild = oldest + timedelta(hours=hours, minutes=kind.strip_and_saw_min + kind.clean_time_min)
        return mild <= evening < ripe

    def used(self) -> list[MouldKind]:
        """Kinds of which the plan fills some."""
        return [kind for kind in self.site.moulds if kind.kind in set(map(kind_named, self._full))]

    def ripe_at(self, kind: MouldKind, poured: datetime) -> datetime:
        """From when on a mould of a kind can be stripped for its age, poured at a moment."""
        return self.site.calendar.moment_of(self._clocks.ripe_min(kind, poured, self._ages.strip_h))

    def free_from(self, day: date) -> int:
        """The minute of a day from which a mould is free for one turn more that is poured later, and stays so.

        0 where all are full at the last foam, or none casts what is still to come: then time is judged by itself.
        """
        kinds = [kind for kind in self.site.moulds if not kind.filler and self._wanted_later(kind, day)]
        since = [
            max(self._spare_from(names, day) for names in (kind.mould_names, kind.base_names) if names)
            for kind in kinds
            if self.has_free(kind, self.closing(day))
        ]
        midnight = moment_at(day)
        return max(0, (min(since) - midnight) // timedelta(minutes=1)) if since else 0

    def _spare_from(self, names: Sequence[str], day: date) -> datetime:
        """From when on one of some moulds or bases is free that is still free at the last foam, whichever it is."""
        closing = self.closing(day)
        turns = [turn for name in names for turn in self._full.get(name, []) if turn.since <= closing]
        changes = sorted(
            [(turn.since, 1) for turn in turns] + [(turn.free, -1) for turn in turns if turn.free <= closing]
        )
        full, since = 0, moment_at(day)
        for moment, change in changes:
            full += change
            if change < 0 and full == len(names) - 1:
                since = max(since, moment)
        return since


def _last_pours(casts: list[Any]) -> dict[tuple[str, str], date]:
    """The day on which each mark of a mix is poured last."""
    found: dict[tuple[str, str], date] = {}
    for cast in casts:
        of, day = (cast.mark, cast.mix), cast.poured.date()
        found[of] = max(day, found.get(of, day))
    return found
