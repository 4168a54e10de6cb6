"""Site and order as a Problem, and the way back from its numbers to marks and moulds."""

from __future__ import annotations

import math
from collections.abc import Container, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction
from functools import cached_property
from typing import TYPE_CHECKING

from blockrun.errors import BadInput
from blockrun.mix import BatchSize, batch_sizes
from blockrun.optimiser.begun import settled
from blockrun.optimiser.curve import Curve
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import (
    Mould,
    Problem,
    Stack,
)
from blockrun.order import Order, OrderLine
from blockrun.order.castable import castable
from blockrun.order.shape import Shape
from blockrun.planner.ages import Ages, ages_of
from blockrun.planner.begun.books import there_and_to_come
from blockrun.planner.begun.history import Named, fit_on_racks, history_of
from blockrun.planner.begun.lines import to_cast
from blockrun.planner.begun.moulds import InUse
from blockrun.planner.clocks import Clocks
from blockrun.planner.hot_hours import felt, with_hardy, with_hot_hours
from blockrun.planner.minutes import clear_until, days_from, days_of, later_of, old_enough, ripe_of, windows_until
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.rounded import (
    AGENT_UNITS_A_LITRE,
    blocks_of,
    cubes_of,
    load_of,
    move_seconds,
    moves,
    slab_of,
    smallest_step,
    supply_of,
)
from blockrun.planner.sawing import Sawing, SawnSlab, settle_sawing
from blockrun.planner.uses import AGENT, CEMENT
from blockrun.planner.wanted import FormatKey, by_format, format_of, wanted

if TYPE_CHECKING:
    from blockrun.optimiser.state import State
    from blockrun.planner.begun import Begun
    from blockrun.planner.begun.history import History
    from blockrun.site import Mixer, MouldKind, Site

_ENDLESS = 1_000_000


@dataclass(frozen=True)
class Brief:
    """A problem and what its numbers stand for.

    Attributes
    ----------
    problem : for the optimiser.
    lines : ordered blocks, then spares, in the order they are given casts.
    formats : (mix, length, height, thickness, and how far the faces lean) of each format of the problem.
    slabs : its slabs, numbered after the formats where castings are.
    moulds : mould kinds of the site, by the problem's numbers; those left out cast nothing that is ordered, or
        cannot be stripped in any part of a day.
    loads : (mixer, mix, batch) of each load of the problem.
    steps_a_bag : the problem counts cement in this part of a bag.
    ages : at which blocks are stripped and laid.
    clocks : what tells the age of blocks in moulds of each kind.
    begun : what had happened, where a job has begun.
    history : the same in the numbers of the problem.
    old : what the plan before still had, in these numbers; None without one.
    """

    site: Site
    order: Order
    problem: Problem
    lines: tuple[OrderLine, ...]
    formats: tuple[FormatKey, ...]
    slabs: tuple[SawnSlab, ...]
    moulds: tuple[MouldKind, ...]
    loads: tuple[tuple[Mixer, str, BatchSize], ...]
    steps_a_bag: Fraction
    ages: Ages
    clocks: Clocks
    begun: Begun | None = None
    history: History | None = None
    old: State | None = None

    def moment(self, minute: int) -> datetime:
        """Local time of a minute of the problem."""
        return self.site.calendar.moment_of(minute)

    def casting_l(self, number: int) -> float:
        """What a casting fills of its cavity, in litres without overfill."""
        if number < len(self.formats):
            return Shape(*self.formats[number][1:]).volume_l
        return math.prod(self.slabs[number - len(self.formats)].kind.cavity) / 1e6

    @cached_property
    def limits(self) -> Limits:
        """Numbers that no plan passes."""
        return Limits(self.problem, settled(self.problem, self.history.state) if self.history else None)

    @cached_property
    def late_alone(self) -> dict[str, int]:
        """Block-days late that cannot be helped, by the one thing that is short."""
        return Curve(self.problem, self.limits).late_alone


def brief(site: Site, order: Order, horizon: int, sawing: Sawing | None = None, begun: Begun | None = None) -> Brief:
    """The problem of a site and an order over ``horizon`` calendar days.

    Parameters
    ----------
    site : as it is by now, where a job has begun.
    sawing : the saw plans of its slabs, where they are settled already.
    begun : what had happened, where a job has begun: the days of the problem are those that are left.

    Raises
    ------
    BadInput, OutOfRange : a mix that cannot be made, or a strength that cubes do not tell.
    """
    lines = wanted(site, order, begun)
    formats = by_format(lines)
    keys = tuple(formats)
    mixes = sorted({key[0] for key in keys} | _mixed_before(order, begun))
    slabs = (sawing or settle_sawing(site, order, to_cast(lines, begun))).slabs
    move = moves(site, slabs, begun)
    use = InUse(begun)
    casts = {kind.kind: _castings(kind, formats, slabs) if use.is_left(kind) else frozenset() for kind in site.moulds}
    moulds = list(_moulds(site, casts, move, use, _filled(site, begun)))
    loads = tuple(_loads(site, order, mixes))
    step = smallest_step([mixer.bag_step for mixer in site.mixers])
    clocks, ages = Clocks(site, order, lines, horizon), ages_of(site, order, mixes)
    of_kinds = [clocks.of(kind) for kind, _ in moulds]
    ripe = {clock: ripe_of(clock, ages.strip_h, horizon) for clock in of_kinds}
    stock = site.stock
    cement = there_and_to_come(site, begun, CEMENT, stock.cement.on_hand_bags, stock.cement.deliveries)
    agent = there_and_to_come(site, begun, AGENT, stock.foaming_agent.on_hand_l, stock.foaming_agent.deliveries)
    poured = tuple(with_hardy(site, [load_of(site, mixer, mixes.index(mix), size, step) for mixer, mix, size in loads]))
    problem = Problem(
        days=tuple(with_hot_hours(site, days_of(site, horizon), poured)),
        horizon=horizon,
        formats=tuple(blocks_of(site, order, formats[key], mixes) for key in keys),
        slabs=tuple(slab_of(site, slab, keys, mixes) for slab in slabs),
        cubes=cubes_of(site, order, mixes, step, horizon),
        moulds=tuple(mould for _, mould in moulds),
        loads=poured,
        places=_places(site),
        stack=None if site.stack is None else Stack(site.stack.places, site.stack.layers),
        move=move,
        move_seconds=move_seconds(site),
        rack_for=site.curing.rack_for_min,
        lay_at=ages.lay_min,
        ripe_strip=tuple(ripe[clock] for clock in of_kinds),
        ripe_sides=tuple(
            None if (h := ages.sides_h(kind)) is None else ripe_of(clock, h, horizon)
            for (kind, _), clock in zip(moulds, of_kinds, strict=True)
        ),
        ripe_lay=None if ages.lay_h is None else old_enough(clocks.air, ages.lay_h, horizon),
        clear_until=clear_until(site, horizon),
        cement=supply_of(site, *cement, 1 / step),
        later=tuple(later_of(site, horizon)),
        agent=supply_of(site, *agent, AGENT_UNITS_A_LITRE),
    )
    kinds = tuple(kind for kind, _ in moulds)
    made = Brief(site, order, problem, lines, keys, slabs, kinds, loads, 1 / step, ages, clocks, begun)
    return made if begun is None else _gone_on(made, begun)


def _mixed_before(order: Order, begun: Begun | None) -> set[str]:
    """Mixes of the order of which there were batches, though nothing of them may be wanted any more."""
    return {mix.name for mix in order.mixes} & {batch.mix for batch in (begun.batches if begun else ())}


def _filled(site: Site, begun: Begun | None) -> set[str]:
    """Kinds of moulds that were ever filled."""
    turns = begun.turns if begun else ()
    there = {name for kind in site.moulds for name in (*kind.mould_names, *kind.base_names)}
    if gone := sorted({name for turn in turns for name in (turn.mould, turn.base) if name} - there):
        todo = f"Leave it in the site, and record that it is out of use: blockrun record DIR mould {gone[0]} out"
        raise BadInput(f"{gone[0]} was filled, and the site has none such any more", todo)
    return {turn.kind for turn in turns}


def _gone_on(made: Brief, begun: Begun) -> Brief:
    """The same from the moment on at which the job stands."""
    problem = made.problem
    sizes = [
        (load, mixer.name, mix, float(size.bags))
        for load, (mixer, mix, size) in zip(problem.loads, made.loads, strict=True)
    ]
    formats = {(line.mark, line.mix): made.formats.index(format_of(line)) for line in made.lines}
    history = history_of(begun, made.site, Named(formats, problem.moulds, tuple(sizes), InUse(begun).apart))
    gone_on = replace(
        problem,
        days=tuple(felt(day, problem.loads) for day in days_from(problem.days, history.opens)),
        earlier=tuple(windows_until(problem.days, history.opens)),
    )
    fit_on_racks(history, made.site.racks, gone_on)
    return replace(made, history=history, problem=gone_on)


def _loads(site: Site, order: Order, mixes: list[str]) -> list[tuple[Mixer, str, BatchSize]]:
    made = mix_proportions(site, order)
    return [
        (mixer, mix, size)
        for mixer in site.mixers
        for mix in mixes
        for size in batch_sizes(site, mixer, made[mix])
        if size.room_l > 0
    ]


def _castings(
    kind: MouldKind, formats: dict[FormatKey, list[OrderLine]], slabs: tuple[SawnSlab, ...]
) -> frozenset[int]:
    """What a kind of mould casts: slabs are numbered after the formats."""
    if kind.saw:
        return frozenset(len(formats) + number for number, slab in enumerate(slabs) if slab.kind.kind == kind.kind)
    return frozenset(number for number, lines in enumerate(formats.values()) if castable(kind, lines[0]))


def _moulds(
    site: Site, casts: Mapping[str, frozenset[int]], move: tuple[int, ...], use: InUse, filled: Container[str]
) -> Iterator[tuple[MouldKind, Mould]]:
    """Kinds that can cast something or were ever filled, then each mould that is out of use with blocks in it."""
    whole = {
        kind.kind: kind
        for kind in site.moulds
        if (casts[kind.kind] and _cavities(site, kind, move)) or kind.kind in filled
    }
    for kind in whole.values():
        yield kind, _mould(site, kind, casts[kind.kind], move, use)
    for turn in use.apart:
        yield whole[turn.kind], _apart(whole[turn.kind])


def _mould(site: Site, kind: MouldKind, casts: frozenset[int], move: tuple[int, ...], use: InUse) -> Mould:
    """A kind of mould; one that casts nothing has been filled before, and is counted as one."""
    return Mould(
        name=kind.kind,
        count=use.count(kind) or 1,
        cavities=_cavities(site, kind, move),
        casts=casts,
        strip=kind.strip_and_saw_min,
        clean=kind.clean_time_min,
        bases=use.bases(kind) or int(bool(kind.bases)),
        sides=kind.sides_time_min or 0,
    )


def _apart(kind: MouldKind) -> Mould:
    """A mould that is out of use with blocks in it."""
    strip, clean, sides = kind.strip_and_saw_min, kind.clean_time_min, kind.sides_time_min or 0
    return Mould(kind.kind, 1, kind.cavities, frozenset(), strip, clean, int(bool(kind.bases)), sides)


def _places(site: Site) -> int:
    """Rack places; as good as endless where blocks do not stay on the rack."""
    return sum(rack.places for rack in site.racks) if site.curing.rack_for_min else _ENDLESS


def _cavities(site: Site, kind: MouldKind, move: tuple[int, ...]) -> int:
    """Cavities a turn may fill; none where not even one block can be stripped and moved in one part of a day."""
    # blocks of one turn need their places at one minute, and strip and move run on in one window
    places = _places(site)
    longest = max(end - start for start, end in site.calendar.windows)
    return max(
        (n for n in range(1, kind.cavities + 1) if n <= places and kind.strip_and_saw_min + move[n] <= longest),
        default=0,
    )
