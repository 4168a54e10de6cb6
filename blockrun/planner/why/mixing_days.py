"""Mixers and people of a plan by the day: what they did, and whether they had time for one batch more."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime, timedelta
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from blockrun.planner.why.taken import Taken
from blockrun.site.calendar import moment_at

if TYPE_CHECKING:
    from blockrun.site import Mixer, Site

Span = tuple[datetime, datetime]


class MixingDays:
    """The mixers of a plan and its people, day by day.

    Parameters
    ----------
    mixed, tasks : its batches and all that its crew does, by the day on which they start.
    """

    def __init__(self, site: Site, mixed: Mapping[date, list[Any]], tasks: Mapping[date, list[Any]]) -> None:
        self.site, self._mixed, self._tasks = site, mixed, tasks

    def taken(self, day: date, since: int) -> Iterator[Taken]:
        """Mixers, and the people of a batch: what left no stretch long enough for one batch more.

        Time before the minute ``since`` of the day, from which a mould is free for that batch, is of no use to it.
        """
        people = self.site.crew.on(day)
        work = self._tasks[day]
        minutes = sum(end - start for start, end in self.site.calendar.windows)
        used = sum(row.people * (row.end - row.start) // timedelta(minutes=1) for row in work)
        room = {mixer.name: self._room(mixer, day, work, people) for mixer in self.site.mixers}
        mixers_free = False
        for mixer in self.site.mixers:
            busy = self._busy(mixer.name, day)
            taken = sum((end - start) // timedelta(minutes=1) for start, end in busy)
            free = self._takes_a_batch(mixer, self._gaps(day, busy), since)
            mixers_free |= free
            yield Taken(mixer.name, taken, minutes, "min", bool(busy) and not free)
        none = not any(self._takes_a_batch(mixer, room[mixer.name], since) for mixer in self.site.mixers)
        yield Taken("people", used, people * minutes, "min", none and mixers_free)

    def _takes_a_batch(self, mixer: Mixer, gaps: Iterable[tuple[int, int]], since: int) -> bool:
        """Whether a whole batch fits one of some stretches, poured from a minute on, its foam in by the last."""
        slurry_min, last_foam = math.ceil(mixer.slurry_time_min), self.site.calendar.last_foam_min
        soonest = since - math.ceil(mixer.slurry_time_min + mixer.foam_time_min)
        return any(min(end - _batch_min(mixer), last_foam - slurry_min) >= max(start, soonest) for start, end in gaps)

    def _busy(self, mixer: str, day: date) -> list[Span]:
        return [(batch.start, batch.end) for batch in self._mixed[day] if batch.mixer == mixer]

    def _room(self, mixer: Mixer, day: date, work: list[Any], people: int) -> list[tuple[int, int]]:
        """Stretches in which a mixer and its people are free together."""
        moments = sorted({moment for row in work for moment in (row.start, row.end)})
        short: list[Span] = []
        for since, until in pairwise(moments):
            busy = sum(row.people for row in work if row.start <= since < row.end)
            if people - busy < mixer.crew:
                short.append((since, until))
        if people < mixer.crew:
            return []
        return self._gaps(day, [*short, *self._busy(mixer.name, day)])

    def _gaps(self, day: date, busy: Iterable[Span]) -> list[tuple[int, int]]:
        """Stretches of the working time that nothing of this takes, from a minute of the day to another."""
        midnight = moment_at(day)
        taken = sorted(
            ((a - midnight) // timedelta(minutes=1), (b - midnight) // timedelta(minutes=1)) for a, b in busy
        )
        gaps = []
        for start, end in self.site.calendar.windows:
            at = start
            for since, until in taken:
                if since < end and until > at:
                    gaps.append((at, min(since, end)))
                    at = max(at, until)
            gaps.append((at, end))
        return [(start, end) for start, end in gaps if end > start]


def _batch_min(mixer: Mixer) -> int:
    """Minutes from the start of a batch to its end, foam at its quickest."""
    return math.ceil(mixer.slurry_time_min + mixer.foam_time_min + mixer.pour_time_min + mixer.wash_time_min)
