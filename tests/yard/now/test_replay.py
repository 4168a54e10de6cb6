from __future__ import annotations

import pytest

from blockrun.yard.journal.events import (
    AnyEvent,
    Blocks,
    BlocksCounted,
    Laid,
    MouldBack,
    MouldOut,
    Moved,
    OfBatch,
    Rejected,
    SidesOff,
    Stacked,
    Thumbed,
    Undone,
    WeatherSeen,
)
from blockrun.yard.now import Pile, State, state_of
from tests.yard.now.happened import LIGHT, at, entry, pour, rack, some, strip

FULL = ("full", LIGHT)
HALF = ("half", LIGHT)


def after(*events: AnyEvent) -> State:
    return state_of(entry(minute, event) for minute, event in enumerate(events))


def said(state: State) -> list[str]:
    return [clash.what for clash in state.clashes]


def test_what_is_poured_stands_in_its_mould() -> None:
    state = after(pour(7, "gang-2/01", "full", "half"))
    here = state.moulds["gang-2/01"]
    assert (here.blocks.counts, here.batches, here.poured) == ({FULL: 1, HALF: 1}, [("", 7)], at(0))
    assert state.cast == {FULL: 1, HALF: 1}


def test_two_batches_may_fill_one_mould() -> None:
    state = after(pour(7, "gang-2/01", "full", ""), pour(8, "gang-2/01", "", "half"))
    assert state.moulds["gang-2/01"].batches == [("", 7), ("", 8)]
    assert state.moulds["gang-2/01"].poured == at(1)
    assert said(state) == []


def test_a_turn_is_remembered_when_it_is_over() -> None:
    state = after(
        pour(7, "tray/01", "full", base="tray/b1"),
        SidesOff(mould="tray/01", base="tray/b1"),
        strip("tray/01", (1, "full"), base="tray/b1"),
        pour(8, "tray/01", "half", base="tray/b2"),
    )
    over, here = state.turns
    assert (over.poured, over.sides_off, over.stripped) == (at(0), at(1), at(2))
    assert [(one.cavity, one.kind, one.batch) for one in over.filled] == [(1, FULL, ("", 7))]
    assert (here, here.stripped, here.sides_off) == (state.moulds["tray/b2"], None, None)


def test_a_cavity_that_is_sawn_gives_several_blocks() -> None:
    state = after(pour(7, "slab/01", "full"))
    sawn = pour(7, "slab/01", "full").model_copy(update={"fills": pour(7, "slab/01", "full").fills * 3})
    assert after(sawn).moulds["slab/01"].blocks.counts == {FULL: 3}
    assert state.moulds["slab/01"].blocks.counts == {FULL: 1}
    assert said(after(sawn)) == []


def test_whole_blocks_go_from_mould_to_rack_to_stack_and_are_laid() -> None:
    state = after(
        pour(7, "gang-2/01", "full", "half"),
        strip("gang-2/01", (1, "full"), (1, "half")),
        rack("east", (1, "full"), (1, "half"), mould="gang-2/01"),
        Stacked(rack="east", blocks=some((1, "full"))),
        Laid(part="wall", course=2, blocks=some((1, "full"))),
    )
    assert said(state) == []
    assert not state.moulds
    assert state.racks["east"].counts == {HALF: 1}
    assert state.laid["wall", 2].counts == {FULL: 1}
    (lot,) = (lot for _, lot in state.laid["wall", 2].lots())
    assert (lot.batch, lot.poured, lot.since) == (("", 7), at(0), at(4))


def test_blocks_that_are_stripped_lie_out_of_the_mould_until_they_are_moved() -> None:
    state = after(pour(7, "gang-2/01", "full"), strip("gang-2/01", (1, "full")))
    assert state.out["gang-2/01"].counts == {FULL: 1}


def test_broken_blocks_are_broken() -> None:
    state = after(pour(7, "gang-2/01", "full", "full"), strip("gang-2/01", (1, "full"), broken=some((1, "full"))))
    assert (state.broken.counts, said(state)) == ({FULL: 1}, [])


def test_blocks_told_neither_whole_nor_broken_are_not_lost() -> None:
    state = after(pour(7, "gang-2/01", "full", "full"), strip("gang-2/01", (1, "full")))
    assert state.out["gang-2/01"].counts == {FULL: 2}
    assert said(state) == ["1 full in gang-2/01 came out neither whole nor broken"]


def test_more_blocks_than_are_there_are_not_made() -> None:
    state = after(pour(7, "gang-2/01", "full"), strip("gang-2/01", (3, "full")))
    assert state.out["gang-2/01"].counts == {FULL: 1}
    assert said(state) == ["3 full (light) are told, and only 1 is in gang-2/01"]


def test_a_mould_that_holds_something_was_not_stripped_before_the_next_pour() -> None:
    state = after(pour(7, "gang-2/01", "full"), pour(8, "gang-2/01", "half"))
    assert state.out["gang-2/01"].counts == {FULL: 1}
    assert state.moulds["gang-2/01"].blocks.counts == {HALF: 1}
    assert said(state) == ["gang-2/01 still holds 1 full and was not stripped"]


def test_sides_come_off_one_base_and_go_to_the_next() -> None:
    events = (pour(7, "tray-1/01", "thin", base="tray-1/b01"), SidesOff(mould="tray-1/01", base="tray-1/b01"))
    state = after(*events, pour(8, "tray-1/01", "thin", base="tray-1/b02"))
    assert said(state) == []
    assert state.sides == {"tray-1/01": "tray-1/b02"}
    assert state.moulds.keys() == {"tray-1/b01", "tray-1/b02"}


def test_sides_that_nobody_took_off_are_a_clash() -> None:
    state = after(pour(7, "tray-1/01", "thin", base="b01"), pour(8, "tray-1/01", "thin", base="b02"))
    assert said(state) == ["the sides of tray-1/01 are still on b01"]
    assert not state.moulds["b01"].sides_on


def test_a_strip_of_the_base_takes_the_sides_along() -> None:
    state = after(pour(7, "tray-1/01", "thin", base="b01"), strip("tray-1/01", (1, "thin"), base="b01"))
    assert (state.sides, said(state)) == ({}, [])


def test_blocks_are_laid_from_the_stack_first_then_from_a_rack() -> None:
    state = after(
        pour(1, "a/01", "full", "full"),
        strip("a/01", (2, "full")),
        rack("east", (2, "full"), mould="a/01"),
        Stacked(rack="east", blocks=some((1, "full"))),
        Laid(part="wall", blocks=some((1, "full"))),
    )
    assert (state.stacks[""].counts, state.racks["east"].counts) == ({}, {FULL: 1})
    assert state.laid["wall", 0].counts == {FULL: 1}


def test_blocks_may_be_moved_from_one_rack_to_another() -> None:
    state = after(
        pour(1, "a/01", "full"), strip("a/01", (1, "full")), rack("east", (1, "full")), rack("west", (1, "full"))
    )
    assert (state.racks["east"].counts, state.racks["west"].counts) == ({}, {FULL: 1})
    assert said(state) == []


TWO_BATCHES = (
    pour(1, "a/01", "full"),
    strip("a/01", (1, "full")),
    rack("west", (1, "full"), mould="a/01"),
    pour(2, "a/01", "full"),
    strip("a/01", (1, "full")),
    rack("west", (1, "full"), mould="a/01"),
)


def batches(pile: Pile) -> list[int]:
    return [lot.batch[1] for _, lot in pile.lots()]


def test_blocks_moved_of_a_batch_that_is_told_are_of_that_batch() -> None:
    onward = rack("east", (1, "full"), mould="a/01").model_copy(update={"from_rack": "west", "of": (OfBatch(batch=2),)})
    state = after(*TWO_BATCHES, onward)
    assert (batches(state.racks["west"]), batches(state.racks["east"]), said(state)) == ([1], [2], [])


def test_blocks_of_a_batch_that_is_not_there_are_not_taken_of_another() -> None:
    state = after(*TWO_BATCHES, rack("east", (2, "full")).model_copy(update={"of": (OfBatch(batch=2),)}))
    assert (batches(state.racks["west"]), batches(state.racks["east"])) == ([1], [2])
    assert said(state) == ["2 full (light) are told, and only 1 is out of a mould or on another rack"]
    assert state.clashes[0].of == (("", 2),)


def test_blocks_moved_from_a_rack_that_is_told_are_taken_from_no_other() -> None:
    state = after(*TWO_BATCHES, Moved(rack="east", from_rack="north", blocks=some((1, "full"))))
    assert (len(state.racks["west"]), said(state)) == (2, ["1 full (light) are told, and none is on rack north"])


def test_blocks_stacked_of_a_batch_that_is_told_are_of_that_batch() -> None:
    state = after(*TWO_BATCHES, Stacked(rack="west", blocks=some((1, "full")), of=(OfBatch(batch=2),)))
    assert (batches(state.racks["west"]), batches(state.stacks[""])) == ([1], [2])


def test_blocks_moved_to_another_rack_have_been_on_one_since_they_came_there_first() -> None:
    one = Moved(rack="east", blocks=some((1, "full")), of=(OfBatch(batch=2),))
    state = after(*TWO_BATCHES, one, one.model_copy(update={"of": (OfBatch(batch=1),)}))
    assert [(lot.batch[1], lot.since) for _, lot in state.racks["east"].lots()] == [(1, at(2)), (2, at(5))]


def test_a_mould_whose_blocks_are_all_thrown_out_is_free() -> None:
    thrown = Rejected(place="mould", name="a/01", blocks=some((1, "full")), why="flat")
    state = after(pour(1, "a/01", "full"), thrown)
    assert (state.moulds, state.rejected.counts) == ({}, {FULL: 1})


def test_a_count_that_finds_fewer_makes_the_rest_missing_and_a_later_one_may_find_them() -> None:
    events = (pour(1, "a/01", "full", "full"), strip("a/01", (2, "full")), rack("east", (2, "full"), mould="a/01"))
    fewer = BlocksCounted(place="rack", name="east", mark="full", mix=LIGHT, count=1)
    more = BlocksCounted(place="rack", name="east", mark="full", mix=LIGHT, count=3)
    assert after(*events, fewer).missing.counts == {FULL: 1}
    state = after(*events, fewer, more)
    assert (state.racks["east"].counts, state.missing.counts, state.found) == ({FULL: 3}, {}, {FULL: 1})


def test_a_mould_out_of_use_is_not_poured_into() -> None:
    state = after(MouldOut(mould="a/01"), pour(1, "a/01", "full"))
    assert said(state) == ["a/01 is out of use"]
    assert said(after(MouldOut(mould="a/01"), MouldBack(mould="a/01"), pour(1, "a/01", "full"))) == []


def test_thumbs_and_the_air_are_kept_where_they_belong() -> None:
    air = WeatherSeen(day=at(0).date(), min_degc=3, max_degc=9)
    state = after(pour(1, "a/01", "full"), Thumbed(mould="a/01", thumb="dents"), air)
    assert state.moulds["a/01"].thumbs == [(at(1), "dents")]
    assert state.air == {at(0).date(): air}


def test_a_thumb_in_an_empty_mould_is_a_clash() -> None:
    assert said(after(Thumbed(mould="a/01", thumb="firm"))) == ["nothing stands in a/01"]


def test_only_what_happened_until_a_moment_counts() -> None:
    entries = [entry(0, pour(1, "a/01", "full")), entry(5, strip("a/01", (1, "full")))]
    assert "a/01" in state_of(entries, at(4)).moulds
    assert "a/01" not in state_of(entries, at(5)).moulds


def test_what_was_undone_never_happened() -> None:
    entries = [entry(0, pour(1, "a/01", "full")), entry(5, strip("a/01", (1, "full"))), entry(9, Undone(key="k5"))]
    assert state_of(entries) == state_of(entries[:1])


@pytest.mark.parametrize("mould", ["{}", "a{0}b"])
def test_names_with_braces_are_names(mould: str) -> None:
    assert said(after(strip(mould))) == [f"nothing stands in {mould}"]


def test_more_than_is_named_of_one_mark_in_two_mixes_is_not_taken_from_the_other() -> None:
    heavy = (Blocks(mark="full", mix="heavy", count=1),)
    state = after(pour(1, "a/01", "full"), strip("a/01", (1, "full")), Laid(part="wall", blocks=heavy))
    assert said(state) == ["1 full (heavy) are told, and none is stacked, on a rack or out of a mould"]
