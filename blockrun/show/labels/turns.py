"""Labels by the turn: on a mould what is in it, on the rack what came out of it."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from blockrun.planner.label_code import LabelCode, plan_id
from blockrun.planner.moments import moments
from blockrun.show.labels.label import Blocks, Label

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
    course: int
    poured: datetime
    strip: datetime
    rack_to: datetime
    ready: datetime


def mould_labels(plan: Plan) -> list[Label]:
    """A label for each turn, in the order of pouring: what the mould, or its base, holds."""
    made = plan_id(plan)
    return [
        Label(
            "mould",
            mould,
            f"turn {turn}" + (f", base {casts[0].base.rpartition('/')[2]}" if casts[0].base else ""),
            _blocks(casts),
            (_span("poured", [cast.poured for cast in casts]), _last("ready", [cast.ready for cast in casts])),
            str(LabelCode("mould", made, (mould, str(turn)))),
        )
        for (mould, turn), casts in _turns(plan).items()
    ]


def rack_labels(plan: Plan) -> list[Label]:
    """A label for what each turn brings to a rack, in the order in which it comes there."""
    made, found = plan_id(plan), []
    for (mould, turn), casts in sorted(_turns(plan).items(), key=lambda item: item[1][0].strip):
        for rack in dict.fromkeys(cast.rack for cast in casts):
            there = [cast for cast in casts if cast.rack == rack]
            days = (
                _span("poured", [cast.poured for cast in there]),
                _last("off the rack", [cast.rack_to for cast in there]),
                _last("ready", [cast.ready for cast in there]),
            )
            code = LabelCode("rack", made, (mould, str(turn), rack))
            found.append(Label("rack", f"rack {rack}", f"{mould} turn {turn}", _blocks(there), days, str(code)))
    return found


def _turns(plan: Plan) -> Mapping[tuple[str, int], list[_Cast]]:
    """The casts of each turn, turns by when they are poured."""
    casts = plan.tables.casts
    names = ("mould", "turn", "base", "rack", "mark", "part")
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


def _span(what: str, times: list[datetime]) -> tuple[str, date, date]:
    return what, min(times).date(), max(times).date()


def _last(what: str, times: list[datetime]) -> tuple[str, date, date]:
    return what, max(times).date(), max(times).date()
