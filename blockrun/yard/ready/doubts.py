"""What asks for a thumb before a mould is stripped that is old enough as reckoned.

Blocks poured together set alike: where a thumb pressed into one of them is behind, the others are to be doubted too. So
are blocks that stood through a night colder than forecast, or through air that nobody told, or that was told so much
warmer than forecast that it may be a slip. A thumb that leaves no mark ends a doubt: in a mould itself, or, where only
the air is in doubt, in any of the same pour.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.planner.morning import Doubt, DoubtedAir
from blockrun.site.mould_names import kind_named
from blockrun.yard.now import UNKNOWN, Standing, State
from blockrun.yard.ready.air import expected, off_forecast

if TYPE_CHECKING:
    from blockrun.cure.felt import Felt
    from blockrun.site import Site
    from blockrun.yard.now import Filled
    from blockrun.yard.ready.ripe import Ripe

TOGETHER: Final = timedelta(hours=1)
"""Batches of one mix poured within so long of each other are taken to set alike (our choice)."""

NEAR: Final = timedelta(days=2)
"""A mould is filled up within so long."""

COLDER_K: Final = 1.0
"""A night is colder than forecast from so many kelvins on: thermometers of a yard tell no less (our choice)."""


class Doubts:
    """What is to be doubted of moulds at a moment.

    Parameters
    ----------
    state : what stands and stood in moulds, and the air as it was seen.
    forecast : the site in the air that was forecast.
    ripe : what thumbs tell.
    at : the moment.
    """

    def __init__(self, state: State, forecast: Site, ripe: Ripe, at: datetime) -> None:
        self._state, self._forecast, self._at = state, forecast, at
        kinds = {kind.kind for kind in forecast.moulds}
        first = min((one.poured for here in state.moulds.values() for one in here.filled), default=at) - NEAR
        pressed = (turn for turn in state.turns if turn.thumbs and turn.poured >= first)
        self._felt: Mapping[int, Felt] = {
            id(turn): ripe.felt(turn) for turn in pressed if kind_named(turn.mould) in kinds
        }

    def of(self, here: Standing) -> Doubt:
        """What is to be doubted of a mould, or a base."""
        felt = self._felt.get(id(here))
        if felt is not None and felt.is_firm:
            return Doubt()
        beside = [other for other in self._pressed() if other is not here and together(here, other)]
        return Doubt(
            again=felt is not None and felt.press_again,
            beside=tuple(self._behind_now(beside)),
            air="" if any(self._felt[id(other)].is_firm for other in beside) else self._air(here),
        )

    def _pressed(self) -> Iterator[Standing]:
        return (turn for turn in self._state.turns if id(turn) in self._felt)

    def _behind_now(self, beside: list[Standing]) -> Iterator[tuple[str, str]]:
        """Places in which blocks poured together with it are behind, and what the thumb showed there."""
        return behind((other, self._felt[id(other)]) for other in beside)

    def _air(self, here: Standing) -> DoubtedAir:
        days = [*_days(min(one.poured for one in here.filled).date(), self._at.date())]
        seen = self._state.air
        if any(day in seen and off_forecast(seen[day], self._forecast).is_far_warmer for day in days):
            return "warmer"
        if any(day in seen and seen[day].min_degc <= self._least_c(day) - COLDER_K for day in days):
            return "colder"
        return "untold" if any(day not in seen for day in days[:-1]) else ""

    def _least_c(self, day: date) -> float:
        return expected(self._forecast, day).min_c


def behind(felt: Iterable[tuple[Standing, Felt]]) -> Iterator[tuple[str, str]]:
    """Places of some turns in which a thumb was behind, and what it showed there."""
    for other, told in felt:
        if told.counted and told.press_again:
            yield other.place, told.counted[-1].test.thumb


def _days(first: date, last: date) -> Iterator[date]:
    return (first + timedelta(days=number) for number in range((last - first).days + 1))


def together(here: Standing, other: Standing) -> bool:
    """Whether blocks of two moulds are of one batch, or of one mix and poured within the hour."""
    if abs(here.poured - other.poured) > NEAR:
        return False  # most are, in a long job
    return any(_alike(one, another) for one in here.filled for another in other.filled)


def _alike(one: Filled, other: Filled) -> bool:
    apart = abs(one.poured - other.poured)
    is_batch = one.batch == other.batch and one.batch[1] != UNKNOWN[1] and one.poured.date() == other.poured.date()
    return is_batch or (one.kind[1] == other.kind[1] and apart <= TOGETHER)
