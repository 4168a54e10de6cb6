"""The foreman's rule, played well: in every way he knows, and the best kept."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from blockrun.order import Order
from blockrun.site import Site
from tests.bench.ledger import MINUTES_A_DAY
from tests.bench.rule.things import NoWayError, Worked, late_of
from tests.bench.rule.ways import Way, ways_with
from tests.bench.rule.yard import work

Reached = tuple[int, int, int, float]


def well_played(
    site: Site,
    order: Order,
    *,
    ways: Iterable[Way] | None = None,
    stop: Callable[[], bool] = lambda: False,
    enough: Callable[[], bool] = lambda: False,
) -> Worked:
    """The best of his plans by the four stages.

    Parameters
    ----------
    ways : those he plays; all he knows unless told.
    stop : ends the way that is being played.
    enough : asked when a plan is there; ends the looking for a better one.

    Raises
    ------
    NoWayError : none of his ways comes to an end.
    """
    best: tuple[Reached, Worked] | None = None
    for way in ways or ways_with(len(site.mixers)):
        try:
            worked = work(site, order, way=way, stop=stop)
        except NoWayError:
            continue
        if best is None or reached(worked) < best[0]:
            best = (reached(worked), worked)
        if enough():
            break
    if best is None:
        raise NoWayError
    return best[1]


def reached(worked: Worked) -> Reached:
    """Block-days late, number of the day of the last pour, batches, kilograms of cement."""
    finish = max(batch.start or 0 for batch in worked.batches) // MINUTES_A_DAY
    cement_kg = round(sum(batch.size.cement_kg for batch in worked.batches), 6)
    return (late_of(worked), finish, len(worked.batches), cement_kg)
