"""Which moulds and bases a plan may still fill, once some are out of use."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

from blockrun.errors import NoPlanPossible
from blockrun.planner.begun.lines import to_cast
from blockrun.planner.wanted import format_of
from blockrun.site.mould_names import base_name, mould_name

if TYPE_CHECKING:
    from blockrun.planner.begun.facts import Begun, TurnBegun
    from blockrun.planner.brief import Brief
    from blockrun.site import MouldKind


@dataclass(frozen=True)
class InUse:
    """Moulds of a site in use; where a job has not begun that is all of them."""

    begun: Begun | None = None

    @cached_property
    def _out(self) -> frozenset[str]:
        return frozenset(self.begun.out_of_use if self.begun else ())

    @cached_property
    def apart(self) -> tuple[TurnBegun, ...]:
        """Turns that stand in what is out of use: they are stripped, and then nothing is poured there again."""
        turns = self.begun.turns if self.begun else ()
        return tuple(turn for turn in turns if turn.clean is None and {turn.mould, turn.base} & self._out)

    @cached_property
    def _without(self) -> frozenset[str]:
        """All that is not to be filled again: a mould and a base that are stuck together go together."""
        return self._out | {name for turn in self.apart for name in (turn.mould, turn.base) if name}

    def count(self, kind: MouldKind) -> int:
        """Moulds of a kind, sides where there are bases."""
        return len(self.units(kind))

    def bases(self, kind: MouldKind) -> int:
        """Bases of a kind; 0 where it has none."""
        return len(self.base_units(kind))

    def units(self, kind: MouldKind) -> list[int]:
        """Numbers of the moulds of a kind that may be filled."""
        return [unit for unit in range(1, kind.count + 1) if mould_name(kind.kind, unit) not in self._without]

    def base_units(self, kind: MouldKind) -> list[int]:
        """Numbers of its bases that may be filled."""
        return [base for base in range(1, (kind.bases or 0) + 1) if base_name(kind.kind, base) not in self._without]

    def is_left(self, kind: MouldKind) -> bool:
        """Whether any of a kind may still be filled."""
        return bool(self.units(kind)) and (kind.bases is None or bool(self.base_units(kind)))


def check_moulds(asked: Brief) -> None:
    """Refuse what no mould in use casts any more.

    Raises
    ------
    NoPlanPossible : blocks are still to be cast for which all moulds are out of use.
    """
    castings = asked.problem.castings
    given = {block for number in asked.problem.in_moulds for block, _ in castings[number].gives}
    for line in to_cast(asked.lines, asked.begun):
        if asked.formats.index(format_of(line)) not in given:
            what = f"{line.count} {line.mark} ({line.mix}) are still to be cast, and what casts them is out of use"
            raise NoPlanPossible(what, "When a mould is back: blockrun record DIR mould NAME back")
