"""Cement, foaming agent, and the table of materials."""

from datetime import date

import pytest
from made_anew import made_anew

from blockrun.mix.bucket_of_foam import to_weigh_foam
from blockrun.planner.begun.facts import Coming, MaterialBegun
from blockrun.site import CementDelivery


def cement(plain, **fields):
    plain.change_part_of_site("stock", cement=plain.site.stock.cement.model_copy(update=fields))


def test_cement_that_comes_after_the_batch_is_found(plain):
    cement(plain, deliveries=(CementDelivery(day=date(2027, 4, 7), amount=3.0),))
    plain.set("materials", {"cement_delivered_kg": 75.0}, cement_delivered_kg=0.0, cement_left_kg=-75.0)
    assert plain.said() == ["batch 2, Tue 6 Apr 08:40, lacks 75 kg of its cement"]


def test_cement_that_comes_in_the_morning_of_the_batch_is_there(plain):
    deliveries = [CementDelivery(day=date(2027, 4, day), amount=3.0) for day in (5, 6)]
    cement(plain, on_hand_bags=0.0, deliveries=tuple(deliveries))
    plain.materials["cement_delivered_kg"] = 75.0
    assert plain.broken() == []


def test_cement_that_came_before_the_first_day_is_there(plain):
    cement(
        plain, on_hand_bags=0.0, deliveries=(CementDelivery(day=plain.site.calendar.start.replace(day=1), amount=6.0),)
    )
    plain.materials["cement_delivered_kg"] = 0.0
    plain.materials["cement_left_kg"] = [75.0, 0.0]
    assert plain.broken() == []


def test_agent_that_is_not_there_is_found(plain):
    agent = plain.site.stock.foaming_agent.model_copy(update={"on_hand_l": 0.4})
    plain.change_part_of_site("stock", foaming_agent=agent)
    plain.materials["agent_left_l"] = [0.18, -0.04]
    assert plain.said() == ["batch 2, Tue 6 Apr 08:40, lacks 0.04 L of its foaming agent"]


@pytest.mark.parametrize(
    "column",
    [
        "cement_used_kg",
        "water_used_kg",
        "agent_used_l",
        "cement_delivered_kg",
        "agent_delivered_l",
        "cement_left_kg",
        "agent_left_l",
    ],
)
def test_a_wrong_number_of_materials_is_found(plain, column):
    plain.materials.loc[1, column] += 1
    assert plain.broken() == [("materials table", "materials Tue 6 Apr")]


def test_a_day_left_out_of_materials_is_found(plain):
    plain.materials = plain.materials.iloc[1:].reset_index(drop=True)
    assert plain.said() == ["materials.csv has 0 rows for Mon 5 Apr, not 1"]


def test_a_day_twice_in_materials_is_found(plain):
    plain.materials = plain.materials.iloc[[0, 1, 1]].reset_index(drop=True)
    assert plain.said() == ["materials.csv has 2 rows for Tue 6 Apr, not 1"]


def test_a_day_on_which_nothing_is_used_is_found(plain):
    plain.add("materials", "07 0 0 0 0 0 0 0.56")
    assert plain.said() == ["materials.csv has a row for Wed 7 Apr, when nothing is used or delivered"]


def test_a_delivery_between_the_pours_has_its_row(based):
    """One that comes after the last pour has none."""
    deliveries = tuple(CementDelivery(day=date(2027, 4, day), amount=1.0) for day in (5, 6))
    cement(based, deliveries=deliveries)
    based.set("materials", {"cement_delivered_kg": 0.0}, cement_delivered_kg=25.0, cement_left_kg=225.0)
    assert based.broken() == []


def recorded(plain, at, name, **fields):
    """The plan made anew at a moment, with what was recorded of a material."""
    made_anew(plain, at)
    plain.begun = plain.begun.model_copy(update={"recorded": {name: MaterialBegun(**fields)}})


def test_what_a_count_found_and_what_it_missed_is_in_what_is_left(plain):
    mon, tue = (date(2027, 4, day) for day in (5, 6))
    less, more = (Coming(day=mon, amount=1.0),), (Coming(day=tue, amount=2.0),)
    recorded(plain, "06T12:00", "cement", on_hand=3, missing=less, found=more)
    before = list(plain.materials["cement_left_kg"])
    assert [where for _, where in plain.broken()] == ["materials Mon 5 Apr", "materials Tue 6 Apr"]
    plain.materials["cement_left_kg"] = [before[0] - 25, before[1] + 25]
    assert plain.broken() == []


def test_foam_weighed_before_batches_poured_is_out_of_the_agent_there_is(plain):
    recorded(plain, "05T12:00", "foaming agent", on_hand=plain.site.stock.foaming_agent.on_hand_l)
    weighed_l = to_weigh_foam(plain.site).agent_l
    assert [where for _, where in plain.broken()] == ["materials Mon 5 Apr", "materials Tue 6 Apr"]
    plain.materials["agent_left_l"] -= weighed_l
    assert plain.broken() == []


def test_cement_that_a_count_missed_is_not_there_for_what_is_to_come(plain):
    recorded(plain, "05T12:00", "cement", on_hand=3, missing=(Coming(day=date(2027, 4, 5), amount=1.0),))
    plain.materials["cement_left_kg"] -= 25
    assert plain.said() == ["batch 2, Tue 6 Apr 08:40, lacks 25 kg of its cement"]
