"""The report in a real browser: for everybody to read, on phone, tablet and desk, on paper, and without script."""

from __future__ import annotations

import itertools
import re
from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Final

import pypdfium2
import pytest
from axe_playwright_python.sync_playwright import Axe
from PIL import Image, ImageStat
from playwright.sync_api import Browser, Page

from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan
from blockrun.show.report.page import report_page
from tests.show.report.read import counted_by_hand, rows_of_casts

DRAWN: Final = Path(__file__).parents[1] / "plans" / "drawn"
WIDTHS: Final = {"phone": 390, "tablet": 820, "desk": 1400}
STRICT: Final = {"resultTypes": ["violations"], "rules": {"target-size": {"enabled": True}}}
"""All rules of axe-core, best practice with them; what passes is not listed, which takes most of the time."""

Open = Callable[..., AbstractContextManager[Page]]


@pytest.fixture(scope="module")
def address(tmp_path_factory: pytest.TempPathFactory) -> str:
    """Where the report of the drawn plan lies, with its solids."""
    file = tmp_path_factory.mktemp("report") / "report.html"
    file.write_text(report_page(load_plan(DRAWN), solid=True), encoding="utf-8")
    return file.as_uri()


@pytest.fixture
def opened(chromium: Browser, address: str) -> Open:
    """Open the report in a window; faults of its scripts and whatever it asks for are faults of the test."""

    @contextmanager
    def open_page(width: int = 1400, **options: object) -> Iterator[Page]:
        asked, faults = list[str](), list[str]()
        context = chromium.new_context(viewport={"width": width, "height": 900}, **options)  # type: ignore[arg-type]
        with context.new_page() as page:
            page.on("request", lambda request: asked.append(request.url))
            page.on("pageerror", lambda fault: faults.append(str(fault)))
            page.on("console", lambda message: faults.append(message.text))
            page.goto(address)
            yield page
            assert (set(asked), faults) == ({address}, [])
        context.close()

    return open_page


def pick(page: Page, day: str) -> None:
    page.fill("#date", day)
    page.dispatch_event("#date", "change")


def open_all(page: Page) -> None:
    """Open all tables."""
    page.evaluate("document.querySelectorAll('details').forEach((one) => (one.open = true))")


def totals(page: Page) -> list[int]:
    return [int(words) for words in page.locator("[data-total]").all_inner_texts()]


# for everybody


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("screen", WIDTHS)
def test_nothing_is_in_the_way_of_anybody(opened: Open, screen: str, scheme: str) -> None:
    with opened(WIDTHS[screen], color_scheme=scheme) as page:
        if (screen, scheme) == ("phone", "dark"):
            open_all(page)
        found = Axe().run(page, options=STRICT)
        assert found.violations_count == 0, found.generate_report()
        assert len(found.response["passes"]) > 40


@pytest.mark.parametrize("screen", WIDTHS)
def test_the_page_never_moves_sideways(opened: Open, screen: str) -> None:
    with opened(WIDTHS[screen]) as page:
        open_all(page)
        assert page.evaluate("document.documentElement.scrollWidth") == WIDTHS[screen]


def test_the_tab_key_goes_down_the_page(opened: Open) -> None:
    with opened() as page:
        tops = []
        for _ in range(25):
            page.keyboard.press("Tab")
            tops.append(page.evaluate("document.activeElement.getBoundingClientRect().top + window.scrollY"))
        first = page.evaluate("document.querySelector('.skip').textContent")
        assert first == "To the report"
        sticky = page.evaluate("document.querySelector('.when').getBoundingClientRect().height")
        assert all(below >= above - sticky for above, below in itertools.pairwise(tops))


def test_tables_of_courses_show_their_marks_on_a_desk(opened: Open) -> None:
    with opened() as page:
        page.set_viewport_size({"width": 1200, "height": 900})
        open_all(page)
        for wide in page.locator(".wide:has(table.courses)").all():
            assert wide.evaluate("(it) => it.scrollWidth - it.clientWidth") == 0


# by date


@pytest.mark.parametrize("day", ["2027-04-05", "2027-04-19", "2027-05-05", "2027-05-13", "2027-06-03"])
def test_a_picked_day_shows_what_casts_csv_says(opened: Open, day: str) -> None:
    casts, on = rows_of_casts(DRAWN), date.fromisoformat(day)
    with opened() as page:
        pick(page, day)
        assert totals(page) == counted_by_hand(casts, on)
        drawn = [len(page.locator(f".faces g.s{state} path").all()) for state in range(6)]
        assert drawn == counted_by_hand([cast for cast in casts if cast["part"] not in {"", "blocks"}], on)
        row = page.locator("table", has_text="List blocks by course").locator("tbody tr").first
        counts = [int(cell) for cell in row.locator("[data-state]").all_inner_texts()]
        assert counts == counted_by_hand([c for c in casts if (c["part"], c["course"]) == ("blocks", "1")], on)


def test_the_slider_and_the_buttons_go_day_by_day(opened: Open) -> None:
    with opened() as page:
        pick(page, "2027-04-07")
        page.focus("#day")
        page.keyboard.press("ArrowRight")
        assert page.inner_text("#said") == "Thu 8 Apr 2027"
        assert page.get_attribute("#day", "aria-valuetext") == "Thu 8 Apr 2027"
        page.click("#before")
        page.click("#before")
        assert page.input_value("#date") == "2027-04-06"


def test_no_day_outside_of_the_plan_is_shown(opened: Open) -> None:
    with opened() as page:
        pick(page, "2031-01-01")
        assert page.inner_text("#said") == "Thu 3 Jun 2027"
        page.click("#after")
        assert page.inner_text("#said") == "Thu 3 Jun 2027"
        pick(page, "2020-01-01")
        assert page.inner_text("#said") == "Mon 5 Apr 2027"


@pytest.mark.parametrize(("today", "shown"), [("2027-04-20", "Tue 20 Apr 2027"), ("2026-12-24", "Wed 5 May 2027")])
def test_the_page_opens_on_today_where_the_plan_has_that_day(opened: Open, today: str, shown: str) -> None:
    with opened() as page:
        page.clock.set_fixed_time(f"{today}T23:30:00")
        page.reload()
        assert page.inner_text("#said") == shown


def test_only_what_moves_sideways_stops_the_tab_key(opened: Open) -> None:
    stops = "[...document.querySelectorAll('.wide')].filter((one) => one.tabIndex === 0).length"
    with opened(WIDTHS["desk"]) as page:
        at_desk = page.evaluate(stops)
    with opened(WIDTHS["phone"]) as page:
        assert page.evaluate(stops) > at_desk


CUE = "getComputedStyle(one, '::before').content.includes('Slide sideways')"


@pytest.mark.parametrize(("width", "script"), [(390, True), (390, False), (1400, True)])
def test_charts_and_courses_that_go_on_beyond_the_screen_say_so(opened: Open, width: int, script: bool) -> None:
    with opened(width, java_script_enabled=script) as page:
        page.evaluate("document.querySelectorAll('details').forEach((one) => { one.open = true; })")
        page.evaluate("window.dispatchEvent(new Event('resize'))")
        charts = page.locator(".wide:has(> :is(svg.chart, table.courses))")
        told = charts.evaluate_all(f"(all) => all.map((one) => [{CUE}, one.scrollWidth > one.clientWidth])")
        assert len(told) > 4
        assert {cue for cue, goes_on in told if goes_on} == ({True} if width == 390 else set())
        if script:
            assert all(cue == goes_on for cue, goes_on in told)


def test_a_block_that_is_touched_says_what_it_is(opened: Open) -> None:
    with opened() as page:
        page.locator(".faces g path").first.click()
        said = page.locator(".faces p.pointed").first.inner_text()
        assert re.search(r"course \d+; .*poured \w+ \d+ \w+, .*mould ring-5/\d\d, batch \d+", said)


def test_keys_go_from_block_to_block(opened: Open) -> None:
    with opened() as page:
        drawing, said = page.locator(".faces svg").first, page.locator(".faces p.pointed").first
        assert drawing.get_attribute("aria-label").endswith("Arrow keys go from block to block.")
        drawing.focus()
        page.keyboard.press("ArrowRight")
        first = said.inner_text()
        page.keyboard.press("ArrowRight")
        assert re.search(r"course \d+; .*mould ring-5/\d\d, batch \d+", first)
        assert said.inner_text() != first
        assert page.locator("path.pointed").count() == 1
        page.keyboard.press("ArrowLeft")
        assert said.inner_text() == first
        page.keyboard.press("Escape")
        assert (said.inner_text(), page.locator("path.pointed").count()) == ("", 0)


def test_in_us_units_the_script_writes_days_as_the_page_does(chromium: Browser, tmp_path: Path) -> None:
    plan = load_plan(DRAWN)
    american = replace(plan, site=plan.site.model_copy(update={"units": "US"}))
    (tmp_path / "report.html").write_text(report_page(american), encoding="utf-8")
    with chromium.new_page() as page:
        page.goto((tmp_path / "report.html").as_uri())
        assert page.inner_text("#said") == "Wed May 5, 2027"


# without script


def test_without_script_the_same_blocks_are_shown(opened: Open) -> None:
    with opened(java_script_enabled=False) as page:
        still = page.inner_text("#said"), totals(page)
        assert not page.locator(".pick").first.is_visible()
        assert page.locator("noscript").first.is_visible()
        page.locator("summary", has_text="Blocks in each state").click()
        assert page.locator("table", has_text="Blocks in each state").locator("tbody tr").count() == 60
    with opened() as page:
        assert (page.inner_text("#said"), totals(page)) == still


def test_a_solid_is_the_same_with_script_and_without(opened: Open, address: str) -> None:
    still = faces(Path(address.removeprefix("file://")).read_text(encoding="utf-8"))
    with opened() as page:
        drawn = faces(page.content())
    assert len(still) == len(drawn) > 500
    for number, (is_, box) in enumerate(still):  # blocks that are just as near may come in another order
        near = drawn[max(0, number - 40) : number + 40]
        assert any(is_ == other and box == pytest.approx(there, abs=1.5) for other, there in near)


def faces(page: str) -> list[tuple[str, tuple[int, ...]]]:
    """Class and box of each face of the first solid."""
    solid = page[page.index('<figure class="solid') :]
    found = []
    for path in re.findall(r"<path [^>]*>", solid[solid.index("<g>") : solid.index("</g>")]):
        is_, drawn = (re.search(rf'{name}="([^"]*)"', path)[1] for name in ("class", " d"))  # type: ignore[index]
        xs, ys = zip(*corners(drawn), strict=True)
        found.append((is_, (min(xs), max(xs), min(ys), max(ys))))
    return found


def corners(path: str) -> Iterator[tuple[int, int]]:
    x = y = 0
    for step, numbers in re.findall(r"([MLlhv])([-\d ]+)", path):
        first, *more = map(int, numbers.split())
        match step:
            case "h":
                x += first
            case "v":
                y += first
            case "l":
                x, y = x + first, y + more[0]
            case _:
                x, y = first, more[0]
        yield x, y


def test_a_solid_turns_by_its_keys(opened: Open) -> None:
    with opened() as page:
        before = page.locator("figure.solid").first.locator("g").inner_html()
        page.locator("figure.solid input").first.focus()
        page.keyboard.press("ArrowRight")
        page.wait_for_function("(was) => document.querySelector('figure.solid g').innerHTML !== was", arg=before)


def test_a_solid_turns_under_the_pointer(opened: Open) -> None:
    with opened() as page:
        drawing = page.locator("figure.solid svg").first
        drawing.scroll_into_view_if_needed()
        box = drawing.bounding_box()
        assert box
        page.mouse.move(box["x"] + 200, box["y"] + 300)
        page.mouse.down()
        page.mouse.move(box["x"] + 290, box["y"] + 300)
        page.mouse.up()
        assert page.locator("figure.solid input").first.input_value() == "55"
        assert page.locator("figure.solid p.pointed").first.inner_text() == ""


# a few days, and moulds with long names


@pytest.fixture
def long_names(chromium: Browser, small_plan: Plan, tmp_path: Path) -> Iterator[Page]:
    """The small plan, whose moulds are called by names as wide as names are."""
    kinds = tuple(kind.model_copy(update={"kind": f"Mmm-WWWWW-{kind.kind}"}) for kind in small_plan.site.moulds)
    casts, tasks = (
        frame.assign(
            **{name: frame[name].str.replace(r"^(?=.)", "Mmm-WWWWW-", regex=True) for name in ("mould", "base")}
        )
        for frame in (small_plan.tables.casts, small_plan.tables.tasks)
    )
    tables = replace(small_plan.tables, casts=casts, tasks=tasks)
    plan = replace(small_plan, site=small_plan.site.model_copy(update={"moulds": kinds}), tables=tables)
    (tmp_path / "report.html").write_text(report_page(plan), encoding="utf-8")
    with chromium.new_page() as page:
        page.goto((tmp_path / "report.html").as_uri())
        yield page


def test_names_of_lanes_are_not_cut_off(long_names: Page) -> None:
    starts = long_names.evaluate("[...document.querySelectorAll('.chart text')].map((one) => one.getBBox().x)")
    assert len(starts) > 20
    assert min(starts) >= 0


def test_letters_of_charts_are_no_larger_on_paper_than_they_were_made(long_names: Page) -> None:
    long_names.emulate_media(media="print")
    scales = long_names.evaluate("[...document.querySelectorAll('.chart')].map((one) => one.getScreenCTM().a)")
    assert len(scales) > 5
    assert max(scales) <= 1.01


# on paper


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_page_prints(opened: Open, paper: str) -> None:
    with opened(color_scheme="dark") as page:
        printed = pypdfium2.PdfDocument(page.pdf(format=paper, print_background=False))
    shares = [ink(sheet.render(scale=0.5).to_pil()) for sheet in printed]
    assert 5 <= len(shares) <= 25
    assert all(0.002 < share < 0.6 for share in shares), shares
    words = "".join(sheet.get_textpage().get_text_range() for sheet in printed)
    assert 'Shed & "dome" <i>' in words
    assert "Strength is not promised" in words
    assert "The day before" not in words


def test_courses_are_printed_though_their_tables_are_closed(opened: Open) -> None:
    with opened() as page:
        captions = page.locator("table.courses caption", has_text="by course").all_text_contents()
        printed = pypdfium2.PdfDocument(page.pdf(format="A4"))
    words = " ".join("".join(sheet.get_textpage().get_text_range() for sheet in printed).split())
    assert [caption for caption in captions if caption not in words] == []
    assert len(captions) == 4
    assert "Blocks in each state, in the evening" not in words
    assert "Table:" not in words


@pytest.mark.parametrize("millimetres", [186, 192])
def test_nothing_is_wider_than_the_paper(opened: Open, millimetres: int) -> None:
    """Else the browser prints all of it smaller: what A4 and Letter leave between the margins."""
    with opened(int(millimetres / 25.4 * 96)) as page:
        page.emulate_media(media="print")
        assert page.evaluate("document.documentElement.scrollWidth") <= int(millimetres / 25.4 * 96)


def ink(sheet: Image.Image) -> float:
    """Share of a sheet that is dark."""
    return 1 - ImageStat.Stat(sheet.convert("L").point(lambda grey: 255 if grey > 200 else 0)).mean[0] / 255
