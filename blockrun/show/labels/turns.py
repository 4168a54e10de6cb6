"""Labels by the turn: on a mould what is in it, on the rack what came out of it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterator, Mapping
from datetime import date, datetime
from typing import TYPE_CHECKING

from blockrun.planner.full import casts_by_turn
from blockrun.planner.label_code import LabelCode, plan_id
from blockrun.planner.old_enough import OldEnough
from blockrun.planner.rows import Row
from blockrun.show.labels.label import LAY, Blocks, Label

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumbs.turns import Thumbs

Turn = tuple[str, int]
"""A mould, and the number of one of its turns."""


def stripped_before(plan: Plan) -> frozenset[Turn]:
    """Turns, by mould and number, that were stripped before a plan was made anew: their labels are used."""
    return frozenset((turn.mould, turn.turn) for turn in plan.begun.turns if turn.strip) if plan.begun else frozenset()


def mould_labels(
    plan: Plan, thumbs: Thumbs | None = None, apart: Container[int] = (), over: Container[Turn] = ()
) -> list[Label]:
    """A label for each turn, in the order of pouring: what the mould, or its base, holds, and when it is stripped.

    Parameters
    ----------
    thumbs : what thumbs pressed into its moulds say, before all else, of when that is.
    over : turns that get none.
    """
    made, ripe = plan_id(plan), _Ripe(plan, thumbs)
    return [
        Label(
            "mould",
            mould,
            f"turn {turn}" + (f", base {casts[0].base.rpartition('/')[2]}" if casts[0].base else ""),
            _blocks(casts),
            _poured(casts),
            tuple(ripe.sides(casts)),
            ("strip from", ripe.strip(casts)),
            str(LabelCode("mould", made, (mould, str(turn)))),
            tuple(dict.fromkeys(cast.batch for cast in casts)),
            *_apart(casts, apart),
        )
        for (mould, turn), casts in _turns(plan, over).items()
    ]


class _Ripe:
    """Since when a turn may be bared and stripped: as its thumbs say, or as it is planned."""

    def __init__(self, plan: Plan, thumbs: Thumbs | None) -> None:
        self._planned = OldEnough(plan)
        self._thumbed = thumbs.thumbed if thumbs else {}

    def strip(self, casts: list[Row]) -> datetime:
        first, poured = casts[0], max(cast.poured for cast in casts)
        return self._felt(first, "strip") or self._planned.strip(first.mould, poured) or first.strip

    def sides(self, casts: list[Row]) -> Iterator[tuple[str, datetime]]:
        """Words with the moment, where there are bases."""
        first, poured = casts[0], max(cast.poured for cast in casts)
        sides = self._felt(first, "sides") or self._planned.sides(first.mould, poured) if first.base else None
        if sides:
            yield "sides off from", sides

    def _felt(self, cast: Row, task: str) -> datetime | None:
        thumbed = self._thumbed.get((cast.mould, cast.turn))
        return thumbed.moved(task) if thumbed else None


def rack_labels(plan: Plan, apart: Container[int] = (), over: Container[Turn] = ()) -> list[Label]:
    """A label for what each turn brings to a rack, in the order in which it comes there.

    Parameters
    ----------
    over : turns that get none.
    """
    made, found = plan_id(plan), []
    for (mould, turn), casts in sorted(_turns(plan, over).items(), key=lambda item: item[1][0].strip):
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
                    (),
                    *_apart(there, apart),
                )
            )
    return found


def _turns(plan: Plan, over: Container[Turn]) -> Mapping[Turn, list[Row]]:
    """The casts of each turn but some, turns by when they are poured."""
    found = {turn: casts for turn, casts in casts_by_turn(plan.tables).items() if turn not in over}
    return dict(sorted(found.items(), key=lambda item: (min(cast.poured for cast in item[1]), item[0])))


def _blocks(casts: list[Row]) -> tuple[Blocks, ...]:
    counts = Counter((cast.mark, cast.part, cast.course or 0) for cast in casts)
    return tuple(Blocks(count, *which) for which, count in counts.items())


def _apart(casts: list[Row], apart: Container[int]) -> tuple[tuple[int, ...], int]:
    """Batches outside their cards among those of some blocks, and how many blocks are of them."""
    of = [cast.batch for cast in casts if cast.batch in apart]
    return tuple(dict.fromkeys(of)), len(of)


def _poured(casts: list[Row]) -> tuple[date, date]:
    return min(cast.poured for cast in casts).date(), max(cast.poured for cast in casts).date()
