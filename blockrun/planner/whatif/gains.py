"""What a change saves against the yard as it is, and how sure that is."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from datetime import date

    from blockrun.planner.whatif.solved import Solved


@dataclass(frozen=True)
class Saved:
    """Block-days or days saved: as found between two plans, and between which numbers the truth lies.

    Each plan may be short of the best for its yard. What is truly saved, from the best plan without the change to the
    best with it, is ``least`` to ``most``; ``None`` where nothing is known. A change that only allows more never
    saves less than nothing.
    """

    found: int
    least: int | None
    most: int | None

    @property
    def proven(self) -> bool:
        """Whether what was found is what is truly saved."""
        return self.least == self.most == self.found

    @property
    def none_possible(self) -> bool:
        """Whether it is proved that nothing is saved."""
        return self.most is not None and self.most <= 0


def late_saved(now: Solved, then: Solved, *, allows_more: bool) -> Saved:
    """Block-days late that a change saves."""
    least = now.least_late - then.late
    return Saved(now.late - then.late, max(0, least) if allows_more else least, now.late - then.least_late)


def days_saved(now: Solved, then: Solved, *, allows_more: bool) -> Saved:
    """Calendar days by which the last pour comes sooner.

    How sure that is can be told only where both are as late, at the best: a bound of the last pour is one for plans no
    later than the one it was found for.
    """
    found = _days(now.finish, then.finish)
    if now.late == now.least_late == then.late == then.least_late:
        least = _days(now.soonest_finish, then.finish)
        return Saved(found, max(0, least) if allows_more else least, _days(now.finish, then.soonest_finish))
    return Saved(found, None, None)


def _days(before: date, after: date) -> int:
    return (before - after).days
