import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.show.page import LEAST_WIDTH, LIMIT, Page, glued


def lines_of(page: Page) -> list[str]:
    return page.text().plain.split("\n")


def test_words_wrap_under_the_indent_and_the_label_stands_once() -> None:
    page = Page(30)
    page.line("strip gang-4/01-04 and move them to the rack", label="07:30", indent=6)
    assert lines_of(page) == ["07:30 strip gang-4/01-04 and", "      move them to the rack"]


def test_a_number_stays_with_its_unit() -> None:
    page = Page(30)
    page.line("cement and slurry water of", " ", glued("62.5 kg"))
    assert lines_of(page) == ["cement and slurry water of", "62.5 kg"]


def test_a_word_longer_than_the_line_is_cut() -> None:
    page = Page(30)
    page.line("x" * 70)
    assert [len(line) for line in lines_of(page)] == [30, 30, 10]


def test_glued_words_too_long_for_the_line_break_between_them() -> None:
    page = Page(30)
    page.line(glued("1 cut (stop-end at 450 mm) in cavity 4"))
    assert lines_of(page) == ["1 cut (stop-end at 450 mm) in", "cavity 4"]


def test_words_to_copy_stand_whole_on_a_line_of_their_own_where_they_do_not_fit() -> None:
    page = Page(30)
    page.verbatim("blockrun days plan", label="next", indent=6)
    page.verbatim("blockrun days a/folder/of/plans", label="next", indent=6)
    assert lines_of(page) == ["next  blockrun days plan", "next", "blockrun days a/folder/of/plans"]


def test_limits_keep_their_style_when_they_wrap() -> None:
    page = Page(30)
    page.line("pour at eight hundred and forty ", (glued("POUR BY 09:05"), LIMIT))
    styled = [page.text().plain[span.start : span.end] for span in page.text().spans if span.style == LIMIT]
    assert styled == ["POUR BY 09:05"]


def test_a_rule_is_as_wide_as_the_page() -> None:
    page = Page(40)
    page.rule("Tue 6 Apr 2027")
    assert lines_of(page) == ["Tue 6 Apr 2027 " + "─" * 25]


@given(st.text(alphabet="ab 1/-", max_size=200), st.integers(0, 100), st.integers(0, 12))
def test_no_line_is_wider_than_the_page_and_no_letter_is_lost(words: str, width: int, indent: int) -> None:
    page = Page(width)
    page.line(words, indent=indent)
    assert all(len(line) <= max(width, LEAST_WIDTH) for line in lines_of(page))
    assert page.text().plain.replace(" ", "").replace("\n", "") == words.replace(" ", "")


@pytest.mark.parametrize("width", [30, 40, 80])
def test_no_line_ends_in_a_blank(width: int) -> None:
    page = Page(width)
    page.line("a " * 60, indent=6)
    page.blank()
    assert all(line == line.rstrip() for line in lines_of(page))


def test_a_fraction_stays_with_its_whole_number_and_its_inches() -> None:
    page = Page(30)
    page.line("1 W450-2 (to saw, stop-end at ", ("17 11/16 in", LIMIT), ") and more")
    assert lines_of(page) == ["1 W450-2 (to saw, stop-end at", "17 11/16 in) and more"]
