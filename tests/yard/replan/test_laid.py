"""What is laid when a plan is made anew: it is late no longer, its courses stay as ordered, and none is handed out."""

from __future__ import annotations

from collections import Counter
from datetime import datetime

import pytest

from blockrun.optimiser.score import score
from blockrun.planner.begun.lines import lines_found, soonest_first
from blockrun.planner.write import write_tables
from blockrun.yard.journal.events import Blocks, BlocksCounted, Laid
from blockrun.yard.replan.kept import Kept
from tests.yard.replan.test_goes_on import as_planned, findings


def laid(course: int, **counts: int) -> Laid:
    blocks = tuple(Blocks(mark=mark, mix="light", count=count) for mark, count in counts.items())
    return Laid(part="wall", course=course, blocks=blocks)


@pytest.mark.parametrize(("day", "late"), [("05", 1), ("06", 2)])
def test_a_block_laid_too_young_is_late_no_longer(small_kept: Kept, day: str, late: int) -> None:
    # of the fulls the sixth is ready on the 6th and needed on the 5th; so is the sill, which nobody lays
    at = datetime.fromisoformat(f"2027-05-{day}T18:00")
    asked, answer, begun = as_planned(small_kept, at, laid(1, full=4, half=1), laid(2, full=2))
    assert score(asked.problem, answer).late == late
    assert findings(asked, write_tables(asked, answer), answer, begun) == []


def test_blocks_found_are_for_courses_that_are_not_laid(small_kept: Kept) -> None:
    at = datetime.fromisoformat("2027-05-04T18:00")
    found = BlocksCounted(place="stack", name="", mark="full", mix="light", count=1)
    asked, answer, begun = as_planned(small_kept, at, laid(1, full=4, half=1), found)
    counts: Counter[int | None] = Counter()
    for line in asked.lines:
        counts[line.course] += line.count * (line.mark == "full" and bool(line.part))
    assert (counts[1], counts[2]) == (4, 1)
    (for_them,) = lines_found(soonest_first(small_kept.plan.ordered), begun)
    assert (for_them.course, for_them.mark, for_them.count) == (2, "full", 1)
    assert findings(asked, write_tables(asked, answer), answer, begun) == []
