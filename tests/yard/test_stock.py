"""What is left of each material by what was recorded: hand-checked on the plan of fifteen blocks.

On hand are 8 bags and 2 L of agent; 6 bags and 2 L are planned for Thursday, 8 April. Batches 1 to 4 take 3.5, 3, 2 and
2.5 bags.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import UTC, date, datetime
from pathlib import Path

import pytest

from blockrun.planner.as_planned import AsPlanned, load_as_planned
from blockrun.planner.supplies import Supply
from blockrun.site import ReleaseOil, Sand
from blockrun.yard.journal import FILE, standing
from blockrun.yard.record.recorder import Recorder, Typed
from blockrun.yard.stock import InStock, Stock, stock_now

StockAt = Callable[..., Stock]

POURED = "2027-04-05 08:24 poured 1"
STRIPPED = tuple(f"2027-04-06 13:00 stripped {name}" for name in ("gang-2/1", "gang-2/2", "tray-1/b1"))
SECOND = (*STRIPPED, "2027-04-06 14:09 poured 2")
THURSDAY = date(2027, 4, 8)
AGENT_1_L, BUCKET_L = 0.239753, 10 * 0.095 / 41


@pytest.fixture(scope="module")
def small(small_folder: Path) -> AsPlanned:
    return load_as_planned(small_folder)


@pytest.fixture
def stock(small: AsPlanned, tmp_path: Path) -> StockAt:
    """Stock at a moment, after some things were recorded: ``2027-04-05 08:24 poured 1``."""

    def at(moment: str, *recorded: str, plan: AsPlanned = small, older: tuple[AsPlanned, ...] = ()) -> Stock:
        now = datetime(2027, 6, 30)  # noqa: DTZ001
        for line in recorded:
            day, time, *words = line.split()
            recorder = Recorder(older[0] if older else plan, tmp_path / FILE, now, now.replace(tzinfo=UTC))
            recorder.record(Typed(tuple(words), line, f"{day} {time}"))
        entries = Recorder(plan, tmp_path / FILE, now, now.replace(tzinfo=UTC)).entries
        return stock_now(plan, standing(entries), datetime.fromisoformat(moment), older)

    return at


def cement(found: Stock) -> InStock:
    return found.each["cement"]


def with_stock(plan: AsPlanned, **kept: object) -> AsPlanned:
    """The same plan, of a site that keeps something more."""
    stock = plan.site.stock.model_copy(update=kept)
    return replace(plan, site=plan.site.model_copy(update={"stock": stock}))


def test_what_is_on_hand_is_there_before_anything_happens(stock: StockAt) -> None:
    found = stock("2027-04-05 07:00")
    assert {name: one.amount for name, one in found.each.items()} == {"cement": 8, "foaming agent": 2}
    assert cement(found).to_come == (Supply(THURSDAY, 6),)


def test_a_batch_draws_what_the_plan_has_for_it_and_the_foam_that_was_weighed(stock: StockAt) -> None:
    found = stock("2027-04-05 12:00", POURED)
    assert cement(found).amount == 4.5
    assert found.each["foaming agent"].amount == pytest.approx(2 - AGENT_1_L - BUCKET_L, abs=1e-6)


def test_a_batch_that_is_poured_again_draws_again(stock: StockAt) -> None:
    assert cement(stock("2027-04-06 15:00", POURED, *STRIPPED, "2027-04-06 14:09 poured 1 again")).amount == 1


def test_what_happens_later_is_not_heeded(stock: StockAt) -> None:
    assert cement(stock("2027-04-06 12:00", POURED, *SECOND)).amount == 4.5


def test_a_pour_that_was_undone_draws_nothing(stock: StockAt) -> None:
    assert cement(stock("2027-04-05 12:00", POURED, "2027-04-05 09:00 undo 1")).amount == 8


def test_a_delivery_counts_when_it_is_recorded(stock: StockAt) -> None:
    found = cement(stock("2027-04-08 12:00", POURED, *SECOND, "2027-04-08 09:00 delivered cement 6"))
    assert (found.amount, found.untold, found.to_come) == (7.5, (), ())


def test_a_delivery_nobody_records_is_believed_where_nothing_of_it_ever_is(stock: StockAt) -> None:
    found = cement(stock("2027-04-08 12:00", POURED, *SECOND))
    assert (found.amount, found.untold, found.believed) == (7.5, (Supply(THURSDAY, 6),), True)


def test_a_delivery_comes_when_the_yard_opens(stock: StockAt) -> None:
    assert cement(stock("2027-04-08 07:29")).to_come == (Supply(THURSDAY, 6),)
    assert cement(stock("2027-04-08 07:30")).to_come == ()


def test_a_delivery_nobody_records_is_not_believed_where_others_are(stock: StockAt) -> None:
    counted = cement(stock("2027-04-08 12:00", POURED, "2027-04-07 09:00 counted cement 4"))
    assert (counted.amount, counted.untold, counted.believed) == (4, (Supply(THURSDAY, 6),), False)


def test_what_is_recorded_of_one_material_says_nothing_of_another(stock: StockAt) -> None:
    assert cement(stock("2027-04-08 12:00", "2027-04-08 09:00 delivered agent 2L")).believed


def test_a_count_overrules_all_before_it_and_sees_what_came(stock: StockAt) -> None:
    found = cement(stock("2027-04-09 12:00", POURED, *SECOND, "2027-04-09 09:00 counted cement 5"))
    assert (found.amount, found.counted, found.untold) == (5, datetime.fromisoformat("2027-04-09T09:00"), ())


def test_batches_after_a_count_draw_from_it(stock: StockAt) -> None:
    assert cement(stock("2027-04-06 15:00", POURED, "2027-04-06 09:00 counted cement 4", *SECOND)).amount == 1


def test_less_than_was_planned_leaves_the_rest_open(stock: StockAt) -> None:
    found = cement(stock("2027-04-08 12:00", POURED, "2027-04-08 09:00 delivered cement 4"))
    assert (found.amount, found.untold) == (8.5, (Supply(THURSDAY, 2),))


def test_a_delivery_a_day_early_is_the_one_that_is_planned(stock: StockAt) -> None:
    assert cement(stock("2027-04-07 12:00", "2027-04-07 09:00 delivered cement 6")).to_come == ()


def test_what_is_fetched_long_before_is_another(small: AsPlanned, stock: StockAt) -> None:
    late = small.site.stock.cement.deliveries[0].model_copy(update={"day": date(2027, 4, 20)})
    plan = with_stock(small, cement=small.site.stock.cement.model_copy(update={"deliveries": (late,)}))
    found = cement(stock("2027-04-07 12:00", "2027-04-07 09:00 delivered cement 2", plan=plan))
    assert (found.amount, found.to_come) == (10, (Supply(date(2027, 4, 20), 6),))


def test_more_drawn_than_there_was_is_told_as_it_is(stock: StockAt) -> None:
    assert (
        cement(stock("2027-04-06 15:00", "2027-04-06 08:00 counted cement 1", "2027-04-06 14:09 poured 2")).amount == -2
    )


def test_each_mould_that_is_filled_takes_its_oil(small: AsPlanned, stock: StockAt) -> None:
    plan = with_stock(small, release_oil=ReleaseOil(per_turn_l=0.05, on_hand_l=1.0))
    found = stock("2027-04-05 12:00", POURED, plan=plan)
    assert found.each["release oil"].amount == pytest.approx(1 - 3 * 0.05)


def test_a_mould_filled_from_two_batches_takes_its_oil_once_a_turn(small: AsPlanned, stock: StockAt) -> None:
    plan = with_stock(small, release_oil=ReleaseOil(per_turn_l=0.05, on_hand_l=1.0))
    first, *others = plan.batches[1]
    shared = replace(plan, casts=(replace(first, batch=2), *others))
    found = stock("2027-04-05 12:00", POURED, "2027-04-05 09:00 poured 2", plan=shared)
    assert found.each["release oil"].amount == pytest.approx(1 - 3 * 0.05)


def test_a_mould_filled_again_after_its_strip_takes_oil_again(small: AsPlanned, stock: StockAt) -> None:
    plan = with_stock(small, release_oil=ReleaseOil(per_turn_l=0.05, on_hand_l=1.0))
    assert stock("2027-04-06 15:00", POURED, *SECOND, plan=plan).each["release oil"].amount == pytest.approx(
        1 - 6 * 0.05
    )


# a tank of dilution: agent is what is in its can


def with_tank(plan: AsPlanned, tank_l: float) -> AsPlanned:
    generator = plan.site.foam_generator.model_copy(update={"tank_l": tank_l})
    return replace(plan, site=plan.site.model_copy(update={"foam_generator": generator}))


def test_what_is_filled_into_the_tank_is_out_of_the_can(small: AsPlanned, stock: StockAt) -> None:
    # 20 L are filled before the first batch, which takes 9.829861 L and 0.95 L for the bucket
    found = stock("2027-04-05 12:00", POURED, plan=with_tank(small, 20.0))
    assert found.each["foaming agent"].amount == pytest.approx(2 - 20 / 41)
    assert found.in_tank_l == pytest.approx(20 - 9.829861 - 0.95, abs=1e-4)


def test_the_last_filling_is_what_the_batches_still_take(small: AsPlanned, stock: StockAt) -> None:
    # all four take 31.032390 L with their buckets
    found = stock("2027-04-05 12:00", POURED, plan=with_tank(small, 50.0))
    assert found.each["foaming agent"].amount == pytest.approx(2 - 31.032390 / 41)


def test_a_count_of_agent_is_of_the_can(small: AsPlanned, stock: StockAt) -> None:
    found = stock("2027-04-05 12:00", POURED, "2027-04-05 11:00 counted agent 1.5L", plan=with_tank(small, 20.0))
    assert found.each["foaming agent"].amount == 1.5
    assert found.in_tank_l == pytest.approx(9.22, abs=1e-2)


def test_sand_is_drawn_as_it_is_weighed(small: AsPlanned, stock: StockAt, tmp_path: Path) -> None:
    order = tmp_path / "order.yaml"
    text = small.order[""].read_text(encoding="utf-8")
    order.write_text(text.replace("name: light,", "name: light, sand: 0.5,"), encoding="utf-8")
    plan = replace(with_stock(small, sand=Sand(on_hand_kg=100.0)), order={**small.order, "": order})
    assert stock("2027-04-05 12:00", POURED, plan=plan).each["sand"].amount == pytest.approx(100 - 87.5 / 2)


def test_cement_that_comes_where_the_site_tells_of_none_is_there(small: AsPlanned, stock: StockAt) -> None:
    none = small.site.stock.cement.model_copy(update={"on_hand_bags": 0.0, "deliveries": ()})
    plan = with_stock(small, cement=none)
    found = cement(stock("2027-04-06 12:00", "2027-04-06 09:00 delivered cement 6 lot K2", plan=plan))
    assert found.lots == (Supply(date(2027, 4, 6), 6, "K2"),)


def test_what_the_site_does_not_keep_is_there_once_it_was_counted(stock: StockAt) -> None:
    assert stock("2027-04-07 12:00", "2027-04-07 09:00 counted oil 3L").each["release oil"].amount == 3


def test_a_batch_of_an_older_plan_draws_what_that_has_for_it(small: AsPlanned, stock: StockAt) -> None:
    newer = replace(small, casts=small.casts[:9])
    assert newer.id != small.id
    assert cement(stock("2027-04-05 12:00", POURED, plan=newer, older=(small,))).amount == 4.5


def test_a_batch_no_plan_knows_draws_as_others_of_its_mix(small: AsPlanned, stock: StockAt) -> None:
    first = replace(small, casts=tuple(cast for cast in small.casts if cast.batch == 1))
    stock("2027-04-05 12:00", POURED, plan=first)
    light = [cast for cast in small.casts if cast.mix == "light"]
    assert cement(stock("2027-04-05 12:00")).amount == pytest.approx(8 - 5 * 8.5 / len(light))


def test_a_batch_of_a_mix_no_plan_knows_is_told(small: AsPlanned, stock: StockAt) -> None:
    strange = tuple(replace(cast, mix="other") if cast.batch == 1 else cast for cast in small.casts)
    stock("2027-04-05 12:00", POURED, plan=replace(small, casts=strange))
    found = stock("2027-04-05 12:00")
    assert (cement(found).amount, [entry.number for entry in found.unknown]) == (8, [1])


def test_what_was_before_the_first_day_is_in_what_is_on_hand(small: AsPlanned, stock: StockAt) -> None:
    recorded = ("2027-04-03 09:00 delivered cement 8", "2027-04-03 12:00 counted cement 30")
    assert cement(stock("2027-04-05 12:00", *recorded)).amount == 8


def test_a_batch_poured_before_the_first_day_draws(stock: StockAt) -> None:
    assert cement(stock("2027-04-05 12:00", "2027-04-03 09:00 poured 1")).amount == 4.5


# which lot is left: what came first is used first


def of_lot(plan: AsPlanned, lot: str) -> AsPlanned:
    """The same plan, with the lot of the cement on hand and none to come."""
    return with_stock(plan, cement=plan.site.stock.cement.model_copy(update={"lot": lot, "deliveries": ()}))


K2 = "2027-04-06 09:00 delivered cement 30 lot K2"


def test_what_is_left_of_the_older_lot_is_used_before_what_came(small: AsPlanned, stock: StockAt) -> None:
    plan = of_lot(small, "K1")
    assert cement(stock("2027-04-06 12:00", POURED, K2, plan=plan)).lots == (
        Supply(None, 4.5, "K1"),
        Supply(date(2027, 4, 6), 30, "K2"),
    )


def test_a_lot_is_begun_with_the_batch_that_takes_more_than_is_left_of_the_older(
    small: AsPlanned, stock: StockAt
) -> None:
    recorded = ("2027-04-05 07:40 counted cement 4", POURED, K2, *SECOND)
    assert cement(stock("2027-04-06 15:00", *recorded, plan=of_lot(small, "K1"))).lots == (Supply(None, 27.5, "K2"),)


def test_a_count_takes_what_is_missing_of_the_oldest_lot_and_opens_no_new_one(small: AsPlanned, stock: StockAt) -> None:
    found = cement(
        stock("2027-04-07 12:00", POURED, K2, "2027-04-07 09:00 counted cement 20", plan=of_lot(small, "K1"))
    )
    assert found.lots == (Supply(None, 0, "K1"), Supply(date(2027, 4, 6), 20, "K2"))


def test_a_count_that_finds_more_has_it_of_the_newest_lot(small: AsPlanned, stock: StockAt) -> None:
    found = cement(
        stock("2027-04-07 12:00", POURED, K2, "2027-04-07 09:00 counted cement 36", plan=of_lot(small, "K1"))
    )
    assert found.lots == (Supply(None, 4.5, "K1"), Supply(date(2027, 4, 6), 31.5, "K2"))


def test_a_count_that_finds_what_was_due_has_it_of_the_lot_that_was_to_come(small: AsPlanned, stock: StockAt) -> None:
    due = small.site.stock.cement.deliveries[0].model_copy(update={"lot": "K2"})
    plan = with_stock(small, cement=small.site.stock.cement.model_copy(update={"lot": "K1", "deliveries": (due,)}))
    found = cement(stock("2027-04-08 12:00", "2027-04-08 09:00 counted cement 15", plan=plan))
    assert found.lots == (Supply(None, 8, "K1"), Supply(THURSDAY, 7, "K2"))


def test_a_delivery_without_its_lot_is_of_the_lot_that_was_to_come(small: AsPlanned, stock: StockAt) -> None:
    due = small.site.stock.cement.deliveries[0].model_copy(update={"lot": "K2"})
    plan = with_stock(small, cement=small.site.stock.cement.model_copy(update={"lot": "K1", "deliveries": (due,)}))
    for recorded in ((), ("2027-04-08 09:00 delivered cement 6",)):
        found = cement(stock("2027-04-08 12:00", *recorded, plan=plan))
        assert found.lots == (Supply(None, 8, "K1"), Supply(THURSDAY, 6, "K2"))


def test_what_was_drawn_too_much_comes_off_what_comes(small: AsPlanned, stock: StockAt) -> None:
    recorded = (POURED, "2027-04-06 08:00 counted cement 1", *SECOND, "2027-04-06 14:30 delivered cement 30 lot K2")
    found = cement(stock("2027-04-06 15:00", *recorded, plan=of_lot(small, "K1")))
    assert found.lots == (Supply(None, 0, "K1"), Supply(date(2027, 4, 6), 28, "K2"))
