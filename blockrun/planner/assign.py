"""Numbers for equal things: which mould, which base, which rack place, and whose block it is."""

from __future__ import annotations

import heapq
from collections import Counter, defaultdict, deque
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import chain
from typing import NamedTuple

from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.state import Batch, Turn
from blockrun.order import OrderLine
from blockrun.planner.begun.facts import TurnBegun
from blockrun.planner.begun.moulds import InUse
from blockrun.planner.brief import Brief
from blockrun.planner.sawing import SawnBlock
from blockrun.planner.wanted import FormatKey, format_of


@dataclass(frozen=True)
class Placed:
    """A turn with its mould, its base (0 for none) and its number among the turns of that mould.

    ``begun`` is what had happened to it, of a turn that was begun before the plan was made anew.
    """

    turn: Turn
    mould: int
    base: int
    number: int
    begun: TurnBegun | None = None


def place_turns(brief: Brief, turns: Iterable[Turn], before: Iterable[Placed] = ()) -> list[Placed]:
    """Give each turn a mould that is free, lowest number first, and a base likewise; ``before`` are placed already."""
    by_kind: dict[int, list[Turn]] = defaultdict(list)
    for turn in turns:
        by_kind[turn.mould].append(turn)
    placed, use = list(before), InUse(brief.begun)
    for kind, of_kind in sorted(by_kind.items()):
        of_kind.sort(key=lambda turn: (turn.start, turn.poured))
        here = brief.moulds[kind]
        earlier = [item for item in placed if item.begun and item.begun.kind == here.kind]
        moulds = _lowest_free(
            [(turn.start, _mould_free(turn)) for turn in of_kind],
            use.units(here),
            [(item.mould, _mould_free(item.turn)) for item in earlier],
        )
        bases = [0] * len(of_kind)
        if here.bases:
            bases = _lowest_free(
                [(turn.start, _cleaned(turn)) for turn in of_kind],
                use.base_units(here),
                [(item.base, _cleaned(item.turn)) for item in earlier],
            )
        numbers: dict[int, int] = defaultdict(int, {item.mould: 0 for item in earlier})
        for item in earlier:
            numbers[item.mould] = max(numbers[item.mould], item.number)
        for turn, unit, base in zip(of_kind, moulds, bases, strict=True):
            numbers[unit] += 1
            placed.append(Placed(turn, unit, base, numbers[unit]))
    return placed


def _mould_free(turn: Turn) -> int:
    return turn.sides.end if turn.sides is not None else _cleaned(turn)


def _cleaned(turn: Turn) -> int:
    if turn.clean is None:
        raise ValueError("a turn that is never cleaned")
    return turn.clean.end


def _lowest_free(spans: list[tuple[int, int]], units: list[int], before: Iterable[tuple[int, int]] = ()) -> list[int]:
    """Number the spans, given by their starts, so that none of one number overlap.

    Parameters
    ----------
    units : the numbers there are, ascending.
    before : numbers that are busy at first, and until when.
    """
    until: dict[int, int] = {}
    for unit, end in before:
        until[unit] = max(end, until.get(unit, end))
    free = [unit for unit in units if unit not in until]
    busy = [(end, unit) for unit, end in until.items() if unit in units]
    heapq.heapify(busy)
    numbers, most = [], max(units, default=0)
    for start, end in spans:
        while busy and busy[0][0] <= start:
            heapq.heappush(free, heapq.heappop(busy)[1])
        if not free:  # more than there are: the audit says so
            most += 1
            free = [most]
        number = heapq.heappop(free)
        heapq.heappush(busy, (end, number))
        numbers.append(number)
    return numbers


def rack_blocks(brief: Brief, placed: Iterable[Placed]) -> dict[tuple[int, int], str]:
    """Rack of each block, by (id of its turn, its position): one rack for a turn where one has the room."""
    taken = {rack.name: 0 for rack in brief.site.racks}
    places = {rack.name: rack.places for rack in brief.site.racks}
    leaving: list[tuple[int, str]] = []
    racks: dict[tuple[int, int], str] = {}
    for item in sorted(placed, key=lambda item: (_stripped(item.turn), item.turn.mould, item.mould)):
        strip, blocks = _stripped(item.turn), item.turn.blocks
        while leaving and leaving[0][0] <= strip:
            taken[heapq.heappop(leaving)[1]] -= 1
        leaves = brief.problem.leaves_rack(strip)
        there = [block.rack for block in item.begun.blocks] if item.begun else [""] * blocks
        rooms = _rooms(taken, places, sum(rack not in taken for rack in there))
        for position, rack in enumerate(own if own in taken else next(rooms) for own in there):
            racks[id(item.turn), position] = rack
            if leaves > strip:
                taken[rack] += 1
                heapq.heappush(leaving, (leaves, rack))
    return racks


def _rooms(taken: dict[str, int], places: dict[str, int], blocks: int) -> Iterator[str]:
    whole = [rack for rack in taken if places[rack] - taken[rack] >= blocks]
    left = {rack: places[rack] - taken[rack] for rack in taken}
    for _ in range(blocks):
        # the fullest rack that takes the whole turn, else wherever there is a place
        rack = min(whole, key=lambda name: (left[name], name)) if whole else max(left, key=lambda name: left[name])
        if not whole:
            left[rack] -= 1
        yield rack


def _stripped(turn: Turn) -> int:
    if turn.strip is None:
        raise ValueError("a turn that is never stripped")
    return turn.strip.end


@dataclass(frozen=True)
class Block:
    """One block cast: where, from which batch, which line of the order it is for, and how it lies in its slab."""

    placed: Placed
    position: int
    batch: Batch
    line: OrderLine
    sawn: SawnBlock | None


class _Cast(NamedTuple):
    """A block on its way to a line; what is ready first comes first."""

    ready: int
    poured: int
    order: int
    position: int
    placed: Placed
    batch: Batch
    sawn: SawnBlock | None

    @property
    def mark(self) -> str:
        """What is written on a block that is there already."""
        return self.placed.begun.blocks[self.position].mark if self.placed.begun else ""


def ready_at(brief: Brief, item: Placed, position: int, batch: Batch) -> int:
    """Minute from which a block may be laid, by its place in its turn: of what was begun a block is a fill."""
    if item.begun is not None:
        return item.turn.ready(brief.problem, position, _stripped(item.turn))
    return brief.problem.ready(batch.pour_to, _stripped(item.turn))


def share_blocks(brief: Brief, placed: Iterable[Placed]) -> list[Block]:
    """Give the casts of each format to the lines that want it: what is ready first to what is needed first."""
    casts: dict[FormatKey, list[_Cast]] = defaultdict(list)
    for order, item in enumerate(placed):
        blocks = _blocks_of(brief, item.turn) if item.begun is None else _blocks_begun(brief, item.turn, item.begun)
        for position, (block, batch, sawn) in enumerate(blocks):
            ready = ready_at(brief, item, position, batch) // MINUTES_A_DAY
            casts[block].append(_Cast(ready, batch.pour_to, order, position, item, batch, sawn))
    wants: dict[FormatKey, list[OrderLine]] = defaultdict(list)
    for line in brief.lines:
        wants[format_of(line)] += [line] * line.count
    return [
        Block(cast.placed, cast.position, cast.batch, line, cast.sawn)
        for key, of_format in casts.items()
        for cast, line in _shared(sorted(of_format, key=lambda cast: cast[:4]), wants[key])
    ]


def _shared(casts: list[_Cast], wanted: list[OrderLine]) -> Iterator[tuple[_Cast, OrderLine]]:
    """Casts of one format, the first ready first, and the line that each is for."""
    assert len(casts) >= len(wanted)
    left = wanted
    if len({line.mark for line in wanted}) > 1:
        # a block that is there already keeps the mark that is written on it
        kept, left = _by_mark([cast for cast in casts if cast.placed.begun], wanted)
        yield from kept
        casts = [cast for cast in casts if not cast.placed.begun]
    # slabs may give more than is asked for, and what was left of batches went into more
    yield from zip(casts, chain(left, further_spares(wanted)), strict=False)


def _by_mark(casts: list[_Cast], wanted: list[OrderLine]) -> tuple[list[tuple[_Cast, OrderLine]], list[OrderLine]]:
    """Each of some casts for the first line that wants its mark, and the lines that are left."""
    waiting: dict[str, deque[_Cast]] = defaultdict(deque)
    for cast in casts:
        waiting[cast.mark].append(cast)
    kept, left = [], []
    for line in wanted:
        if waiting[line.mark]:
            kept.append((waiting[line.mark].popleft(), line))
        else:
            left.append(line)
    return kept, left


def further_spares(wanted: list[OrderLine]) -> Iterator[OrderLine]:
    """Spares beyond those asked for, without end: each of the mark that has the fewest for its blocks."""
    marks = {line.mark: replace(line, part="", course=None, needed=None, cut="", count=1) for line in wanted}
    ordered = Counter(line.mark for line in wanted if line.part)
    spares = Counter(line.mark for line in wanted if not line.part)
    while True:
        fewest = min(marks, key=lambda mark: Fraction(spares[mark], max(1, ordered[mark])))
        spares[fewest] += 1
        yield marks[fewest]


def _blocks_of(brief: Brief, turn: Turn) -> Iterator[tuple[FormatKey, Batch, SawnBlock | None]]:
    """Blocks of a turn with their batches: those of a slab in the order of its saw plan."""
    for casting, batch in turn.fills:
        if casting < len(brief.formats):
            yield brief.formats[casting], batch, None
        else:
            for sawn in brief.slabs[casting - len(brief.formats)].blocks:
                yield sawn.block, batch, sawn


def _blocks_begun(brief: Brief, turn: Turn, begun: TurnBegun) -> Iterator[tuple[FormatKey, Batch, SawnBlock | None]]:
    """Blocks of a turn that was begun, as they were cast and are sawn."""
    for (number, batch), block in zip(turn.fills, begun.blocks, strict=True):
        yield (
            brief.formats[number],
            batch,
            None if block.sawn is None else SawnBlock(brief.formats[number], *block.sawn),
        )
