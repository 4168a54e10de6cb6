"""A plan with fewer batches is a plan, and no worse; small ones that others have room for are shared out."""

from __future__ import annotations

from dataclasses import replace
from random import Random

import pytest

from blockrun.optimiser.begun import settled
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.quick.fewer import with_fewer
from blockrun.optimiser.quick.follow import followed
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.play import Play
from blockrun.optimiser.quick.policy import Manner, Policy, drawn
from blockrun.optimiser.score import score
from blockrun.optimiser.state import State
from tests.optimiser import cut
from tests.optimiser.going_on import broken as broken_since
from tests.optimiser.quick.kept import broken
from tests.optimiser.quick.test_plays import briefed, never
from tests.optimiser.small import LOAD, YARD
from tests.optimiser.test_begun import WRONG, planned
from tests.yards import a_yard
from tests.yards_more import a_yard_with_more

SMALL_BATCHES = Policy(share=0.4)
SEEDS = range(12)


def play(ground: Ground, policy: Policy, seed: str = "") -> State | None:
    return Play(ground, (Manner(policy, seed),), never).run()


def ground_of(problem: Problem) -> Ground:
    return Ground(problem, Limits(problem))


def test_two_batches_of_one_block_each_are_one_of_two() -> None:
    ground = ground_of(YARD)
    plan = play(ground, SMALL_BATCHES)
    assert plan is not None
    assert [sum(batch.content.values()) for batch in plan.batches] == [1, 1, 1, 1]
    fewer = with_fewer(ground, plan, never)
    assert [sum(batch.content.values()) for batch in fewer.batches] == [2, 2]
    assert broken(YARD, fewer) == []
    assert score(YARD, fewer).finish == score(YARD, plan).finish


def test_two_batches_of_a_small_mixer_are_one_of_a_big_one() -> None:
    small = replace(LOAD, mixer=1, cement=1, room=LOAD.room // 2)
    plan = play(ground_of(replace(YARD, loads=(small,))), Policy())
    both = replace(YARD, loads=(small, LOAD))
    assert plan is not None
    assert [batch.load.mixer for batch in plan.batches] == [1, 1, 1, 1]
    fewer = with_fewer(ground_of(both), plan, never)
    assert [batch.load.mixer for batch in fewer.batches] == [0, 0]
    assert broken(both, fewer) == []


def test_a_plan_of_full_batches_stays_as_it_is() -> None:
    ground = ground_of(YARD)
    plan = play(ground, Policy())
    assert plan is not None
    assert with_fewer(ground, plan, never) is plan


def test_it_ends_when_told_to() -> None:
    ground = ground_of(YARD)
    plan = play(ground, SMALL_BATCHES)
    assert plan is not None
    assert with_fewer(ground, plan, lambda: True) is plan


def test_whatever_was_played_it_keeps_the_rules_and_often_saves_batches() -> None:
    saved = 0
    for seed in SEEDS:
        for yard in (a_yard(seed), a_yard_with_more(seed)):
            problem = briefed(yard).problem
            ground, dice = ground_of(problem), Random(seed)
            for policy in (SMALL_BATCHES, drawn(dice)):
                plan = play(ground, policy, f"{seed}")
                if plan is not None:
                    fewer = with_fewer(ground, plan, never)
                    assert broken(problem, fewer) == [], seed
                    assert score(problem, fewer).stages <= score(problem, plan).stages, seed
                    saved += len(fewer.batches) < len(plan.batches)
    assert saved > len(SEEDS)


@pytest.mark.parametrize("seed", [3, 8, 14, 28])
@pytest.mark.parametrize("what", ["nothing", *WRONG])
def test_what_was_made_before_stays_as_it_was(seed: int, what: str) -> None:
    problem, plan = planned("yard", seed)
    dice = Random(f"fewer {seed} {what}")
    of = WRONG[what](cut.cut(problem, plan, cut.some_minute(problem, plan, dice)), dice)
    begun = settled(of.problem, of.begun)
    ground = Ground(of.problem, Limits(of.problem, begun))
    going_on = followed(ground, of.old, 0, never).plan or play(ground, SMALL_BATCHES)
    if going_on is not None:
        fewer = with_fewer(ground, going_on, never)
        assert broken_since(of.problem, of.begun, fewer) == []
        assert score(of.problem, fewer).stages <= score(of.problem, going_on).stages
