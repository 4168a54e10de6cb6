"""What is cast: blocks, spares and need dates."""

from dataclasses import replace
from datetime import date
from decimal import Decimal

from blockrun.order import BlockList, ListRow

G = ListRow("G", 600.0, 300.0, 200.0, count=1)


def test_a_block_that_is_not_cast_is_found(plain):
    """An A of course 1 becomes one more spare."""
    plain.set("casts", {"cast": 1}, part="", course=None, spare=True, needed=None)
    plain.totals = None
    assert plain.said() == ["3 blocks of A in wall for north course 1 ordered, but 2 cast"]


def test_a_block_cast_twice_is_found(plain):
    """An A of course 2 is cast as one of course 1."""
    plain.set("casts", {"cast": 6}, course=1)
    assert plain.broken() == [
        ("ordered blocks", "A in wall for north course 1"),
        ("ordered blocks", "A in wall for north course 2"),
    ]


def test_a_block_for_a_part_that_is_not_ordered_is_found(plain):
    plain.set("casts", {"cast": 4}, part="south")
    assert ("ordered blocks", "H in wall for south course 1") in plain.broken()


def test_a_spare_too_few_is_found(plain):
    plain.set("casts", {"cast": 8}, mark="A")
    plain.set("batches", {"batch": 2}, poured_l=151.2)  # four A: 144 L, with 5 % 151.2
    bigger_batch(plain)
    plain.totals = None
    assert plain.said() == ["1 spare of H in wall asked for, but 0 cast"]


def bigger_batch(plain):
    """Batch 2 made of 3 1/2 bags: 175 L; foam 103.47 / 20 = 5.2, so one minute more, taken from its start."""
    plain.set("batches", {"batch": 2}, bags=3.5, cement_kg=87.5, slurry_water_kg=43.75, foam_l=103.47, foam_kg=10.35)
    plain.set("batches", {"batch": 2}, agent_l=0.26, yield_l=175.0, start="06T08:39", foam_at="06T08:49")
    plain.set("tasks", {"batch": 2}, start="06T08:39")
    plain.change_site(pour_life_min=20.0)
    plain.change_part_of_site("stock", cement=plain.site.stock.cement.model_copy(update={"on_hand_bags": 10.0}))
    plain.set("materials", {"agent_used_l": 0.22}, cement_left_kg=175.0)
    rows = plain.materials["day"].dt.day == 6
    plain.set("materials", rows, cement_used_kg=87.5, water_used_kg=53.84, agent_used_l=0.26)
    plain.set("materials", rows, cement_left_kg=162.5, agent_left_l=0.52)
    plain.say("cement", value=162.5)


def test_further_spares_are_welcome_in_a_batch_that_is_needed(plain):
    """With no spares asked for, both blocks on top are further spares, and their batch pours ordered blocks too."""
    plain.order = plain.order.model_copy(update={"spares": Decimal(0)})
    assert plain.broken() == []


def test_spares_of_something_that_nobody_ordered_are_found(based):
    """The one G is ordered in the mix light, but cast in wall as a spare."""
    based.change_part_of_order(1, mix="light", blocks=BlockList("rest.csv", (G,)))
    based.set("casts", {"cast": 3}, part="", spare=True, needed=None)
    assert "1 spare of G in wall cast, but nobody ordered that" in based.said()


def test_a_spare_with_a_course_is_found(plain):
    plain.set("casts", {"cast": 8}, course=2)
    assert plain.broken() == [("spares have no course", "block 8")]


def test_a_spare_with_a_need_date_is_found(plain):
    plain.set("casts", {"cast": 8}, needed="2027-05-10")
    assert plain.broken() == [("spares have no course", "block 8")]


def test_a_wrong_need_date_is_found(plain):
    plain.set("casts", {"cast": 4}, needed="2027-05-06")
    assert plain.said() == [
        "1 block of H in wall for north course 1 planned for Thu 6 May, but the order says Mon 3 May"
    ]


def test_a_missing_need_date_is_found(plain):
    plain.set("casts", {"cast": 4}, needed=None)
    assert plain.said() == ["1 block of H in wall for north course 1 planned for no date, but the order says Mon 3 May"]


def test_courses_a_day_give_the_need_dates(based):
    """Course 2 is needed a working day after Friday, not a calendar day."""
    based.set("casts", {"course": 2}, needed="10")
    assert based.said() == [
        "2 blocks of S in light for slabs course 2 planned for Sat 10 Apr, but the order says Mon 12 Apr"
    ]


def test_rows_without_a_course_get_no_date_from_courses_a_day(based):
    need = based.order.parts[0].needed
    undated = BlockList("rest.csv", (replace(G, mix="wall"),))
    based.change_part_of_order(1, blocks=undated, needed=need)
    assert based.said() == ["1 block of G in wall for rest planned for Fri 9 Apr, but the order says no date"]
    based.set("casts", {"cast": 3}, needed=None)
    assert based.broken() == []


def test_a_first_day_before_the_plan_still_counts_working_days(based):
    """From Fri 2 Apr: course 1 that day, course 2 Mon 5 Apr; ready Fri 9 Apr, so 7 and 4 days late, two blocks each."""
    based.change_part_of_order(0, needed=based.order.parts[0].needed.model_copy(update={"from_day": date(2027, 4, 2)}))
    based.set("casts", {"course": 1}, needed="02")
    based.set("casts", {"course": 2}, needed="05")
    based.say("block_days_late", value=22, bound=22)
    assert based.broken() == []


def test_further_spares_are_found_where_the_order_wants_none(plain):
    """One A and one H are asked for on top; without spares asked for, both are further ones."""
    plain.order = plain.order.model_copy(update={"further_spares": False})
    assert plain.broken() == []
    plain.order = plain.order.model_copy(update={"spares": Decimal(0)})
    assert plain.said() == [
        "1 spare of A in wall cast, but 0 asked for and no further ones wanted",
        "1 spare of H in wall cast, but 0 asked for and no further ones wanted",
    ]


def test_a_batch_of_further_spares_alone_is_found(based):
    """The order loses course 2, so the third batch pours spares only."""
    based.change_part_of_order(0, blocks=BlockList("slabs.csv", based.order.parts[0].blocks.rows[:1]))
    based.set("casts", {"course": 2}, part="", course=None, spare=True, needed=None)
    based.totals = None
    assert based.broken() == [("needless batches", "batch 1"), ("needless batches", "batch 3")]
