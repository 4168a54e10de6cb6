"""Pictures of domes as SVG pages."""

from __future__ import annotations

import math
import re
from collections import Counter
from xml.etree import ElementTree

import pytest

from blockrun.order.domes import Way, lay_dome
from blockrun.order.marks import kind_of, marks_for
from blockrun.show.pictures.dome_developed import developed_view
from blockrun.show.pictures.dome_section import section_view
from blockrun.show.pictures.dome_table import dome_table
from tests.order.domes.made import dome, mould

SVG = "{http://www.w3.org/2000/svg}"


def pictured(part=None, moulds=(), system="SI"):
    part = part or dome()
    layout = lay_dome(part, moulds)
    marks = marks_for({kind_of("D", block) for block in layout.blocks}, ())
    pages = developed_view(part, layout, lambda block: marks[kind_of("D", block)], units=system)
    return layout, marks, pages, section_view(part, layout, units=system)


def titles(page):
    return [title.text for title in ElementTree.fromstring(page).iter(f"{SVG}title")][1:]


def texts(page):
    return [text.text for text in ElementTree.fromstring(page).iter(f"{SVG}text")]


def test_every_block_has_a_title_with_mark_course_and_cut():
    layout, marks, (page, *_), _ = pictured()
    expected = [
        f"{marks[kind_of('D', b)]}, course {b.course}"
        + (f", {b.role.value}" if b.role.value else "")
        + (f", {b.cut}" if b.cut else "")
        for b in layout.blocks
    ]
    assert titles(page) == expected


def test_the_key_counts_the_blocks_of_each_mark():
    layout, marks, (page, *_), _ = pictured()
    counts = [int(found[1]) for text in texts(page) if text and (found := re.search(r": (\d+) blocks?, course", text))]
    assert sum(counts) == len(layout.blocks)
    assert len(counts) == len(set(marks.values()))


def test_blocks_hold_their_mark_and_course_in_words_that_can_be_read():
    _, marks, (page, *_), _ = pictured()
    words = texts(page)
    assert any(word in words for word in marks.values())
    assert "door" in words
    sizes = [float(size) for size in re.findall(r'font-size="([\d.]+)"', page)]
    assert min(sizes) >= 1.9


def sizes_of_marks(page):
    """Size of the letters in each block that has any, by its title."""
    found = {}
    for group in ElementTree.fromstring(page).iter(f"{SVG}g"):
        words = group.find(f"{SVG}g")
        if group.find(f"{SVG}title") is not None and words is not None:
            found.setdefault(group.find(f"{SVG}title").text, []).append(float(words.get("font-size")))
    return found


WINDOW = {"name": "window", "width": "0.6 m", "height": "0.5 m", "sill": "1.6 m", "at": "120 deg"}
DOOR = {"name": "door", "width": "0.9 m", "height": "2.0 m"}


@pytest.mark.parametrize("moulds", [(), (mould(),)])
@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"inside_diameter": "3 m", "stem": "0.84 m", "course": "200 mm", "openings": [DOOR, WINDOW]},
        {"inside_diameter": "8 m", "crown": "eye", "eye_diameter": "1 m", "openings": [DOOR, WINDOW]},
    ],
)
def test_every_kind_of_block_in_every_course_has_a_mark_of_two_millimetres_somewhere(changes, moulds):
    _, _, pages, _ = pictured(dome(**changes), moulds)
    marked = [sizes_of_marks(page) for page in pages]
    assert min(size for found in marked for sizes in found.values() for size in sizes) >= 2.0
    assert set().union(*marked) == set().union(*map(titles, pages))
    assert len(pages) <= 4 + 1 + len(changes.get("openings", [DOOR]))


def test_every_way_that_blocks_are_sawn_has_a_number_of_its_own_on_the_sheets():
    layout, marks, pages, _ = pictured()
    asked = {(marks[kind_of("D", block)], block.cut) for block in layout.blocks if block.cut}
    seen = {
        found[1] for page in pages for text in texts(page) if (found := re.fullmatch(r"(?:\d+ )?(x\d+)", text or ""))
    }
    assert seen == {f"x{number}" for number in range(1, len(asked) + 1)}


def test_the_sheet_is_called_what_its_file_is_called():
    assert '<title id="name">Dome store: laid flat</title>' in pictured()[2][0]


@pytest.mark.parametrize(
    ("changes", "details"),
    [({}, ["detail: door"]), ({"block_length": "200 mm", "openings": []}, ["detail: crown"])],
)
def test_what_is_too_small_for_its_mark_or_number_is_enlarged(changes, details):
    pages = pictured(dome(**changes))[2]
    assert [found[0] for page in pages if (found := re.search(r"detail: \w+", page))] == details


def test_no_two_marks_share_a_pattern():
    _, _, (page, *_), _ = pictured()
    patterns = re.findall(r'<pattern.*?fill="(#\w+)"/><path d="(.*?)"', page)
    assert len(patterns) == len(set(patterns)) > 5


def test_a_page_fits_both_sheets():
    for page in (*pictured()[2], pictured()[3]):
        assert 'width="190mm" height="259mm" viewBox="0 0 190 259"' in page
        assert "<script" not in page


def test_a_large_dome_takes_four_quarters_that_hold_every_block():
    layout, _, pages, _ = pictured(dome(inside_diameter="12 m", stem="2 m"))
    assert all("quarter" in page for page in pages[:4])
    assert sum(map(len, map(titles, pages))) >= len(layout.blocks)
    assert "quarter 1 of 4" in pages[0]
    assert "from 90 to 180 deg" in pages[1]


def test_the_section_tells_pivot_arm_and_a_row_for_each_course():
    layout, _, _, page = pictured()
    words = texts(page)
    assert any("on the axis, 1200 mm above the floor" in word for word in words)
    assert words.count("2200 mm") >= 11
    assert "pivot" in words
    assert [title for title in titles(page) if title == "course 15"] == ["course 15"] * 2
    assert len(layout.courses) == 15


@pytest.mark.parametrize("system", ["SI", "US"])
def test_a_scale_bar_says_its_length(system):
    _, _, (page, *_), section = pictured(system=system)
    unit = "ft" if system == "US" else "m"
    for one in (page, section):
        assert any(re.fullmatch(rf"[\d.]+ {unit}", word or "") for word in texts(one))


@pytest.mark.parametrize("crown", ["block", "ring", "eye"])
def test_every_crown_is_drawn(crown):
    part = dome(crown=crown, eye_diameter="600 mm" if crown == "eye" else None)
    section = pictured(part, [mould()])[3]
    assert section.count('stroke-dasharray="1 0.6"') == (crown == "ring")
    assert section.count('fill="url(#f1)" stroke="#000" stroke-width="0.2"') == (crown == "block")


def test_the_section_has_a_row_for_a_crown_block_too():
    layout, _, _, section = pictured(dome(crown="block"), [mould()])
    last = len(layout.courses) + 1
    table = rows(section)
    assert set(map(str, range(1, last + 1))) <= set(table)
    assert table[str(last)][1:4] == ["1", "1", "crown"]
    assert str(last) not in rows(pictured(dome(crown="ring"), [mould()])[3])


def test_names_are_written_as_text():
    part = dome(dome="a <b> & c", openings=[{"name": "<door>", "width": "0.9 m", "height": "2 m"}])
    _, _, (page, *_), section = pictured(part)
    assert "<b>" not in page + section
    assert "<door>" in texts(page)


def test_the_same_dome_gives_the_same_picture():
    assert pictured()[2:] == pictured()[2:]


@pytest.mark.parametrize("system", ["SI", "US"])
def test_the_table_has_every_number_of_every_course_and_the_notes(system):
    layout = lay_dome(dome(), [mould("300 x 300 x 200 mm", stop_ends=False)])
    page = dome_table(dome(), layout, units=system)
    words = texts(page)
    assert [*rows(page)][2:] == [str(course) for course in range(16, 0, -1)]
    assert any("Caution" in (word or "") for word in words)
    closed = [ring for ring in layout.courses if ring.closing]
    assert sum("Closing piece of course" in (word or "") for word in words) == len(closed) > 0
    assert 'viewBox="0 0 190 259"' in page


def test_the_table_of_a_large_dome_stays_on_its_page():
    part = dome(inside_diameter="12 m", stem="2 m")
    page = dome_table(part, lay_dome(part, [mould()]), units="SI")
    assert max(float(y) for y in re.findall(r' y="([\d.]+)"', page)) <= 259


def rows(page):
    """The table's rows of cells, by what stands in their first column."""
    found: dict[str, list[str]] = {}
    for text in ElementTree.fromstring(page).iter(f"{SVG}text"):
        if text.get("text-anchor") == "end" and text.get("y"):
            found.setdefault(text.get("y"), []).append(text.text or "")
    return {cells[0]: cells for cells in found.values()}


def test_tables_tell_blocks_laid_from_those_of_a_full_ring():
    layout, _, _, section = pictured()
    table = rows(dome_table(dome(), layout, units="SI"))
    laid = Counter(block.course for block in layout.blocks)
    for ring in layout.courses:
        assert table[str(ring.course)][2:4] == [str(laid[ring.course]), str(ring.count)]
        assert rows(section)[str(ring.course)][1:3] == [str(laid[ring.course]), str(ring.count)]
    assert any(laid[ring.course] < ring.count for ring in layout.courses)


@pytest.mark.parametrize(
    ("at", "line"),
    [
        ("0 deg", "from the middle of door"),
        ("90 deg", "from a line 90 deg clockwise of the middle of door"),
        ("-30 deg", "from a line 30 deg anti-clockwise of the middle of door"),
        (None, "from a line of your own"),
    ],
)
def test_the_table_says_from_which_line_each_ring_begins(at, line):
    part = dome(openings=[{**DOOR, "at": at}] if at else [])
    layout = lay_dome(part)
    page = dome_table(part, layout, units="SI")
    assert any(line in (word or "") for word in texts(page))
    for ring in layout.courses:
        assert rows(page)[str(ring.course)][4] == f"{ring.begin_deg:.1f}"


@pytest.mark.parametrize(
    ("crown", "way", "laid"), [("block", "crown", "1"), ("ring", "plug", "0"), ("eye", "eye", "0")]
)
def test_the_crown_has_a_row_of_its_own(crown, way, laid):
    part = dome(crown=crown, eye_diameter="600 mm" if crown == "eye" else None)
    layout = lay_dome(part)
    course = str(len(layout.courses) + 1) if crown == "block" else "crown"
    row = rows(dome_table(part, layout, units="SI"))[course]
    assert row[1:3] == [way, laid]
    assert f"{layout.crown.floor_mm - layout.pivot_mm:.0f}" in row
    assert f"{layout.crown.outside_radius_mm:.0f}" in row


def test_the_table_tells_what_is_set_from_what_would_be_even():
    layout = lay_dome(dome(), [mould()])
    table = rows(dome_table(dome(), layout, units="SI"))
    for ring in layout.courses:
        leans = ring.setting.laid
        expected = f"{leans.bevel_deg:.1f}/{leans.taper_deg:.1f}/{leans.bed_deg:.1f}"
        assert table[str(ring.course)][15] == ("-" if ring.setting.way is Way.PLAIN else expected)
        half, lean = math.pi / ring.count, math.radians(ring.lean_deg)
        through, up = math.atan(math.tan(half) * math.cos(lean)), math.atan(math.tan(half) * math.sin(lean))
        assert table[str(ring.course)][16].startswith(f"{math.degrees(through):.1f}/{math.degrees(up):.1f}/")


def test_the_key_names_what_is_set_into_the_mould():
    _, _, (page, *_), _ = pictured()
    assert any("wedges 5.3, tapers 2 deg" in (word or "") for word in texts(page))


def test_no_line_is_longer_than_its_page_is_wide():
    _, _, views, section = pictured()
    for page in (*views, section, dome_table(dome(), lay_dome(dome(), [mould()]), units="SI")):
        for text in ElementTree.fromstring(page).iter(f"{SVG}text"):
            if float(text.get("x") or 9) < 3:
                assert 0.55 * float(text.get("font-size") or 0) * len(text.text or "") < 190


def test_the_angle_of_a_long_arm_is_told_to_a_hundredth_of_a_degree():
    for width, decimals in (("4.4 m", 1), ("12 m", 2)):
        layout, _, _, page = pictured(dome(inside_diameter=width))
        assert f"{layout.courses[8].arm_deg:.{decimals}f}" in texts(page)


def test_what_is_said_of_the_arm_stands_where_no_arm_crosses_it():
    *_, section = pictured()
    root = ElementTree.fromstring(section)
    middle = float(root.get("width").removesuffix("mm")) / 2
    (said,) = [text for text in root.iter(f"{SVG}text") if (text.text or "").startswith("bold: arm of course")]
    assert said.get("text-anchor") == "end"
    assert float(said.get("x")) < middle
