"""What was cast, laid or racked must still have its place in the order and the site of a plan made anew."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

import pytest

from blockrun.errors import BadInput
from blockrun.yard.now import Lot, Pile, state_of
from blockrun.yard.replan.happened import happened
from blockrun.yard.replan.kept import Kept
from blockrun.yard.replan.ordered_still import (
    check_ordered_still,
    check_parts_still,
    check_racks_still,
    left_of_former,
)
from blockrun.yard.replan.spares import spares_to_have
from tests.yard.replan.begun import WED, begun, marks
from tests.yard.replan.went import went


def test_an_order_without_blocks_that_were_cast_is_refused_with_what_to_write_into_it(small_kept: Kept) -> None:
    facts = begun(small_kept)
    check_ordered_still(facts.turns, small_kept.plan.ordered, [small_kept])
    there, others = marks(facts)["thin"], [line for line in small_kept.plan.ordered if line.mark != "thin"]
    with pytest.raises(BadInput) as refused:
        check_ordered_still(facts.turns, others, [small_kept])
    assert refused.value.what == f"{there} thin of light were cast, and the order has no such blocks any more"
    assert refused.value.todo is not None
    assert f"mark,length_mm,height_mm,thickness_mm,count,mix and thin,600,300,100,{there},light" in refused.value.todo


@pytest.mark.parametrize(
    ("changed", "said"),
    [
        ({"thickness_mm": 200.0}, "thin was 600 x 300 x 100 mm and is 600 x 300 x 200 mm"),
        ({"bevel_deg": 5.0}, "thin was 600 x 300 x 100 mm and leans otherwise now"),
    ],
)
def test_another_size_under_a_mark_that_was_cast_is_refused(
    small_kept: Kept, changed: dict[str, float], said: str
) -> None:
    facts = begun(small_kept)
    there = marks(facts)["thin"]
    now = [replace(line, **changed) if line.mark == "thin" else line for line in small_kept.plan.ordered]
    with pytest.raises(BadInput) as refused:
        check_ordered_still(facts.turns, now, [small_kept])
    of = f"{there} thin of light were cast, and the order has another size under that mark"
    assert refused.value.what == f"{of}: {said}"
    assert refused.value.todo is not None
    assert "Give what is still to be cast a mark of its own." in refused.value.todo


def test_the_same_size_in_other_units_is_no_other(small_kept: Kept) -> None:
    now = [replace(line, length_mm=line.length_mm + 0.3) for line in small_kept.plan.ordered]
    check_ordered_still(begun(small_kept).turns, now, [small_kept])


def test_an_order_without_a_part_in_which_blocks_were_laid_is_refused(small_kept: Kept) -> None:
    pile = Pile()
    pile.put(("full", "light"), Lot((small_kept.id, 1), WED, WED, 1))
    part = small_kept.plan.ordered[0].part
    check_parts_still({(part, 1): pile, ("shed", 1): Pile()}, small_kept.plan.ordered)
    with pytest.raises(BadInput, match="1 block was laid in shed, and the order has no part of that name any more"):
        check_parts_still({("shed", 1): pile}, small_kept.plan.ordered)


def test_an_order_without_a_course_of_which_blocks_were_laid_is_refused(small_kept: Kept) -> None:
    laid, ordered = defaultdict(Pile), small_kept.plan.ordered
    laid["wall", 2].put(("full", "light"), Lot((small_kept.id, 1), WED, WED, 3))
    laid["wall", 0].put(("full", "light"), Lot((small_kept.id, 1), WED, WED, 1))  # nobody told in which course
    check_parts_still(laid, ordered)
    with pytest.raises(BadInput, match="3 blocks were laid in course 2 of wall, and the order has no such course any"):
        check_parts_still(laid, [line for line in ordered if (line.part, line.course) != ("wall", 2)])


def test_a_site_without_a_rack_on_which_blocks_lie_is_refused(small_kept: Kept) -> None:
    told, site = went(small_kept.as_planned, WED), small_kept.as_planned.site
    racks = state_of(told).racks
    check_racks_still(racks, site)
    count, east = len(racks["east"]), site.racks[0]
    others = site.model_copy(update={"racks": (east.model_copy(update={"name": "north"}),)})
    with pytest.raises(BadInput, match=f"{count} blocks lie on rack east, and the site has no rack of that name"):
        happened([small_kept], told, WED, 2, 1, (others, small_kept.plan.order))


def test_blocks_left_in_the_order_for_a_part_that_went_ask_for_no_spare(small_kept: Kept) -> None:
    """Some of each mark are cast by then; what there is of one is all that is ordered of it, as the refusal says."""
    before = begun(small_kept)
    there, order = marks(before)["thin"], small_kept.plan.order
    line = next(line for line in small_kept.plan.ordered if line.mark == "thin")
    asked = {mark for mark, _, _ in before.spares}
    assert "thin" in asked
    lines = [one for one in small_kept.plan.ordered if one.mark != "thin"]
    left = replace(line, part="left", course=None, needed=None, count=there)
    kinds = left_of_former(before.turns, [*lines, left], [small_kept])
    assert kinds == {("thin", "light")}
    state = state_of(went(small_kept.as_planned, WED))
    spares = spares_to_have(order.spares, [*lines, left], state, kinds)
    assert {mark for mark, _, _ in spares} == asked - {"thin"}
    assert left_of_former(before.turns, small_kept.plan.ordered, [small_kept]) == set()
