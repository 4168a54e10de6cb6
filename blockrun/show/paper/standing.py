"""Moulds and bases that stand full all day long: what is in them, and until when they are left alone."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING

from blockrun.files.day_names import day_name
from blockrun.planner.in_moulds import turns_of
from blockrun.show.page import glued

if TYPE_CHECKING:
    from blockrun.planner.in_moulds import Turn
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumbs.turns import Thumbs


@dataclass(frozen=True)
class Standing:
    """One mould that stands full, or a base whose sides are off.

    Attributes
    ----------
    mould, base : names; base is empty where the mould has none.
    is_bare : its sides are off: they are free, the blocks stand on the base.
    marks : how many of each are in it.
    leave : until when it is left alone, ``leave shut, strip from Wed 7 Apr``.
    """

    mould: str
    base: str
    is_bare: bool
    marks: Mapping[str, int]
    leave: str


class StandingFull:
    """What stands full, day by day; thumbs that say later are believed."""

    def __init__(self, plan: Plan, thumbs: Thumbs | None = None) -> None:
        self._turns = turns_of(plan)
        self._thumbed = thumbs.thumbed if thumbs else {}

    def on(self, day: date) -> dict[str, list[Standing]]:
        """By kind, those filled before a day and stripped after it, in the order of their names."""
        there = [turn for turn in self._turns if turn.filled.date() < day < turn.stripped.date()]
        found: dict[str, list[Standing]] = {}
        for turn in sorted(there, key=lambda turn: (turn.mould, turn.base)):
            found.setdefault(turn.kind.kind, []).append(self._standing(turn, day))
        for standing in found.values():
            standing.sort(key=lambda one: one.base if one.is_bare else "")
        return found

    def _standing(self, turn: Turn, day: date) -> Standing:
        is_bare = turn.sides_off is not None and turn.sides_off.date() <= day
        if turn.sides is not None and not is_bare:
            leave = f"leave shut, sides off from {self._from(turn, 'sides', turn.sides.date())}"
        else:
            leave = f"leave{'' if is_bare else ' shut'}, strip from {self._from(turn, 'strip', turn.strip.date())}"
        return Standing(turn.mould, turn.base, is_bare, Counter(_marks(turn.casts)), leave)

    def _from(self, turn: Turn, task: str, planned: date) -> str:
        thumbed = self._thumbed.get((turn.mould, turn.number))
        moved = thumbed.moved(task) if thumbed else None
        return glued(day_name(max(planned, moved.date()) if moved else planned))


def _marks(casts: Iterable[object]) -> Iterable[str]:
    return (str(cast.mark) for cast in casts)  # type: ignore[attr-defined]
