"""A batch that was mixed and thrown away in the drum: made, used up, and in no mould."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from blockrun.errors import BadInput
from blockrun.yard.journal.events import Poured
from blockrun.yard.record.known import Measured
from blockrun.yard.record.recorder import Recorder
from blockrun.yard.stock import stock_now
from tests.yard.record.conftest import Record

MONDAY, TUESDAY = "2027-04-05 08:24", "2027-04-06 14:09"


def test_it_is_a_batch_that_left_every_cavity_empty(record: Record, recorder: Recorder) -> None:
    told = record("thrown 1 the foam collapsed", MONDAY)
    assert told.said == ("batch 1 (light) thrown away, and no mould filled, Mon 5 Apr 08:24 (the foam collapsed).",)
    event = told.entries[0].event
    assert isinstance(event, Poured)
    assert event.filled == ()
    assert not recorder.state.moulds
    assert list(recorder.state.poured.values()) == [[datetime.fromisoformat("2027-04-05T08:24")]]


def test_what_stands_in_the_moulds_that_it_was_for_stays(record: Record, recorder: Recorder) -> None:
    record("poured 1", MONDAY)
    before = {name: here.poured for name, here in recorder.state.moulds.items()}
    assert record("thrown 2", TUESDAY).warnings == ()
    assert {name: here.poured for name, here in recorder.state.moulds.items()} == before


def test_cement_and_agent_are_used_up(record: Record, recorder: Recorder) -> None:
    at = datetime.fromisoformat("2027-04-05T18:00")
    before = stock_now(recorder.plan, recorder.entries, at).each
    record("thrown 1", MONDAY)
    after = stock_now(recorder.plan, recorder.entries, at).each
    assert before["cement"].amount - after["cement"].amount == 3.5
    assert after["foaming agent"].amount < before["foaming agent"].amount


def test_it_may_be_made_again(record: Record, recorder: Recorder) -> None:
    record("thrown 1", MONDAY)
    with pytest.raises(BadInput, match="batch 1 was thrown away already, 2027-04-05 08:24, entry 1") as refused:
        record("poured 1", TUESDAY)
    assert refused.value.todo == "If it was made a second time: blockrun record DIR poured 1 again"
    record("poured 1 again", TUESDAY)
    assert len(recorder.state.moulds) == 3


def test_what_was_measured_of_it_is_kept(record: Record) -> None:
    assert "foam 40 g/L" in record("thrown 1", MONDAY, measured=Measured(foam="40g/L")).said[0]


@pytest.mark.parametrize("typed", ["poured 1 flat", "poured 1 into none", "poured 1 none"])
def test_words_for_a_pour_into_nothing_lead_on(record: Record, typed: str) -> None:
    with pytest.raises(BadInput, match="is no mould") as refused:
        record(typed, MONDAY)
    assert refused.value.todo == "If all of it was thrown away: blockrun record DIR thrown 1 WHY"


def test_a_pour_without_any_mould_leads_on(record: Record) -> None:
    with pytest.raises(BadInput, match="no mould is left to pour into") as refused:
        record("poured 1 without gang-2/1 gang-2/2 tray-1/b1", MONDAY)
    assert refused.value.todo == "If all of it was thrown away: blockrun record DIR thrown 1 WHY"


def test_into_a_mould_is_understood(record: Record, recorder: Recorder) -> None:
    record("poured 1 into gang-2/1", MONDAY)
    assert list(recorder.state.moulds) == ["gang-2/01"]


def test_flat_alone_leads_on(record: Record) -> None:
    with pytest.raises(BadInput, match="flat is nothing that is recorded") as refused:
        record("flat 1", MONDAY)
    assert "blockrun record DIR thrown BATCH WHY" in (refused.value.todo or "")


def test_a_rejected_batch_leads_on_to_its_moulds(record: Record) -> None:
    record("poured 1", MONDAY)
    with pytest.raises(BadInput, match="blocks are rejected, not a batch") as refused:
        record("rejected batch 1", TUESDAY)
    assert refused.value.todo == (
        "In its moulds: blockrun record DIR rejected gang-2/01 gang-2/02 tray-1/b01 WHY. Before it was in any: "
        "blockrun record DIR thrown 1 WHY"
    )


def test_one_that_no_plan_has_is_counted_instead(record: Record) -> None:
    with pytest.raises(BadInput, match="no plan has") as refused:
        record("thrown extra", MONDAY)
    assert "counted cement" in (refused.value.todo or "")


def test_it_is_read_back_from_the_file(record: Record, recorder: Recorder) -> None:
    record("thrown 1", MONDAY)
    again = Recorder(recorder.plan, recorder.path, recorder.now, recorder.now.replace(tzinfo=UTC))
    assert [one.event for one in again.entries] == [one.event for one in recorder.entries]


def test_a_mould_that_it_was_for_is_not_said_to_be_emptied(record: Record) -> None:
    record("thrown 1", MONDAY)
    with pytest.raises(BadInput, match="nothing stands in gang-2/01") as refused:
        record("stripped gang-2/1", "2027-04-05 14:00")
    assert refused.value.todo == (
        "Batch 1, the last that the plan has for it until then, is recorded as thrown away alone. "
        "If it was made a second time: blockrun record DIR poured 1 again --at WHEN"
    )


def test_a_mould_that_a_pour_left_out_is_not_said_to_be_emptied(record: Record) -> None:
    record("poured 1 without gang-2/1", MONDAY)
    with pytest.raises(BadInput, match="nothing stands in gang-2/01") as refused:
        record("stripped gang-2/1", "2027-04-05 14:00")
    assert (refused.value.todo or "").endswith("is recorded, and not as poured into it.")


def test_of_two_moulds_of_a_batch_one_is_bad_beside_its_mould_too(record: Record, recorder: Recorder) -> None:
    record("poured 1", MONDAY)
    record("stripped gang-2/1 stays", TUESDAY)
    record("stripped gang-2/2", TUESDAY)
    (said,) = record("rejected gang-2/1 crumbly", TUESDAY).said
    assert said.startswith("thrown out 2 full of gang-2/01, on no rack yet, crumbly")
    assert (len(recorder.state.rejected), len(recorder.state.racks["east"])) == (2, 2)
    assert recorder.state.clashes == []


def test_where_a_bad_mould_is_on_the_rack_already_its_blocks_are_told(record: Record, recorder: Recorder) -> None:
    record("poured 1", MONDAY)
    record("stripped gang-2/1 gang-2/2", TUESDAY)
    with pytest.raises(BadInput, match="nothing stands in gang-2/01") as refused:
        record("rejected gang-2/1 crumbly", TUESDAY)
    how = "rejected east 2 full of 1 WHY"
    assert (refused.value.todo or "").endswith(f"If it is what came out of it: blockrun record DIR {how}")
    record(how, TUESDAY)
    assert (len(recorder.state.rejected), len(recorder.state.racks["east"])) == (2, 2)
