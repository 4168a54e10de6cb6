"""What befalls one run: drawn from numbers of its own, a stream for each cause, whoever works it out and when.

A cause that is switched off leaves the numbers of all others as they are, so that runs with and without it differ by
it alone.
"""

from __future__ import annotations

from functools import cached_property
from typing import TYPE_CHECKING, Final

import numpy as np

from blockrun.planner.risk.rates import Cause, Rates

if TYPE_CHECKING:
    from blockrun.yard.setting import Setting

_STREAMS: Final = tuple(Cause)
SPARES: Final = 2 * len(_STREAMS)
"""Stream of the spares that answers imagine."""


def stream(seed: int, run: int, of: int) -> np.random.Generator:
    """Random numbers of one run, those of one cause apart from all others."""
    return np.random.Generator(np.random.PCG64(np.random.SeedSequence(seed, spawn_key=(run, of))))


class Draws:
    """The numbers of one run, each from 0 to 1: they are the same whatever the rates are.

    Attributes
    ----------
    cold, away, lost : by calendar day; of people missing, each of the crew by themselves.
    flat, broken : by batch and by block of the plan; a block may break twice, at the strip and on its way.
    """

    def __init__(self, setting: Setting, seed: int, run: int) -> None:
        self._seed, self._run = seed, run
        days = setting.n_days
        self.broken = self.of(Cause.BROKEN).random((setting.n_blocks, 2))
        self.flat = self.of(Cause.FLAT).random(len(setting.batches))
        self.cold = self.of(Cause.COLD).random(days)
        self.cold[: setting.before.day] = 1.0  # the air of days that are over is known
        self.away = self.of(Cause.AWAY).random((days, setting.people))
        self.lost = self.of(Cause.LOST).random(days)

    def of(self, cause: Cause, *, further: bool = False) -> np.random.Generator:
        """The stream of a cause; a further one for blocks and batches that are not in the plan."""
        return stream(self._seed, self._run, _STREAMS.index(cause) + len(_STREAMS) * further)


class Luck:
    """What befalls one run.

    Attributes
    ----------
    snap_ends : by calendar day, the last day of the snap it is in; -1 in none.
    cold : by calendar day, whether it is colder than forecast.
    struck : causes that have done something so far.
    """

    def __init__(self, draws: Draws, rates: Rates) -> None:
        self._draws = draws
        self.struck: set[Cause] = set()
        self.snap_ends = _snaps(draws.cold, rates)
        self.cold = [end >= 0 for end in self.snap_ends]
        # by day, how many are missing of the first 0, 1, 2, ... of the crew
        self._away: list[list[int]] = np.pad((draws.away < rates.people_away).cumsum(axis=1), ((0, 0), (1, 0))).tolist()
        self._lost: list[bool] = (draws.lost < rates.days_lost).tolist()
        self._flat_batches = rates.flat_batches
        self._flat = set(np.flatnonzero(draws.flat < rates.flat_batches).tolist())
        self._break = np.array([rates.broken.at_strip, rates.broken.when_moved])
        self._broken = set(np.flatnonzero((draws.broken < self._break).any(axis=1)).tolist())

    def is_lost(self, day: int) -> bool:
        """Whether nothing is done on a day."""
        return self._struck(self._lost[day], Cause.LOST)

    def away_on(self, day: int, of: int) -> int:
        """How many are missing on a day of those that the plan counts on."""
        away = self._away[day][of]
        self._struck(away > 0, Cause.AWAY)
        return away

    def flat(self, batch: int | None) -> bool:
        """Whether a batch goes flat: one of the plan by its number from 0, or one more."""
        flat = batch in self._flat if batch is not None else self._more_flat.random() < self._flat_batches
        return flat and self._struck(True, Cause.FLAT)

    def broken(self, block: int | None) -> bool:
        """Whether a block breaks at the strip or on its way to the rack: one of the plan, or one cast on top."""
        broken = block in self._broken if block is not None else bool((self._more_broken.random(2) < self._break).any())
        return broken and self._struck(True, Cause.BROKEN)

    @cached_property
    def _more_flat(self) -> np.random.Generator:
        return self._draws.of(Cause.FLAT, further=True)

    @cached_property
    def _more_broken(self) -> np.random.Generator:
        return self._draws.of(Cause.BROKEN, further=True)

    def felt_cold(self, until: int) -> None:
        """Note whether any day up to one was colder than forecast."""
        self._struck(any(self.cold[: until + 1]), Cause.COLD)

    def _struck(self, it_does: bool, cause: Cause) -> bool:
        if it_does:
            self.struck.add(cause)
        return it_does


def _snaps(drawn: np.typing.NDArray[np.float64], rates: Rates) -> list[int]:
    """By day, the last day of the snap it is in; -1 in none. A snap begins only when the one before is over."""
    ends = [-1] * len(drawn)
    last = -1
    for day in np.flatnonzero(drawn < rates.cold_snaps.chance).tolist():
        if day > last:
            last = min(day + rates.cold_snaps.days, len(drawn)) - 1
            ends[day : last + 1] = [last] * (last + 1 - day)
    return ends
