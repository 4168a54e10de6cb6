"""Where each block is by date: to pour, in its mould, on the rack, off it, ready, laid."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Container
from datetime import date, timedelta
from functools import cached_property
from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.files.day_names import day_name
from blockrun.planner.rows import Row, rows_of
from blockrun.show.apart import DO_NOT_LAY, OUTSIDE

if TYPE_CHECKING:
    from datetime import datetime

    import pandas as pd


class State(NamedTuple):
    """What a block may be in the evening of a day: in a word or two, and in a sentence."""

    name: str
    means: str


STATES: Final = (
    State("to pour", "not poured yet"),
    State("in moulds", "poured, still in its mould"),
    State("on racks", "on the rack, damp and covered"),
    State("off racks", "off the rack, not old enough to lay, or outside its card: it stays where it stands"),
    State("ready", "ready to lay"),
    State("laid", "laid, as far as a plan can tell"),
)
"""All of them, in the order in which a block goes through; it may pass one over."""

LAID_SAID: Final = (
    "A plan does not know when blocks are laid. They count as laid on the day they are needed, or as soon as they are "
    "ready after it; spares, and blocks without such a day, stay ready."
)


class Life(NamedTuple):
    """The days on which a block comes to each state after the first, as numbers of days from the first pour.

    `laid` is None where nothing says when it is needed; it and `ready` where it is not to be laid.
    """

    poured: int
    rack: int
    off: int
    ready: int | None
    laid: int | None

    def state(self, day: int) -> int:
        """Which of the states it is in, in the evening of a day."""
        return sum(one is not None and one <= day for one in self)


class Lives:
    """The lives of all blocks of a plan, equal ones kept once.

    Parameters
    ----------
    casts : of a plan that its audit passes.
    apart : batches outside their cards: none of their blocks is ever ready.

    Attributes
    ----------
    first : the day of the first pour, which is day 0.
    n_days : from then to the last day on which anything changes, both included.
    each : distinct lives, the first poured first.
    of_cast : for each row of the casts, the number of its life.
    """

    def __init__(self, casts: pd.DataFrame, apart: Container[int] = ()) -> None:
        rows = rows_of(casts)
        self.first: date = min(row.poured for row in rows).date()
        lives = [self._life(row, is_apart=row.batch in apart) for row in rows]
        known = Counter(lives)
        self.each = sorted(known, key=lambda life: [-1 if day is None else day for day in life])
        self.blocks = [known[life] for life in self.each]
        number = {life: index for index, life in enumerate(self.each)}
        self.of_cast = [number[life] for life in lives]
        self.n_days = 1 + max(max(life.off, life.ready or 0, life.laid or 0) for life in self.each)

    def _life(self, row: Row, *, is_apart: bool) -> Life:
        poured, rack, off, ready = map(self._day, (row.poured, row.rack_from, row.rack_to, row.ready))
        if is_apart:
            return Life(poured, rack, off, None, None)
        return Life(poured, rack, off, ready, max(ready, self._day(row.needed)) if row.needed else None)

    def _day(self, moment: datetime) -> int:
        return moment.toordinal() - self.first.toordinal()

    def date(self, day: int) -> date:
        """The date of a day."""
        return self.first + timedelta(days=day)

    @cached_property
    def counts(self) -> list[list[int]]:
        """Blocks in each state, evening by evening."""
        steps = [[0] * (self.n_days + 1) for _ in STATES[1:]]
        for life, blocks in zip(self.each, self.blocks, strict=True):
            for step, day in zip(steps, life, strict=True):
                step[self.n_days if day is None else day] += blocks
        total, reached = sum(self.blocks), [0] * len(steps)
        found = []
        for day in range(self.n_days):
            reached = [before + step[day] for before, step in zip(reached, steps, strict=True)]
            found.append([a - b for a, b in zip([total, *reached], [*reached, 0], strict=True)])
        return found

    @cached_property
    def shown(self) -> int:
        """The day to show where none is picked: the first on which blocks are spread most evenly over the states."""
        return max(range(self.n_days), key=lambda day: (sum(map(math.sqrt, self.counts[day])), -day))

    def said(self, number: int) -> str:
        """When a block of a life comes to each state."""
        life = self.each[number]
        words = list(zip(("poured", "on the rack", "off it", "ready", "laid"), life, strict=True))
        if life.rack == life.off:
            words[1:3] = [("out of the mould", life.rack)]
        said = [f"{word} {day_name(self.date(day))}" for word, day in words if day is not None]
        return ", ".join([*said, *([f"{OUTSIDE}: {DO_NOT_LAY}"] if life.ready is None else [])])
