"""Since when what stands in a mould is old enough for its sides, its strip or any other age, by the mould's clock."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.cure.age import NEVER
from blockrun.planner.ages import ages_of
from blockrun.planner.clocks import Clocks
from blockrun.site.mould_names import kind_named

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.site import MouldKind


class OldEnough:
    """Moments at which the moulds of a plan come to an age.

    Parameters
    ----------
    plan : with its site and order, and the mixes of its casts.

    Attributes
    ----------
    ages : what the rules of the site come to for these mixes.
    """

    def __init__(self, plan: Plan) -> None:
        self.ages = ages_of(plan.site, plan.order, set(plan.tables.casts["mix"].tolist()))
        self._clocks = Clocks(plan.site, plan.order, plan.ordered)
        self._kinds = {kind.kind: kind for kind in plan.site.moulds}
        self._calendar = plan.site.calendar

    def strip(self, mould: str, poured: datetime) -> datetime | None:
        """Since when a mould whose last pour ended at a moment may be stripped; None where it never may."""
        return self.at(mould, poured, self.ages.strip_h)

    def sides(self, mould: str, poured: datetime) -> datetime | None:
        """Since when its sides may come off; None where it has no bases, too."""
        age_h = self.ages.sides_h(self._kind(mould))
        return None if age_h is None else self.at(mould, poured, age_h)

    def at(self, mould: str, poured: datetime, age_h: float) -> datetime | None:
        """When what was poured into a mould is of an age in hours at 20 degC; None where it never is."""
        ripe = self._clocks.ripe_min(self._kind(mould), poured, age_h)
        return None if ripe >= NEVER else self._calendar.moment_of(ripe)

    def _kind(self, mould: str) -> MouldKind:
        return self._kinds[kind_named(mould)]
