"""Stock by the books: what came, what counts found and missed, and what went into foam that was weighed."""

from __future__ import annotations

from collections import defaultdict
from typing import TYPE_CHECKING

from blockrun.mix.bucket_of_foam import to_weigh_foam
from blockrun.planner.uses import AGENT

if TYPE_CHECKING:
    from datetime import date

    from blockrun.planner.begun.facts import Begun
    from blockrun.site import Delivery, Site


def besides(site: Site, begun: Begun | None, material: str) -> dict[date, float]:
    """What there was more of a material by day, or less, under nought, besides deliveries and what batches took.

    Batches to come wait for what goes into them alone; of those that were poured the foam weighed before is gone too.

    Parameters
    ----------
    site : whose foam is weighed.
    material : cement, in bags, or foaming agent, in litres.
    """
    found: defaultdict[date, float] = defaultdict(float)
    told = begun.recorded.get(material) if begun else None
    if begun is None or told is None:
        return found
    for sign, counts in ((1, told.found), (-1, told.missing)):
        for one in counts:
            found[one.day] += sign * one.amount
    if material == AGENT:
        for batch in begun.batches:
            found[batch.poured.date()] -= to_weigh_foam(site).agent_l
    return found


def there_and_to_come(
    site: Site, begun: Begun | None, material: str, on_hand: float, deliveries: tuple[Delivery, ...]
) -> tuple[float, tuple[Delivery, ...]]:
    """What batches may draw in all until a plan was made anew, and what comes later.

    It is no matter which of that came when: what was poured was poured.
    """
    if begun is None or material not in begun.recorded:
        return on_hand, deliveries
    today = begun.since.date()
    came = sum(one.amount for one in deliveries if one.day <= today)
    later = tuple(one for one in deliveries if one.day > today)
    return on_hand + came + sum(besides(site, begun, material).values()), later
