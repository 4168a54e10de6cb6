"""The way in: a problem is searched from end to end, by name and with plain arguments, in whatever process."""

from __future__ import annotations

from collections.abc import Callable

from blockrun.optimiser.begun import settled
from blockrun.optimiser.best import Known
from blockrun.optimiser.changed import Last
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.outcome import Outcome
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.search import Search
from blockrun.optimiser.state import State


def search(
    problem: Problem,
    seed: int,
    rounds: int,
    begun: State | None = None,
    old: State | None = None,
    *,
    stop: Callable[[], bool],
    tell: Callable[[Known], None],
    limits: Limits | None = None,
    alone: bool = False,
    last: Last | None = None,
) -> Outcome:
    """Look for the best plan, or for the best way to go on from the yard as it stands.

    Parameters
    ----------
    problem, seed, rounds : as for ``Search``.
    begun : the yard as it stands when the first day of the problem opens. ``batches`` are all that were poured, in the
        order of the clock, with the good blocks that came of each; ``turns`` what stands in moulds, in whatever order,
        and all that was stripped; each batch has as many of a casting as the turns have that it fills. What is in
        stock is what came less what these batches took. All that began before ``problem.opens`` is history: it counts
        in every stage, no rule is held against it, and plans have it first and as it was, turns and batches in order.
    old : what the plan before still had of batches and turns, with its minutes, where some follow it already. Turns
        that none of its batches fill are those that stand in ``begun``, all of them and in their order, as it was to
        empty them; without any they are emptied as soon as can be. Of plans that are equal in all stages that one wins
        which does least otherwise on the next working days.
    stop : asked all the time; once it says so, the best plan so far comes back.
    tell : hears of each better plan and each bound.
    limits : of the problem, where they are known already; those of a yard that is begun are worked out anew.
    alone : begin no second process.
    last : the answer to a problem that differs little, to begin from.
    """
    if begun is not None:
        begun = settled(problem, begun)
        limits = None
    limits = limits or Limits(problem, begun)
    takes = limits.weighing.least_cement, limits.weighing.least_agent
    if takes[0] > problem.cement.ever or takes[1] > problem.agent.ever:
        return Outcome(None, takes=takes)
    doing = Search(problem, limits, Effort(1.0, stop, seed), tell, rounds, alone, last, old)
    found = doing.run()
    if found is not None or stop():
        return Outcome(found, carried_on=doing.carried_on)
    return Outcome(None, doing.bounds.stock_is_short, doing.bounds.impossible)
