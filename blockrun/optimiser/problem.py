"""A yard and its order as whole numbers: all the optimiser ever sees.

Minutes count from midnight before the first calendar day; a day's number counts calendar days from
there. Volumes are whole hundredths of a millilitre, overfill included; those of blocks are rounded up
and those of batches down, so a batch filled to its last half millilitre may be missed. Cement is
counted in steps, the greatest share of a bag that the steps of all mixers are whole multiples of;
foaming agent in microlitres.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from typing import TypeAlias

import numpy as np
import numpy.typing as npt

from blockrun.optimiser.sent import Sent

MINUTES_A_DAY = 1440
Minutes: TypeAlias = npt.NDArray[np.int32]


@dataclass(frozen=True)
class Chore(Sent):
    """A task at a fixed time: half-open minutes and the people it takes."""

    start: int
    end: int
    people: int


@dataclass(frozen=True)
class Day(Sent):
    """A working day.

    ``windows`` are half-open minutes in which tasks may run; no foam goes in after ``last_foam``. ``hot`` are separate
    stretches, ascending: (first minute, end, for how many minutes at the most a batch keeps whose foam goes in then).
    """

    number: int
    windows: tuple[tuple[int, int], ...]
    last_foam: int
    people: int
    chores: tuple[Chore, ...]
    hot: tuple[tuple[int, int, int], ...] = ()

    def too_hot(self, load: Load) -> list[tuple[int, int]]:
        """Half-open minutes at which no batch of a load may start, for it would set before it is poured."""
        if load.hardy:
            return []
        slurry, takes = load.slurry, load.from_foam
        return [(first - slurry, end - slurry) for first, end, keeps in self.hot if keeps < takes]

    @property
    def opens(self) -> int:
        """First working minute."""
        return self.windows[0][0]

    @property
    def closes(self) -> int:
        """End of the last working minute."""
        return self.windows[-1][1]


@dataclass(frozen=True)
class Format(Sent):
    """Blocks that are one and the same to moulds and mixers: one size, one mix.

    ``needs`` are (number of the day they are needed, how many), ascending; ``demand`` counts these,
    the blocks nobody gave a date for, and the spares. ``volume`` is of one block, in 1/100 mL. ``further`` is
    whether more of them are welcome, as long as they cost nothing but room and hands.
    """

    mix: int
    volume: int
    demand: int
    needs: tuple[tuple[int, int], ...]
    further: bool = False


@dataclass(frozen=True)
class Casting(Sent):
    """What fills one cavity in one pour: a block, or a slab that is sawn into blocks once it is stripped.

    ``gives`` are (format, how many blocks of it); ``volume`` is poured, in 1/100 mL.
    """

    mix: int
    volume: int
    gives: tuple[tuple[int, int], ...]

    @property
    def blocks(self) -> int:
        """Blocks that come of it."""
        return sum(count for _, count in self.gives)

    def of(self, block: int) -> int:
        """Blocks of one format that come of it."""
        return sum(count for of, count in self.gives if of == block)


@dataclass(frozen=True)
class Mould(Sent):
    """Equal moulds.

    ``cavities`` are those a turn may fill; ``casts`` the castings; ``strip``, ``clean`` and ``sides``
    minutes of one person, sawing included; ``bases`` is 0 for moulds without them.
    """

    name: str
    count: int
    cavities: int
    casts: frozenset[int]
    strip: int
    clean: int
    bases: int = 0
    sides: int = 0


@dataclass(frozen=True)
class Load(Sent):
    """One size of batch of one mix in one mixer.

    ``cement`` in steps, ``agent`` in microlitres, ``room`` for cavities in 1/100 mL; ``slurry``,
    ``foam``, ``pour`` and ``wash`` in minutes, ``crew`` people from the start to the end of the wash. ``hardy`` is one
    that is poured however hot it is: no hour of a year is cool enough for any batch of its mix.
    """

    mixer: int
    mix: int
    cement: int
    agent: int
    room: int
    slurry: int
    foam: int
    pour: int
    wash: int
    crew: int
    hardy: bool = False
    to_pour: int = field(init=False, repr=False, compare=False)
    """Minutes from the start to the first block poured."""
    to_poured: int = field(init=False, repr=False, compare=False)
    """Minutes from the start to the last block poured."""
    from_foam: int = field(init=False, repr=False, compare=False)
    """Minutes from the foam going in to the last block poured."""
    length: int = field(init=False, repr=False, compare=False)
    """Minutes the mixer and its crew are busy."""

    def __post_init__(self) -> None:
        """Add up its minutes once, for all who ask."""
        self._derive("to_pour", self.slurry + self.foam)
        self._derive("to_poured", self.to_pour + self.pour)
        self._derive("from_foam", self.foam + self.pour)
        self._derive("length", self.to_poured + self.wash)


@dataclass(frozen=True)
class Supply(Sent):
    """What has come to the yard by each day: ascending (day number, amount so far, as loads count it)."""

    steps: tuple[tuple[int, int], ...]

    def by(self, day: int) -> int:
        """All that has come by the opening of a day."""
        index = bisect_right(self.steps, (day, 1 << 62))
        return self.steps[index - 1][1] if index else 0

    @property
    def ever(self) -> int:
        """All that ever comes."""
        return self.steps[-1][1]


@dataclass(frozen=True)
class Cubes(Sent):
    """Sets of test cubes: the ``volume`` of one, in 1/100 mL, and what makes a lot, which gives a set.

    ``lots`` is by mix the cement of a lot, in steps; where it is empty, a lot begins with the first pour and then on
    each of ``days``, by number and ascending.
    """

    volume: int
    lots: tuple[Fraction, ...] = ()
    days: tuple[int, ...] = ()


@dataclass(frozen=True)
class Stack(Sent):
    """Ground for blocks off the rack: ``places`` for columns of up to ``layers`` blocks, each of one format."""

    places: int
    layers: int

    def columns(self, blocks: Iterable[int]) -> int:
        """Places that so many blocks of each format take."""
        return sum(-(-count // self.layers) for count in blocks)


@dataclass(frozen=True)
class Problem(Sent):
    """Everything that decides whether a plan is right, and how good it is.

    Attributes
    ----------
    days : working days in order; ``horizon`` calendar days are covered by the arrays below.
    formats, moulds, loads : see there; loads ascend within each mixer and mix.
    slabs : castings that are sawn; those of single blocks are not listed.
    cubes : sets of test cubes that batches give, if any.
    places : rack places, all racks together (a block keeps its place, so the sum is exact).
    move : minutes to move 0, 1, 2, ... blocks.
    move_seconds : seconds a block, rounded down: the same work for bounds.
    rack_for, lay_at : minutes on the rack, and from poured to lay.
    ripe_strip : of each mould kind, shape ``(n_minutes,)``: poured at this minute, the first minute stripping may
        start; never earlier for a later pour, and -1 past the horizon.
    ripe_sides : the same for its sides, ``None`` without bases.
    clear_until : shape ``(horizon,)``: the last day of the frost-free run a day is in, -1 in frost.
    cement, agent : supplies, in steps and microlitres.
    later : working windows after the last day, in which blocks still leave the rack.
    earlier : working windows before the first day, in which blocks of a job that has begun left it.
    ripe_lay : shape ``(n_minutes,)``: poured at this minute, the first minute a block may be laid, for ages that
        hang on the air; ``None`` where ``lay_at`` says all.
    stack : where blocks stand from the day they leave the rack to the day they are laid, both included; ``None``
        where there is ground for all. Of a format what is ready first is laid first, when it is needed or ready, and
        what nobody gave a date for last, when it is ready.
    """

    days: tuple[Day, ...]
    horizon: int
    formats: tuple[Format, ...]
    moulds: tuple[Mould, ...]
    loads: tuple[Load, ...]
    places: int
    move: tuple[int, ...]
    move_seconds: int
    rack_for: int
    lay_at: int
    ripe_strip: tuple[Minutes, ...]
    ripe_sides: tuple[Minutes | None, ...]
    clear_until: npt.NDArray[np.int32]
    cement: Supply
    agent: Supply
    later: tuple[tuple[int, int], ...] = ()
    slabs: tuple[Casting, ...] = ()
    cubes: Cubes | None = None
    ripe_lay: Minutes | None = None
    stack: Stack | None = None
    earlier: tuple[tuple[int, int], ...] = ()
    castings: tuple[Casting, ...] = field(init=False, repr=False, compare=False)
    """All that can be poured: a block of each format, numbered as these are, then the slabs."""
    in_moulds: tuple[int, ...] = field(init=False, repr=False, compare=False)
    """Castings that there are moulds for."""
    sawn: frozenset[int] = field(init=False, repr=False, compare=False)
    """Formats that slabs give: of these there may be some more in the end than are asked for."""
    fillable: tuple[int, ...] = field(init=False, repr=False, compare=False)
    """Cavities of each mould that a turn may fill so that the stack, were it empty, has room for it."""
    windows: tuple[tuple[int, int], ...] = field(init=False, repr=False, compare=False)
    """All working windows, in order."""
    day_index: dict[int, int] = field(init=False, repr=False, compare=False)
    """Number of a calendar day -> position among the working days."""
    n_mixers: int = field(init=False, repr=False, compare=False)
    """Mixers in the yard."""
    _window_ends: list[int] = field(init=False, repr=False, compare=False)
    _earlier_ends: list[int] = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Work out what follows from the rest once, for all who ask."""
        single = (Casting(block.mix, block.volume, ((number, 1),)) for number, block in enumerate(self.formats))
        self._derive("castings", (*single, *self.slabs))
        self._derive("in_moulds", tuple(sorted(frozenset[int]().union(*(mould.casts for mould in self.moulds)))))
        self._derive("sawn", frozenset(block for slab in self.slabs for block, _ in slab.gives))
        self._derive("fillable", tuple(map(self._fillable, self.moulds)))
        self._derive("windows", tuple(window for day in self.days for window in day.windows))
        self._derive("day_index", {day.number: index for index, day in enumerate(self.days)})
        self._derive("n_mixers", 1 + max(load.mixer for load in self.loads))
        self._derive("_window_ends", [end for _, end in self.windows])
        self._derive("_earlier_ends", [end for _, end in self.earlier])

    def loads_of(self, mix: int) -> list[Load]:
        """Loads of a mix, in any mixer."""
        return [load for load in self.loads if load.mix == mix]

    def most_blocks(self, kind: int) -> int:
        """Blocks that one turn of a mould gives at the most."""
        mould = self.moulds[kind]
        return mould.cavities * max((self.castings[number].blocks for number in mould.casts), default=1)

    def poured(self, content: Mapping[int, int], cubes: int = 0) -> int:
        """Volume of so many of each casting, and of so many sets of test cubes."""
        volume = sum(self.castings[number].volume * count for number, count in content.items())
        return volume + (self.cubes.volume * cubes if self.cubes is not None else 0)

    def _fillable(self, mould: Mould) -> int:
        if self.stack is None or not mould.casts:
            return mould.cavities
        of_one = [[count for _, count in self.castings[number].gives] for number in mould.casts]
        for filled in range(mould.cavities, 0, -1):
            # of several castings each may be poured into a cavity of its own
            taken = max(map(self.stack.columns, of_one)) * filled
            if len(of_one) == 1:
                taken = self.stack.columns(filled * count for count in of_one[0])
            if taken <= self.stack.places:
                return filled
        return 0

    def useful(self, left: Sequence[int]) -> list[int]:
        """How many of each casting are of use while so many blocks of each format are to be cast."""
        return [max((-(-left[block] // count) for block, count in each.gives), default=0) for each in self.castings]

    @property
    def mixes(self) -> tuple[int, ...]:
        """Mixes that are ordered."""
        return tuple(sorted({block.mix for block in self.formats if block.demand}))

    @property
    def opens(self) -> int:
        """First working minute of all: what began before it is done, and no longer planned."""
        return self.days[0].opens

    def position(self, number: int) -> int:
        """Position of the last working day up to a calendar day; the first one, where that is before all of them."""
        return max(0, bisect_right(self.days, number, key=lambda day: day.number) - 1)

    def fit(self, at: int, length: int) -> int | None:
        """First minute at or after ``at`` from which a task of this length lies in one window."""
        for index in range(bisect_right(self._window_ends, at), len(self.windows)):
            start, end = self.windows[index]
            if max(start, at) + length <= end:
                return max(start, at)
        return None

    def working_minute(self, at: int) -> int | None:
        """First working minute at or after ``at``."""
        return self.fit(at, 1)

    def leaves_rack(self, stripped: int) -> int:
        """Minute at which a block stripped then leaves the rack; past all windows known, every minute will do."""
        at = stripped + self.rack_for
        index = bisect_right(self._earlier_ends, at)
        if index < len(self.earlier):
            return max(self.earlier[index][0], at)
        found = self.working_minute(at)
        if found is None:
            found = next((max(start, at) for start, end in self.later if at < end), at)
        return found

    def ready(self, poured: int, stripped: int) -> int:
        """Minute from which a block may be laid."""
        old_enough = poured + self.lay_at if self.ripe_lay is None else int(self.ripe_lay[poured])
        return max(self.leaves_rack(stripped), old_enough)
