"""Rules of iCalendar, RFC 5545 (2009), held against the bytes of a file by a reader written from its grammar alone."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from datetime import UTC, date, datetime

import pytest

from blockrun.planner.plan import Plan
from blockrun.show.calendar.entries import entries_of
from blockrun.show.calendar.entry import Entry
from blockrun.show.calendar.ics import calendar_of, ics_of

MADE = datetime(2027, 3, 1, 18, 30, tzinfo=UTC)


@pytest.fixture(scope="module")
def written(demo_plan: Plan) -> bytes:
    return ics_of(calendar_of(demo_plan, entries_of(demo_plan), MADE))


def unfolded(written: bytes) -> list[str]:
    """Content lines, section 3.1: a line end and a blank within one are taken out."""
    return written.replace(b"\r\n ", b"").decode().removesuffix("\r\n").split("\r\n")


def events(written: bytes) -> Iterator[dict[str, str]]:
    """Properties of each event by their name with parameters, once each."""
    event: dict[str, str] | None = None
    for line in unfolded(written):
        name, value = line.split(":", 1)
        if line == "BEGIN:VEVENT":
            event = {}
        elif line == "END:VEVENT":
            assert event is not None
            yield event
            event = None
        elif event is not None:
            assert name not in event
            event[name] = value


def test_lines_end_in_cr_and_lf_and_have_75_octets_at_most(written: bytes) -> None:  # section 3.1
    lines = written.split(b"\r\n")
    assert lines.pop() == b""
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    assert max(map(len, lines)) <= 75
    assert any(line.startswith(b" ") for line in lines)


def test_no_letter_is_parted_by_a_fold(small_plan: Plan) -> None:  # section 3.1, of UTF-8
    long = Entry("pour", date(2027, 4, 5), "Größe \u2019 " * 30, ("ä" * 200,))
    for line in ics_of(calendar_of(small_plan, [long], MADE)).split(b"\r\n"):
        assert len(line) <= 75
        line.decode("utf-8")


def test_the_calendar_names_its_maker_version_and_method_once(written: bytes) -> None:  # section 3.6, 3.7
    lines = unfolded(written)
    names = Counter(line.split(":")[0] for line in lines)
    assert (lines[0], lines[-1]) == ("BEGIN:VCALENDAR", "END:VCALENDAR")
    assert (names["PRODID"], names["VERSION"], names["METHOD"]) == (1, 1, 1)
    assert {"VERSION:2.0", "METHOD:PUBLISH"} <= set(lines)


def test_every_event_has_what_it_must_and_nothing_twice(written: bytes) -> None:  # section 3.6.1
    found = list(events(written))
    assert found
    for event in found:
        assert {"UID", "DTSTAMP", "DTSTART;VALUE=DATE"} <= event.keys()
        assert not {"DTEND", "DURATION"} <= event.keys()
        assert re.fullmatch(r"\d{8}T\d{6}Z", event["DTSTAMP"])  # in UTC: section 3.8.7.2
        assert re.fullmatch(r"\d{8}", event["DTSTART;VALUE=DATE"])  # section 3.3.4
        assert re.fullmatch(r"\d+", event["SEQUENCE"])  # section 3.8.7.4
        assert event["STATUS"] in {"TENTATIVE", "CONFIRMED", "CANCELLED"}  # section 3.8.1.11
        assert event["TRANSP"] in {"OPAQUE", "TRANSPARENT"}  # section 3.8.2.7


def test_names_of_events_are_those_of_the_world(written: bytes) -> None:  # UID: section 3.8.4.7, RFC 7986 section 5.3
    uids = [event["UID"] for event in events(written)]
    assert len(set(uids)) == len(uids)
    for uid in uids:
        assert re.fullmatch(r"[0-9a-f]{8}-[0-9a-f]{4}-5[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}", uid)


# section 3.3.11: "Project XYZ Final Review / Conference Room - 3B / Come Prepared." of three lines is written in one
def test_lines_of_a_text_are_written_as_in_the_example(small_plan: Plan) -> None:
    entry = Entry("pour", date(2027, 4, 5), "x", ("Project XYZ Final Review", "Conference Room - 3B", "Come Prepared."))
    (event,) = events(ics_of(calendar_of(small_plan, [entry], MADE)))
    assert event["DESCRIPTION"] == r"Project XYZ Final Review\nConference Room - 3B\nCome Prepared."


def test_comma_and_semicolon_are_escaped_a_colon_is_not_and_there_is_no_backslash_to_escape(
    small_plan: Plan,
) -> None:  # section 3.3.11
    (event,) = events(ics_of(calendar_of(small_plan, [Entry("pour", date(2027, 4, 5), "a\\b, c; d: e", ())], MADE)))
    assert event["SUMMARY"] == r"a/b\, c\; d: e"
