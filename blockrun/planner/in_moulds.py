"""The turns of a plan, and which of them stands in a mould or on a base at a moment."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput, BadPlan
from blockrun.files.text import did_you_mean
from blockrun.planner.as_planned import plain_name
from blockrun.planner.full import casts_by_turn, cleans_of, first_from
from blockrun.planner.rows import Row, rows_of
from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.site import MouldKind

_TODO: Final = "See what is wrong with: blockrun audit DIR"


@dataclass(frozen=True)
class Turn:
    """One mould filled, stripped and cleaned once, as planned.

    Attributes
    ----------
    filled, poured : when its first pour begins and its last one ends.
    sides, sides_off : when its sides begin to come off and are off; None without bases.
    strip, stripped : begin and end of the strip, sawing included.
    cleaned : when it is clean.
    casts : rows of its blocks.
    """

    kind: MouldKind
    mould: str
    base: str
    number: int
    filled: datetime
    poured: datetime
    sides: datetime | None
    sides_off: datetime | None
    strip: datetime
    stripped: datetime
    cleaned: datetime
    casts: tuple[Row, ...]

    @property
    def key(self) -> tuple[str, int]:
        """What tells it from other turns: the mould, and the number of the turn in it."""
        return self.mould, self.number

    @property
    def place(self) -> str:
        """Where its blocks stand until the strip."""
        return self.base or self.mould

    @property
    def batches(self) -> tuple[int, ...]:
        """Numbers of its batches."""
        return tuple(sorted({cast.batch for cast in self.casts}))

    def only(self, batches: Container[int]) -> Turn:
        """The same with the blocks of some of its batches alone."""
        return replace(self, casts=tuple(cast for cast in self.casts if cast.batch in batches))

    @property
    def mix(self) -> str:
        """Its mix; several joined by ``+``."""
        return " + ".join(sorted({cast.mix for cast in self.casts}))


def check_fits(plan: Plan) -> None:
    """Refuse a plan that names what it does not have: all that shows one looks these up.

    Raises
    ------
    BadPlan : its blocks are of a batch, mark, mix, kind of mould or base, or a batch is of a mixer, that is not there.
    """
    casts, poured, site = plan.tables.casts, plan.tables.batches, plan.site
    batches, marks = set(poured["batch"]), {(line.mark, line.mix) for line in plan.ordered}
    kinds = {kind.kind: kind for kind in site.moulds}
    mixers, mixes = {mixer.name for mixer in site.mixers}, {mix.name for mix in plan.order.mixes}
    of_blocks, on_bases = (casts[columns].drop_duplicates() for columns in (["mark", "mix"], ["mould", "base"]))
    said = [
        *(f"blocks are in batch {batch}" for batch in casts["batch"].unique() if batch not in batches),
        *(f"blocks are of {mark} of mix {mix}" for mark, mix in of_blocks.to_numpy() if (mark, mix) not in marks),
        *(f"blocks are in mould {mould}" for mould in casts["mould"].unique() if kind_named(mould) not in kinds),
        *(f"{mould} is on base {base}" for mould, base in on_bases.to_numpy() if base and not _bases(kinds, mould)),
        *(f"a batch is of mixer {mixer}" for mixer in poured["mixer"].unique() if mixer not in mixers),
        *(f"a batch is of mix {mix}" for mix in poured["mix"].unique() if mix not in mixes),
    ]
    if said:
        raise BadPlan(f"the tables of the plan do not fit together: {said[0]}, which it lacks", _TODO)


def _bases(kinds: Mapping[str, MouldKind], mould: str) -> int | None:
    kind = kinds.get(kind_named(mould))
    return kind.bases if kind else None


def turns_of(plan: Plan) -> list[Turn]:
    """All turns of a plan, by the moment their first pour begins.

    Raises
    ------
    BadPlan : see `check_fits`.
    """
    check_fits(plan)
    kinds = {kind.kind: kind for kind in plan.site.moulds}
    pours = {row.batch: row for row in rows_of(plan.tables.batches)}
    cleans = cleans_of(plan.tables)
    turns = [
        _turn(
            kinds[kind_named(mould)],
            turn,
            [pours[batch] for batch in {cast.batch for cast in turn}],
            cleans.get((mould, turn[0].base), []),
        )
        for (mould, _), turn in casts_by_turn(plan.tables).items()
    ]
    return sorted(turns, key=lambda turn: (turn.filled, turn.mould))


def _turn(kind: MouldKind, casts: Sequence[Row], pours: Sequence[Row], cleans: Sequence[Row]) -> Turn:
    """A turn; ``cleans`` are those of its mould, or base, by time."""
    first = casts[0]
    stripped, off = first.strip, first.sides_off
    clean = first_from(stripped, cleans)
    return Turn(
        kind,
        first.mould,
        first.base,
        first.turn,
        min(row.pour_from for row in pours),
        max(row.pour_to for row in pours),
        None if off is None else off - timedelta(minutes=kind.sides_time_min or 0),
        off,
        stripped - timedelta(minutes=kind.strip_and_saw_min),
        stripped,
        clean.end if clean else stripped + timedelta(minutes=kind.clean_time_min),
        tuple(casts),
    )


def named(written: str, turns: Iterable[Turn]) -> str:
    """The mould or base that is meant: ``gang-4/3`` for ``gang-4/03``, in small letters or large.

    Raises
    ------
    BadInput : the plan fills none of that name.
    """
    names = {name for turn in turns for name in (turn.mould, turn.base) if name}
    found = next((name for name in names if plain_name(name) == plain_name(written)), None)
    if found is None:
        raise BadInput(f"the plan fills no mould {written}", did_you_mean(written, names), value=written)
    return found


def standing(
    turns: Iterable[Turn], name: str, at: datetime, stripped: Callable[[Turn], datetime] = lambda turn: turn.stripped
) -> Turn:
    """The turn whose blocks stand in a mould, or on a base, at a moment.

    Parameters
    ----------
    turns : of the plan, by time.
    name : as `named` gives it.
    at : a moment.
    stripped : when the strip of a turn is over; as planned unless told. On that day, a crew behind its plan may still
        have it standing, until the next pour into the place begins.

    Raises
    ------
    BadInput : nothing stands there then; it says what the plan has before and after.
    """
    here = [turn for turn in turns if name in {turn.mould, turn.base}]
    held = [turn for turn in here if turn.poured < at < stripped(turn)]
    if held:  # sides are known by what they hold last; all else by what is not out of it yet
        return held[-1] if name != held[-1].place else held[0]
    last = next((turn for turn in reversed(here) if turn.filled <= at), None)
    if last is None or not (last.poured < at and at.date() == stripped(last).date()):
        raise _nothing(name, at, last, here, stripped)
    return last


def _nothing(
    name: str, at: datetime, last: Turn | None, here: Sequence[Turn], stripped: Callable[[Turn], datetime]
) -> BadInput:
    said = [] if last is None else [f"filled until {_said(last.poured)}, stripped by {_said(stripped(last))}"]
    said += [f"filled {_said(turn.filled)}" for turn in here if turn.filled > at][:1]
    pressed = _said((last or here[0]).strip)
    todo = f'By the plan it is {", then ".join(said)}. Say when you pressed, such as --at "{pressed}".'
    if last is not None and last.poured >= at:
        return BadInput(f"{name} is being poured at {_said(at)}", todo, name="--at", value=at)
    return BadInput(f"by the plan nothing stands in {name} at {_said(at)}", todo, name="--at", value=at)


def _said(moment: datetime) -> str:
    return f"{moment:%Y-%m-%d %H:%M}"
