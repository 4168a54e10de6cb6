"""An old plan that is followed is itself where nothing went wrong, and keeps the rules where something did."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from random import Random

import pytest

from blockrun.optimiser.begun import settled
from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.entry import search
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.otherwise import Otherwise
from blockrun.optimiser.problem import Cubes, Problem
from blockrun.optimiser.quick.follow import Followed, followed
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.score import score
from blockrun.optimiser.state import State, Turn
from tests.optimiser import cut
from tests.optimiser.cut import Cut
from tests.optimiser.going_on import broken
from tests.optimiser.quick.test_plays import briefed
from tests.optimiser.test_begun import EFFORT, WRONG, planned, plays
from tests.optimiser.tiny_yards import WITHOUT_STACK
from tests.yards import a_yard

SEEDS = (0, 2, 3, 5, 6, 7, 8, 12, 15, 28)
TINY = [(kind, seed) for kind in WITHOUT_STACK for seed in SEEDS]
YARDS = [("yard", 3), ("yard", 14), ("yard", 28), ("more", 3), ("more", 8)]


def cut_at(kind: str, seed: int, what: str, nth: int = 0) -> Cut:
    problem, plan = planned(kind, seed)
    rng = Random(f"follow {kind} {seed} {what} {nth}")
    return WRONG[what](cut.cut(problem, plan, cut.some_minute(problem, plan, rng)), rng)


@cache
def with_sets(seed: int, every: int) -> tuple[Problem, State]:
    """A yard that casts a set of cubes of each mix for each lot of so many days, and the best of its quick plays."""
    problem = briefed(a_yard(seed)).problem
    volume = min(load.room for load in problem.loads) // 10
    problem = replace(problem, cubes=Cubes(volume, (), days=tuple(range(1, problem.horizon, every))))
    return problem, min(plays(problem), key=lambda tried: tried.score).state


def follow(of: Cut) -> Followed:
    begun = settled(of.problem, of.begun)
    return followed(Ground(of.problem, Limits(of.problem, begun)), of.old, 2, lambda: False)


def looks(turn: Turn) -> tuple[object, ...]:
    fills = sorted((number, batch.start, batch.load.mixer) for number, batch in turn.fills)
    return turn.mould, turn.start, turn.poured, str(turn.sides), str(turn.strip), str(turn.clean), turn.blocks, fills


def minutes(plan: State) -> tuple[object, ...]:
    batches = sorted(
        (batch.start, batch.load.mixer, batch.load.cement, batch.cubes, sorted(batch.content.items()))
        for batch in plan.batches
    )
    return batches, sorted(map(looks, plan.turns), key=repr)


@pytest.mark.parametrize(("kind", "seed"), TINY + YARDS)
def test_where_nothing_went_wrong_it_is_the_old_plan_to_the_minute(kind: str, seed: int) -> None:
    _, plan = planned(kind, seed)
    for nth in range(3):
        carried_on = follow(cut_at(kind, seed, "nothing", nth)).plan
        assert carried_on is not None
        assert minutes(carried_on) == minutes(plan)


@pytest.mark.parametrize(("kind", "seed"), TINY + YARDS)
def test_whatever_went_wrong_it_keeps_the_rules(kind: str, seed: int) -> None:
    for what in WRONG:
        of = cut_at(kind, seed, what)
        plan = follow(of).plan
        assert plan is None or broken(of.problem, of.begun, plan) == [], what


@pytest.mark.parametrize(("kind", "seed"), TINY[::2])
def test_no_bound_is_above_it(kind: str, seed: int) -> None:
    for what in WRONG:
        of = cut_at(kind, seed, what)
        plan = follow(of).plan
        if plan is not None:
            reached = score(of.problem, plan)
            bounds = Bounds(of.problem, Limits(of.problem, settled(of.problem, of.begun)), EFFORT)
            for stage, bound in enumerate((bounds.late, bounds.finish, bounds.batches, bounds.cement)):
                assert bound(reached) <= reached.stages[stage], (what, stage)


@pytest.mark.parametrize(("kind", "seed"), [*TINY[::3], ("yard", 3)])
def test_a_search_that_goes_on_is_no_worse_and_changes_nothing_but_for_a_better_plan(kind: str, seed: int) -> None:
    for what in WRONG:
        of = cut_at(kind, seed, what)
        outcome = search(of.problem, 0, 0, of.begun, of.old, stop=lambda: False, tell=lambda _: None, alone=True)
        if outcome.found is not None:
            assert broken(of.problem, of.begun, outcome.found.state) == []
        if outcome.carried_on is not None:
            assert outcome.found is not None
            assert outcome.found.sound
            assert outcome.found.score.stages <= outcome.carried_on.stages
        if what == "nothing" and outcome.carried_on is not None and outcome.found is not None:
            same = outcome.found.score.stages == outcome.carried_on.stages
            assert not same or Otherwise(of.problem, of.old)(outcome.found.state) == 0


def test_of_a_plan_without_what_stands_all_is_emptied_as_soon_as_can_be() -> None:
    of = cut_at("yard", 14, "nothing")
    poured = {id(batch) for batch in of.old.batches}
    turns = [turn for turn in of.old.turns if any(id(batch) in poured for _, batch in turn.fills)]
    plan = follow(Cut(of.problem, of.begun, State(0, turns, of.old.batches))).plan
    assert plan is not None
    assert broken(of.problem, of.begun, plan) == []


@pytest.mark.parametrize(("seed", "every"), [(23, 1), (27, 1), (27, 4)])
def test_a_day_gives_its_set_of_cubes_though_the_batch_that_was_to_give_it_waits(seed: int, every: int) -> None:
    problem, plan = with_sets(seed, every)
    for what in WRONG:
        for nth in range(2):
            rng = Random(f"follow cubes {seed} {what} {nth}")
            of = WRONG[what](cut.cut(problem, plan, cut.some_minute(problem, plan, rng)), rng)
            carried_on = follow(of).plan
            assert carried_on is not None, what
            assert broken(of.problem, of.begun, carried_on) == [], what
