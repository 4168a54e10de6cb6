"""Charts drawn: what is due, usual and a signal, where mixes and lots change, and in words beside it."""

from __future__ import annotations

import itertools
import xml.etree.ElementTree as ET
from collections.abc import Sequence

import pytest

from blockrun.mix.records import Record
from blockrun.show.batch.chart import charts_of

SVG = "{http://www.w3.org/2000/svg}"
EIGHT_POINTS_MM = 8 * 25.4 / 72
FOAM = (95, 96, 94, 95, 97, 95, 94, 96, 95, 95, 96, 94, 97, 98, 99, 100, 101, 95, 96, 112, 95)
RECORDS = [
    Record(str(number), foam, 806 + 4 * (number % 3) if number % 5 else None) for number, foam in enumerate(FOAM, 1)
]
DIAMOND = "l1.6 1.6l-1.6 1.6l-1.6 -1.6z"


def drawn(records: Sequence[Record], units: str = "SI") -> ET.Element:
    return ET.fromstring(charts_of(records, units).picture())


def texts(root: ET.Element) -> list[str]:
    return [(text.text or "").replace("\u00a0", " ") for text in root.iter(f"{SVG}text")]


def beside(root: ET.Element) -> str:
    """All words of a picture, one after the other."""
    return " ".join(texts(root))


def test_every_point_is_there_within_the_sheet() -> None:
    root = drawn(RECORDS)
    width, height = (float(root.attrib["viewBox"].split()[at]) for at in (2, 3))
    assert (width, height) == (259, 185)
    weighed = [record for record in RECORDS if record.wet_kg_m3]
    flagged = sum(path.attrib["d"].endswith(DIAMOND) for path in root.iter(f"{SVG}path")) - 1  # one is in the legend
    circles = [(float(dot.attrib["cx"]), float(dot.attrib["cy"])) for dot in root.iter(f"{SVG}circle")]
    assert len(circles) + flagged == 2 * len(RECORDS) - 1 + 2 * len(weighed) - 1
    assert flagged >= 1
    assert all(0 < x < width and 0 < y < height for x, y in circles)


@pytest.mark.parametrize("units", ["SI", "US"])
def test_letters_are_of_eight_points_and_stay_on_the_paper(units: str) -> None:
    root = drawn(RECORDS, units)
    assert min(float(size) for at in root.iter() if (size := at.attrib.get("font-size"))) >= EIGHT_POINTS_MM
    for text in root.iter(f"{SVG}text"):
        wide, x = 0.5 * 2.9 * len(text.text or ""), float(text.attrib["x"])
        start = x - {"end": wide, "middle": wide / 2}.get(text.attrib.get("text-anchor", ""), 0.0)
        assert start >= 0
        assert start + wide <= 259


def test_signals_and_limits_stand_beside_the_points_in_words() -> None:
    words = beside(drawn(RECORDS))
    assert "Mean 95.7 g/L." in words
    assert "batch 16: 100.0 g/L is beyond the upper limit." in words
    assert "batch 12 to 17: 6 in a row, each higher than the last." in words


def test_more_signals_than_there_is_room_for_send_to_the_command() -> None:
    wild = [Record(str(n), 95 + 8 * (n % 2) + (40 if n > 20 else 0) * (n % 2)) for n in range(60)]
    assert "and more: the command chart says all." in texts(drawn(wild))


def test_what_is_due_has_a_line_and_words_of_its_own() -> None:
    due = [Record(str(n), 100 + n % 3, foam_due_kg_m3=95) for n in range(12)]
    root = drawn(due)
    assert "due 95.0 g/L" in texts(root)
    assert "due 95.0 g/L" not in texts(drawn([Record(str(n), 100 + n % 3) for n in range(12)]))
    double = [path for path in root.iter(f"{SVG}path") if "m0 0.8H" in path.attrib["d"]]
    assert len(double) == 1


def test_what_is_due_near_the_mean_keeps_its_words_clear_of_it() -> None:
    near = [Record(str(n), 95 + n % 3, foam_due_kg_m3=96.01) for n in range(12)]
    places = {
        (text.text or "").replace("\u00a0", " "): float(text.attrib["y"])
        for text in drawn(near).iter(f"{SVG}text")
        if text.attrib.get("text-anchor") == "end"
    }
    assert abs(places["due 96.0 g/L"] - places["96.0 g/L"]) >= 3.2 - 0.01


def test_where_another_mix_begins_is_named_in_the_chart_of_foam() -> None:
    of_mixes = [Record(str(n), 95 + n % 3, mix="light" if n < 6 else "heavy") for n in range(12)]
    words = texts(drawn(of_mixes))
    assert (words.count("light"), words.count("heavy")) == (1, 1)
    assert "light" not in texts(drawn([Record(str(n), 95 + n % 3, mix="light") for n in range(12)]))


def test_mixes_that_alternate_are_not_marked() -> None:
    by_turns = [Record(str(n), 95 + n % 3, mix=("light", "heavy")[n % 2]) for n in range(24)]
    assert "light" not in texts(drawn(by_turns))


def test_another_lot_is_a_chart_of_its_own_that_says_so_beside_what_was_usual_before() -> None:
    lots = [
        Record(str(n), 95 + n % 3 + (4 if n > 12 else 0), agent_lot="F1" if n <= 12 else "F2") for n in range(1, 25)
    ]
    words = texts(drawn(lots))
    assert {"foam weight, agent lot F1", "foam weight, agent lot F2"} <= set(words)
    assert "agent lot F2 from batch 13 on, F1 before it: no trial recorded." in " ".join(words)
    assert "Before it: mean 96.0 g/L" in " ".join(words)


def test_more_than_two_charts_go_on_on_another_sheet() -> None:
    mixes = [Record(str(n), 95 + n % 3, 800 + n % 4, mix=("light", "heavy")[n % 2]) for n in range(40)]
    root = drawn(mixes)
    assert root.attrib["viewBox"] == "0 0 259 370"
    assert {"1 of 2", "2 of 2"} <= set(texts(root))


def test_names_of_batches_have_room_and_show_where_they_differ() -> None:
    long = [Record(f"week 14 2027-04-{n:02}", 95 + n % 3) for n in range(1, 31)]
    names = [text for text in drawn(long).iter(f"{SVG}text") if (text.text or "").startswith("2027-04-")]
    places = [float(text.attrib["x"]) for text in names]
    assert len(set(text.text for text in names)) == len(names) > 5
    assert min(later - earlier for earlier, later in itertools.pairwise(places)) > 1.6 * len("2027-04-01")


def test_values_that_are_all_one_are_drawn_in_the_middle() -> None:
    words = texts(drawn([Record(str(n), 95) for n in range(3)]))
    assert words.count("95.0 g/L") == 1


def test_ears_hear_the_signals() -> None:
    said = drawn(RECORDS).findtext(f"{SVG}desc") or ""
    assert "foam weight: Mean 95.7 g/L." in said
    assert "batch 12 to 17: 6 in a row, each higher than the last." in said
    assert "Look for what changed then: agent, cement lot" in said


def test_names_of_batches_are_text_and_never_markup() -> None:
    root = drawn([Record("<b>&", 95), Record("2", 96)])
    assert "batch <b>&: 95.0\u00a0g/L" in {mark.text for mark in root.iter() if mark.text}
