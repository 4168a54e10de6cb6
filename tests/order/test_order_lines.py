"""An order taken off into lines, and its spares."""

from collections.abc import Callable
from datetime import date
from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.order import BlockList, ListPart, ListRow, MixSpec, Need, Order, OrderLine, spares, takeoff
from blockrun.site import Calendar

Load = Callable[..., Order]
MIX = MixSpec(name="wall", oven_dry_density_kg_m3=600.0, slurry_water_cement=0.5)
CALENDAR = Calendar.model_validate(
    {
        "start": date(2027, 4, 5),
        "workdays": ["mon", "tue", "wed", "thu", "fri"],
        "hours": "07:00-16:00",
        "closed": [date(2027, 5, 13)],
    }
)
ROWS = st.builds(
    lambda mark, count, course: ListRow(mark, 600.0, 300.0, 200.0, count, None, course),
    st.sampled_from("ABC"),
    st.integers(1, 50),
    st.one_of(st.none(), st.integers(1, 5)),
)


def order_of(*rows: ListRow, spare: str = "0", need: Need | None = None) -> Order:
    part = ListPart(blocks=BlockList("blocks.csv", rows), needed=need)
    return Order(name="test", mixes=(MIX,), spares=Decimal(spare), parts=(part,))


def block(mark: str = "A", count: int = 1, course: int | None = None, needed: date | None = None) -> ListRow:
    return ListRow(mark, 600.0, 300.0, 200.0, count, None, course, needed)


def test_equal_rows_are_added_up():
    assert [line.count for line in takeoff(order_of(block(count=3), block(count=4), block("B", 5)))] == [7, 5]


def test_rows_of_other_courses_and_dates_stay_apart():
    found = takeoff(order_of(block(course=1), block(course=2), block(course=2, needed=date(2027, 5, 1)), block()))
    assert [(line.course, line.needed) for line in found] == [
        (1, None),
        (2, date(2027, 5, 1)),
        (2, None),
        (None, None),
    ]


def test_the_volume_is_that_of_one_block():
    assert takeoff(order_of(block(count=9)))[0].volume_l == pytest.approx(36.0)


@given(st.lists(ROWS, min_size=1, max_size=8), st.randoms())
def test_the_order_of_rows_never_matters(rows: list[ListRow], shuffler: object):
    shuffled = list(rows)
    shuffler.shuffle(shuffled)
    assert takeoff(order_of(*rows)) == takeoff(order_of(*shuffled))


@given(st.lists(ROWS, min_size=1, max_size=8))
def test_no_block_is_lost_or_made_up(rows: list[ListRow]):
    assert sum(line.count for line in takeoff(order_of(*rows))) == sum(row.count for row in rows)


@pytest.mark.parametrize(
    ("course", "rate", "day"),
    [
        (1, "2", 12),
        (2, "2", 12),
        (3, "2", 14),  # the 13th is closed
        (5, "2", 17),  # then a weekend
        (1, "1/2", 12),
        (2, "1/2", 12 + 5),  # two working days on: 14th, 17th
        (3, "1.5", 14),
    ],
)
def test_a_course_is_needed_so_many_working_days_after_the_first(course: int, rate: str, day: int):
    need = Need.model_validate({"from": "2027-05-12", "courses_a_day": rate})
    assert takeoff(order_of(block(course=course), need=need), CALENDAR)[0].needed == date(2027, 5, day)


def test_a_first_day_that_is_not_worked_moves_on():
    need = Need.model_validate({"from": "2027-05-15", "courses_a_day": "1"})
    assert takeoff(order_of(block(course=1), need=need), CALENDAR)[0].needed == date(2027, 5, 17)


def test_a_row_with_its_own_date_keeps_it_and_one_without_a_course_gets_none():
    need = Need.model_validate({"from": "2027-05-12", "courses_a_day": "1"})
    found = takeoff(order_of(block(course=4, needed=date(2027, 5, 2)), block("B"), need=need), CALENDAR)
    assert [line.needed for line in found] == [date(2027, 5, 2), None]


def test_without_a_calendar_courses_have_no_date():
    need = Need.model_validate({"from": "2027-05-12", "courses_a_day": "1"})
    assert takeoff(order_of(block(course=1), need=need))[0].needed is None


@pytest.mark.parametrize(
    ("share", "count", "asked"),
    [("0.05", 20, 1), ("0.05", 21, 2), ("0.05", 1, 1), ("0.07", 100, 7), ("0.1", 30, 3), ("1", 4, 4)],
)
def test_spares_are_rounded_up_from_exact_shares(share: str, count: int, asked: int):
    order = order_of(block(count=count), spare=share)
    assert spares(order, takeoff(order)) == [OrderLine("", None, "A", "wall", 600.0, 300.0, 200.0, asked, None)]


def test_spares_are_counted_over_the_whole_order_not_by_line():
    order = order_of(*(block(count=5, course=course) for course in range(1, 5)), spare="0.05")
    assert [line.count for line in spares(order, takeoff(order))] == [1]


def test_no_share_asks_for_no_spares():
    order = order_of(block(count=100))
    assert spares(order, takeoff(order)) == []


def test_a_part_is_called_by_its_name_or_by_its_file(order: Load, tmp_path: Path):
    (tmp_path / "more.csv").write_text("mark,length_mm,height_mm,thickness_mm,count\nM,600,300,200,3\n")
    named = order(("parts:\n", "parts:\n  - {list: more.csv, name: garden, mix: base}\n"))
    assert {line.part for line in takeoff(named)} == {"garden", "blocks"}


def test_lists_of_one_name_in_two_folders_stay_two_parts(order: Load, tmp_path: Path):
    (tmp_path / "south").mkdir()
    (tmp_path / "south" / "blocks.csv").write_text("mark,length_mm,height_mm,thickness_mm,count\nM,600,300,200,3\n")
    found = order(("parts:\n", "parts:\n  - {list: south/blocks.csv, mix: base}\n"))
    assert {line.part for line in takeoff(found)} == {"south/blocks.csv", "blocks.csv"}
