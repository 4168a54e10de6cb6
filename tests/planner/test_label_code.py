"""The line in a label's code: what is read is what was written."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.errors import BadInput
from blockrun.planner.label_code import IDS, LabelCode, plan_id, read_label_code
from blockrun.planner.plan import Plan


def test_a_line_says_what_it_is_on_then_the_plan_then_which() -> None:
    assert str(LabelCode("rack", "3f9a1c", ("gang-4/03", "5", "east"))) == "blockrun1 rack 3f9a1c gang-4/03 5 east"


def test_blanks_and_other_letters_are_written_as_their_bytes() -> None:
    line = str(LabelCode("stack", "3f9a1c", ("Gärten süd", "7", "D440", "")))
    assert line == "blockrun1 stack 3f9a1c G%C3%A4rten%20s%C3%BCd 7 D440 -"


@given(st.data(), st.sampled_from(sorted(IDS)))
def test_what_is_read_is_what_was_written(data: st.DataObject, on: str) -> None:
    ids = tuple(data.draw(st.text(st.characters(codec="utf-8"), max_size=60)) for _ in IDS[on])
    code = LabelCode(on, "00ff12", ids)
    assert str(code).isascii()
    assert read_label_code(str(code)) == code
    assert tuple(read_label_code(str(code)).named) == IDS[on]


@pytest.mark.parametrize("line", ["", "hello", "https://example.org/3f9a1c", "blockrun2 mould 3f9a1c gang-4/03 5"])
def test_codes_of_others_are_refused(line: str) -> None:
    with pytest.raises(BadInput, match="not of a label of blockrun"):
        read_label_code(line)


@pytest.mark.parametrize(
    "line",
    [
        "blockrun1",
        "blockrun1 mould",
        "blockrun1 mould 3f9a1c gang-4/03",
        "blockrun1 mould 3f9a1c gang-4/03 5 east",
        "blockrun1 shelf 3f9a1c gang-4/03 5",
        "blockrun1 mould 3F9A1C gang-4/03 5",
    ],
)
def test_lines_with_too_few_or_too_many_words_are_refused(line: str) -> None:
    with pytest.raises(BadInput, match="a label that is not known here"):
        read_label_code(line)


def test_another_plan_has_another_id(small_plan: Plan) -> None:
    casts = small_plan.tables.casts.copy()
    casts.loc[0, "turn"] = 99
    other = replace(small_plan, tables=replace(small_plan.tables, casts=casts))
    assert plan_id(small_plan) == plan_id(small_plan)
    assert plan_id(small_plan) != plan_id(other)
