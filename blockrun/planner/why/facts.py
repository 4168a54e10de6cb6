"""Plain facts of a yard that clash; whoever shows them puts them into words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from blockrun.planner.why.rules import Thing


@dataclass(frozen=True)
class Wanted:
    """Blocks of one part that are wanted by the day: of its courses from the first to the last, ``None`` without.

    ``in_all`` are all blocks of these courses: a clash may be about some sizes of them alone.
    """

    part: str
    first: int | None
    last: int | None
    blocks: int
    in_all: int


@dataclass(frozen=True)
class Moulds:
    """Moulds of a kind, or their sides or bases.

    Attributes
    ----------
    thing : which of the three.
    count, cavities : how many there are, and the blocks that one casts in a turn at the most.
    turns : how often one can be filled by the last pour of use, at the most.
    wait_h : hours from a pour until they are ripe to come off: the fewest and the most, by the days up to then;
        empty where no pour is.
    mild_h : the same at 20 degC all the time.
    """

    thing: Thing
    kind: str
    count: int
    cavities: int
    turns: int
    wait_h: tuple[int, int] | tuple[()]
    mild_h: float


@dataclass(frozen=True)
class Cold:
    """Blocks that set so slowly that moulds are waited for; ``strip_h`` is the wait at 20 degC, in hours."""

    strip_h: float


@dataclass(frozen=True)
class Nights:
    """Days of frost on which no mould may stand full, or (``thing`` says) working days of rain or hot hours."""

    thing: Thing
    days: tuple[date, ...]
    least_c: float


@dataclass(frozen=True)
class Racks:
    """Places, and for how many minutes a block keeps one."""

    places: int
    rack_for_min: int


@dataclass(frozen=True)
class Ground:
    """A stack, in places for columns of so many layers, each of one size and mix.

    Attributes
    ----------
    formats : sizes and mixes of the blocks that are asked for.
    day : on which ``wanted`` of them would have to stand there, and ``most`` at the most can; ``None`` where none are
        too many for it at once.
    """

    places: int
    layers: int
    formats: int
    day: date | None = None
    wanted: int = 0
    most: int = 0


@dataclass(frozen=True)
class Mixers:
    """What the mixers make: batches on a whole day, and by the last pour of use, at the most."""

    names: tuple[str, ...]
    a_day: int
    batches: int
    biggest_l: float


@dataclass(frozen=True)
class People:
    """People on most days, and the hours they all have together by the last pour of use.

    ``away`` are the working days until then on which there are fewer.
    """

    people: int
    away: int
    hours: int
    batch_people: int
    batch_min: int


@dataclass(frozen=True)
class Stock:
    """Bags of cement, or litres of foaming agent.

    ``there`` have come by the last pour of use, ``at_first`` of them are there on the first day; ``last_came`` is the
    day of the last delivery among them, ``None`` without one.
    """

    thing: Thing
    there: float
    at_first: float
    last_came: date | None


@dataclass(frozen=True)
class Age:
    """Minutes on the rack, and from pour to laying (0 where a strength says when).

    Attributes
    ----------
    poured_by : the last working day on which pouring is of use for all that; ``None`` where there is none.
    first_ready : the soonest day of a first block.
    """

    rack_for_min: int
    lay_min: int
    poured_by: date | None
    first_ready: date | None


Fact = Moulds | Cold | Nights | Racks | Ground | Mixers | People | Stock | Age


@dataclass(frozen=True)
class Lower:
    """A rule that, next to those of a clash, leaves still less; with the kind of mould where it is about one."""

    thing: Thing
    kind: str | None


@dataclass(frozen=True)
class Explained:
    """A clash in plain numbers.

    Attributes
    ----------
    by : the day by which so many ``blocks`` are wanted, ``ready`` to lay or just poured.
    at_most : how many of them can be had, by these facts alone.
    in_all : how many can be had with all that limits the yard, at the most.
    lower : what each by itself makes it fewer than ``at_most``.
    last_pour : the last day on which pouring is of use for them, by these facts; ``None`` where no day is.
    """

    by: date
    ready: bool
    blocks: int
    at_most: int
    in_all: int
    lower: tuple[Lower, ...]
    last_pour: date | None
    wanted: tuple[Wanted, ...]
    facts: tuple[Fact, ...]
