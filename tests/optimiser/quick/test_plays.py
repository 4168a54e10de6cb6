"""Quick plays are real plans, whatever the policy."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import islice
from random import Random

import pytest

from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.play import Play
from blockrun.optimiser.quick.policy import OPENINGS, Manner, Policy, drawn
from blockrun.optimiser.quick.tries import Pool, Tried, Tries
from blockrun.optimiser.rounds import Length
from blockrun.optimiser.score import Score, score
from blockrun.optimiser.state import State, left_each_evening, morning
from blockrun.planner.audit import audit
from blockrun.planner.brief import Brief, brief
from blockrun.planner.sawing import settle_sawing
from blockrun.planner.wanted import wanted
from blockrun.planner.write import write_tables
from tests.optimiser.quick.kept import broken
from tests.optimiser.tiny import tried
from tests.optimiser.tiny_yards import CUBED_SEEDS, KINDS, POUR_DAYS, SAWN_SEEDS, SEEDS
from tests.yards import Yard, a_yard
from tests.yards_more import a_yard_with_more

TINY = [
    (seed, kind) for kind, seeds in (("plain", SEEDS), ("sawn", SAWN_SEEDS), ("cubed", CUBED_SEEDS)) for seed in seeds
]
DRAWN = 6
FIRST = (Manner(OPENINGS[0]),)
LONG_DAYS = 300


def never() -> bool:
    return False


def tries_of(problem: Problem) -> Tries:
    return Tries(Ground(problem, Limits(problem)), 0, never)


def briefed(yard: Yard) -> Brief:
    lines = wanted(yard.site, yard.order)
    sawing = settle_sawing(yard.site, yard.order, lines)
    return brief(yard.site, yard.order, LONG_DAYS, sawing)


def played(problem: Problem) -> Iterator[State]:
    """Plans by the set policies and some of the dice."""
    tries = tries_of(problem)
    yield from (each.state for each in some(tries))


def some(tries: Tries) -> list[Tried]:
    known: list[Tried] = [*tries.openings()]
    tries.improved(list(known), DRAWN, "test", known.append)
    return known


def faults(asked: Brief, state: State) -> list[str]:
    tables = write_tables(asked, state)
    found = audit(asked.site, asked.order, tables, (), None)
    return [finding.said for finding in found if finding.rule not in {"four stages", "stage values"}]


@pytest.mark.parametrize("seed", range(30))
def test_the_audit_finds_nothing_in_any_play(seed: int) -> None:
    asked = briefed(a_yard(seed))
    plans = list(played(asked.problem))[seed % 4 :: 4]  # an audit takes far longer than a play
    assert plans
    assert [faults(asked, plan) for plan in plans] == [[]] * len(plans)


@pytest.mark.parametrize("seed", range(20))
def test_nor_where_slabs_are_sawn_and_test_cubes_cast(seed: int) -> None:
    asked = briefed(a_yard_with_more(seed))
    plans = list(played(asked.problem))[seed % 4 :: 4]
    assert [fault for plan in plans for fault in faults(asked, plan)] == []


@pytest.mark.parametrize(("seed", "kind"), TINY)
def test_tiny_plans_keep_every_rule(seed: int, kind: str) -> None:
    problem = KINDS[kind](seed)
    assert [fault for plan in played(problem) for fault in broken(problem, plan)] == []


def best_of(seed: int, kind: str) -> Tried | None:
    tries = tries_of(KINDS[kind](seed))
    known = Pool(tries.openings())
    for round_ in range(2) if known.plans else ():
        for better in tries.improved(known.plans, 60, f"test {round_}"):
            known.keep(better)
    return known.best if known.plans else None


@pytest.mark.parametrize(("seed", "kind"), TINY)
def test_no_play_is_better_than_the_best_of_all_plans(seed: int, kind: str) -> None:
    # every plan there is was tried, of those poured within the first days
    best, last = best_of(seed, kind), KINDS[kind](seed).days[POUR_DAYS - 1].number
    least = min(tried(seed, kind), default=None)
    if best is not None and best.score.finish <= last:
        assert least is not None
        assert best.score.stages >= least


def test_where_no_plan_is_known_plays_begin_on_the_first_day() -> None:
    assert tries_of(briefed(a_yard(3)).problem).improved((), 4, "test")


def test_the_same_dice_play_the_same() -> None:
    problem = briefed(a_yard(3)).problem
    one, other = ([each.score for each in some(tries_of(problem))] for _ in range(2))
    assert one == other


def test_a_plan_played_on_gets_better() -> None:
    tries = tries_of(briefed(a_yard(14)).problem)
    first = next(tries.openings())
    assert min(each.score for each in tries.improved([first], 150, "test")) < first.score


def test_a_pool_keeps_what_is_better_somewhere_the_best_first() -> None:
    late, slow, many, worse = (
        Tried(State(), Score(*stages, pours=0, turns=0))
        for stages in ((4, 5, 9, 40), (0, 8, 9, 40), (0, 7, 11, 44), (4, 8, 11, 41))
    )
    assert Pool([worse, late, slow, many]).plans == [many, slow, late]


def test_of_plans_alike_in_all_stages_a_pool_keeps_the_one_that_pours_sooner() -> None:
    later, sooner = (Tried(State(), Score(0, 7, 9, 40, pours, 3)) for pours in (900, 700))
    assert Pool([later, sooner]).plans == Pool([sooner, later]).plans == [sooner]


def test_a_play_that_is_stopped_comes_to_nothing() -> None:
    problem = briefed(a_yard(3)).problem
    asked: list[int] = []

    def stop() -> bool:
        asked.append(1)
        return len(asked) > 3

    assert Play(Ground(problem, Limits(problem)), FIRST, stop).run() is None
    assert list(Tries(Ground(problem, Limits(problem)), 0, lambda: True).openings()) == []


def test_a_play_that_falls_behind_its_pace_is_given_up_and_no_other() -> None:
    problem = briefed(a_yard(3)).problem
    ground = Ground(problem, Limits(problem))

    def played(pace: Sequence[int] = ()) -> State | None:
        return Play(ground, FIRST, never, pace).run()

    plan = played()
    assert plan is not None
    evenings = left_each_evening(problem, plan)
    assert evenings[0] > 0 == evenings[-1]
    assert score(problem, played(evenings) or State()) == score(problem, plan)
    assert played([evenings[0] - 1]) is None


def test_a_plan_with_fuller_batches_on_some_days_keeps_the_manners_of_all_others() -> None:
    tries = tries_of(briefed(a_yard(3)).problem)
    like = replace(next(tries.openings()), manners=(Manner(Policy(strips="all", share=0.4), "like"),))
    changed = 0
    for seed in range(10):
        for made in tries._fuller(like, Random(seed)):
            others = [of for of in made.manners if of != like.manners[0]]
            changed += bool(others)
            assert len(made.manners) == 1 + tries.ground.problem.position(like.score.finish)
            assert {(of.seed, of.policy.strips) for of in made.manners} == {("like", "all")}
            assert len(set(others)) <= 1
    assert changed > 0


def test_how_many_plays_there_are_hangs_on_the_blocks_and_the_days_alone() -> None:
    small, big = (tries_of(briefed(a_yard(3, blocks)).problem) for blocks in ((100, 100), (800, 800)))
    assert small.worth_while(5) > 2 * big.worth_while(5) > 0
    assert big.for_two
    assert not tries_of(briefed(a_yard(3, (20, 20))).problem).for_two
    assert [small.length(3), small.length(5), big.length(10), big.length(80)] == [*Length]
    assert big.worth_while(80) == big.worth_while(500) > 4 * big.worth_while(5)


def test_plans_are_put_together_lap_by_lap_where_a_round_has_plays_enough_and_no_endless_one() -> None:
    big, bigger = (tries_of(briefed(a_yard(3, (blocks, blocks))).problem) for blocks in (800, 3200))
    assert [big.for_laps(days) for days in (3, 10, 80)] == [False, True, True]
    assert not bigger.for_laps(80)


def a_plan(problem: Problem, **changed: int) -> Tried:
    tried = next(tries_of(problem).openings())
    return replace(tried, score=replace(tried.score, **changed))


def test_a_plan_that_pours_less_on_its_last_day_is_kept_though_it_takes_more_batches() -> None:
    problem = briefed(a_yard(3)).problem
    plans = list(tries_of(problem).openings())
    last = {plan.to_a_sooner_day for plan in plans}
    assert len(last) > 1, "plans of which none is nearer to a sooner day show nothing"
    assert Pool(plans).near[0].to_a_sooner_day == min(last)


def test_a_pool_that_is_full_gives_up_its_worst_plan_but_knows_those_near_a_sooner_day() -> None:
    problem = briefed(a_yard(3)).problem
    few_batches = [a_plan(problem, batches=50 - n, cement=300 + n) for n in range(12)]
    nearest = a_plan(problem, batches=60, cement=400, pours=1)
    pool = Pool([*few_batches, nearest])
    assert pool.near[0] is nearest
    assert nearest in pool.all
    assert len(pool.plans) == 8
    assert pool.best.score.batches == 39


def test_policies_of_the_same_dice_are_the_same() -> None:
    assert drawn(Random(5)) == drawn(Random(5)) != drawn(Random(6))


def test_a_plan_played_on_from_its_end_is_as_good() -> None:
    problem = briefed(a_yard(3)).problem
    ground = Ground(problem, Limits(problem))
    plan = Play(ground, FIRST, never).run()
    assert plan is not None
    assert score(problem, plan) == score(problem, Play(ground, (Manner(OPENINGS[1]),), never).run(plan) or State())


@pytest.mark.parametrize("seed", range(4))
def test_a_plan_is_played_again_by_its_manners(seed: int) -> None:
    problem = briefed(a_yard(seed)).problem
    tries = tries_of(problem)
    plans = [plan for plan in some(tries) if len(plan.manners) > 1]
    assert plans
    for plan in plans:
        again = Play(tries.ground, plan.manners, never).run()
        assert again is not None
        assert score(problem, again) == plan.score


def test_another_manner_on_some_days_leaves_the_days_before_as_they_were_and_the_later_manners_too() -> None:
    problem = briefed(a_yard(3)).problem
    tries, dice = tries_of(problem), Random(0)
    first = next(iter(tries.openings()))
    changed = [plan for _ in range(40) for plan in tries.improved([first], 1, f"{dice.random()}")]
    some_days = [plan for plan in changed if plan.manners[-1] == first.manners[-1] and len(plan.manners) > 1]
    assert some_days
    for plan in some_days:
        day = next(n for n, manner in enumerate(plan.manners) if manner != first.manners[0])
        number = problem.days[day].number
        assert morning(plan.state, number, day).batches == morning(first.state, number, day).batches


def test_a_policy_may_leave_the_smaller_of_two_mixers_alone() -> None:
    yards = (briefed(a_yard(seed)).problem for seed in range(60))
    two = [*islice((problem for problem in yards if Ground(problem, Limits(problem)).has_small_mixers), 3)]
    assert len(two) == 3
    for problem in two:
        ground = Ground(problem, Limits(problem))
        plan = Play(ground, (Manner(Policy(small=0.0)),), never).run()
        assert plan is not None
        assert {
            batch.load.mixer for batch in plan.batches if batch.load.mixer not in ground.biggest_mixers[batch.load.mix]
        } == set()
