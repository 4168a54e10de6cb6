"""The table of the bench says who is better, at which stage, and when a bound is wrong."""

from __future__ import annotations

import pytest

from tests.bench.answer import Answer, Number
from tests.bench.child import Ran
from tests.bench.players import Played
from tests.bench.report import compared, csv_text, markdown_text

OURS = Answer((0, "2027-05-07", 47, 4675.0), (0, "2027-05-07", 45, 4600.0))


def with_values(*values: Number) -> Answer:
    return Answer(values)


@pytest.mark.parametrize(
    ("answer", "said"),
    [
        (with_values(0, "2027-05-07", 47, 4675.0), "equal"),
        (with_values(0, "2027-05-08", 40, 4000.0), "worse at finish"),
        (with_values(0, "2027-05-07", 46, 5000.0), "better at batches"),
        (with_values(0, "2027-05-06", 99, 5000.0), "PASSES the best possible of finish"),
        (with_values(0, "2027-05-07", 47, 4599.0), "PASSES the best possible of cement_kg"),
        (with_values(None, None, None, None), "no plan"),
        (Answer((0, "2027-05-01", 1, 1.0), is_plan=False), "no plan"),
        (Answer((0, "2027-05-01", 1, 1.0), findings=("a mould stands twice",)), "no plan"),
    ],
)
def test_the_first_stage_that_differs_tells(answer: Answer, said: str) -> None:
    assert compared(answer, OURS) == said


def test_a_rival_with_a_plan_is_better_than_none_of_ours() -> None:
    assert compared(OURS, Answer(note="ended with 4")) == "better: blockrun has no plan"


def test_the_tables_hold_a_row_a_play_and_the_sums() -> None:
    ran = Ran(0, 12.5, 8.25, 160.0, stopped=False, said="")
    plays = [Played("week-easy-1", name, OURS, ran) for name in ("blockrun", "foreman")]
    assert csv_text(plays).count("week-easy-1") == 2
    text = markdown_text(plays)
    assert "| week | foreman | equal | 1: easy-1 |" in text
    assert "| week | blockrun | 1 | 1 | 12.5 | 12.5 | 8.25 | 8.25 | 160 | 1 | 0 |" in text
