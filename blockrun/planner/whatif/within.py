"""All changes of a yard tried within a time: quickly first, so that each has an answer soon, then with more work."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING

from blockrun.errors import NoPlanInTime
from blockrun.planner.whatif.tried import Tried, try_changes

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.planner.plan import Stop
    from blockrun.planner.whatif.changes import Change
    from blockrun.site import Site


def try_changes_within(
    site: Site,
    order: Order,
    *,
    rounds: int,
    workers: int,
    stop: Stop,
    tell: Callable[[str], None] = lambda _: None,
    offered: Sequence[Change] | None = None,
) -> Tried:
    """What comes of all changes with as much work as there is time for: the least, or that of ``rounds``.

    Answers of little work and of much are not compared with each other, so of two tries the later one counts only
    where it came to its end.

    Parameters and errors are those of `try_changes`; ``stop`` ends the time.
    """
    trial = partial(try_changes, site, order, workers=workers, stop=stop, offered=offered)
    quick = trial(rounds=0, tell=tell)
    if rounds == 0:
        return quick
    quick = replace(quick, is_quick=True)
    if not quick.is_whole or stop():
        return quick
    try:
        longer = trial(rounds=rounds, tell=lambda words: tell(f"once more, with more work: {words}"))
    except NoPlanInTime:
        return quick
    return longer if longer.is_whole else quick
