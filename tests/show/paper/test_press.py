from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pypdfium2
import pytest

from blockrun.errors import BadInput
from blockrun.planner.plan import Plan
from blockrun.show.page import glued
from blockrun.show.paper import press
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.press import Sheet, print_sheets
from blockrun.show.paper.sheets import USUAL, read_names, sheets_of
from blockrun.show.paper.size import Paper
from tests.show.paper.conftest import HEAD, Printed

TWICE = [Sheet("cautions", {"cautions": ["wear gloves"]}), Sheet("cautions", {"cautions": ["wet hands off leads"]})]


def test_every_page_names_site_order_plan_and_its_number(printed: Printed) -> None:
    pages = printed(*TWICE)
    assert len(pages) == 2
    for number, page in enumerate(pages, start=1):
        for said in (
            "Heron Field yard",
            "Tool store",
            HEAD.plan,
            f"page {number} of 2",
        ):
            assert said in page


def test_text_is_printed_as_it_is_whatever_it_holds(printed: Printed) -> None:
    odd = '*bold* $x$ #let _a_ <b> \\ "c" @d [e] `f` // g ~ Łódź Ζευς Дом é'
    (page,) = printed(Sheet("cautions", {"cautions": [odd]}))
    assert odd in page


@pytest.mark.parametrize(("paper", "points"), [(Paper.A4, (595, 842)), (Paper.LETTER, (612, 792))])
def test_pages_have_the_size_asked_for(paper: Paper, points: tuple[int, int]) -> None:
    document = pypdfium2.PdfDocument(print_sheets(replace(HEAD, paper=paper), TWICE))
    assert tuple(round(side) for side in document[0].get_size()) == points
    document.close()


def test_the_document_says_what_it_is_called_and_in_which_language() -> None:
    pdf = print_sheets(HEAD, TWICE)
    document = pypdfium2.PdfDocument(pdf)
    assert document.get_metadata_value("Title") == "Tool store on paper"
    document.close()
    assert b"/Lang" in pdf
    assert b"pdfuaid:part" in pdf


def test_equal_sheets_give_equal_bytes() -> None:
    assert print_sheets(HEAD, TWICE) == print_sheets(HEAD, TWICE)


def test_letters_that_no_font_has_are_named() -> None:
    with pytest.raises(BadInput, match="no font of this machine has the letters \U0001f994"):
        print_sheets(HEAD, [Sheet("cautions", {"cautions": ["a hedgehog \U0001f994"]})])


def test_fonts_travel_with_their_licence_and_stay_small() -> None:
    folder = Path(__file__).parents[3] / "blockrun" / "show" / "paper" / "fonts"
    assert {file.name for file in folder.iterdir()} == {"NotoSans-Regular.ttf", "NotoSans-Bold.ttf", "OFL.txt"}
    assert sum(file.stat().st_size for file in folder.iterdir()) < 1_000_000


def test_names_of_sheets_are_read_and_a_slip_is_answered() -> None:
    assert read_names(None) == USUAL
    assert read_names("cautions, ") == ("cautions",)
    with pytest.raises(BadInput, match="there is no sheet caution") as fault:
        read_names("caution")
    assert "cautions" in str(fault.value)


def test_what_we_say_ourselves_needs_no_font_but_ours(
    demo_plan: Plan, slabs_plan: Plan, monkeypatch: pytest.MonkeyPatch
) -> None:
    with_ours = press._compiled
    monkeypatch.setattr(press, "_compiled", lambda files, ours_only: with_ours(files, ours_only=True))
    for plan in (demo_plan, slabs_plan):
        assert print_sheets(HEAD, list(sheets_of(Asked(plan), USUAL))).startswith(b"%PDF")


def test_long_words_may_break_and_glued_ones_part_where_they_are_too_long_for_a_line() -> None:
    long = "Donaudampfschifffahrtsgesellschaft"
    written = press._written(
        [long, "2\u00a0kg", "4\u00a0blocks\u00a0of\u00a0a\u00a0kind\u00a0with\u00a0a\u00a0long\u00a0name"], "SI"
    )
    assert written[0].replace("\u200b", "") == long
    assert written[0] != long
    assert written[1] == "2\u00a0kg"
    assert press._written("NOT\u00a0BEFORE\u00a0Thu\u00a08\u00a0Apr\u00a007:50:", "SI").count("\u200b") == 0
    assert written[2] == "4\u00a0blocks of a kind with a long name"


def test_a_figure_keeps_its_unit_however_long_what_is_said_is() -> None:
    """Glued words too long for a line are parted, but not 400 from mm."""
    said = press._written(glued("1 plinth-end (stop-end at 400 mm) in cavity 3 and more"), "SI")
    assert said == "1\u00a0plinth-end (stop-end at\u00a0400\u00a0mm) in cavity\u00a03\u00a0and more"


@pytest.mark.parametrize(("units", "said"), [("SI", "on Tue 6\u00a0Apr 2027"), ("US", "on Tue Apr\u00a06, 2027")])
def test_a_day_and_its_month_stand_in_one_line(units: str, said: str) -> None:
    assert press._written("on Tue 6 Apr 2027", units) == said


def test_a_mould_and_its_number_stand_in_one_line() -> None:
    narrow = [" ".join(["a"] * 80)[n:] + " tray-3/b01-04" for n in range(12)]
    document = pypdfium2.PdfDocument(print_sheets(HEAD, [Sheet("cautions", {"cautions": narrow})]))
    words = "".join(page.get_textpage().get_text_bounded() for page in document)
    document.close()
    assert words.count("tray-3/b01-04") == 12


def test_pages_after_the_first_of_a_sheet_say_what_goes_on(printed: Printed) -> None:
    """A page that has come off its nail is put back by it."""
    rows = [f"What burns, dusts, falls and shocks, number {number}." for number in range(30)]
    pages = printed(Sheet("cautions", {"cautions": rows}), Sheet("cautions", {"cautions": rows[:2]}))
    assert ["Take care, goes on" in page for page in pages] == [False, *[True] * (len(pages) - 2), False]
    assert len(pages) > 2
