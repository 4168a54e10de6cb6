"""What thumbs and the air say of turns that stand: what waits for a firmer block, and where a thumb goes first.

The plan made anew takes it from here, all of it: its search, its audit and its sheets. It is what ``ready`` says at
that moment, but for test cubes: a plan reckons with those of the site.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.errors import BadInput
from blockrun.planner.morning import Doubt
from blockrun.site.mould_names import kind_named
from blockrun.yard.ready.air import site_as_it_went
from blockrun.yard.ready.doubts import Doubts
from blockrun.yard.ready.ripe import Ripe

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.now import Standing, State


@dataclass(frozen=True)
class Waits:
    """What is to be waited for with one turn.

    Attributes
    ----------
    doubt : why a thumb is to be pressed first.
    sides_from, strip_from : from when its sides may come off and it may be stripped; None where no thumb puts it off.
    """

    doubt: Doubt
    sides_from: datetime | None = None
    strip_from: datetime | None = None


class Waiting:
    """What is to be waited for at a moment.

    Parameters
    ----------
    plan : of the site that is to be planned for.
    state : where every block is.
    at : the moment.
    """

    def __init__(self, plan: AsPlanned, state: State, at: datetime) -> None:
        self._at = at
        self._kinds = {kind.kind for kind in plan.site.moulds}
        self._ripe = Ripe(plan, site_as_it_went(plan.site, state.air, frozenset(state.lost)))
        self._doubts = Doubts(state, plan.site, self._ripe, at)

    def of(self, turn: Standing) -> Waits:
        """What is to be waited for with a turn; nothing where it is stripped, or the site has no such mould.

        Raises
        ------
        BadInput : by its thumbs it is never old enough.
        """
        if turn.stripped is not None or kind_named(turn.mould) not in self._kinds:
            return Waits(Doubt())
        doubt = self._doubts.of(turn)
        if not turn.thumbs:
            return Waits(doubt)
        as_reckoned = replace(turn, thumbs=[])
        strip, reckoned = self._ripe.strip(turn), self._ripe.strip(as_reckoned)
        if strip is None:
            todo = "Press again, and record what it shows; or throw it out: blockrun record DIR rejected MOULD WHY"
            raise BadInput(f"what stands in {turn.place} is never old enough at the pace its thumbs tell", todo)
        sides, sides_reckoned = self._ripe.sides(turn), self._ripe.sides(as_reckoned)
        return Waits(doubt, self._later(sides, sides_reckoned), self._later(strip, reckoned))

    def _later(self, told: datetime | None, reckoned: datetime | None) -> datetime | None:
        """A moment to come that is put off."""
        is_later = told is not None and told > self._at and (reckoned is None or told > reckoned)
        return told if is_later else None
