"""A yard in the middle of a plan: what has been poured and how far each turn has come."""

from __future__ import annotations

from dataclasses import dataclass, field

from blockrun.optimiser.problem import MINUTES_A_DAY, Load, Problem
from blockrun.optimiser.sent import Sent

FOREVER = 1 << 60
"""A minute that comes after all others."""


@dataclass(frozen=True)
class Span(Sent):
    """A task of the crew, half-open minutes."""

    start: int
    end: int


@dataclass(eq=False)
class Batch(Sent):
    """A batch poured: its load, its start, how many of each casting it pours, and its sets of test cubes."""

    load: Load
    start: int
    content: dict[int, int]
    cubes: int = 0

    @property
    def foam_at(self) -> int:
        """Minute the foam goes in."""
        return self.start + self.load.slurry

    @property
    def pour_from(self) -> int:
        """Minute the first block is poured."""
        return self.start + self.load.to_pour

    @property
    def pour_to(self) -> int:
        """Minute the last block is poured."""
        return self.start + self.load.to_poured

    @property
    def end(self) -> int:
        """Minute the mixer is clean again."""
        return self.start + self.load.length


@dataclass(eq=False)
class Turn(Sent):
    """One mould filled, stripped and cleaned once.

    ``fills`` is one (casting, batch) a cavity, in their order; spans are ``None`` until done. ``blocks``
    come of it: one a cavity, if nothing else is said.

    Of what was done before a plan, ``fills`` are what is good of it, as castings of single blocks where a slab broke,
    and ``blocks`` those that are in the mould, or on the rack still. ``since`` are the minutes from which and up to
    which it was poured, where the batches do not tell them. ``caught`` is one that cannot be stripped before frost.
    ``waits`` are minutes before which its sides do not come off and it is not stripped, whatever its age. ``beyond``
    are those of its blocks that are on a rack beyond its places: that is full without them. ``laid`` are the minutes at
    which its fills were laid, ``FOREVER`` for those that are not; empty where none is.
    """

    mould: int
    fills: list[tuple[int, Batch]]
    sides: Span | None = None
    strip: Span | None = None
    clean: Span | None = None
    blocks: int = -1
    since: tuple[int, int] | None = None
    caught: bool = False
    waits: tuple[int, int] = (0, 0)
    beyond: int = 0
    laid: tuple[int, ...] = ()
    start: int = field(init=False)
    """First batch's pour begins."""
    poured: int = field(init=False)
    """Last batch's pour ends."""

    def __post_init__(self) -> None:
        """Moulds that are not sawn give a block a cavity."""
        self.fill(self.fills, len(self.fills) if self.blocks < 0 else self.blocks)

    def fill(self, fills: list[tuple[int, Batch]], blocks: int) -> None:
        """Have it filled so; nothing else changes what it holds, for plays ask for its minutes all the time."""
        self.fills, self.blocks = fills, blocks
        if self.since is not None:
            self.start, self.poured = self.since
        else:
            self.start = min((batch.pour_from for _, batch in fills), default=-1)
            self.poured = max((batch.pour_to for _, batch in fills), default=-1)

    @property
    def places(self) -> int:
        """Places of the rack that its blocks take."""
        return self.blocks - self.beyond

    @property
    def done(self) -> bool:
        """Cleaned, so the mould is free."""
        return self.clean is not None

    def sides_ripe(self, problem: Problem) -> int:
        """First minute at which its sides may come off, on a base; under 0 past the horizon."""
        table = problem.ripe_sides[self.mould]
        assert table is not None
        ripe = int(table.item(self.poured))
        return ripe if ripe < 0 else max(ripe, self.waits[0])

    def strip_ripe(self, problem: Problem) -> int:
        """First minute at which it may be stripped; under 0 past the horizon."""
        ripe = int(problem.ripe_strip[self.mould].item(self.poured))
        return ripe if ripe < 0 else max(ripe, self.waits[1])

    def ready(self, problem: Problem, place: int, stripped: int) -> int:
        """Minute from which the block of a fill, by its place, may be laid; what was laid sooner is late no longer."""
        ready = problem.ready(self.fills[place][1].pour_to, stripped)
        if place < len(self.laid) and self.laid[place] < ready:
            return max(problem.leaves_rack(stripped), self.laid[place])
        return ready

    def as_of(self, minute: int = FOREVER) -> Turn:
        """The same turn, for itself, with what was done of it by a minute."""
        sides, strip, clean = (
            span if span is None or span.end <= minute else None for span in (self.sides, self.strip, self.clean)
        )
        done = (sides, strip, clean)
        kept = (self.waits, self.beyond, self.laid)
        return Turn(self.mould, self.fills, *done, self.blocks, self.since, self.caught, *kept)


@dataclass
class State(Sent):
    """Everything poured before the day at position ``day`` among the working days."""

    day: int = 0
    turns: list[Turn] = field(default_factory=list)
    batches: list[Batch] = field(default_factory=list)

    @property
    def open_turns(self) -> list[Turn]:
        """Turns whose mould is not free yet."""
        return [turn for turn in self.turns if not turn.done]

    def cement(self) -> int:
        """Cement used so far."""
        return sum(batch.load.cement for batch in self.batches)

    def blocks_cast(self, problem: Problem) -> list[int]:
        """Blocks of each format poured so far."""
        found = [0] * len(problem.formats)
        for batch in self.batches:
            for number, count in batch.content.items():
                for block, each in problem.castings[number].gives:
                    found[block] += count * each
        return found

    def agent(self) -> int:
        """Foaming agent used so far."""
        return sum(batch.load.agent for batch in self.batches)

    def left_to_pour(self, problem: Problem) -> list[int]:
        """Blocks of each format still to pour."""
        pairs = zip(problem.formats, self.blocks_cast(problem), strict=True)
        return [max(0, block.demand - cast) for block, cast in pairs]

    def left_on_rack(self, problem: Problem, minute: int) -> int:
        """Places of the rack that are taken now, and still are after a minute."""
        return sum(places for leaves, places in self.on_rack(problem) if leaves > minute)

    def moved_until(self, problem: Problem, minute: int) -> list[int]:
        """When those are done who at a minute still move what they stripped before it."""
        since = minute - problem.move[-1]
        late = [turn for turn in self.turns if turn.strip is not None and turn.strip.end > since]
        ends = [turn.strip.end + problem.move[turn.blocks] for turn in late if turn.strip is not None]
        return [end for end in ends if end > minute]

    def on_rack(self, problem: Problem) -> list[tuple[int, int]]:
        """(minute it leaves, places it takes) of every stripped turn."""
        leaves = []
        for turn in self.turns:
            if turn.strip is not None:
                leaves.append((problem.leaves_rack(turn.strip.end), turn.places))
        return leaves


def in_order(batches: list[Batch], begun: int = 0) -> list[Batch]:
    """Batches by the clock; the first ones, made before a plan, stay first and as they were."""
    made = sorted(batches[begun:], key=lambda batch: (batch.start, batch.load.mixer))
    return [*batches[:begun], *made]


def given(problem: Problem, batch: Batch) -> dict[int, int]:
    """Blocks of each format that come of a batch."""
    found: dict[int, int] = {}
    for number, count in batch.content.items():
        for block, each in problem.castings[number].gives:
            found[block] = found.get(block, 0) + count * each
    return found


def blocks_of(problem: Problem, turn: Turn) -> int:
    """Good blocks that come of a turn in the end, wherever they are."""
    return sum(problem.castings[number].blocks for number, _ in turn.fills)


def left_each_evening(problem: Problem, state: State) -> list[int]:
    """Blocks still to pour in the evening of each working day of a plan."""
    left, first = [block.demand for block in problem.formats], problem.days[0].number
    by_day: dict[int, list[Batch]] = {}
    for batch in state.batches:
        by_day.setdefault(max(first, batch.start // MINUTES_A_DAY), []).append(batch)
    evenings = []
    for day in problem.days:
        for batch in by_day.get(day.number, ()):
            for block, count in given(problem, batch).items():
                left[block] = max(0, left[block] - count)
        evenings.append(sum(left))
    return evenings


def morning(state: State, number: int, position: int) -> State:
    """The yard as it stood in a plan on the morning of a day, by its number and its position among the working days.

    A plan that goes on from the middle of a day has no morning of its first one.
    """
    opens = number * MINUTES_A_DAY

    turns = [
        turn if turn.clean is not None and turn.clean.end <= opens else turn.as_of(opens)
        for turn in state.turns
        if turn.start < opens
    ]
    return State(position, turns, [batch for batch in state.batches if batch.start < opens])
