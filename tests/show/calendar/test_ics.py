"""The file that phones import: known entries, and what happens to them when the plan is made anew."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar as Component

from blockrun.errors import BadInput
from blockrun.planner.plan import Plan
from blockrun.show.calendar.entries import entries_of
from blockrun.show.calendar.entry import KINDS, Entry
from blockrun.show.calendar.ics import Calendar, calendar_of, ics_of
from blockrun.show.calendar.kept import Kept, read_kept

MADE = datetime(2027, 3, 1, 18, 30, tzinfo=UTC)
LATER = MADE + timedelta(days=3)

POUR = Entry("pour", date(2027, 4, 5), "Pour 2 batches: 3 gang-2", ("3 people, air 8 to 17 degC",))
STRIP = Entry("strip", date(2027, 4, 6), "Strip 3 gang-2", ("Strip gang-2/01-02, gang-2/04",))
READY = Entry("ready", date(2027, 5, 3), "Ready to lay: 6 blocks", ())


def handed_on(calendar: Calendar, folder: Path) -> list[Kept]:
    """A calendar written and read again."""
    path = folder / "before.ics"
    path.write_bytes(ics_of(calendar))
    return read_kept(path)


def stand(calendar: Calendar) -> dict[str, tuple[int, bool]]:
    return {kept.title: (kept.sequence, kept.cancelled) for kept in calendar.entries}


def test_every_entry_is_there_once_and_whole(demo_plan: Plan) -> None:
    entries = entries_of(demo_plan)
    events = Component.from_ical(ics_of(calendar_of(demo_plan, entries, MADE))).walk("VEVENT")
    assert len({str(event["UID"]) for event in events}) == len(events) == len(entries)
    for event, entry in zip(events, entries, strict=True):
        assert not event.errors
        assert (event["DTSTART"].dt, str(event["SUMMARY"])) == (entry.day, entry.title)
        assert type(event["DTSTART"].dt) is date
        assert str(event["DESCRIPTION"]).split("\n") == list(entry.lines)
        assert event["DTSTAMP"].dt == MADE
        assert (event["TRANSP"], event["STATUS"]) == ("TRANSPARENT", "CONFIRMED")


def test_entries_of_another_order_or_site_are_known_by_other_names(small_plan: Plan) -> None:
    other_order = replace(small_plan, order=small_plan.order.model_copy(update={"name": "Shed"}))
    other_site = replace(small_plan, site=small_plan.site.model_copy(update={"name": "Far yard"}))
    uids = {calendar_of(plan, [POUR], MADE).entries[0].uid for plan in (small_plan, other_order, other_site)}
    assert len(uids) == 3


def test_a_plan_made_later_has_a_higher_sequence_without_knowing_the_one_before(small_plan: Plan) -> None:
    first, second = calendar_of(small_plan, [POUR], MADE), calendar_of(small_plan, [POUR], LATER)
    assert first.entries[0].uid == second.entries[0].uid
    assert second.entries[0].sequence - first.entries[0].sequence == 3 * 24 * 3600


def test_a_moment_without_an_offset_is_of_utc_and_others_are_turned_into_it(small_plan: Plan) -> None:
    plain = calendar_of(small_plan, [POUR], MADE.replace(tzinfo=None))
    there = calendar_of(small_plan, [POUR], MADE.astimezone(timezone(timedelta(hours=-7))))
    assert ics_of(plain) == ics_of(there) == ics_of(calendar_of(small_plan, [POUR], MADE))


def test_the_same_plan_again_is_the_same_bytes(small_plan: Plan, tmp_path: Path) -> None:
    first = calendar_of(small_plan, [POUR, STRIP], MADE)
    again = calendar_of(small_plan, [POUR, STRIP], MADE, handed_on(first, tmp_path))
    assert ics_of(again) == ics_of(first)
    assert again.said == "2 entries: 0 new, 0 changed, 0 cancelled"


def test_what_changed_and_what_fell_away_rises_in_sequence(small_plan: Plan, tmp_path: Path) -> None:
    first = calendar_of(small_plan, [POUR, STRIP], None)
    fuller = replace(POUR, title="Pour 3 batches: 4 gang-2")
    second = calendar_of(small_plan, [fuller, READY], None, handed_on(first, tmp_path))
    assert stand(first) == {POUR.title: (0, False), STRIP.title: (0, False)}
    assert stand(second) == {fuller.title: (1, False), STRIP.title: (1, True), READY.title: (0, False)}
    assert second.said == "2 entries: 1 new, 1 changed, 1 cancelled"
    events = Component.from_ical(ics_of(second)).walk("VEVENT")
    assert [str(event["STATUS"]) for event in events] == ["CONFIRMED", "CANCELLED", "CONFIRMED"]


def test_what_was_cancelled_stays_so_for_those_who_missed_one_file(small_plan: Plan, tmp_path: Path) -> None:
    first = calendar_of(small_plan, [POUR, STRIP], None)
    second = calendar_of(small_plan, [POUR], None, handed_on(first, tmp_path))
    third = calendar_of(small_plan, [POUR], None, handed_on(second, tmp_path))
    assert stand(third)[STRIP.title] == (1, True)
    assert third.said == "1 entry: 0 new, 0 changed, 0 cancelled"


def test_what_was_cancelled_can_come_back(small_plan: Plan, tmp_path: Path) -> None:
    first = calendar_of(small_plan, [POUR, STRIP], None)
    second = calendar_of(small_plan, [POUR], None, handed_on(first, tmp_path))
    third = calendar_of(small_plan, [POUR, STRIP], None, handed_on(second, tmp_path))
    assert stand(third)[STRIP.title] == (2, False)


def test_an_older_plan_put_back_still_rises(small_plan: Plan, tmp_path: Path) -> None:
    newer = calendar_of(small_plan, [POUR], LATER)
    older = calendar_of(small_plan, [replace(POUR, title="Pour 1 batch")], MADE, handed_on(newer, tmp_path))
    assert older.entries[0].sequence == newer.entries[0].sequence + 1


def test_the_calendar_of_another_order_is_not_taken_for_this_one(
    small_plan: Plan, demo_plan: Plan, tmp_path: Path
) -> None:
    before = handed_on(calendar_of(demo_plan, [POUR], MADE), tmp_path)
    with pytest.raises(BadInput, match="holds nothing of Garden wall at Hand yard"):
        calendar_of(small_plan, [POUR], MADE, before)


@pytest.mark.parametrize(
    "text", ["dear", "BEGIN:VCALENDAR", "BEGIN:VCALENDAR\nEND:VEVENT\n", "BEGIN:VCALENDAR\nX;=:;\nEND:VCALENDAR\n"]
)
def test_what_is_no_calendar_is_refused(tmp_path: Path, text: str) -> None:
    (tmp_path / "a.ics").write_text(text, encoding="utf-8")
    with pytest.raises(BadInput, match="is no calendar of days"):
        read_kept(tmp_path / "a.ics")


def test_entries_of_others_in_the_file_are_left_alone(small_plan: Plan, tmp_path: Path) -> None:
    ours = ics_of(calendar_of(small_plan, [POUR], MADE)).decode()
    theirs = (
        "BEGIN:VEVENT\r\nUID:1\r\nDTSTAMP:20270101T000000Z\r\nDTSTART:20270405T090000Z\r\nEND:VEVENT\r\n"
        "BEGIN:VEVENT\r\nUID:2\r\nDTSTAMP:20270101T000000Z\r\nDTSTART;VALUE=DATE:20270405\r\nEND:VEVENT\r\n"
        "BEGIN:VEVENT\r\nUID:3\r\nDTSTART:soon\r\nSEQUENCE:some\r\nEND:VEVENT\r\n"
    )
    (tmp_path / "a.ics").write_bytes(ours.replace("END:VCALENDAR", f"{theirs}END:VCALENDAR").encode())
    again = calendar_of(small_plan, [POUR], MADE, read_kept(tmp_path / "a.ics"))
    assert ics_of(again).decode() == ours


words = st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs"]), min_size=1, max_size=120)
some_entries = st.lists(
    st.builds(
        Entry,
        st.sampled_from(KINDS),
        st.dates(date(2027, 1, 1), date(2029, 12, 31)),
        words,
        st.lists(words, max_size=4).map(tuple),
    ),
    unique_by=lambda entry: (entry.kind, entry.day),
    max_size=8,
)


@given(entries=some_entries.filter(bool), now=some_entries)
def test_whatever_words_an_entry_holds_it_is_read_back_as_it_was(
    small_plan: Plan, tmp_path_factory: pytest.TempPathFactory, entries: list[Entry], now: list[Entry]
) -> None:
    first = calendar_of(small_plan, entries, MADE)
    before = handed_on(first, tmp_path_factory.mktemp("calendar"))
    assert before == list(first.entries)
    second = calendar_of(small_plan, now, MADE, before)
    known = {kept.uid: kept for kept in before}
    for kept in second.entries:
        was = known.get(kept.uid)
        assert was is None or kept == was or kept.sequence > was.sequence
    assert known.keys() <= {kept.uid for kept in second.entries}
