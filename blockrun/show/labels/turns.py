"""Labels by the turn: on a mould what is in it, on the rack what came out of it."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from blockrun.planner.label_code import LabelCode, plan_id
from blockrun.planner.moments import moments
from blockrun.planner.old_enough import OldEnough
from blockrun.show.labels.label import LAY, Blocks, Label

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan

_TIMES = ("poured", "strip", "rack_to", "ready")


@dataclass(frozen=True)
class _Cast:
    """What a label needs of one block."""

    mould: str
    turn: int
    base: str
    rack: str
    mark: str
    part: str
    batch: int
    course: int
    poured: datetime
    strip: datetime
    rack_to: datetime
    ready: datetime


def mould_labels(plan: Plan) -> list[Label]:
    """A label for each turn, in the order of pouring: what the mould, or its base, holds, and when it is stripped."""
    made, old_enough = plan_id(plan), OldEnough(plan)
    return [
        Label(
            "mould",
            mould,
            f"turn {turn}" + (f", base {casts[0].base.rpartition('/')[2]}" if casts[0].base else ""),
            _blocks(casts),
            _poured(casts),
            tuple(_sides(casts, old_enough)),
            ("strip from", _strip(casts, old_enough)),
            str(LabelCode("mould", made, (mould, str(turn)))),
            tuple(dict.fromkeys(cast.batch for cast in casts)),
        )
        for (mould, turn), casts in _turns(plan).items()
    ]


def _sides(casts: list[_Cast], old_enough: OldEnough) -> Iterator[tuple[str, datetime]]:
    """Since when the sides may come off, where there are bases."""
    sides = old_enough.sides(casts[0].mould, max(cast.poured for cast in casts)) if casts[0].base else None
    if sides:
        yield "sides off from", sides


def _strip(casts: list[_Cast], old_enough: OldEnough) -> datetime:
    """Since when a turn may be stripped."""
    first = casts[0]
    return old_enough.strip(first.mould, max(cast.poured for cast in casts)) or first.strip


def rack_labels(plan: Plan) -> list[Label]:
    """A label for what each turn brings to a rack, in the order in which it comes there."""
    made, found = plan_id(plan), []
    for (mould, turn), casts in sorted(_turns(plan).items(), key=lambda item: item[1][0].strip):
        for rack in dict.fromkeys(cast.rack for cast in casts):
            there = [cast for cast in casts if cast.rack == rack]
            found.append(
                Label(
                    "rack",
                    f"rack {rack}",
                    f"{mould} turn {turn}",
                    _blocks(there),
                    _poured(there),
                    (("off the rack", max(cast.rack_to for cast in there).date()),),
                    (LAY, max(cast.ready for cast in there).date()),
                    str(LabelCode("rack", made, (mould, str(turn), rack))),
                )
            )
    return found


def _turns(plan: Plan) -> Mapping[tuple[str, int], list[_Cast]]:
    """The casts of each turn, turns by when they are poured."""
    casts = plan.tables.casts
    names = ("mould", "turn", "base", "rack", "mark", "part", "batch")
    columns = [casts[name].tolist() for name in names]
    courses = casts["course"].fillna(0).astype(int).tolist()
    times = [moments(casts[name]) for name in _TIMES]
    found: dict[tuple[str, int], list[_Cast]] = defaultdict(list)
    for row in zip(*columns, courses, *times, strict=True):
        cast = _Cast(*row)
        found[cast.mould, cast.turn].append(cast)
    return dict(sorted(found.items(), key=lambda item: (min(cast.poured for cast in item[1]), item[0])))


def _blocks(casts: list[_Cast]) -> tuple[Blocks, ...]:
    counts = Counter((cast.mark, cast.part, cast.course) for cast in casts)
    return tuple(Blocks(count, *which) for which, count in counts.items())


def _poured(casts: list[_Cast]) -> tuple[date, date]:
    return min(cast.poured for cast in casts).date(), max(cast.poured for cast in casts).date()
