"""The way in: a problem is searched from end to end, by name and with plain arguments, in whatever process."""

from __future__ import annotations

from collections.abc import Callable

from blockrun.optimiser.best import Known
from blockrun.optimiser.changed import Last
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.outcome import Outcome
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.search import Search


def search(
    problem: Problem,
    seed: int,
    rounds: int,
    *,
    stop: Callable[[], bool],
    tell: Callable[[Known], None],
    limits: Limits | None = None,
    alone: bool = False,
    last: Last | None = None,
) -> Outcome:
    """Look for the best plan.

    Parameters
    ----------
    problem, seed, rounds : as for ``Search``.
    stop : asked all the time; once it says so, the best plan so far comes back.
    tell : hears of each better plan and each bound.
    limits : of the problem, where they are known already.
    alone : begin no second process.
    last : the answer to a problem that differs little, to begin from.
    """
    limits = limits or Limits(problem)
    takes = limits.weighing.least_cement, limits.weighing.least_agent
    if takes[0] > problem.cement.ever or takes[1] > problem.agent.ever:
        return Outcome(None, takes=takes)
    doing = Search(problem, limits, Effort(1.0, stop, seed), tell, rounds, alone, last)
    found = doing.run()
    if found is not None or stop():
        return Outcome(found)
    return Outcome(None, doing.bounds.stock_is_short, doing.bounds.impossible)
