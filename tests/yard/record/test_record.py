"""What is typed becomes events, filled in by the plan, and what cannot have been is refused in words."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime

import pytest

from blockrun.errors import BadInput, BlockrunError, JournalError
from blockrun.yard.journal import open_journal
from blockrun.yard.journal.events import (
    Blocks,
    BlocksCounted,
    Counted,
    Crushed,
    DayLost,
    Delivered,
    Event,
    Laid,
    MouldBack,
    MouldOut,
    Moved,
    Note,
    Passed,
    PersonAway,
    Poured,
    Rejected,
    SidesOff,
    Stacked,
    Stripped,
    Thumbed,
    WeatherSeen,
)
from blockrun.yard.record.known import Measured
from blockrun.yard.record.recorder import Recorder
from tests.yard.record.conftest import Record

MONDAY, TUESDAY, LATER = "2027-04-05 08:24", "2027-04-06 13:00", "2027-04-13 14:00"
SMALL = "7fe49f"
"""Digits of the small plan."""


def light(count: int, mark: str) -> Blocks:
    return Blocks(mark=mark, mix="light", count=count)


def refused(record: Record, words: str, at: str | None = None, **more: str) -> str:
    with pytest.raises(BlockrunError) as error:
        record(words, at, **more)
    return str(error.value)


@pytest.fixture
def poured(record: Record) -> None:
    """Batch 1 stands in both moulds and on a base."""
    record("poured 1", MONDAY)


@pytest.fixture
def racked(record: Record, poured: None) -> None:
    """And is stripped onto the east rack."""
    for mould in ("gang-2/1", "gang-2/2", "tray-1/b1"):
        record(f"stripped {mould}", TUESDAY)


def events(recorder: Recorder) -> list[Event]:
    return [entry.event for entry in recorder.entries]


def test_a_batch_is_poured_as_planned(record: Record, recorder: Recorder) -> None:
    (entry,) = record("poured 1", MONDAY).entries
    assert isinstance(entry.event, Poured)
    fills = [(fill.mould, fill.base, fill.marks) for fill in entry.event.fills]
    assert fills == [
        ("gang-2/01", "", ("full", "full")),
        ("gang-2/02", "", ("full", "half")),
        ("tray-1/01", "tray-1/b01", ("thin",)),
    ]
    assert (entry.happened, entry.event.mix, entry.number) == (datetime(2027, 4, 5, 8, 24), "light", 1)  # noqa: DTZ001


def test_one_bag_is_no_bags(record: Record) -> None:
    assert record("counted cement 1", "2027-04-05 09:00").said == ("counted 1 bag of cement, Mon 5 Apr 09:00.",)


def test_it_is_said_back_with_the_number_of_its_entry(record: Record) -> None:
    recorded = record("poured 1", MONDAY, measured=Measured("98g/L", "806kg/m3", "18degC"))
    assert recorded.said == (
        "batch 1 (light) poured into gang-2/01, gang-2/02, tray-1/b01, 5 blocks, foam 98 g/L, "
        "wet density 806 kg/m3, 18 degC, Mon 5 Apr 08:24.",
    )
    assert [entry.number for entry in recorded.entries] == [1]


@pytest.mark.parametrize(
    ("words", "moulds"),
    [
        ("poured 1 gang-2/1", ["gang-2/01"]),
        ("poured 1 without gang-2/1", ["gang-2/02", "tray-1/01"]),
        ("poured 3 gang-2/2=gang-2/1 tray-1/1", ["gang-2/01", "tray-1/01"]),
        ("poured 1 gang-2/1 tray-1/b1=tray-1/b2", ["gang-2/01", "tray-1/01"]),
        ("poured 1 without gang-2/1 tray-1/b1=tray-1/b2", ["gang-2/02", "tray-1/01"]),
        ("poured 1 tray-1/b1=tray-1/b2", ["gang-2/01", "gang-2/02", "tray-1/01"]),
    ],
)
def test_a_batch_may_fill_other_moulds_than_planned(record: Record, words: str, moulds: list[str]) -> None:
    (entry,) = record(words, MONDAY).entries
    assert isinstance(entry.event, Poured)
    assert [fill.mould for fill in entry.event.fills] == moulds


def test_one_that_was_filled_in_the_place_of_another_is_told_with_the_rest(record: Record) -> None:
    (said,) = record("poured 1 gang-2/1 tray-1/b1=tray-1/b2", MONDAY).said
    assert said.startswith("batch 1 (light) poured into gang-2/01, tray-1/b02, 3 blocks")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("poured 3 gang-2/2=gang-2/1", "gang-2/01 is to be filled twice"),
        ("poured 1 gang-2/1=tray-1/1 gang-2/2=tray-1/1", "tray-1/01 is to be filled twice"),
        ("poured 1 tray-1/1=tray-1/b2", "tray-1/b02 is a base, and tray-1/01 is none"),
        ("poured 1 without", "without which mould?"),
        ("poured 1 without gang-2/1=gang-2/2", "without which mould?"),
    ],
)
def test_a_pour_that_would_fill_other_than_was_typed_is_refused(record: Record, words: str, said: str) -> None:
    assert said in refused(record, words, MONDAY)


def test_a_strip_takes_what_stands_and_moves_it_to_the_rack_of_the_plan(record: Record, poured: None) -> None:
    strip, move = record("stripped gang-2/2", TUESDAY).entries
    assert strip.event == Stripped(mould="gang-2/02", whole=(light(1, "full"), light(1, "half")))
    assert move.event == Moved(rack="east", blocks=(light(1, "full"), light(1, "half")), mould="gang-2/02")


def test_a_base_filled_in_the_place_of_another_goes_to_the_rack_of_that(record: Record) -> None:
    record("poured 1 tray-1/b1=tray-1/b2", MONDAY)
    _, move = record("stripped tray-1/b2", TUESDAY).entries
    assert move.event == Moved(rack="east", blocks=(light(1, "thin"),), mould="tray-1/b02")


@pytest.mark.parametrize("words", ["stripped gang-2/1 1 broken", "stripped gang-2/01 1 full whole to west"])
def test_what_is_not_broken_is_whole_and_the_other_way_round(record: Record, poured: None, words: str) -> None:
    strip, move = record(words, TUESDAY).entries
    assert strip.event == Stripped(mould="gang-2/01", whole=(light(1, "full"),), broken=(light(1, "full"),))
    assert isinstance(move.event, Moved)
    assert move.event.rack == ("west" if "west" in words else "east")


def test_blocks_may_stay_beside_their_mould_and_be_moved_later(record: Record, poured: None) -> None:
    assert len(record("stripped gang-2/1 stays", TUESDAY).entries) == 1
    (move,) = record("moved gang-2/1", "2027-04-06 15:00").entries
    assert move.event == Moved(rack="east", blocks=(light(2, "full"),), mould="gang-2/01")


def test_sides_come_off_by_the_name_of_the_mould_or_the_base(record: Record, poured: None) -> None:
    (entry,) = record("sides tray-1/1", "2027-04-06 08:05").entries
    assert entry.event == SidesOff(mould="tray-1/01", base="tray-1/b01")


@pytest.mark.parametrize(
    ("words", "event"),
    [
        ("stacked east", Stacked(rack="east", blocks=(light(3, "full"), light(1, "half"), light(1, "thin")))),
        ("stacked east 2 full to the gate", Stacked(rack="east", where="the gate", blocks=(light(2, "full"),))),
        ("laid wall 1 2 full", Laid(part="wall", course=1, blocks=(light(2, "full"),))),
        ("laid 1 1 half", Laid(part="wall", course=1, blocks=(light(1, "half"),))),
        ("laid wall 2 full", Laid(part="wall", blocks=(light(2, "full"),))),
        ("moved 2 full to west", Moved(rack="west", blocks=(light(2, "full"),))),
        ("rejected east 1 half bad", Rejected(place="rack", name="east", blocks=(light(1, "half"),), why="bad")),
        ("passed 1 cubes gave 0.7 MPa", Passed(batch=1, plan=SMALL, why="cubes gave 0.7 MPa")),
        ("counted cement 42", Counted(material="cement", amount=42)),
        ("counted east 2 full", BlocksCounted(place="rack", name="east", mark="full", mix="light", count=2)),
        ("counted stack 0 half", BlocksCounted(place="stack", mark="half", mix="light", count=0)),
        ("delivered cement 80 lot B7", Delivered(material="cement", amount=80, lot="B7")),
        ("delivered agent 10L", Delivered(material="foaming agent", amount=10)),
        ("weather -3 8", WeatherSeen(day=date(2027, 4, 13), min_degc=-3, max_degc=8)),
        ("weather 41degF 50degF yesterday", WeatherSeen(day=date(2027, 4, 12), min_degc=5, max_degc=10)),
        ("lost rain all day", DayLost(day=date(2027, 4, 13), why="rain all day")),
        ("lost yesterday", DayLost(day=date(2027, 4, 12))),
        ("lost 12.4. rain", DayLost(day=date(2027, 4, 12), why="rain")),
        ("weather 3.5 14.2 12.4.", WeatherSeen(day=date(2027, 4, 12), min_degc=3.5, max_degc=14.2)),
        ("counted agent 8.5 L", Counted(material="foaming agent", amount=8.5)),
        ("counted agent 8,5L", Counted(material="foaming agent", amount=8.5)),
        ("counted foaming agent 8,25 L", Counted(material="foaming agent", amount=8.25)),
        ("counted release oil 3L", Counted(material="oil", amount=3)),
        ("counted cement 42 bags", Counted(material="cement", amount=42)),
        ("delivered cement 80 bags lot B7", Delivered(material="cement", amount=80, lot="B7")),
        ("delivered fly ash 0,125 t", Delivered(material="fly ash", amount=125)),
        ("weather 3,5 14", WeatherSeen(day=date(2027, 4, 13), min_degc=3.5, max_degc=14)),
        ("away Bob 10 Apr", PersonAway(first=date(2027, 4, 10), last=date(2027, 4, 10), names=("Bob",), remark="Bob")),
        (
            "away Bob and Ann 8 Apr to 9 Apr ill",
            PersonAway(
                first=date(2027, 4, 8),
                last=date(2027, 4, 9),
                people=2,
                names=("Bob", "Ann"),
                remark="Bob and Ann ill",
            ),
        ),
        ("away from 9 Apr", PersonAway(first=date(2027, 4, 9), last=date(2027, 4, 9))),
        ("away 9 Apr ill", PersonAway(first=date(2027, 4, 9), last=date(2027, 4, 9), remark="ill")),
        ("away 9 Apr Tom", PersonAway(first=date(2027, 4, 9), last=date(2027, 4, 9), names=("Tom",), remark="Tom")),
        ("away 2 9 Apr", PersonAway(first=date(2027, 4, 9), last=date(2027, 4, 9), people=2)),
        ("away 9 Apr", PersonAway(first=date(2027, 4, 9), last=date(2027, 4, 9))),
        ("away", PersonAway(first=date(2027, 4, 13), last=date(2027, 4, 13))),
        ("away 2 tomorrow to 2027-04-16", PersonAway(first=date(2027, 4, 14), last=date(2027, 4, 16), people=2)),
        ("mould gang-2/1 out hinge torn", MouldOut(mould="gang-2/01", why="hinge torn")),
        ("note the agent smells", Note(words="the agent smells")),
        (
            "test cube 1 52,5 kN, 100 mm, 28 days",
            Crushed(
                what="cube", mix="light", batch=1, plan=SMALL, load_kn=52.5, length_mm=100, width_mm=100, age_d=28,
            ),
        ),
        (
            "test cube 1 52kN 28d marked 1a",
            Crushed(
                what="cube", mix="light", batch=1, plan=SMALL, marked="1a", load_kn=52, length_mm=100, width_mm=100,
                age_d=28,
            ),
        ),
        (
            "test block 1 180kN 600x200mm 560kg/m3",
            Crushed(
                what="block", mix="light", batch=1, plan=SMALL, load_kn=180, length_mm=600, width_mm=200, age_d=8.23,
                dry_density_kg_m3=560,
            ),
        ),
    ],
)  # fmt: skip
def test_each_thing_is_typed_short(record: Record, racked: None, words: str, event: Event) -> None:
    (entry,) = record(words, LATER).entries
    assert entry.event == event


def test_all_of_a_course_is_laid_unless_told(record: Record, racked: None) -> None:
    record("poured 2 gang-2/1", "2027-04-06 14:09")
    record("stripped gang-2/1", "2027-04-08 08:10")
    (entry,) = record("laid wall 1", LATER).entries
    assert entry.event == Laid(part="wall", course=1, blocks=(light(4, "full"), light(1, "half")))
    assert "all of wall course 1 is laid already" in refused(record, "laid wall 1", "2027-04-13 15:00")


def test_a_thumb_and_a_mould_that_comes_back(record: Record, poured: None) -> None:
    (entry,) = record("thumb tray-1/b01 dents", "2027-04-06 07:50").entries
    assert isinstance(entry.event, Thumbed)
    assert (entry.event.mould, entry.event.base, entry.event.thumb) == ("tray-1/01", "tray-1/b01", "dents")
    assert entry.event.stood is not None
    assert (entry.event.stood.turn, entry.event.stood.batches) == (1, (1,))
    record("mould gang-2/1 out", "2027-04-06 08:00")
    (back,) = record("mould gang-2/1 back", "2027-04-06 09:00").entries
    assert back.event == MouldBack(mould="gang-2/01")


def test_a_thumb_sent_twice_counts_once_though_the_air_was_told_since(record: Record, poured: None) -> None:
    record("thumb gang-2/1 dents", "2027-04-06 07:50", "phone")
    record("weather 1 5 2027-04-05", "2027-04-06 08:00")
    assert record("thumb gang-2/1 dents", "2027-04-06 07:50", "phone").known


def test_a_thumb_right_after_the_pour_tells_nothing(record: Record, poured: None) -> None:
    assert "gang-2/01 was poured just before" in refused(record, "thumb gang-2/1 soft", MONDAY)


def test_a_mould_that_is_all_flat_is_thrown_out_whole(record: Record, poured: None) -> None:
    (entry,) = record("rejected gang-2/1 flat", "2027-04-05 08:40").entries
    assert entry.event == Rejected(place="mould", name="gang-2/01", blocks=(light(2, "full"),), why="flat")


@pytest.mark.parametrize(
    ("words", "at", "said"),
    [
        ("poured 9", MONDAY, "the plan has no batch 9"),
        ("poured 1 again", "2027-04-05 09:00", "gang-2/01 still holds 2 full and was not stripped"),
        ("poured 1", "2027-04-05 09:00", "batch 1 was poured already, 2027-04-05 08:24"),
        ("stripped gang-2/9", TUESDAY, "there is no mould gang-2/9"),
        ("stripped gang-2/1", "2027-04-05 08:00", "nothing stands in gang-2/01 at 2027-04-05 08:00"),
        ("stripped tray-1/b2", TUESDAY, "nothing stands in tray-1/b02"),
        ("stripped gang-2/1 3 broken", TUESDAY, "3 full (light) are told, and only 2 are in gang-2/01"),
        ("stripped gang-2/2 1 broken", TUESDAY, "which mark are the 1?"),
        ("stripped gang-2/1 1 full", TUESDAY, "whole or broken?"),
        ("stripped gang-2/1 1 half broken", TUESDAY, "half is none of the marks in gang-2/01"),
        ("stripped gang-2/1 1 half broken", TUESDAY, "blockrun record DIR stripped gang-2/01 1 full broken"),
        ("stripped gang-2/1 to north", TUESDAY, "there is no rack north"),
        ("stripped", TUESDAY, "a mould is missing"),
        ("stripped gang-2/1 well", TUESDAY, "well is one word too many"),
        ("sides gang-2/1", TUESDAY, "gang-2/01 has no base"),
        ("moved gang-2/1", TUESDAY, "nothing lies beside gang-2/01"),
        ("stacked east", TUESDAY, "rack east is empty"),
        ("laid wall 1 1 full", TUESDAY, "1 full (light) are told, and none is stacked"),
        ("laid wall 7", TUESDAY, "wall has no course 7"),
        ("laid barn 7", TUESDAY, "there is no part barn"),
        ("rejected gang-2/1", TUESDAY, "why?"),
        ("passed 1", TUESDAY, "why?"),
        ("passed 2 good", TUESDAY, "nobody recorded that batch 2 was poured"),
        ("passed 9 good", TUESDAY, "the plan has no batch 9"),
        ("thumb gang-2/1 hard", TUESDAY, "hard is not what a thumb shows"),
        ("test cube 1 52", TUESDAY, "52 is no load, size, age or density"),
        ("test cube 1", TUESDAY, "the load that broke it is missing"),
        ("test block 1 52kN", TUESDAY, "the size of the block is missing"),
        ("delivered cement 80kg", TUESDAY, "80kg is not a number of bags"),
        ("delivered agent 10", TUESDAY, "unit"),
        ("delivered straw 10", TUESDAY, "straw is nothing that is counted"),
        ("weather 9 3", TUESDAY, "the least, 9 degC, is over the most"),
        ("weather 3 9 tomorrow", TUESDAY, "2027-04-07 is still to come"),
        ("away 1 tomorrow to today", TUESDAY, "the last day comes before the first"),
        ("mould gang-2/1 back", TUESDAY, "gang-2/01 was not out of use"),
        ("mould gang-2/1 broken", TUESDAY, "out or back?"),
        ("counted agent 1,250L", TUESDAY, "Write 1250 or 1.25."),
        ("counted cement 1.500", TUESDAY, "1.500 may be a thousand or a part of one"),
        ("delivered cement 1.500 bags", TUESDAY, "Write 1500 or 1.5."),
        ("away tomorow", TUESDAY, "Did you mean tomorrow?"),
        ("away Carl from tomorow", TUESDAY, "Did you mean tomorrow?"),
        ("away Carl from", TUESDAY, "nothing is no day"),
        ("away 2027-4-9", TUESDAY, "2027-4-9 is no day and no name"),
        ("lost 9 Arp", TUESDAY, "9 Arp is no day"),
        ("undo 7", TUESDAY, "there is no entry 7"),
        ("note", TUESDAY, "what is to be kept?"),
        ("strip gang-2/1", TUESDAY, "Did you mean stripped?"),
        ("poured 2", "2027-04-22 08:00", "2027-04-22 08:00 is still to come"),
        ("poured 2", "soon", "soon is not a day and a time"),
    ],
)
def test_what_cannot_have_been_is_refused_in_words(
    record: Record, recorder: Recorder, poured: None, words: str, at: str, said: str
) -> None:
    assert said in refused(record, words, at)
    assert len(recorder.entries) == 1
    with open_journal(recorder.path) as journal:
        assert len(journal) == 1


def test_nothing_that_is_refused_makes_a_file(record: Record, recorder: Recorder) -> None:
    refused(record, "poured 9", MONDAY)
    assert not recorder.path.exists()


def test_blocks_that_are_to_stay_on_their_rack_are_not_stacked_unless_told(record: Record, racked: None) -> None:
    said = refused(record, "stacked east", "2027-04-13 12:00")
    assert "nothing on rack east is to leave it yet" in said
    assert "2027-04-13 13:00" in said
    assert record("stacked east 1 full", "2027-04-13 12:00").entries


def test_a_plan_that_has_not_begun_may_be_tried_out(record: Record, recorder: Recorder) -> None:
    recorder.now = datetime(2027, 4, 1, 9)  # noqa: DTZ001
    assert record("poured 1", MONDAY).entries


def test_a_strip_and_its_move_are_undone_together_and_may_be_restored(
    record: Record, recorder: Recorder, poured: None
) -> None:
    record("stripped gang-2/1", TUESDAY)
    recorded = record("undo 2", "2027-04-06 13:05")
    assert len(recorded.entries) == 2
    assert recorded.said[0].startswith("undone, entry 2: stripped gang-2/01: whole 2 full")
    assert recorder.state.moulds["gang-2/01"].blocks.counts == {("full", "light"): 2}
    assert "undone already" in refused(record, "undo 2", "2027-04-06 13:06")
    assert "To let it count again: blockrun record DIR undo 4" in refused(record, "undo 2", "2027-04-06 13:06")
    record("undo 4", "2027-04-06 13:07")
    assert recorder.state.racks["east"].counts == {("full", "light"): 2}


def test_what_is_undone_may_leave_others_that_cannot_have_been(record: Record, racked: None) -> None:
    warnings = record("undo 1", "2027-04-06 14:00").warnings
    assert "entry 2, Tue 6 Apr 13:00, cannot have been so: nothing stands in gang-2/01" in warnings


def test_an_entry_that_comes_late_lands_where_it_belongs(record: Record, recorder: Recorder, poured: None) -> None:
    record("note rain", "2027-04-20 10:00")
    record("stripped gang-2/1", TUESDAY)
    assert recorder.state.racks["east"].counts == {("full", "light"): 2}


def test_the_same_key_twice_counts_once(record: Record, recorder: Recorder, poured: None) -> None:
    first = record("stripped gang-2/1", TUESDAY, key="phone-1")
    again = record("stripped gang-2/1", TUESDAY, key="phone-1")
    assert (first.known, again.known) == (False, True)
    assert again.entries == first.entries
    with open_journal(recorder.path) as journal:
        assert len(journal) == 3


def test_a_key_sent_again_without_a_time_is_still_the_same(record: Record, recorder: Recorder) -> None:
    record("note rain", key="phone-1")
    recorder.now = datetime(2027, 4, 22, 9)  # noqa: DTZ001
    assert record("note rain", key="phone-1").known


def test_a_key_that_is_there_for_something_else_is_refused(record: Record, recorder: Recorder) -> None:
    record("note rain", MONDAY, key="phone-1")
    with pytest.raises(JournalError, match="the key phone-1 is there already, for something else"):
        record("note snow", MONDAY, key="phone-1")
    assert len(recorder.entries) == 1


def test_what_is_measured_belongs_to_a_pour(record: Record) -> None:
    with pytest.raises(BadInput, match="told of a batch"):
        record("note rain", MONDAY, measured=Measured(foam="98g/L"))
    with pytest.raises(BadInput, match="unit"):
        record("poured 1", MONDAY, measured=Measured(weight="806"))


def test_a_comma_that_may_part_thousands_is_asked_about(record: Record) -> None:
    with pytest.raises(BadInput, match=r"Write 1200 or 1\.2\."):
        record("poured 1", MONDAY, measured=Measured(weight="1,200kg/m3"))


def test_another_plan_numbers_its_batches_anew(record: Record, recorder: Recorder, racked: None) -> None:
    fewer = replace(recorder.plan, casts=recorder.plan.casts[:-1])
    recorder.plan = fewer
    (entry,) = record("poured 1", "2027-04-07 08:00").entries
    assert isinstance(entry.event, Poured)
    assert entry.event.plan == fewer.id
    assert "batch 1 was poured already" in refused(record, "poured 1", "2027-04-07 09:00")


@pytest.mark.parametrize("at", ["13 Apr 14:00", "Tue 13 Apr 14:00", "2027-04-13 14.00"])
def test_a_moment_is_the_one_of_the_plan_whatever_year_it_is(record: Record, recorder: Recorder, at: str) -> None:
    recorder.now = datetime(2026, 11, 26, 9)  # noqa: DTZ001
    (entry,) = record("note swept", at).entries
    assert f"{entry.happened:%Y-%m-%d %H:%M}" == LATER


@pytest.mark.parametrize("words", ["lost 8 Apr rain", "lost Thu 8 Apr rain", "lost 2027-04-08 rain"])
def test_a_day_among_words_is_typed_as_the_program_prints_it(record: Record, words: str) -> None:
    (entry,) = record(words, LATER).entries
    assert entry.event == DayLost(day=date(2027, 4, 8), why="rain")


def test_undo_last_goes_back_entry_by_entry(record: Record, recorder: Recorder, poured: None) -> None:
    record("note swept", "2027-04-05 09:00")
    record("undo last", "2027-04-05 09:05")
    assert record("undo last", "2027-04-05 09:06").said[0].startswith("undone, entry 1: batch 1")
    assert "nothing that is recorded counts any longer" in refused(record, "undo last", "2027-04-05 09:07")
    assert not recorder.state.moulds


def test_a_name_is_kept_beside_the_remark(record: Record) -> None:
    (said,) = record("away Bob 10 Apr", LATER, remark="ill").said
    assert said == "1 person away, Sat 10 Apr (Bob, ill)."


def test_of_a_batch_that_nobody_recorded_the_strip_asks_for_its_pour(record: Record) -> None:
    record("poured 1", MONDAY)
    record("stripped gang-2/01", TUESDAY)
    said = refused(record, "stripped gang-2/01", "2027-04-08 08:10")
    assert "By the plan batch 2 is in it. If it was poured then: blockrun record DIR poured 2 --at" in said


def test_of_a_mould_that_two_batches_share_the_other_batch_is_not_in_the_way(record: Record) -> None:
    record("poured 2", "2027-04-06 14:09")
    record("stripped gang-2/01-2", "2027-04-08 08:10")
    record("poured 4", "2027-04-08 09:42")
    said = refused(record, "poured 3", "2027-04-08 09:50")
    assert "the sides of tray-1/01 are still on tray-1/b02" in said
    assert "first: blockrun record DIR sides tray-1/b02 --at WHEN" in said


@pytest.mark.parametrize(
    ("words", "todo"),
    [
        ("poured 1 again", "If it was stripped before, first: blockrun record DIR stripped gang-2/01 --at WHEN"),
        ("laid wall 1 1 full", 'Where blocks are: blockrun ready DIR --at "Tue 6 Apr 13:00"'),
        ("stacked north", "There are east, west."),
        ("stacked eest", "Did you mean west or east?"),
        ("laid wall 7", "It has 1, 2, 3."),
        ("counted straw 3", "There are agent, cement, east, "),
    ],
)
def test_a_refusal_says_what_to_type(record: Record, poured: None, words: str, todo: str) -> None:
    assert todo in refused(record, words, TUESDAY)


def test_a_command_to_copy_comes_last_where_something_cannot_have_been(record: Record, poured: None) -> None:
    said = refused(record, "poured 2", TUESDAY)
    assert "Nothing was recorded. If it was stripped before, first: " in said
    assert said.endswith("blockrun record DIR stripped gang-2/01 --at WHEN")
