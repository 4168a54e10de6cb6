from __future__ import annotations

import pytest

from blockrun.planner.audit import Finding
from blockrun.planner.learned import Finding as Learnt
from blockrun.planner.learned import Lessons
from blockrun.show.findings import findings_text
from blockrun.show.learn import lessons_text
from blockrun.show.page import Page
from blockrun.show.recorded import recorded_text
from blockrun.show.site_words import as_the_site_writes


@pytest.mark.parametrize(
    ("said", "si", "us"),
    [
        ("air 8 to 17 degC", "air 8 to 17\u00a0\u00b0C", "air 8 to 17\u00a0\u00b0C"),
        ("46\u00a0degF", "46\u00a0\u00b0F", "46\u00a0\u00b0F"),
        ("wedges of 7 deg", "wedges of 7 deg", "wedges of 7 deg"),
        ("Tue 6 Apr 2027", "Tue 6 Apr 2027", "Tue Apr 6, 2027"),
        (
            "needed Mon\u00a017\u00a0May; whole",
            "needed Mon\u00a017\u00a0May; whole",
            "needed Mon\u00a0May\u00a017; whole",
        ),
        ("12500 kg", "12\u202f500 kg", "12,500 kg"),
        ("1250.5 kg of sand", "1250.5 kg of sand", "1,250.5 kg of sand"),
        ("1234567 blocks", "1\u202f234\u202f567 blocks", "1,234,567 blocks"),
        ("mould gang-40000/12 and W12500 kg", "mould gang-40000/12 and W12500 kg", "mould gang-40000/12 and W12500 kg"),
        ("600 x 300 x 200 mm", "600 x 300 x 200 mm", "600 x 300 x 200 mm"),
    ],
)
def test_degrees_dates_and_thousands_are_those_of_the_site(said: str, si: str, us: str) -> None:
    assert (as_the_site_writes(said, "SI"), as_the_site_writes(said, "US")) == (si, us)


def test_a_screen_has_dates_and_large_numbers_as_paper_has_them() -> None:
    page = Page(80, "US")
    page.rule("Mon 5 Apr 2027")
    page.line("6815 lb by ", ("Tue 6 Apr", "bold"), ", 46 degF")
    assert page.text().plain.startswith("Mon Apr 5, 2027 ")
    assert page.text().plain.endswith("6,815 lb by Tue Apr 6, 46 degF")
    page = Page(80)
    page.line("6815 kg by Tue 6 Apr")
    assert page.text().plain == "6815 kg by Tue 6 Apr"


def test_what_is_recorded_learnt_and_found_wrong_has_its_dates_as_the_site_writes_them() -> None:
    said, finding = "batch 1 poured, Mon 5 Apr 08:00", Finding("rule", "batch 1", "batch 1 is poured on Mon 5 Apr")
    lessons = Lessons(3, (Learnt("strips", "12 min", "15 min since Mon 5 Apr", "as it is"),))
    for text in (
        recorded_text([(1, said)], [], 80, "US", known=False),
        findings_text([finding], 50, 80, "US"),
        lessons_text(lessons, 80, "US"),
    ):
        assert "Mon Apr 5" in text.plain
        assert "5 Apr" not in text.plain
