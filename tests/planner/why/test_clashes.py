"""Clashes known by hand: the rules found are those, none of them could be left out, and the numbers are the yard's."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache, reduce

import pytest
import yard_of_slabs

from blockrun.optimiser.engine import Effort
from blockrun.order import Order
from blockrun.planner.brief import brief
from blockrun.planner.make import make_plan
from blockrun.planner.plan import never
from blockrun.planner.sawing import settle_sawing
from blockrun.planner.wanted import wanted
from blockrun.planner.whatif.changes import more_moulds
from blockrun.planner.why.clash import Clash, Filter
from blockrun.planner.why.explain import explain
from blockrun.planner.why.facts import (
    Age,
    Cold,
    Explained,
    Ground,
    Lower,
    Mixers,
    Moulds,
    Nights,
    People,
    Racks,
    Stock,
)
from blockrun.planner.why.goals import dated_goals
from blockrun.planner.why.rules import Thing, rules_of
from blockrun.planner.why.told import explained
from blockrun.site import Crew, Site, Stack, Weather
from blockrun.site.crew import Absence
from tests.planner.first import can_be_on_time
from tests.planner.why.by_hand import (
    CALENDAR,
    CLASHES,
    DRUM,
    ENOUGH,
    HORIZON,
    MANY_PEOPLE,
    MONDAY,
    ON_BASES,
    SMALL_DRUM,
    a_site,
    an_order,
    gangs,
    needed_on,
    stock,
)

pytestmark = pytest.mark.xdist_group("clashes")  # each is found once


@dataclass(frozen=True)
class Found:
    finder: Filter
    clash: Clash


def finder(name: str) -> Filter:
    site, order, *_ = CLASHES[name]
    return Filter(brief(site, order, HORIZON), Effort(1.0, never), lambda _: None)


@cache
def found(name: str) -> Found:
    of = finder(name)
    (goal,) = dated_goals(of.asked.problem)
    clash = of.clash(goal)
    assert clash is not None
    return Found(of, clash)


def said(name: str) -> Explained:
    of = found(name)
    return explained(of.finder, of.clash)


@pytest.mark.parametrize("name", sorted(CLASHES))
def test_the_clash_is_the_one_known_by_hand(name: str) -> None:
    things, at_most = CLASHES[name][2:4]
    clash = found(name).clash
    assert {rule.thing.value.replace("rack places", "racks") for rule in clash.rules} == things
    assert clash.at_most == at_most


@pytest.mark.parametrize("name", sorted(CLASHES))
def test_dropping_any_one_of_the_rules_frees_the_goal_and_all_of_them_together_do_not(name: str) -> None:
    of = found(name)
    goal, kept = of.clash.goal, of.clash.rules
    others = [rule for rule in rules_of(of.finder.asked, goal) if rule not in kept]
    assert of.finder.short(goal, others) > 0
    assert [rule for rule in kept if of.finder.short(goal, [*others, rule])] == []


def test_people_clash_with_moulds_that_have_to_be_stripped() -> None:
    """One person has 360 minutes by Thursday; 60 blocks take 3 batches of 28, and 20 turns stripped at 17."""
    site, _, *_ = CLASHES["mixers"]
    site = site.model_copy(update={"moulds": gangs(10), "mixers": a_site().mixers, "crew": Crew(people=1)})
    of = Filter(brief(site, an_order(60), HORIZON), Effort(1.0, never), lambda _: None)
    (goal,) = dated_goals(of.asked.problem)
    clash = of.clash(goal)
    assert clash is not None
    assert {rule.thing for rule in clash.rules} == {Thing.people, Thing.moulds, Thing.age}
    assert 40 <= clash.at_most < 60


def the_clash(site: Site, order: Order) -> Clash:
    of = Filter(brief(site, order, HORIZON), Effort(1.0, never), lambda _: None)
    (goal,) = dated_goals(of.asked.problem)
    clash = of.clash(goal)
    assert clash is not None
    return clash


def test_a_mixer_too_small_whenever_blocks_are_laid_is_told_for_the_days_that_are_of_use() -> None:
    """Three blocks in each of three batches a day, on four days; the nine days until Thursday would not do either."""
    clash = the_clash(CLASHES["mixers"][0], an_order(120))
    assert {rule.thing for rule in clash.rules} == {Thing.mixers, Thing.age}
    assert clash.at_most == 36


ONE_BATCH_A_DAY = a_site(
    moulds=gangs(40), mixers=(SMALL_DRUM,), calendar=CALENDAR.model_copy(update={"last_foam": 7 * 60 + 30}),
    crew=MANY_PEOPLE,
)  # fmt: skip
"""Foam goes in at 7:10, and would at 7:38: three blocks on each of four days."""


def test_what_a_bigger_mixer_or_a_longer_day_frees_is_no_matter_of_a_later_day() -> None:
    """Four drums of the same size would not do: 12 blocks a day on four days."""
    (reason,) = explain(ONE_BATCH_A_DAY, an_order(50)).late
    assert reason.clash.at_most == 12
    assert [fact for fact in reason.clash.facts if isinstance(fact, Mixers)]
    ways = {way.said: way for way in reason.ways}
    assert {"four more mixers", "a drum four times as big", "two hours longer each day"} == set(ways)
    assert all(way.enough == way.least for way in ways.values())


def test_foam_that_is_waited_for_is_made_faster() -> None:
    """A batch takes 100 L of foam at the least: at 2 L a minute two do not end within two hours."""
    slow = a_site().foam_generator.model_copy(update={"rate_l_min": 2.0})
    short = CALENDAR.model_copy(update={"hours": (7 * 60, 9 * 60)})
    drum = DRUM.model_copy(update={"least_volume_l": 150.0})
    site = a_site(
        moulds=gangs(60), foam_generator=slow, calendar=short, crew=MANY_PEOPLE, pour_life_min=100.0, mixers=(drum,)
    )  # fmt: skip
    (reason,) = explain(site, an_order(120)).late
    (way,) = [way for way in reason.ways if "generator" in way.said]
    assert [change.said for change in way.least] == ["a foam generator half as fast again"]


def test_a_day_that_is_closed_early_is_made_so_much_longer_as_it_takes() -> None:
    """A day that ends at 8:30 is not too long with six hours more: of 14 batches of 28 min the last ends at 13:32."""
    site, _, *_ = CLASHES["mixers"]
    (reason,) = explain(site, an_order(160)).late
    hours = [way for way in reason.ways if way.said.endswith("longer each day")]
    assert [way.said for way in hours] == ["six hours longer each day"]


def test_of_sides_and_bases_that_are_both_too_few_those_are_told_that_are_more_so() -> None:
    """Sides are filled twice a day for four days, bases once."""
    one_base = ON_BASES.model_copy(update={"bases": 1})
    clash = the_clash(a_site(moulds=(one_base,)), an_order(20))
    assert {rule.thing for rule in clash.rules} == {Thing.bases, Thing.age}
    assert clash.at_most == 8


def test_of_two_limits_the_lower_is_told() -> None:
    """A bag makes six blocks, moulds eight: cement, although moulds are too few, too."""
    clash = the_clash(a_site(stock=stock(1, 40)), an_order(10))
    assert {rule.thing for rule in clash.rules} == {Thing.cement, Thing.age}
    assert clash.at_most == 6


def test_what_no_change_frees_alone_is_freed_by_some_together_each_of_them_needed() -> None:
    """One bag makes six blocks, and one mould eight by Thursday: ten take more of both."""
    site, order = a_site(stock=stock(1, 40)), an_order(10)
    (way,) = explain(site, order).late[0].ways
    assert [change.said for change in way.least] == ["1 bag more of cement in time", "one more gang mould"]
    assert way.enough == way.least
    for left_out in way.least:
        changed = next(change for change in way.least if change != left_out).make(site)
        assert make_plan(changed, order, rounds=0).stages[0].value
    both = way.least[1].make(way.least[0].make(site))
    assert can_be_on_time(both, order, rounds=0)


def test_saw_plans_that_are_settled_hold_for_the_moulds_of_a_changed_yard() -> None:
    plan = yard_of_slabs.the_plan()
    site = plan.site.model_copy(update={"stock": ENOUGH})
    sawing = settle_sawing(site, plan.order, wanted(site, plan.order))
    changed = more_moulds(site.moulds[0].kind, 1).make(site)
    casts = [brief(of, plan.order, HORIZON, sawing).problem.moulds[0].casts for of in (site, changed)]
    assert casts[0]
    assert casts[1] == casts[0]


@pytest.mark.parametrize("name", ["cement", "moulds", "racks", "stack"])
def test_a_change_that_is_said_to_be_enough_gives_a_plan_on_time(name: str) -> None:
    site, order, *_ = CLASHES[name]
    ways = [way for way in explain(site, order).late[0].ways if way.enough is not None]
    assert ways
    for way in ways:
        assert way.enough is not None
        changed = reduce(lambda yard, change: change.make(yard), way.enough, site)
        assert can_be_on_time(changed, order)


def test_people_who_are_away_are_counted_by_the_days_they_are_missed() -> None:
    away = tuple(Absence(day=MONDAY + timedelta(days=n), people=1) for n in range(2))
    site = a_site(crew=Crew(people=1, absences=away))
    of = Filter(brief(site, an_order(8), HORIZON), Effort(1.0, never), lambda _: None)
    (goal,) = dated_goals(of.asked.problem)
    clash = of.clash(goal)
    assert clash is not None
    (people,) = [each for each in explained(of, clash).facts if isinstance(each, People)]
    assert (people.people, people.away) == (1, 2)


COLUMN = a_site(stack=Stack(places=1, layers=2))


def test_a_stack_and_a_mould_clash_where_blocks_that_have_no_room_yet_keep_the_mould_full() -> None:
    """Two on each of three days, poured on Monday, Tuesday and Wednesday: the second pair is stripped on the 12th."""
    of = Filter(brief(COLUMN, needed_on(12, 13, 14), HORIZON), Effort(1.0, never), lambda _: None)
    first, second, third = dated_goals(of.asked.problem)
    assert of.clash(first) is None
    assert of.clash(second) is None
    clash = of.clash(third)
    assert clash is not None
    assert {rule.thing for rule in clash.rules} == {Thing.stack, Thing.moulds, Thing.age}
    facts = explained(of, clash).facts
    assert Ground(1, 2, formats=1) in facts
    (reason,) = explain(COLUMN, needed_on(12, 13, 14)).late
    assert {"one more place on the stack", "one more gang mould"} <= {way.said for way in reason.ways}


def test_a_stack_with_room_for_all_is_not_told_for_what_racks_keep() -> None:
    site, order, things, *_ = CLASHES["racks"]
    clash = the_clash(site.model_copy(update={"stack": Stack(places=9, layers=2)}), order)
    assert {rule.thing for rule in clash.rules} == {Thing.racks, Thing.age}
    assert things == {"racks", "age"}


def test_courses_wait_for_a_column_to_be_laid_day_after_day() -> None:
    """One block a working day comes off the rack, from Monday the 12th on."""
    site = a_site(stack=Stack(places=1, layers=1), moulds=gangs(4))
    courses = explain(site, needed_on(12, 13, 14)).courses
    assert [late.soonest.day for late in courses] == [13, 15, 19]


def test_a_last_pour_that_a_stack_holds_back_is_told_with_it() -> None:
    why = explain(COLUMN, an_order(12, None))
    assert why.finish is not None
    assert Ground(1, 2, formats=1) in why.finish.clash.facts
    assert "one more place on the stack" in [way.said for way in why.finish.ways]


def test_what_is_possible_has_no_clash() -> None:
    of = Filter(brief(a_site(), an_order(8), HORIZON), Effort(1.0, never), lambda _: None)
    (goal,) = dated_goals(of.asked.problem)
    assert of.clash(goal) is None


def test_days_that_are_too_few_with_plenty_of_everything_clash_with_no_rule() -> None:
    of = Filter(brief(a_site(), an_order(8, date(2027, 4, 4)), HORIZON), Effort(1.0, never), lambda _: None)
    (goal,) = dated_goals(of.asked.problem)
    clash = of.clash(goal)
    assert clash is not None
    assert clash.rules == ()


def test_facts_hold_the_numbers_of_the_yard() -> None:
    assert said("moulds").facts == (
        Moulds(Thing.moulds, "gang", 1, 2, turns=4, wait_h=(24, 24), mild_h=24.0),
        Age(1440, 7 * 1440, poured_by=date(2027, 4, 8), first_ready=date(2027, 4, 12)),
    )
    assert Racks(2, 7 * 1440) in said("racks").facts
    assert Mixers(("drum",), a_day=3, batches=12, biggest_l=30.0) in said("mixers").facts
    assert Stock(Thing.cement, there=2.0, at_first=2.0, last_came=None) in said("cement").facts
    assert Cold(24.0) in said("cold").facts
    assert said("stack").facts == (Ground(1, 4, formats=1, day=date(2027, 4, 15), wanted=8, most=4),)
    (nights,) = [fact for fact in said("frost").facts if isinstance(fact, Nights)]
    assert nights.days == tuple(date(2027, 4, day) for day in (5, 6, 7, 8))


def frosty_on(*days: int) -> Weather:
    """20 degC all the time, with a minimum of 4 degC on some days of April."""
    given = (date(2027, 4, day) for day in range(5, 30))
    return Weather(MONDAY, tuple((4.0, 36.0) if day.day in days else (20.0, 20.0) for day in given))


def one_clash(site: Site, order: Order) -> Explained:
    of = Filter(brief(site, order, HORIZON), Effort(1.0, never), lambda _: None)
    (goal,) = dated_goals(of.asked.problem)
    clash = of.clash(goal)
    assert clash is not None
    return explained(of, clash)


def test_frost_after_the_last_pour_is_told_where_moulds_would_stand_full_in_it() -> None:
    """What is poured on Thursday stands full on the frosty Friday: Wednesday is the last pour, and six are too few."""
    clash = one_clash(a_site(weather=frosty_on(9)), an_order(8))
    (nights,) = [fact for fact in clash.facts if isinstance(fact, Nights)]
    (age,) = [fact for fact in clash.facts if isinstance(fact, Age)]
    assert nights.days == (date(2027, 4, 9),)
    assert (clash.last_pour, age.poured_by) == (date(2027, 4, 7), date(2027, 4, 8))
    assert clash.at_most == 6


def test_frost_on_the_day_after_a_weekend_is_told_for_what_is_poured_before_it() -> None:
    """Friday's pour is ripe on Saturday and stripped on Monday the 12th, in frost: it is of no use, and is too late."""
    site = a_site(weather=frosty_on(12))
    clash = one_clash(site, an_order(10, date(2027, 4, 16)))
    (nights,) = [fact for fact in clash.facts if isinstance(fact, Nights)]
    assert nights.days == (date(2027, 4, 12),)


def test_facts_without_frost_come_to_what_is_said_without_it_and_frost_is_named_for_still_less() -> None:
    """One mould is filled four times without the frost: eight; frost on Wednesday and the night before takes two."""
    clash = one_clash(a_site(weather=frosty_on(7)), an_order(10))
    (moulds,) = [fact for fact in clash.facts if isinstance(fact, Moulds)]
    assert (clash.at_most, moulds.turns * moulds.cavities) == (8, 8)
    assert clash.in_all == 4
    assert clash.lower == (Lower(Thing.frost, None),)


def test_a_clash_says_by_when_what_is_wanted_for_which_courses_and_when_the_last_pour_is() -> None:
    clash = said("moulds")
    assert (clash.by, clash.blocks, clash.last_pour) == (date(2027, 4, 15), 10, date(2027, 4, 8))
    (wanted,) = clash.wanted
    assert (wanted.part, wanted.first, wanted.last, wanted.blocks, wanted.in_all) == ("north", 1, 1, 10, 10)
