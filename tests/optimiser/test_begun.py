"""Plans that go on from a yard in the middle of the job, whatever went wrong before: rules, past and bounds."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import cache
from random import Random

import pytest

from blockrun.optimiser.begun import settled
from blockrun.optimiser.best import Known
from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.entry import search
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.outcome import Outcome
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.tries import Tried, Tries
from blockrun.optimiser.state import State
from tests.optimiser import cut
from tests.optimiser.cut import Cut
from tests.optimiser.going_on import broken
from tests.optimiser.quick.test_plays import briefed
from tests.optimiser.tiny_yards import WITHOUT_STACK
from tests.yards import a_yard
from tests.yards_more import a_yard_with_more

EFFORT = Effort(1.0, lambda: False)
WRONG: dict[str, Callable[[Cut, Random], Cut]] = {
    "nothing": lambda of, _: of,
    "a batch is flat": lambda of, rng: cut.flat(of, rng.choice(of.begun.batches)),
    "blocks break": cut.broken,
    "a mould less": cut.a_mould_less,
    "a day closed": cut.a_day_closed,
    "people away": cut.people_away,
    "a turn is worthless": cut.a_worthless_turn,
    "a turn sets slowly": cut.a_slow_turn,
}
TINY = [(kind, seed, what) for kind in WITHOUT_STACK for seed in (2, 3, 8, 28) for what in WRONG]
CASES = [*TINY, ("yard", 3, "a mould less"), ("more", 3, "a batch is flat")]


@cache
def planned(kind: str, seed: int) -> tuple[Problem, State]:
    """A problem and the best of its quick plays."""
    makers: dict[str, Callable[[int], Problem]] = {
        **WITHOUT_STACK,
        "yard": lambda seed: briefed(a_yard(seed)).problem,
        "more": lambda seed: briefed(a_yard_with_more(seed)).problem,
    }
    problem = makers[kind](seed)
    return problem, min(plays(problem), key=lambda tried: tried.score).state


def plays(problem: Problem, begun: State | None = None) -> Iterator[Tried]:
    return Tries(Ground(problem, Limits(problem, begun)), 0, lambda: False).openings()


@cache
def case(kind: str, seed: int, what: str) -> tuple[Cut, Outcome]:
    problem, plan = planned(kind, seed)
    rng = Random(f"{kind} {seed} {what}")
    of = WRONG[what](cut.cut(problem, plan, cut.some_minute(problem, plan, rng)), rng)
    found = search(of.problem, 0, 0, of.begun, stop=lambda: False, tell=lambda _: None, alone=True)
    return of, found


@pytest.mark.parametrize(("kind", "seed", "what"), CASES)
def test_plans_keep_the_rules_and_leave_the_past_alone(kind: str, seed: int, what: str) -> None:
    of, outcome = case(kind, seed, what)
    begun = settled(of.problem, of.begun)
    plans = [tried.state for tried in plays(of.problem, begun)]
    if outcome.found is None:
        assert outcome.impossible
        assert plans == []
        return
    plans += [outcome.found.state, outcome.found.with_left_over(of.problem).state]
    assert [broken(of.problem, of.begun, plan) for plan in plans] == [[]] * len(plans)


@pytest.mark.parametrize(("kind", "seed", "what"), CASES)
def test_no_bound_is_above_any_plan_that_goes_on_from_there(kind: str, seed: int, what: str) -> None:
    of, outcome = case(kind, seed, what)
    if outcome.found is None:
        return
    begun, best = settled(of.problem, of.begun), outcome.found.score
    good = [best.stages, *(tried.score.stages for tried in plays(of.problem, begun))]
    bounds = Bounds(of.problem, Limits(of.problem, begun), EFFORT)
    assert outcome.found.sound
    assert kind not in WITHOUT_STACK or not bounds.impossible
    for stage, bound in enumerate((bounds.late, bounds.finish, bounds.batches, bounds.cement)):
        least = bound(best)
        assert all(least <= value[stage] for value in good), stage
        good = [value for value in good if value[stage] <= best.stages[stage]]


def test_a_search_that_is_ended_at_its_first_plan_knows_what_is_done_already() -> None:
    of, _ = case("more", 3, "a batch is flat")
    known: list[Known] = []

    search(of.problem, 0, 0, of.begun, stop=lambda: bool(known), tell=known.append, alone=True)
    first = known[0].found()
    assert of.begun.batches
    assert first.bounds[1] >= of.problem.days[0].number > 0
    assert first.bounds[2] >= len(of.begun.batches)
    assert first.bounds[3] >= of.begun.cement() > 0


@pytest.mark.parametrize("kind", ["plain", "cubed", "yard"])
def test_where_all_is_poured_the_last_pour_is_proven_from_the_first_plan_on(kind: str) -> None:
    problem, plan = planned(kind, 3)
    of = cut.cut(problem, plan, max(batch.pour_to for batch in plan.batches) + 1)
    told: list[Known] = []
    search(of.problem, 0, 0, of.begun, of.old, stop=lambda: bool(told), tell=told.append, alone=True)
    first = told[0].found()
    assert first.bounds[1:] == first.score.stages[1:]
