"""How a day page uses its room: what is small, what stands alone, and how many pages a full day takes."""

from __future__ import annotations

import math
import re
from datetime import date

import pytest

from blockrun.planner.plan import Plan
from blockrun.show.paper.asked import Asked
from blockrun.show.paper.day_page import day_pages
from blockrun.show.paper.press import Sheet, print_sheets
from tests.show.paper.conftest import HEAD
from tests.show.paper.read import Page, read_back
from tests.show.paper.test_day_page import all_inside


def busy(plan: Plan, times: int, what: str) -> list[Page]:
    """The pages of the first day on which moulds are lifted, had it so many times the rows or the moulds."""
    asked = Asked(plan)
    sheets = (sheet for day in asked.days for sheet in day_pages(asked, day))
    sheet = next(
        one for one in sheets if "kg wet" in str(one.data).replace("\u00a0", " ") and one.data["days"][0]["moulds"]
    )
    (day,) = sheet.data["days"]
    return read_back(
        print_sheets(HEAD, [Sheet("day_page", {**sheet.data, "days": [{**day, what: day[what] * times}]})])
    )


def test_who_lifts_and_how_is_never_small_however_much_is_done(demo_plan: Plan) -> None:
    for times in (1, 2, 4):
        lifted = [page for page in busy(demo_plan, times, "rows") if "kg wet" in page.words]
        assert lifted
        assert min(size for page in lifted for size in page.sizes_of("kg wet")) >= 8.49


@pytest.mark.parametrize("times", range(2, 9))
def test_tomorrow_does_not_stand_alone_on_a_page(demo_plan: Plan, times: int) -> None:
    (page,) = (page for page in busy(demo_plan, times, "moulds") if "Tomorrow" in page.words)
    assert "do in this order" in page.words or re.search(
        r"gang-4/\d\d|ring-5/\d\d|tray-3/\d\d", page.words.partition("Tomorrow")[0]
    )


@pytest.mark.parametrize(("rows", "moulds", "n_pages"), [(0.8, 2, 2), (2, 2, 3), (3, 2, 4), (4, 4, 6)])
def test_moulds_begin_under_the_words_where_that_saves_a_page(
    demo_plan: Plan, rows: float, moulds: int, n_pages: int
) -> None:
    """Apart these would be a page more: what goes over of both has room on one."""
    asked = Asked(demo_plan)
    sheet = next(sheet for day in asked.days for sheet in day_pages(asked, day) if day.day == date(2027, 4, 7))
    (day,) = sheet.data["days"]
    n_rows = round(len(day["rows"]) * rows)
    fuller = {**day, "rows": (day["rows"] * math.ceil(rows))[:n_rows], "moulds": day["moulds"] * moulds}
    pages = read_back(print_sheets(HEAD, [Sheet("day_page", {**sheet.data, "days": [fuller]})]))
    assert len(pages) == n_pages
    assert all_inside(pages)
