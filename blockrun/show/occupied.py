"""From when to when moulds, bases and places on racks are taken."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, datetime, time, timedelta
from typing import TYPE_CHECKING

from blockrun.show.day import Row, rows_of
from blockrun.show.words import counted

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.site import MouldKind

Span = tuple[datetime, datetime]


class Occupied:
    """What is taken when.

    Parameters
    ----------
    plan : as the audit passes it.
    """

    def __init__(self, plan: Plan) -> None:
        self.site = plan.site
        self._casts: list[Row] = rows_of(plan.tables.casts)
        self._started = {row.batch: row.pour_from for row in rows_of(plan.tables.batches)}
        self._cleaned = sorted(
            (row.start, row.end, row.mould, row.base) for row in rows_of(plan.tables.tasks) if row.task == "clean"
        )
        self._spans = self._spans_of_turns()

    def _spans_of_turns(self) -> dict[str, list[Span]]:
        """From the pour into a mould or onto a base until it can be poured again, by its name."""
        turns: dict[tuple[str, int], list[Row]] = defaultdict(list)
        for cast in self._casts:
            turns[cast.mould, cast.turn].append(cast)
        spans: dict[str, list[Span]] = defaultdict(list)
        for casts in turns.values():
            start, clean = min(self._started[cast.batch] for cast in casts), self._clean(casts[0])
            spans[casts[0].mould].append((start, casts[0].sides_off if casts[0].base else clean))
            if casts[0].base:
                spans[casts[0].base].append((start, clean))
        return spans

    def _clean(self, cast: Row) -> datetime:
        """End of the cleaning that follows the strip of a block."""
        pair = (cast.mould, cast.base)
        after = (end for start, end, *of in self._cleaned if start >= cast.strip and tuple(of) == pair)
        end: datetime = next(after, cast.strip)
        return end

    def free_again(self, kind: MouldKind, day: date) -> datetime | None:
        """When the first mould of a kind is free again, if none is on a day in time for a pour; None if one is."""
        moulds = [f"{kind.kind}/{n:02d}" for n in range(1, kind.count + 1)]
        bases = [f"{kind.kind}/b{n:02d}" for n in range(1, (kind.bases or 0) + 1)]
        free = [self._all_taken(names, day) for names in (moulds, bases) if names]
        return max((moment for moment in free if moment is not None), default=None)

    def _all_taken(self, names: list[str], day: date) -> datetime | None:
        """When the first of some moulds is free again, where each is taken all day."""
        opening, late = self._pouring_hours(day)
        ends = [
            next((end for start, end in self._spans[name] if start <= opening and end > late), None) for name in names
        ]
        return None if None in ends else min(end for end in ends if end is not None)

    def _pouring_hours(self, day: date) -> Span:
        """Opening, and the last minute from which a batch could still be poured and washed up."""
        midnight, windows = datetime.combine(day, time()), self.site.calendar.windows
        shortest = min(mixer.pour_time_min + mixer.wash_time_min for mixer in self.site.mixers)
        return midnight + timedelta(minutes=windows[0][0]), midnight + timedelta(minutes=windows[-1][1] - shortest)

    def racks_full(self, day: date) -> str:
        """Say that the racks have no place free at any time of a day; empty where they have."""
        opening, _ = self._pouring_hours(day)
        places = sum(rack.places for rack in self.site.racks)
        changes = {cast.rack_to for cast in self._casts if cast.rack_to.date() == day}
        held = min(sum(cast.rack_from <= at < cast.rack_to for cast in self._casts) for at in {opening, *changes})
        return f"all {counted(places, 'place')} on the racks are taken" if held >= places else ""
