"""How long what is there and what comes lasts, and when to order it; numbers to check by hand."""

from __future__ import annotations

from datetime import date

import pytest

from blockrun.planner.plan import Plan
from blockrun.planner.supplies import Material, Supply, covers, materials_of, order_by, short
from blockrun.planner.uses import Use, uses_of
from blockrun.site import Calendar, MassDelivery, Sand

MON, TUE, WED, THU, FRI = (date(2027, 4, day) for day in range(5, 10))
WEEK = Calendar(start=MON, workdays=frozenset(range(5)), hours=(450, 990))
USED = {MON: 3.0, TUE: 4.0, THU: 5.0}


def material(*supplies: tuple[date | None, float], lead_days: int | None = None) -> Material:
    return Material("cement", USED, tuple(Supply(*each) for each in supplies), lead_days=lead_days)


def test_a_stock_gives_out_on_the_day_that_takes_more_than_is_left() -> None:
    (only,) = covers(material((None, 7.0)), WEEK, None)
    assert (only.needed, only.gone, only.used, only.left) == (MON, THU, 7.0, 0.0)


def test_a_stock_that_lasts_leaves_what_is_not_used() -> None:
    (only,) = covers(material((None, 20.0)), WEEK, None)
    assert (only.gone, only.used, only.left) == (None, 12.0, 8.0)


def test_what_came_first_is_used_first() -> None:
    on_hand, comes = covers(material((None, 5.0), (TUE, 10.0)), WEEK, None)
    assert (on_hand.gone, comes.needed, comes.gone) == (TUE, TUE, None)
    assert (comes.used, comes.left) == (7.0, 3.0)


def test_a_delivery_may_come_as_late_as_the_day_it_is_first_used() -> None:
    _, early = covers(material((None, 7.0), (MON, 10.0)), WEEK, None)
    assert (early.needed, early.late) == (THU, False)
    _, late = covers(material((None, 7.0), (FRI, 10.0)), WEEK, None)
    assert late.late


def test_a_delivery_that_is_never_used_is_needed_on_no_day() -> None:
    _, comes = covers(material((None, 12.0), (TUE, 10.0), lead_days=1), WEEK, None)
    assert (comes.needed, comes.used, comes.order_by) == (None, 0.0, None)


def test_a_last_digit_lost_to_rounding_makes_nothing_short() -> None:
    assert short(material((None, 12.0 - 1e-4))) is None
    assert covers(material((None, 12.0 - 1e-4)), WEEK, None)[0].gone is None


def test_what_is_short_is_told_with_the_day_it_is_needed() -> None:
    assert short(material((None, 5.0), (THU, 4.0))) == Supply(THU, 3.0)
    assert short(material((None, 5.0), (THU, 7.0))) is None


@pytest.mark.parametrize(
    ("needed", "lead_days", "by"),
    [
        (THU, 1, WED),
        (THU, 0, THU),
        (MON, 1, date(2027, 4, 2)),  # Sunday, so the Friday before
        (THU, None, None),
        (None, 3, None),
    ],
)
def test_an_order_is_given_on_the_last_working_day_that_is_soon_enough(
    needed: date | None, lead_days: int | None, by: date | None
) -> None:
    assert order_by(needed, lead_days, WEEK) == by


def test_each_delivery_is_ordered_for_the_day_it_is_first_used() -> None:
    found = covers(material((None, 3.0), (MON, 4.0), (TUE, 5.0), lead_days=2), WEEK, None)
    assert [cover.order_by for cover in found] == [None, date(2027, 4, 2), TUE]  # for Tuesday, for Thursday


def test_left_is_what_has_come_less_what_was_used_and_may_be_short() -> None:
    stock = material((None, 5.0), (THU, 10.0))
    assert [stock.left_on(day) for day in (MON, TUE, WED, THU)] == [2.0, -2.0, -2.0, 3.0]


def test_stock_of_a_site_is_as_its_file_has_it(small_plan: Plan) -> None:
    cement, water, agent = materials_of(small_plan.site, uses_of(small_plan))
    assert [each.name for each in (cement, water, agent)] == ["cement", "water", "foaming agent"]
    assert cement.supplies == (Supply(None, 8.0), Supply(THU, 6.0))
    assert (cement.price, agent.price, water.price, water.supplies) == (6.10, 9.50, None, ())


def test_left_by_the_evening_is_what_the_table_of_materials_says_less_the_foam_weighed(small_plan: Plan) -> None:
    """A bucket before each batch, 0.95 / 41 L of agent: one on Mon, two by Tue, four by Thu."""
    weighed = {5: 1, 6: 2, 8: 4}
    cement, _, agent = materials_of(small_plan.site, uses_of(small_plan))
    for row in small_plan.tables.materials.itertuples():
        day = row.day.date()
        assert 25 * cement.left_on(day) == pytest.approx(row.cement_left_kg)
        n_weighed = weighed[max(number for number in weighed if number <= day.day)]
        assert agent.left_on(day) == pytest.approx(row.agent_left_l - n_weighed * 0.95 / 41, abs=3e-6)
    assert agent.weighed == pytest.approx({MON: 0.95 / 41, TUE: 0.95 / 41, THU: 2 * 0.95 / 41})


def test_a_delivery_is_spared_only_where_more_than_a_twentieth_is_left_without_it() -> None:
    # 12 are used: 12.6 is the least that is called enough
    for on_hand, spared in ((12.0, 0.0), (12.5, 0.5), (12.6, None), (20.0, None)):
        _, comes = covers(material((None, on_hand), (THU, 5.0)), WEEK, None)
        assert comes.needed is None
        assert comes.spared == (None if spared is None else pytest.approx(spared))


def test_a_delivery_that_is_needed_is_not_asked_whether_it_is_spared() -> None:
    _, comes = covers(material((None, 11.0), (THU, 5.0)), WEEK, None)
    assert (comes.needed, comes.spared) == (THU, None)


def test_deliveries_of_one_day_count_together_and_days_of_lead_are_rounded_up(small_plan: Plan) -> None:
    comes = (MassDelivery(day=TUE, amount=30.0), MassDelivery(day=MON, amount=5.0), MassDelivery(day=TUE, amount=10.0))
    stock = small_plan.site.stock.model_copy(update={"sand": Sand(deliveries=comes, lead_time_min=1441)})
    site = small_plan.site.model_copy(update={"stock": stock})
    (sand,) = materials_of(site, [Use(MON, "sand", 20.0)])
    assert sand.supplies == (Supply(MON, 5.0), Supply(TUE, 40.0))
    assert sand.lead_days == 2


def test_what_the_site_does_not_count_is_neither_covered_nor_short(small_plan: Plan) -> None:
    (lime,) = materials_of(small_plan.site, [Use(MON, "lime", 20.0)])
    assert covers(lime, WEEK, None) == []


def test_a_stock_that_is_used_to_the_last_says_on_which_day_not_only_when_more_is_needed() -> None:
    (cover,) = covers(Material("cement", {MON: 12.0, TUE: 8.0, FRI: 12.0}, (Supply(None, 20.0),)), WEEK, None)
    assert (cover.used_up, cover.gone) == (TUE, FRI)
    (some_left,) = covers(Material("cement", {MON: 12.0, TUE: 8.0, FRI: 12.0}, (Supply(None, 21.0),)), WEEK, None)
    assert (some_left.used_up, some_left.gone) == (None, FRI)
