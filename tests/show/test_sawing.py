"""Blocks that are sawn or hollowed after the strip: said where they are poured and where they are stripped."""

from __future__ import annotations

import dataclasses
from datetime import date
from types import SimpleNamespace
from typing import Any

import pytest

from blockrun.order.walls.cut import TROUGH
from blockrun.planner.plan import Plan
from blockrun.show.day import Fill, Filled
from blockrun.show.days import days_text
from blockrun.show.jobs import fills_said
from blockrun.show.page import GLUE
from blockrun.show.sawing import Work, to_do, work_of, work_on_each


def sawn_plan(plan: Plan) -> Plan:
    """The plan made by hand, its thin blocks troughs, one of two full blocks of course 2 sawn."""
    (part,) = plan.order.parts
    rows = []
    for row in part.blocks.rows:
        if row.mark == "thin":
            row = dataclasses.replace(row, cut=f"to 200 mm high, {TROUGH}", role="ring beam")
        if (row.mark, row.course) == ("full", 2):
            rows.append(dataclasses.replace(row, count=1, cut="to 412 mm"))
            row = dataclasses.replace(row, count=1)
        rows.append(row)
    blocks = dataclasses.replace(part.blocks, rows=tuple(rows))
    order = plan.order.model_copy(update={"parts": (part.model_copy(update={"blocks": blocks}),)})
    return dataclasses.replace(plan, order=order)


def words_of(plan: Plan, width: int = 40) -> str:
    return " ".join(days_text(plan, width).plain.split())


@pytest.mark.parametrize(
    ("cut", "work"),
    [
        (TROUGH, Work(trough=True)),
        (f"to 250 mm high, {TROUGH}", Work(trough=True, saw=True)),
        ("saw off the left end", Work(saw=True)),
    ],
)
def test_a_cut_is_a_trough_or_sawn_or_both(cut: str, work: Work) -> None:
    assert work_of(cut) == work


def test_a_pour_says_which_of_its_blocks_are_troughs_and_which_will_be_sawn(small_plan: Plan) -> None:
    words = words_of(sawn_plan(small_plan))
    assert "tray-1/01 on base b01: 1 thin (ring beam, trough, to saw)" in words
    assert words.count("1 full (to saw)") == 1


def test_the_strip_says_what_to_saw_and_for_which_course(small_plan: Plan) -> None:
    words = words_of(sawn_plan(small_plan))
    assert "- saw: 1 full for wall course 2" in words
    assert "- hollow to troughs: 1 thin for wall course 3" in words
    assert "- saw: 1 thin for wall course 3" in words


def test_a_cut_with_a_number_is_named_by_it() -> None:
    """Two blocks of one mark and course, each sawn otherwise, are told apart."""
    lines = [_line("D397", "saw off the left end"), _line("D397", "saw off the right end")]
    numbers = {("house", "D397", line.cut): f"x{n}" for n, line in enumerate(lines, 1)}
    casts: list[Any] = [SimpleNamespace(cast=n, part="house", course=1, mark="D397", mix="light") for n in (1, 2)]
    for cast in casts:
        cast.poured, cast.mould, cast.cavity = 0, "gang", cast.cast
    found = to_do(casts, work_on_each(lines, casts, numbers))
    assert [what for what, _ in found] == [("saw", "house", 1, "D397", "x1"), ("saw", "house", 1, "D397", "x2")]


def _line(mark: str, cut: str) -> Any:
    return SimpleNamespace(part="house", course=1, mark=mark, mix="light", cut=cut, count=1)


def test_each_block_is_sawn_once(small_plan: Plan) -> None:
    words = words_of(sawn_plan(small_plan))
    assert words.count("saw: 1 full") == 1
    assert words.count("hollow to troughs: 1 thin") == 2


def test_nothing_is_said_of_blocks_laid_as_they_are_cast(small_plan: Plan) -> None:
    assert "saw" not in words_of(small_plan)


@pytest.mark.parametrize("width", [40, 80])
def test_no_line_is_wider_than_the_screen(small_plan: Plan, width: int) -> None:
    day = date(2027, 4, 6)
    assert max(map(len, days_text(sawn_plan(small_plan), width, day, day).plain.split("\n"))) <= width


def test_blocks_that_are_told_alike_are_told_together_though_their_cuts_have_numbers() -> None:
    cuts = (Work(saw=True, cut="a1"), Work(saw=True, cut="a2"), Work())
    fill = Fill("gang-4/01", "", tuple(Filled(n, "A", work=cut) for n, cut in enumerate(cuts, 1)), alone=True)
    ((_, said),) = fills_said((fill,), "SI")
    assert said.replace(GLUE, " ") == "2 A (to saw), 1 A"
