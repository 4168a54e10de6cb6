"""Moulds out of which all was thrown before a plan was made anew: of their turns nothing is left but a clean."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockrun.planner.audit.past import Past
    from blockrun.planner.audit.records import Task
    from blockrun.planner.audit.turns import RowsOfPair
    from blockrun.planner.begun.facts import TurnBegun
    from blockrun.site import MouldKind


@dataclass(frozen=True)
class ThrownOut:
    """A turn without a good block.

    Attributes
    ----------
    told : what had happened to it.
    row : of its clean: the first of its mould, or base, after the plan was made; None where there is none.
    length : minutes that a clean takes.
    """

    told: TurnBegun
    row: Task | None
    length: int

    @property
    def name(self) -> str:
        """Return the turn as sentences call it."""
        return f"{self.told.mould} turn {self.told.turn}"

    @property
    def place(self) -> str:
        """What is to be cleaned."""
        return self.told.base or self.told.mould


def thrown_out(past: Past, rows: RowsOfPair, kinds: Mapping[str, MouldKind]) -> Iterator[ThrownOut]:
    """All turns without a good block."""
    for turn in past.turns.values():
        if not turn.blocks and turn.mould in kinds:
            cleans = rows.get(("clean", (turn.mould, turn.base)), ())
            row = next((row for row in cleans if row.start >= past.now), None)
            yield ThrownOut(turn, row, kinds[turn.mould].clean_time_min)


def rows_without(rows: RowsOfPair, gone: Iterable[ThrownOut]) -> RowsOfPair:
    """Rows of jobs without the cleans of turns that have no good block."""
    cleans = {id(one.row) for one in gone}
    return {key: [row for row in of_key if id(row) not in cleans] for key, of_key in rows.items()}
