"""What follows of a strip that waits for its thumb: fills that come too late, blocks and rack places later, frost."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import TYPE_CHECKING

from blockrun.planner.on_rack import OnRacks

if TYPE_CHECKING:
    from blockrun.planner.in_moulds import Turn
    from blockrun.planner.thumbs.thumbed import Thumbed
    from blockrun.planner.thumbs.turns import Thumbs
    from blockrun.site import Site


@dataclass(frozen=True)
class NextFill:
    """The next fill of a mould or a base that is free later than planned."""

    place: str
    free: datetime
    turn: Turn

    @property
    def too_soon(self) -> bool:
        """Whether it was to begin before that."""
        return self.turn.filled < self.free


@dataclass(frozen=True)
class LaterBlocks:
    """Blocks of one mark for one course that become ready on a later day.

    ``days_late`` are those after the day they are needed.
    """

    part: str
    course: int | None
    mark: str
    count: int
    ready: date
    planned: date
    days_late: int


@dataclass(frozen=True)
class OnRack:
    """Places on a rack that are held longer, until when; ``over`` are blocks that then find no place there."""

    rack: str
    blocks: int
    until: datetime
    planned: datetime
    over: int


@dataclass(frozen=True)
class Follows:
    """All that follows, and the nights with frost that the mould now has to stand through.

    ``same_batch`` are places in which other blocks of its batches stand: they are likely to be as they are here.
    """

    fills: tuple[NextFill, ...]
    later: tuple[LaterBlocks, ...]
    racks: tuple[OnRack, ...]
    frost: tuple[date, ...]
    same_batch: tuple[str, ...]


def follows(thumbs: Thumbs, thumbed: Thumbed) -> Follows:
    """What follows of what thumbs say of one turn."""
    at, site, turn = thumbed.tests[-1].pressed, thumbs.plan.site, thumbed.turn
    later = thumbed.is_later
    return Follows(
        tuple(_fills(thumbs.turns, thumbed, site)),
        tuple(_later(turn, site.off_rack(thumbed.strip.ends))) if later else (),
        tuple(_racks(thumbs, thumbed)) if later else (),
        tuple(_frost(site, turn.strip.date(), thumbed.strip.begins.date())),
        tuple(
            other.place
            for other in thumbs.turns
            if other.key != turn.key and set(other.batches) & set(turn.batches) and other.poured < at < other.stripped
        ),
    )


def free_again(thumbed: Thumbed, site: Site) -> datetime:
    """When the mould, or the base, of a turn is clean."""
    turn = thumbed.turn
    takes = timedelta(minutes=turn.kind.clean_time_min)
    if turn.cleaned - takes >= thumbed.strip.ends:
        return turn.cleaned
    return site.calendar.next_stretch(thumbed.strip.ends, turn.kind.clean_time_min) + takes


def _fills(turns: Sequence[Turn], thumbed: Thumbed, site: Site) -> Iterator[NextFill]:
    turn, free = thumbed.turn, {}
    if thumbed.is_later:
        free[turn.place] = free_again(thumbed, site)
    if thumbed.sides_later and thumbed.sides is not None:
        free[turn.mould] = thumbed.sides.ends
    for place, moment in free.items():
        after = (other for other in turns if place in {other.mould, other.base} and other.filled > turn.filled)
        fill = next(after, None)
        if fill is not None:
            yield NextFill(place, moment, fill)


def _later(turn: Turn, off_rack: datetime) -> Iterator[LaterBlocks]:
    counts: Counter[tuple[str, int | None, str, date, date | None]] = Counter(
        (
            cast.part,
            cast.course,
            cast.mark,
            cast.ready.date(),
            cast.needed and cast.needed.date(),
        )
        for cast in turn.casts
        if cast.ready.date() < off_rack.date()
    )
    for (part, course, mark, planned, needed), count in counts.items():
        late = 0 if needed is None else max(0, (off_rack.date() - needed).days)
        yield LaterBlocks(part, course, mark, count, off_rack.date(), planned, late)


def _racks(thumbs: Thumbs, thumbed: Thumbed) -> Iterator[OnRack]:
    until = thumbs.plan.site.off_rack(thumbed.strip.ends)
    places = {rack.name: rack.places for rack in thumbs.plan.site.racks}
    casts = thumbs.plan.tables.casts
    for rack, blocks in Counter(cast.rack for cast in thumbed.turn.casts).items():
        planned = thumbed.turn.casts[0].rack_to
        if until > planned:
            most = OnRacks(casts[casts["rack"] == rack]).most(planned, until)
            yield OnRack(rack, blocks, until, planned, max(0, most + blocks - places[rack]))


def _frost(site: Site, planned: date, now: date) -> Iterator[date]:
    for day in (planned + timedelta(days=n) for n in range(1, (now - planned).days + 1)):
        if site.weather.day(day).min_c < site.curing.least_air_c:
            yield day
