"""What slabs may give is settled in whole numbers: what only they give first, and no more than there is room for."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from blockrun.optimiser.problem import Stack
from blockrun.optimiser.sawing.plan import Piece, Sawn, SawPlan, Settled, Slab, ToSaw
from blockrun.optimiser.sawing.settle import settle
from blockrun.optimiser.sawing.solve import saw
from tests.optimiser.sawing.by_hand import faults

ASKED = ToSaw(
    slabs=(Slab(1300, 650), Slab(700, 650)),
    kerfs=(3, 3),
    most=(100, 100),
    sizes=((600, 200), (300, 200), (400, 300)),
    demand=(7, 5, 3),
    sawn_only=frozenset({0, 2}),
    stack=None,
)


def settled(asked: ToSaw) -> Settled:
    (found,) = settle([asked], 0, stop=lambda: False)
    return found


def given(found: Settled) -> Counter[int]:
    gives = Counter[int]()
    for _, plan, count in found.needed.plans:
        gives.update({item: count * each for item, each in plan.gives().items()})
    return gives


@pytest.mark.parametrize(("most", "stack"), [((100, 100), None), ((2, 1), None), ((100, 100), Stack(2, 2))])
def test_what_only_slabs_give_is_sawn_in_its_number_whatever_there_is_room_for(
    most: tuple[int, int], stack: Stack | None
) -> None:
    asked = replace(ASKED, most=most, stack=stack)
    found = settled(asked)
    assert {item: given(found)[item] for item in asked.sawn_only} == {0: 7, 2: 3}
    assert given(found)[1] <= 5
    for kind, plan in [*((kind, plan) for kind, plan, _ in found.needed.plans), *found.choice]:
        assert faults(asked.slabs[kind], 3, asked.sizes, plan) == []
        assert len(plan.pieces) <= most[kind]
        assert stack is None or stack.columns(plan.gives().values()) <= stack.places
    assert found.needed.cost == sum(asked.slabs[kind].area * count for kind, _, count in found.needed.plans)
    assert found.needed.bound <= found.needed.cost


def test_fewer_places_of_a_stack_than_a_slab_gives_columns_leave_its_first_pieces() -> None:
    plan = SawPlan(tuple(Piece(item, 310 * place, 0, 300, 200) for place, item in enumerate((1, 1, 1, 0))))
    for stack, kept in ((Stack(2, 2), 3), (Stack(3, 2), 4), (Stack(1, 2), 2), (Stack(1, 3), 3)):
        assert len(replace(ASKED, stack=stack).kept(0, plan).pieces) == kept


def test_what_other_moulds_cast_too_is_only_there_to_choose() -> None:
    found = settled(replace(ASKED, sawn_only=frozenset()))
    assert (found.needed.plans, found.needed.proven) == ((), True)
    assert {item for _, plan in found.choice for item in plan.gives()} == {0, 1, 2}


def test_what_is_needed_is_settled_before_what_may_be_chosen(monkeypatch: pytest.MonkeyPatch) -> None:
    # where time runs out, it runs out on what can be done without
    sawn_out_of_offcuts: list[tuple[int, ...]] = []

    def noted(*asked: Any, offcuts: Sequence[int] = ()) -> Sawn:
        sawn_out_of_offcuts.append(tuple(offcuts))
        return saw(*asked, offcuts=offcuts)

    monkeypatch.setattr("blockrun.optimiser.sawing.settle.saw", noted)
    assert settled(ASKED).needed.proven
    assert sawn_out_of_offcuts == [(1,), ()]
