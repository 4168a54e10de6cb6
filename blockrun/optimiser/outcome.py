"""What comes of a search; apart from it, so that it can be handed over without what searches."""

from __future__ import annotations

from dataclasses import dataclass

from blockrun.optimiser.best import Found
from blockrun.optimiser.score import Score


@dataclass(frozen=True)
class Outcome:
    """The best plan, or what is known of why there is none.

    Attributes
    ----------
    found : the best plan; ``None`` when there is none, or no time for one.
    stock_is_short : without a plan: proved that cement or agent alone stands in the way.
    impossible : without a plan: proved that no plan pours everything in the days of the problem.
    takes : without a plan: the cement and agent that the order takes at the least, where that is more than ever comes.
    broke : what broke the search off, if something did.
    carried_on : what the plan before comes to when it is followed to its end as it is; ``None`` where that has none.
    """

    found: Found | None
    stock_is_short: bool = False
    impossible: bool = False
    takes: tuple[int, int] | None = None
    broke: str | None = None
    carried_on: Score | None = None
