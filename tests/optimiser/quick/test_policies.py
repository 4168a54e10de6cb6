"""Policies are drawn and changed as a yard makes sense of them."""

from __future__ import annotations

from dataclasses import fields, replace
from random import Random

import pytest

from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.play import Play
from blockrun.optimiser.quick.policy import OPENINGS, Manner, Policy, drawn, fuller, near
from blockrun.optimiser.quick.pouring import Pouring
from blockrun.optimiser.state import State
from tests.optimiser.quick.test_plays import briefed
from tests.optimiser.small import BLOCK, MOULD, YARD, frost_on
from tests.yards import a_yard


def ground(problem: Problem) -> Ground:
    return Ground(problem, Limits(problem))


def played(problem: Problem, policy: Policy, seed: str = "") -> State:
    state = Play(ground(problem), (Manner(policy, seed),), lambda: False).run()
    assert state is not None
    return state


def poured(state: State) -> list[dict[int, int]]:
    return [batch.content for batch in state.batches]


@pytest.mark.parametrize("seed", range(50))
def test_a_policy_near_another_does_one_to_three_things_differently_and_none_of_those_left_out(seed: int) -> None:
    dice, but = Random(seed), {"wary", "small"}
    policy = drawn(dice)
    changed = near(policy, dice, but)
    names = {of.name for of in fields(Policy) if getattr(policy, of.name) != getattr(changed, of.name)}
    assert 1 <= len(names) <= 3
    assert not names & but


def test_what_hardly_ever_makes_a_plan_better_is_changed_seldom_but_is() -> None:
    dice, policy = Random(0), OPENINGS[0]
    changed = [near(policy, dice) for _ in range(1_000)]
    portions, waits = (
        sum(getattr(of, name) != getattr(policy, name) for of in changed) for name in ("portion", "wait")
    )
    assert 0 < 3 * portions < waits


@pytest.mark.parametrize("seed", range(20))
def test_fuller_batches_are_asked_for_by_some_of_what_makes_them_so(seed: int) -> None:
    values = fuller(Random(seed))
    assert 2 <= len(values) <= 5
    assert values.keys() <= {"full", "hold", "patience", "share", "small"}
    assert values.get("full", 1.0) >= 0.9
    assert values.get("share", 1.0) == 1.0


def test_what_makes_no_difference_in_a_yard_is_known() -> None:
    assert ground(YARD).indifferent == {"most_wanted", "wary", "small", "fullest", "slack"}
    dated = replace(YARD, formats=(replace(BLOCK, needs=((5, 1),)),), clear_until=frost_on(8))
    assert ground(dated).indifferent == {"most_wanted", "small", "fullest"}
    assert {"in_line", "share_rack"} <= ground(replace(YARD, rack_for=0)).indifferent


def test_the_small_come_first_or_the_big() -> None:
    formats = (replace(BLOCK, demand=2), replace(BLOCK, demand=2, volume=40))
    problem = replace(YARD, formats=formats, moulds=(replace(MOULD, count=1, casts=frozenset({0, 1})),))
    # batches are filled to two fifths only, so that none is filled up with what comes later
    small, big = (poured(played(problem, Policy(slack=0, first=first, share=0.4))) for first in ("small", "big"))
    assert list(small[0]) == [1]
    assert list(big[0]) == [0]


def test_moulds_with_the_most_blocks_are_stripped_first() -> None:
    moulds = (replace(MOULD, count=1, cavities=1), replace(MOULD, count=1, cavities=3))
    problem = replace(
        YARD,
        days=tuple(replace(day, people=1) for day in YARD.days),
        moulds=moulds,
        ripe_strip=YARD.ripe_strip * 2,
        ripe_sides=(None, None),
    )
    first = min(played(problem, Policy(strip_by="blocks", strips="all")).turns, key=lambda turn: turn.strip.start)  # type: ignore[union-attr]
    assert first.blocks == 3


@pytest.mark.parametrize("seed", [0, 6, 8, 9])
def test_batches_that_would_wait_in_any_case_are_not_filled_to_see_it(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    problem = briefed(a_yard(seed)).problem
    policies = [policy for policy in OPENINGS if policy.full]
    quickly = [poured(played(problem, policy)) for policy in policies]
    monkeypatch.setattr(Pouring, "_would_wait", lambda *_: False)
    assert [poured(played(problem, policy)) for policy in policies] == quickly


def test_blocks_that_can_hardly_be_in_time_any_more_are_overdue() -> None:
    problem = replace(YARD, formats=(replace(BLOCK, demand=4, needs=((5, 2), (7, 1))),))
    of = ground(problem)
    assert of.lead == 2
    assert [of.overdue([4], day) for day in (2, 3, 4, 5)] == [0, 2, 2, 3]
    assert of.overdue([3], 3) == 1
    assert of.overdue([0], 9) == 0
