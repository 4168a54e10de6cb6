"""The journal of a yard whose truth is known: it follows a plan, only slower, with more left in the drum, and so on."""

from __future__ import annotations

import random
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from functools import cached_property
from typing import Final

from blockrun.cure import AgeClock
from blockrun.order import load_order, takeoff
from blockrun.order.mixes_alone import load_mixes
from blockrun.planner.as_planned import AsPlanned, PlannedCast
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.saved_rows import PlannedBatch, planned_batches
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import AnyEvent, Blocks, Fill, Poured, SidesOff, Stripped, Thumbed

MINUTE: Final = timedelta(minutes=1)


@dataclass(frozen=True)
class Truth:
    """How a yard differs from its plan.

    Attributes
    ----------
    batch_min, strip_min : minutes by which each batch and each strip takes longer.
    left_l : left in the drum; None for as much as nobody ever misses.
    foam_g_l : what foam weighs.
    breaks : the chance that a mould stripped at an age has a broken block.
    entered_min : deviation of the minute that is entered from the true one.
    made : deviation of what a batch makes, as a share, and of its density as weighed.
    strip_sooner_min : minutes by which all strips are sooner than planned.
    thumb : pressed before each strip; empty for none.
    """

    batch_min: float = 0
    strip_min: float = 0
    left_l: float | None = None
    foam_g_l: float = 95
    breaks: Callable[[float], float] = lambda age_h: 0
    entered_min: float = 0
    made: float = 0
    strip_sooner_min: float = 0
    thumb: str = ""


class Yard:
    """A yard that follows a plan until a moment.

    Parameters
    ----------
    plan : as saved.
    truth : how it differs.
    seed : of all that is drawn.
    """

    def __init__(self, plan: AsPlanned, truth: Truth | None = None, seed: int = 1) -> None:
        self.plan, self.truth, self.draw = plan, truth or Truth(), random.Random(seed)
        self.batches = planned_batches(plan.directory)
        self.empty: set[int] = set()

    def entries(self) -> list[Entry]:
        """All that was recorded, by the clock."""
        told = [*self._pours(), *self._turns()]
        return [
            Entry(f"k{nth}", at, at.replace(tzinfo=UTC), event)
            for nth, (at, event) in enumerate(sorted(told, key=lambda one: one[0]))
        ]

    def _entered(self, moment: datetime) -> datetime:
        at = moment + timedelta(minutes=self.draw.gauss(0, self.truth.entered_min))
        return (at + MINUTE / 2).replace(second=0, microsecond=0)

    def _pours(self) -> Iterator[tuple[datetime, AnyEvent]]:
        late, before = 0.0, None
        for batch in self.batches:
            late = late + self.truth.batch_min if before and before.end == batch.start else 0.0
            before = batch
            density = self._mixes[batch.mix].wet_density_kg_m3 * (1 + self.draw.gauss(0, self.truth.made))
            event = Poured(
                batch=batch.batch,
                plan=self.plan.id,
                mix=batch.mix,
                fills=self._fills(batch),
                foam_g_l=self.truth.foam_g_l + self.draw.gauss(0, 100 * self.truth.made),
                wet_density_kg_m3=density,
            )
            yield self._entered(batch.pour_to + timedelta(minutes=late)), event

    def _fills(self, batch: PlannedBatch) -> tuple[Fill, ...]:
        """Cavities in their order for as long as there is mix."""
        over = 1 + self.plan.site.overfill
        casts = sorted(self.plan.batches[batch.batch], key=lambda one: (one.mould, one.base, one.cavity))
        room = float("inf")
        if self.truth.left_l is not None:
            other = batch.poured_l - sum(self._volumes[cast.mark] * over for cast in casts)  # test cubes
            room = batch.yield_l * (1 + self.draw.gauss(0, self.truth.made)) - self.truth.left_l - other
        fills: dict[tuple[str, str], list[dict[int, str]]] = defaultdict(list)
        for cast in casts:
            takes = self._volumes[cast.mark] * over
            if takes > room + 1e-9:
                self.empty.add(cast.cast)
                continue
            room -= takes
            layers = fills[cast.mould, cast.base]
            layer = next((one for one in layers if cast.cavity not in one), None)
            if layer is None:
                layers.append(layer := {})
            layer[cast.cavity] = cast.mark
        return tuple(
            Fill(mould=mould, base=base, marks=tuple(layer.get(nth, "") for nth in range(1, max(layer) + 1)))
            for (mould, base), layers in fills.items()
            for layer in layers
        )

    def _turns(self) -> Iterator[tuple[datetime, AnyEvent]]:
        turns: dict[tuple[datetime, str, str], list[PlannedCast]] = defaultdict(list)
        for cast in self.plan.casts:
            if cast.cast not in self.empty:
                turns[cast.strip, cast.mould, cast.base].append(cast)
        late, before = 0.0, None
        for (strip, _, _), casts in sorted(turns.items()):
            in_a_row = before and before.date() == strip.date() and strip - before <= 45 * MINUTE
            late = late + self.truth.strip_min if in_a_row else 0.0
            before = strip
            yield from self._turn(casts, strip + timedelta(minutes=late - self.truth.strip_sooner_min))

    def _turn(self, casts: list[PlannedCast], strip: datetime) -> Iterator[tuple[datetime, AnyEvent]]:
        one, at = casts[0], self._entered(strip)
        if one.sides_off is not None:
            yield min(one.sides_off, at - MINUTE), SidesOff(mould=one.mould, base=one.base)
        kind = self.plan.kind_of(one.mould)
        age_h = self._clock.age_h(self._minute(one.poured), self._minute(at) - kind.strip_and_saw_min)
        if self.truth.thumb:
            thumb = Thumbed.model_validate({"mould": one.mould, "base": one.base, "thumb": self.truth.thumb})
            yield at - (kind.strip_and_saw_min + 2) * MINUTE, thumb
        broken = self.draw.random() < self.truth.breaks(age_h)
        whole, broke = _blocks(casts[1:] if broken else casts), _blocks(casts[:1] if broken else [])
        yield at, Stripped(mould=one.mould, base=one.base, whole=whole, broken=broke)

    def _minute(self, moment: datetime) -> int:
        start = self.plan.site.calendar.start
        return (moment - datetime(start.year, start.month, start.day)) // MINUTE  # noqa: DTZ001

    @cached_property
    def _clock(self) -> AgeClock:
        return AgeClock.of(self.plan.site)

    @cached_property
    def _mixes(self):  # type: ignore[no-untyped-def]
        return mix_proportions(self.plan.site, load_mixes(self.plan.order[""], files=self.plan.order))

    @cached_property
    def _volumes(self) -> dict[str, float]:
        order = load_order(self.plan.order[""], files=self.plan.order)
        return {line.mark: line.shape.volume_l for line in takeoff(order, None, self.plan.site.moulds)}


def _blocks(casts: list[PlannedCast]) -> tuple[Blocks, ...]:
    counts = Counter((cast.mark, cast.mix) for cast in casts)
    return tuple(Blocks(mark=mark, mix=mix, count=count) for (mark, mix), count in sorted(counts.items()))


def written_at_night(entries: list[Entry]) -> list[Entry]:
    """The same, each written down at ten in the evening."""
    return [replace(entry, written=entry.happened.replace(hour=22, minute=0, tzinfo=UTC)) for entry in entries]
