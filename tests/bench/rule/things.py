"""What the foreman's plan is made of: batches, turns, and when their blocks can be laid."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

from blockrun.mix import BatchSize
from blockrun.order import Order, OrderLine, spares, takeoff
from blockrun.order.shape import Shape
from blockrun.site import Mixer, MouldKind, Site
from blockrun.site.ripeness import Strength
from tests.bench.ledger import MINUTES_A_DAY

Size = tuple[str, float, float, float] | tuple[str, float, float, float, float, float, float]
"""Mix, length, height and thickness, and how far faces lean where they do: blocks alike in these are one to him."""


class NoWayError(Exception):
    """He sees no way to finish."""


@dataclass(eq=False)
class Batch:
    """One load of a mixer, what it is to pour, and when it starts (None until it is known).

    ``filled_l`` are its cavities without overfill, ``cubes_l`` its ``sets`` of test cubes with it, ``kept_l``
    what is kept free for one until it is known which batches give them.
    """

    mixer: Mixer
    size: BatchSize
    mix: str
    blocks: list[Size] = field(default_factory=list)
    start: int | None = None
    filled_l: float = 0.0
    cubes_l: float = 0.0
    sets: int = 0
    kept_l: float = 0.0

    def at(self, step: str) -> int:
        """Minute of foam_at, pour_from, pour_to or end."""
        assert self.start is not None
        lengths = {
            "foam_at": self.mixer.slurry_time_min,
            "pour_from": self.size.foam_min,
            "pour_to": self.mixer.pour_time_min,
            "end": self.mixer.wash_time_min,
        }
        steps = list(lengths)
        return self.start + sum(lengths[name] for name in steps[: steps.index(step) + 1])


@dataclass(eq=False)
class Turn:
    """One mould filled; minutes at which its tasks start are None until they are planned.

    ``fills`` are its blocks: one a cavity, or all that are sawn out of its slab.
    """

    kind: MouldKind
    unit: int
    base: int
    fills: list[tuple[Size, Batch]]
    sides: int | None = None
    strip: int | None = None
    clean: int | None = None

    @property
    def poured(self) -> int:
        """End of its last pour."""
        return max(batch.at("pour_to") for _, batch in self.fills)

    @property
    def begun(self) -> int:
        """Start of its first pour."""
        return min(batch.at("pour_from") for _, batch in self.fills)

    @property
    def sides_off(self) -> int | None:
        """Minute the sides are free again."""
        return None if self.sides is None else self.sides + (self.kind.sides_time_min or 0)

    @property
    def stripped(self) -> int | None:
        """End of stripping, and of sawing where it is a slab."""
        return None if self.strip is None else self.strip + self.kind.strip_and_saw_min

    @property
    def cleaned(self) -> int | None:
        """Minute the mould, or its base, is free again."""
        return None if self.clean is None else self.clean + self.kind.clean_time_min


@dataclass(frozen=True)
class Worked:
    """A whole plan of his."""

    site: Site
    order: Order
    batches: tuple[Batch, ...]
    turns: tuple[Turn, ...]


@dataclass(eq=False)
class Mould:
    """One mould, or its sides, or one base: whose it is, its number, and the minute from which it is free."""

    kind: MouldKind
    number: int
    free: int | None = 0


def size_of(line: OrderLine) -> Size:
    """What a mould and a mixer see of a line."""
    return size_as(line.mix, line.shape)


def size_as(mix: str, shape: Shape) -> Size:
    """Size of a block of a mix: upright blocks are told by their box alone."""
    box = (mix, shape.length_mm, shape.height_mm, shape.thickness_mm)
    leans = (shape.bevel_deg, shape.taper_deg, shape.bed_deg)
    return (*box, *leans) if any(leans) else box


def volume_l(size: Size) -> float:
    """Volume of a block."""
    return Shape(*size[1:]).volume_l


def lines_of(site: Site, order: Order) -> list[OrderLine]:
    """Blocks ordered, soonest needed first, then spares."""
    ordered = takeoff(order, site.calendar, site.moulds)
    return sorted(ordered, key=lambda line: line.needed or date.max) + spares(order, ordered)


def number_of(age: float | Strength) -> float:
    """Hours or minutes of an age; he reckons with no strengths."""
    assert not isinstance(age, Strength)
    return float(age)


def leaves_rack(site: Site, stripped: int) -> int:
    """First working minute after the time on the rack."""
    midnight = datetime.combine(site.calendar.start, time())
    due = midnight + timedelta(minutes=stripped + site.curing.rack_for_min)
    return (site.calendar.next_working_minute(due) - midnight) // timedelta(minutes=1)


def ready_of(worked: Worked, turn: Turn, batch: Batch) -> int:
    """Minute from which a block of a turn may be laid."""
    assert turn.stripped is not None
    return max(
        leaves_rack(worked.site, turn.stripped), batch.at("pour_to") + int(number_of(worked.site.curing.lay_at_min))
    )


def ready_by_size(worked: Worked) -> dict[Size, list[int]]:
    """Days on which the blocks of each size are ready, in order."""
    ready: dict[Size, list[int]] = defaultdict(list)
    for turn in worked.turns:
        for size, batch in turn.fills:
            ready[size].append(ready_of(worked, turn, batch) // MINUTES_A_DAY)
    return {size: sorted(days) for size, days in ready.items()}


def late_of(worked: Worked) -> int:
    """Block-days late: of each size, what is ready first goes where it is needed first."""
    ready, late = ready_by_size(worked), 0
    needs: dict[Size, list[int]] = defaultdict(list)
    for line in lines_of(worked.site, worked.order):
        if line.needed is not None:
            needs[size_of(line)] += [(line.needed - worked.site.calendar.start).days] * line.count
    for size, days in needs.items():
        late += sum(max(0, on - need) for on, need in zip(ready[size], sorted(days), strict=False))
    return late
