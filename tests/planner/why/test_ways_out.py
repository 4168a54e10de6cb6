"""What frees a clash known by hand, for which days it is enough, and what is told where nothing is late."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal

import pytest
import yard_of_slabs

from blockrun.optimiser.engine import Effort
from blockrun.order import BlockList
from blockrun.planner.brief import brief
from blockrun.planner.make import make_plan
from blockrun.planner.plan import never
from blockrun.planner.why.clash import Filter
from blockrun.planner.why.explain import explain
from blockrun.planner.why.facts import (
    Age,
    Moulds,
    Stock,
)
from blockrun.planner.why.goals import dated_goals, whole_goal
from blockrun.planner.why.rules import Thing
from blockrun.site import Crew
from tests.planner.why.by_hand import (
    CLASHES,
    ENOUGH,
    GANG,
    HORIZON,
    LOW_GANG,
    MONDAY,
    THURSDAY,
    a_site,
    an_order,
    gangs,
    stock,
    two_sizes,
)


@pytest.mark.parametrize("name", sorted(CLASHES))
def test_the_ways_out_are_the_least(name: str) -> None:
    site, order, *_, ways = CLASHES[name]
    why = explain(site, order)
    assert {way.said for way in why.late[0].ways} >= ways
    if not ways:
        assert why.late[0].ways == ()


def test_with_the_change_named_a_plan_is_on_time_and_without_it_none_is() -> None:
    site, order, *_ = CLASHES["moulds"]
    assert make_plan(site, order, rounds=0).stages[0].value
    changed = site.model_copy(update={"moulds": gangs(2)})
    assert make_plan(changed, order, rounds=0).stages[0].value == 0


def test_late_courses_are_told_with_the_soonest_day_there_is() -> None:
    """The fifth turn is poured on Friday, so its blocks are laid a day late."""
    site, order, *_ = CLASHES["moulds"]
    (late,) = explain(site, order).courses
    assert (late.part, late.course, late.needed, late.soonest) == ("north", 1, date(2027, 4, 15), date(2027, 4, 16))


def test_what_another_mould_lacks_by_the_same_day_is_told_too() -> None:
    late = explain(BOTH_SIZES, two_sizes(("A", 20, THURSDAY), ("B", 10, FRIDAY), ("B", 10, FRIDAY))).late
    told = [{fact.kind for fact in reason.clash.facts if isinstance(fact, Moulds)} for reason in late]
    assert told == [{"gang"}, {"low"}]


def test_what_frees_a_clash_is_enough_for_later_days_that_lack_the_same() -> None:
    """Two more than can be had by Thursday, six more by Friday."""
    site, order = a_site(), two_sizes(("A", 10, THURSDAY), ("A", 14, FRIDAY))
    (reason,) = explain(site, order).late
    assert (reason.clash.by, reason.until) == (THURSDAY, FRIDAY)
    (way,) = [way for way in reason.ways if way.least[0].said.endswith("moulds")]
    assert way.said == "two more gang moulds"
    assert make_plan(a_site(moulds=gangs(2)), order, rounds=0).stages[0].value
    assert make_plan(a_site(moulds=gangs(3)), order, rounds=0).stages[0].value == 0


@pytest.mark.parametrize(("first", "then", "bags"), [(18, 10, 3), (13, 30, 4), (24, 6, 3), (14, 2, 1)])
def test_what_frees_a_clash_is_enough_for_other_blocks_of_later_days_too(first: int, then: int, bags: int) -> None:
    """Two bags make 12 of A, of 8 L; those of B, of 6 L, are not wanted before the day after, of the same cement."""
    site = a_site(moulds=(*gangs(20), LOW_GANG.model_copy(update={"count": 20})), stock=stock(2, 40))
    order = two_sizes(("A", first, THURSDAY), ("B", then, THURSDAY + timedelta(days=1)))
    (reason,) = explain(site, order).late
    assert reason.until == THURSDAY + timedelta(days=1)
    (way,) = reason.ways
    assert [change.said for change in way.least] == [f"{bags} bag{'s' * (bags > 1)} more of cement in time"]
    assert (way.enough, way.until) == (way.least, None)
    assert make_plan(way.least[0].make(site), order, rounds=0).stages[0].value == 0


def test_later_days_that_a_change_does_not_free_are_not_said_to_be_and_it_is_enough_for_what_they_lack_of_it() -> None:
    """Of 20 low ones on the day after one mould casts 10; of the cement to cast them all none is short then."""
    site = a_site(moulds=(*gangs(20), LOW_GANG), stock=stock(2, 40))
    order = two_sizes(("A", 18, THURSDAY), ("B", 20, THURSDAY + timedelta(days=1)))
    reason = explain(site, order).late[0]
    (way,) = reason.ways
    assert [change.said for change in way.least] == ["4 bags more of cement in time"]
    assert (reason.until, way.until) == (THURSDAY + timedelta(days=1), THURSDAY)


def test_later_days_that_are_short_for_another_reason_are_not_said_to_be_so_for_this() -> None:
    """None can be there by the 9th; on the 12th moulds are too few, and age is no more."""
    early = date(2027, 4, 9)
    first, second = explain(a_site(), two_sizes(("A", 2, early), ("A", 4, date(2027, 4, 12)))).late
    assert (first.clash.by, first.until) == (early, early)
    assert [fact for fact in second.clash.facts if isinstance(fact, Moulds)]


def test_another_reason_of_a_later_day_is_told_though_the_first_keeps_that_one_too() -> None:
    """Moulds are too few for ten by Thursday; two bags make twelve by Friday, whatever moulds there are."""
    site = a_site(stock=stock(2, 40))
    late = explain(site, two_sizes(("A", 10, THURSDAY), ("A", 10, FRIDAY))).late
    told = [{type(fact) for fact in reason.clash.facts} - {Age} for reason in late]
    assert told == [{Moulds}, {Stock}]


BOTH_SIZES = a_site(moulds=(GANG, LOW_GANG))
FRIDAY = THURSDAY + timedelta(days=1)


def test_a_course_that_can_be_there_in_time_is_not_called_late_for_what_others_lack() -> None:
    """Twenty of A by Thursday are too many for their mould; two of B have one of their own."""
    courses = explain(BOTH_SIZES, two_sizes(("A", 20, THURSDAY), ("B", 2, FRIDAY))).courses
    assert [late.course for late in courses] == [1]


def test_of_courses_of_one_size_the_first_are_there_in_time() -> None:
    """Eight can be poured by Thursday, and two more each day."""
    courses = explain(BOTH_SIZES, two_sizes(("A", 8, THURSDAY), ("A", 4, FRIDAY))).courses
    assert [(late.course, late.soonest) for late in courses] == [(2, date(2027, 4, 19))]


def test_where_nothing_is_late_it_is_told_what_holds_back_the_last_pour() -> None:
    """Five turns of two blocks end on the fifth day."""
    why = explain(a_site(), an_order(10, None))
    assert (why.late, why.courses) == ((), ())
    assert why.finish is not None
    clash = why.finish.clash
    assert (clash.ready, clash.by, clash.at_most, clash.blocks) == (False, date(2027, 4, 8), 8, 10)
    assert clash.facts == (Moulds(Thing.moulds, "gang", 1, 2, turns=4, wait_h=(24, 24), mild_h=24.0),)
    assert [way.said for way in why.finish.ways] == ["one more gang mould"]


def test_all_poured_on_the_first_day_holds_nothing_back() -> None:
    assert explain(a_site(), an_order(2, None)).finish is None


def test_two_dates_with_the_same_reason_are_told_once() -> None:
    site, order, *_ = CLASHES["moulds"]
    (part,) = order.parts
    row = part.blocks.rows[0]
    later = [row.__class__(**{**vars(row), "course": 2, "count": 6, "needed": date(2027, 4, 16)})]
    rows = (*part.blocks.rows, *later)
    twice = order.model_copy(
        update={"parts": (part.model_copy(update={"blocks": part.blocks.__class__("north.csv", rows)}),)}
    )
    why = explain(site, twice)
    assert len(why.late) == 1
    assert [late.course for late in why.courses] == [1, 2]


def test_it_says_when_it_was_stopped_and_what_it_is_doing() -> None:
    site, order, *_ = CLASHES["moulds"]
    heard: list[str] = []
    assert not explain(site, order, tell=heard.append).stopped
    assert "at most 8 of 10 blocks by 15 Apr: looking for the reason" in heard
    assert "trying one more gang mould" in heard
    assert explain(site, order, stop=lambda: True).stopped


def test_a_clash_whose_search_was_cut_short_is_no_reason() -> None:
    """It is stopped when rules are relaxed one after the other: what is left then is not what clashes."""
    site, order, *_ = CLASHES["moulds"]
    heard: list[str] = []
    why = explain(site, order, stop=lambda: any("plenty" in words for words in heard), tell=heard.append)
    assert (why.late, why.courses, why.stopped) == ((), (), True)


def test_ways_that_were_not_looked_for_are_none_that_failed() -> None:
    site, order, *_ = CLASHES["moulds"]
    heard: list[str] = []
    (reason,) = explain(site, order, stop=lambda: "trying one more gang mould" in heard, tell=heard.append).late
    assert (reason.ways, reason.cut_short) == ((), True)


def test_everything_poured_by_a_day_is_a_goal_with_spares_and_without_dates() -> None:
    problem = brief(a_site(), an_order(10), HORIZON).problem
    goal = whole_goal(problem, 3)
    assert goal.blocks == 10
    assert goal.of(problem).formats[0].needs == ()
    assert MONDAY.weekday() == 0


def test_moulds_of_slabs_that_hold_back_the_last_pour_are_told_with_one_more_of_them() -> None:
    """Two slabs in one mould take two days; saw plans are those of the mould, however many there are."""
    plan = yard_of_slabs.the_plan()
    slab = plan.site.moulds[0].model_copy(update={"count": 1})
    row = plan.order.parts[0].blocks.rows[0]
    listed = BlockList("north.csv", (row.__class__(**{**vars(row), "count": 8, "needed": None}),))
    order = plan.order.model_copy(
        update={"parts": (plan.order.parts[0].model_copy(update={"blocks": listed}),), "spares": Decimal(0)}
    )
    site = plan.site.model_copy(update={"moulds": (slab,), "stock": ENOUGH})
    why = explain(site, order)
    assert why.finish is not None
    assert [fact.kind for fact in why.finish.clash.facts if isinstance(fact, Moulds)] == ["slab"]
    assert "one more slab mould" in [way.said for way in why.finish.ways]


def test_a_date_that_only_counting_rules_out_is_told() -> None:
    """One person strips and pours: arithmetic of moulds, mixer and racks alone would let all 60 be there."""
    site, _, *_ = CLASHES["mixers"]
    site = site.model_copy(update={"moulds": gangs(10), "mixers": a_site().mixers, "crew": Crew(people=1)})
    of = Filter(brief(site, an_order(60), HORIZON), Effort(1.0, never), lambda _: None)
    (goal,) = dated_goals(of.asked.problem)
    assert not of.relaxed(()).by_arithmetic(goal)
    assert explain(site, an_order(60)).late
