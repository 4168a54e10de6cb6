"""What had happened, as the journal tells it: batches, good blocks in their cavities, spares, stock, people and air."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from blockrun.planner.begun import Begun
from blockrun.planner.begun.facts import Coming
from blockrun.planner.progress import Seen
from blockrun.planner.tables import table
from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import (
    Blocks,
    BlocksCounted,
    Counted,
    Crushed,
    DayLost,
    Delivered,
    Fill,
    Laid,
    MouldBack,
    MouldOut,
    Moved,
    PersonAway,
    Poured,
    Rejected,
    SidesOff,
    Stacked,
    Stripped,
    Thumbed,
    Undone,
    WeatherSeen,
)
from blockrun.yard.losses import lost_of
from blockrun.yard.now import state_of
from blockrun.yard.ready.morning import morning_of
from blockrun.yard.replan.happened import happened
from blockrun.yard.replan.kept import Kept
from blockrun.yard.replan.spares import share_expected
from tests.yard.replan.begun import WED, begun, entries, marks
from tests.yard.replan.went import Wrong, went

TUE = datetime.fromisoformat("2027-04-06T12:50")
"""Ten minutes before the plan strips the three moulds of batch 1."""


def test_a_thumb_puts_a_strip_off_to_the_minute_from_which_it_may_be(small_kept: Kept) -> None:
    pressed = Thumbed(mould="gang-2/01", thumb="soft")
    entered = [*went(small_kept.as_planned, TUE), *entries((TUE - timedelta(minutes=5), pressed))]
    ready = next(one for one in morning_of(small_kept.as_planned, entered, TUE).moulds if one.place == "gang-2/01")
    turns = {turn.place: turn for turn in happened([small_kept], entered, TUE, 2, 1).turns}
    told = turns["gang-2/01"].strip_from
    assert told is not None
    assert small_kept.as_planned.site.calendar.next_stretch(told, 10) == ready.strip_from
    assert {place: turn.strip_from for place, turn in turns.items() if turn.strip_from} == {"gang-2/01": told}
    assert turns["gang-2/02"].beside == turns["tray-1/b01"].beside == (("gang-2/01", "soft"),)


def test_a_firm_thumb_puts_nothing_off_and_no_thumb_counts_after_the_strip(small_kept: Kept) -> None:
    firm = begun(small_kept, Thumbed(mould="gang-2/01", thumb="firm"), at=TUE).turns
    assert {(turn.strip_from, turn.beside) for turn in firm} == {(None, ())}
    soft = entries((TUE - timedelta(minutes=5), Thumbed(mould="gang-2/01", thumb="soft")))
    over = happened([small_kept], [*went(small_kept.as_planned, WED), *soft], WED, 2, 1).turns
    assert {turn.strip_from for turn in over} == {None}


def test_sides_wait_with_the_strip_while_they_are_on(small_kept: Kept) -> None:
    at = datetime.fromisoformat("2027-04-06T07:55")
    site = small_kept.as_planned.site
    gang, tray = site.moulds
    late_sides = site.model_copy(update={"moulds": (gang, tray.model_copy(update={"sides_off_at_h": 16.0}))})
    soft = Thumbed(mould="tray-1/01", base="tray-1/b01", thumb="soft")
    so_far = (one for one in went(small_kept.as_planned, at) if not isinstance(one.event, SidesOff))
    entered = [*so_far, *entries((at - timedelta(minutes=5), soft))]
    asked = (late_sides, small_kept.plan.order)
    told = next(turn for turn in happened([small_kept], entered, at, 2, 1, asked).turns if turn.base == "tray-1/b01")
    assert told.sides_from is not None
    assert told.strip_from is not None
    assert at < told.sides_from < told.strip_from


def test_air_that_nobody_told_asks_for_a_thumb(small_kept: Kept) -> None:
    assert {turn.air for turn in begun(small_kept, at=TUE).turns} == {"untold"}


def test_batches_keep_their_mixer_bags_and_moment(small_kept: Kept) -> None:
    rows = small_kept.batches
    found = [(batch.number, batch.was, batch.mixer, batch.bags, batch.poured) for batch in begun(small_kept).batches]
    assert found == [(n, n, rows[n].mixer, rows[n].bags, rows[n].pour_to.to_pydatetime()) for n in (1, 2)]


def test_good_blocks_are_where_they_were_cast(small_kept: Kept) -> None:
    planned = [cast for cast in small_kept.as_planned.casts if cast.poured <= WED]
    found = {(t.mould, t.turn, b.cavity, b.mark, b.batch) for t in begun(small_kept).turns for b in t.blocks}
    assert found == {(cast.mould, cast.turn, cast.cavity, cast.mark, cast.batch) for cast in planned}


def test_blocks_that_broke_are_none(small_kept: Kept) -> None:
    turn = next((cast.mould, cast.turn) for cast in small_kept.as_planned.casts if cast.strip <= WED)
    whole, broken = marks(begun(small_kept)), marks(begun(small_kept, wrong=Wrong(broken={turn})))
    assert (whole - broken).total() == 1


def test_a_flat_batch_leaves_no_block_and_is_still_a_batch_poured(small_kept: Kept) -> None:
    facts = begun(small_kept, wrong=Wrong(flat={2}))
    assert [batch.was for batch in facts.batches] == [1, 2]
    assert not [block for turn in facts.turns for block in turn.blocks if block.batch == 2]


def lost_l(facts: Begun) -> list[float]:
    return [round(batch.lost_l, 6) for batch in facts.batches]


def litres(kept: Kept, *marks: str) -> float:
    volumes = {line.mark: line.volume_l for line in kept.plan.ordered}
    return round(sum(volumes[mark] for mark in marks), 6)


def test_what_filled_moulds_is_told_whatever_became_of_the_blocks(small_kept: Kept) -> None:
    casts = small_kept.as_planned.batches
    first = min(casts[1], key=lambda cast: cast.cavity)
    broken = Wrong(broken={(first.mould, first.turn)})
    assert lost_l(begun(small_kept)) == [0, 0]
    assert lost_l(begun(small_kept, wrong=broken)) == [litres(small_kept, first.mark), 0]
    flat = litres(small_kept, *(cast.mark for cast in casts[2]))
    assert lost_l(begun(small_kept, wrong=Wrong(flat={2}))) == [0, flat]
    assert lost_l(begun(small_kept, _thrown(2, small_kept), wrong=Wrong(not_made={2}))) == [0, 0]


def places(kept: Kept, batch: int) -> set[str]:
    return {cast.place for cast in kept.as_planned.batches[batch]}


def test_moulds_out_of_which_all_was_thrown_are_to_be_cleaned_on_another_day_too(small_kept: Kept) -> None:
    morning = datetime.fromisoformat("2027-04-07T07:00")
    empty = [turn for turn in begun(small_kept, wrong=Wrong(flat={2}), at=morning).turns if not turn.blocks]
    assert {turn.base or turn.mould for turn in empty} == places(small_kept, 2)
    assert [(turn.clean, turn.poured) for turn in empty] == [(None, small_kept.as_planned.batches[2][0].poured)] * len(
        empty
    )


def test_a_mould_out_of_use_is_not_cleaned_of_what_was_thrown_out(small_kept: Kept) -> None:
    mould = small_kept.as_planned.batches[2][0].mould
    morning = datetime.fromisoformat("2027-04-07T07:00")
    facts = begun(small_kept, MouldOut(mould=mould), wrong=Wrong(flat={2}), at=morning)
    assert mould not in {turn.mould for turn in facts.turns if not turn.blocks}


def test_a_block_that_broke_is_missing_in_its_own_mould_whatever_is_stripped_later(any_kept: Kept) -> None:
    casts = any_kept.as_planned.casts
    of_pour = Counter((cast.batch, cast.mark) for cast in casts)
    first = min(casts, key=lambda cast: (cast.strip, -of_pour[cast.batch, cast.mark]))
    turn = first.mould, first.turn
    wrong, last = Wrong(broken={turn}), max(cast.strip for cast in casts)
    for at in (first.strip, last):
        facts = begun(any_kept, wrong=wrong, at=at)
        there = sum(len(one.blocks) for one in facts.turns if (one.mould, one.turn) == turn)
        assert there == sum((cast.mould, cast.turn) == turn for cast in casts) - 1


def test_a_mould_was_clean_when_the_plan_then_in_force_had_it(small_kept: Kept) -> None:
    at = datetime.fromisoformat("2027-04-06T16:30")
    told = went(small_kept.as_planned, at)
    before = happened([small_kept], told, at, 2, 1)
    turn = next(turn for turn in before.turns if turn.clean is not None)
    sooner = turn.model_copy(update={"clean": turn.clean - timedelta(minutes=1)})
    turns = tuple(sooner if one is turn else one for one in before.turns)
    hand = replace(small_kept.plan, begun=before.model_copy(update={"turns": turns}))
    plans = [Kept(replace(small_kept.as_planned), hand), small_kept]
    again = happened(plans, told, WED, 3, 2)
    (found,) = (one.clean for one in again.turns if (one.mould, one.turn) == (turn.mould, turn.turn))
    assert found == sooner.clean


def test_a_batch_thrown_away_in_the_drum_is_a_batch_without_blocks(small_kept: Kept) -> None:
    facts = begun(small_kept, _thrown(2, small_kept), wrong=Wrong(not_made={2}))
    assert [(batch.was, batch.cubes) for batch in facts.batches] == [(1, 0), (2, 0)]
    assert facts.batches[1].bags == small_kept.batches[2].bags
    assert not [block for turn in facts.turns for block in turn.blocks if block.batch == 2]


def test_a_batch_thrown_and_made_again_in_one_minute_is_two(small_kept: Kept) -> None:
    again = next(one.event for one in went(small_kept.as_planned, WED) if _is_batch(one, 2))
    assert isinstance(again, Poured)
    facts = begun(small_kept, _thrown(2, small_kept), again, wrong=Wrong(not_made={2}))
    assert [(batch.was, batch.lost_l) for batch in facts.batches] == [(1, 0), (2, 0), (2, 0)]
    cast = sum(len(fill.marks) for fill in again.fills)
    assert Counter(block.batch for turn in facts.turns for block in turn.blocks)[2] == cast


def _thrown(number: int, kept: Kept) -> Poured:
    (event,) = (one.event for one in went(kept.as_planned, WED) if _is_batch(one, number))
    assert isinstance(event, Poured)
    empty = [fill.model_copy(update={"marks": ("",) * len(fill.marks)}) for fill in event.fills]
    return event.model_copy(update={"fills": tuple(empty)})


def test_cubes_that_were_crushed_are_told_of_their_batch(small_kept: Kept) -> None:
    size = {"load_kn": 9.1, "length_mm": 100, "width_mm": 100, "mix": "light", "plan": small_kept.id}
    cube = Crushed(what="cube", batch=2, age_d=7.0, **size)
    block = Crushed(what="block", batch=1, age_d=7.0, **size)
    assert [batch.crushed for batch in begun(small_kept, cube, block).batches] == [(), (7.0,)]


def test_a_batch_poured_again_is_a_batch_of_its_own_and_has_the_cubes(small_kept: Kept) -> None:
    first = next(one for one in went(small_kept.as_planned, WED, Wrong(flat={2})) if _is_batch(one, 2))
    facts = begun(small_kept, first.event, wrong=Wrong(flat={2}))
    assert [(batch.number, batch.was) for batch in facts.batches] == [(1, 1), (3, 2), (2, 2)]
    assert {block.batch for turn in facts.turns for block in turn.blocks} == {1, 2}


def test_sets_of_cubes_keep_the_numbers_of_the_plan_that_was_poured_by(small_kept: Kept) -> None:
    facts = begun(with_sets(small_kept, (2, 7), (2, 8), (1, 3)))
    assert [(batch.number, batch.cubes, batch.sets) for batch in facts.batches] == [(1, 1, (3,)), (2, 2, (7, 8))]


def test_sets_of_a_batch_poured_again_are_of_its_last_pour(small_kept: Kept) -> None:
    kept = with_sets(small_kept, (2, 7))
    first = next(one for one in went(kept.as_planned, WED, Wrong(flat={2})) if _is_batch(one, 2))
    facts = begun(kept, first.event, wrong=Wrong(flat={2}))
    assert [(batch.was, batch.sets) for batch in facts.batches] == [(1, ()), (2, ()), (2, (7,))]


def test_sets_of_a_batch_made_again_and_thrown_away_are_of_the_pour_that_was_kept(small_kept: Kept) -> None:
    kept = with_sets(small_kept, (2, 7))
    facts = begun(kept, _thrown(2, kept))
    assert [(batch.number, batch.was, batch.sets) for batch in facts.batches] == [(1, 1, ()), (2, 2, (7,)), (3, 2, ())]
    assert {block.batch for turn in facts.turns for block in turn.blocks} == {1, 2}


def with_sets(kept: Kept, *sets: tuple[int, int]) -> Kept:
    """A plan whose batches give sets of so many numbers."""
    rows = [{"batch": batch, "cubes": 3, "volume_l": 3.09, "set": number, "marked": ""} for batch, number in sets]
    tables = replace(kept.plan.tables, cubes=table("cubes", [{**row, "crush": None} for row in rows]))
    return Kept(kept.as_planned, replace(kept.plan, tables=tables))


def _is_batch(entry: Entry, number: int) -> bool:
    return isinstance(entry.event, Poured) and entry.event.batch == number


def test_a_batch_that_no_plan_has_is_as_big_as_its_blocks_need_it(small_kept: Kept) -> None:
    first = next(one.event for one in went(small_kept.as_planned, WED) if _is_batch(one, 1))
    assert isinstance(first, Poured)
    facts = begun(small_kept, first.model_copy(update={"plan": "", "batch": 1}), wrong=Wrong(flat={1}))
    assert facts.batches[-1].bags == small_kept.batches[1].bags


def test_what_is_undone_never_was(small_kept: Kept) -> None:
    told = went(small_kept.as_planned, WED)
    pour = next(one for one in told if _is_batch(one, 2))
    undoing = entries((WED - timedelta(minutes=1), Undone(key=pour.key)))
    facts = happened([small_kept], [*told, *undoing], WED, 2, 1)
    assert [batch.was for batch in facts.batches] == [1]


def test_what_happened_later_is_not_heeded(small_kept: Kept) -> None:
    later = datetime.fromisoformat("2027-04-20T18:00")
    assert happened([small_kept], went(small_kept.as_planned, later), WED, 2, 1) == begun(small_kept)


def test_blocks_rejected_on_a_rack_and_missing_at_a_count_are_none(small_kept: Kept) -> None:
    at = datetime.fromisoformat("2027-04-09T18:00")
    rack, kind, there = next(
        (rack, kind, n)
        for rack, pile in state_of(went(small_kept.as_planned, at)).racks.items()
        for kind, n in pile.counts.items()
        if n >= 2
    )
    blocks = (Blocks(mark=kind[0], mix=kind[1], count=1),)
    rejected = Rejected(place="rack", name=rack, blocks=blocks, why="chipped")
    counted = BlocksCounted(place="rack", name=rack, mark=kind[0], mix=kind[1], count=there - 2)
    before = marks(begun(small_kept, at=at))
    assert (before - marks(begun(small_kept, rejected, at=at))) == {kind[0]: 1}
    assert (before - marks(begun(small_kept, counted, at=at))) == {kind[0]: 2}


def test_blocks_that_are_laid_are_good(small_kept: Kept) -> None:
    at = datetime.fromisoformat("2027-04-09T18:00")
    kind = next(kind for pile in state_of(went(small_kept.as_planned, at)).racks.values() for kind in pile.counts)
    part = next(cast.part for cast in small_kept.as_planned.casts if cast.part)
    laid = Laid(part=part, course=1, blocks=(Blocks(mark=kind[0], mix=kind[1], count=1),))
    assert marks(begun(small_kept, laid, at=at)) == marks(begun(small_kept, at=at))


def test_blocks_that_left_their_rack_are_told_so(small_kept: Kept) -> None:
    at = datetime.fromisoformat("2027-04-09T18:00")
    rack, pile = next(iter(state_of(went(small_kept.as_planned, at)).racks.items()))
    kind = next(iter(pile.counts))
    moved = Stacked(rack=rack, blocks=(Blocks(mark=kind[0], mix=kind[1], count=2),))
    blocks = [block for turn in begun(small_kept, moved, at=at).turns for block in turn.blocks if block.off_rack]
    assert [(block.mark, block.rack) for block in blocks] == [(kind[0], "")] * 2
    assert not any(block.off_rack for turn in begun(small_kept, at=at).turns for block in turn.blocks)


def test_blocks_that_a_count_found_are_told_apart(small_kept: Kept) -> None:
    rack = small_kept.plan.site.racks[0].name
    cast = small_kept.as_planned.casts[-1]
    found = begun(small_kept, BlocksCounted(place="rack", name=rack, mark=cast.mark, mix=cast.mix, count=50))
    here = state_of(went(small_kept.as_planned, WED)).racks[rack].count((cast.mark, cast.mix))
    assert found.found == ((cast.mark, cast.mix, 50 - here),)


def test_the_yard_is_told_as_it_is(small_kept: Kept) -> None:
    mould = small_kept.as_planned.casts[0].mould
    facts = begun(
        small_kept,
        DayLost(day=date(2027, 4, 9)),
        PersonAway(first=date(2027, 4, 8), last=date(2027, 4, 9), people=1),
        MouldOut(mould=mould),
        WeatherSeen(day=date(2027, 4, 6), min_degc=-2, max_degc=7),
    )
    assert (facts.lost, facts.out_of_use) == ((date(2027, 4, 9),), (mould,))
    assert facts.away == ((date(2027, 4, 8), 1), (date(2027, 4, 9), 1))
    assert [(air.day, air.min_c, air.max_c) for air in facts.air] == [(date(2027, 4, 6), -2, 7)]
    assert begun(small_kept, MouldOut(mould=mould), MouldBack(mould=mould)).out_of_use == ()


def test_stock_is_the_sites_word_until_somebody_counts(small_kept: Kept) -> None:
    assert begun(small_kept).recorded == {}
    cement = begun(small_kept, Counted(material="cement", amount=1)).recorded["cement"]
    # 8 bags were there, and batches 1 and 2 took 3 1/2 and 3
    assert (cement.on_hand, cement.missing) == (8, (Coming(day=WED.date(), amount=0.5),))


def test_what_a_count_finds_beyond_the_books_is_of_the_lot_that_came_last(small_kept: Kept) -> None:
    came = Delivered(material="cement", amount=30, lot="K2")
    cement = begun(small_kept, came, Counted(material="cement", amount=32)).recorded["cement"]
    assert cement.found == (Coming(day=WED.date(), amount=0.5, lot="K2"),)


def test_what_came_is_in_stock_on_its_day(small_kept: Kept) -> None:
    cement = begun(small_kept, Delivered(material="cement", amount=12, lot="K2")).recorded["cement"]
    assert (cement.on_hand, cement.came) == (8, (Coming(day=WED.date(), amount=12, lot="K2"),))
    assert (cement.found, cement.missing) == ((), ())


def test_what_is_to_come_stays(small_kept: Kept) -> None:
    cement = begun(small_kept, Counted(material="cement", amount=1.5)).recorded["cement"]
    assert cement.came == (Coming(day=date(2027, 4, 8), amount=6),)


def test_what_was_found_when_more_was_drawn_than_was_there_is_told(small_kept: Kept) -> None:
    mon = datetime.fromisoformat("2027-04-05T07:30")
    pours = went(small_kept.as_planned, WED)
    first = entries((mon, Counted(material="cement", amount=3)))
    told = happened([small_kept], [*first, *pours, *entries((WED, Counted(material="cement", amount=2)))], WED, 2, 1)
    # 3 were counted, 6 1/2 drawn: 3 1/2 were wrong, and 2 are there
    cement = told.recorded["cement"]
    assert (cement.missing, cement.found) == (
        (Coming(day=mon.date(), amount=5),),
        (Coming(day=WED.date(), amount=5.5),),
    )


def test_what_a_batch_of_no_plan_took_besides_is_told(small_kept: Kept) -> None:
    """It is taken as big as its blocks need it, and what others of its mix take for as many blocks was drawn."""
    light = [cast for cast in small_kept.as_planned.casts if cast.mix == "light"]
    a_block = sum(float(small_kept.batches[number].bags) for number in (1, 2, 3)) / len(light)
    extra = Poured(batch=1, plan="", mix="light", fills=(Fill(mould="gang-2/01", marks=("full",)),))
    told = begun(small_kept, extra, Delivered(material="cement", amount=12))
    as_big = next(batch.bags for batch in told.batches if not batch.plan)
    (found,) = told.recorded["cement"].found
    assert (found.day, found.amount) == (WED.date(), pytest.approx(as_big - a_block))


def test_with_nothing_lost_the_spares_are_those_asked_for(small_kept: Kept) -> None:
    spares = Counter({(mark, mix): n for mark, mix, n in begun(small_kept).spares})
    planned = Counter((cast.mark, cast.mix) for cast in small_kept.as_planned.casts if cast.spare)
    assert spares == planned


def test_spares_are_used_up_by_what_breaks(small_kept: Kept) -> None:
    cast = next(cast for cast in small_kept.as_planned.casts if cast.strip <= WED)
    kept = begun(small_kept, wrong=Wrong(broken={(cast.mould, cast.turn)}))
    before = Counter({(mark, mix): n for mark, mix, n in begun(small_kept).spares})
    after = Counter({(mark, mix): n for mark, mix, n in kept.spares})
    assert (before - after).total() <= 1
    assert not after - before


@pytest.mark.parametrize(
    ("cast", "lost", "asked", "share"),
    [(0, 0, 0.05, 0.05), (100, 2, 0.05, 0.05), (60, 4, 0.05, 14 / 260), (1000, 100, 0.05, 110 / 1200), (50, 0, 0, 0)],
)
def test_what_was_lost_weighs_more_the_more_blocks_are_cast(cast: int, lost: int, asked: float, share: float) -> None:
    seen = Seen(((lost, cast),), asked) if cast else None
    assert share_expected(seen, asked) == pytest.approx(share)


def test_a_batch_thrown_out_is_lost_of_all_that_was_cast(small_kept: Kept) -> None:
    told = went(small_kept.as_planned, WED, Wrong(flat={2}))
    cast = [cast for cast in small_kept.as_planned.casts if cast.poured <= WED]
    lost = lost_of(state_of(told), 0.05)
    assert lost is not None
    assert (lost.held, lost.of) == (sum(one.batch == 2 for one in cast), len(cast))


def test_any_order_of_entries_tells_the_same(small_kept: Kept) -> None:
    told = went(small_kept.as_planned, WED, Wrong(flat={1}))
    assert happened([small_kept], told[::-1], WED, 2, 1) == happened([small_kept], told, WED, 2, 1)


def test_what_had_happened_is_read_back_as_it_was_written(small_kept: Kept) -> None:
    facts = begun(small_kept, DayLost(day=date(2027, 4, 9)), Counted(material="cement", amount=7))
    assert Begun.model_validate_json(facts.text()) == facts


def test_a_block_that_was_laid_is_of_a_mould_that_was_stripped_by_then(small_kept: Kept) -> None:
    """Of one batch three full stand in two moulds; the second is stripped first, and its block laid."""
    full, half = (Blocks(mark=mark, mix="light", count=1) for mark in ("full", "half"))
    later = TUE + timedelta(days=1)
    told = entries(
        (TUE, Stripped(mould="gang-2/02", whole=(full, half))),
        (TUE, Moved(rack="east", mould="gang-2/02", blocks=(full, half))),
        (TUE + timedelta(hours=1), Laid(part="wall", course=1, blocks=(full,))),
        (later, Stripped(mould="gang-2/01", whole=(full.model_copy(update={"count": 2}),))),
        (later, Moved(rack="east", mould="gang-2/01", blocks=(full.model_copy(update={"count": 2}),))),
    )
    facts = happened([small_kept], [*went(small_kept.as_planned, TUE), *told], later, 2, 1)
    turns = {turn.place: [(block.mark, block.laid, block.rack) for block in turn.blocks] for turn in facts.turns}
    assert turns["gang-2/01"] == [("full", None, "east"), ("full", None, "east")]
    assert turns["gang-2/02"] == [("full", TUE + timedelta(hours=1), ""), ("half", None, "east")]
