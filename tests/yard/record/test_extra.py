"""A batch that no plan has is recorded by what it filled, and is then like any other."""

from __future__ import annotations

import pytest

from blockrun.errors import BadInput, BlockrunError
from blockrun.yard.journal.events import Crushed, Fill, Poured
from blockrun.yard.record.recorder import Recorder
from tests.yard.record.conftest import Record

MONDAY, TUESDAY = "2027-04-05 08:24", "2027-04-06 13:00"


def fills(record: Record, words: str) -> tuple[Fill, ...]:
    event = record(f"poured extra {words}", MONDAY).entries[0].event
    assert isinstance(event, Poured)
    assert (event.plan, event.mix) == ("", "light")
    return event.fills


@pytest.mark.parametrize(
    ("words", "marks"),
    [
        ("gang-2/1 full half mix light", ("full", "half")),
        ("gang-2/1 2 full mix light", ("full", "full")),
        ("gang-2/1 FULL mix light", ("full",)),
        ("gang-2/1 - half mix light", ("", "half")),
    ],
)
def test_what_each_cavity_got_is_told_from_the_first_on(record: Record, words: str, marks: tuple[str, ...]) -> None:
    assert fills(record, words) == (Fill(mould="gang-2/01", marks=marks),)


def test_several_moulds_and_a_base_are_filled(record: Record) -> None:
    assert fills(record, "gang-2/1 full gang-2/2 half half tray-1/1 on tray-1/b2 thin mix light") == (
        Fill(mould="gang-2/01", marks=("full",)),
        Fill(mould="gang-2/02", marks=("half", "half")),
        Fill(mould="tray-1/01", base="tray-1/b02", marks=("thin",)),
    )


def test_it_is_said_numbered_stripped_and_crushed_like_any_other(record: Record, recorder: Recorder) -> None:
    first = record("poured extra gang-2/1 2 full mix light", MONDAY)
    assert first.said == ("extra batch 1 (light) poured into gang-2/01, 2 blocks, Mon 5 Apr 08:24.",)
    record("poured extra gang-2/2 2 full mix light", "2027-04-05 09:00")
    (event,) = (entry.event for entry in record("test cube extra 2 20kN", TUESDAY).entries)
    assert isinstance(event, Crushed)
    assert (event.plan, event.batch, event.mix, event.age_d) == ("", 2, "light", 1.17)
    record("stripped gang-2/1 to east", TUESDAY)
    assert recorder.state.racks["east"].counts == {("full", "light"): 2}
    assert recorder.plan.id not in {plan for plan, _ in recorder.state.poured}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("", "which moulds were filled, and with what?"),
        ("gang-2/1 3 full mix light", "gang-2/01 has 2 cavities, and 3 blocks are told"),
        ("gang-2/1 mix light", "with what was gang-2/01 filled?"),
        ("gang-2/1 mix light", "Write a mark for each cavity, such as: gang-2/01 full half."),
        ("gang-2/1 whole mix light", "whole is none of the marks here"),
        ("gang-2/1 slil mix heavy", "slil is none of the marks here"),
        ("gang-2/1 full mix heavy", "Marks here: sill."),
        ("gang-2/1 full", "of which mix?"),
        ("gang-2/1 full mix lite", "there is no mix lite"),
        ("tray-1/1 thin mix light", "tray-1/01 has bases"),
        ("gang-2/1 full thin mix light", "gang-2/01 cannot cast thin"),
        (
            "tray-1/1 on tray-1/b1 half mix light",
            "gang-2 can. Else correct the mark; for half a mould would need a thickness of 200 mm and stop_ends: true.",
        ),
        ("gang-9/1 full mix light", "there is no mould gang-9/1"),
    ],
)
def test_what_is_not_there_is_told(record: Record, words: str, said: str) -> None:
    with pytest.raises(BadInput) as error:
        record(f"poured extra {words}", MONDAY)
    assert said in str(error.value)


def test_a_number_that_the_plan_lacks_is_told_how_to_be_recorded(record: Record) -> None:
    with pytest.raises(BadInput, match="One that no plan has: blockrun record DIR poured extra MOULD MARK"):
        record("poured 9", MONDAY)


def test_the_strip_before_it_is_told_with_a_rack_where_no_plan_has_one(record: Record) -> None:
    record("poured extra gang-2/1 full mix light", MONDAY)
    with pytest.raises(BlockrunError, match="first: blockrun record DIR stripped gang-2/01 to RACK --at WHEN"):
        record("poured extra gang-2/1 full mix light", TUESDAY)
