"""Sites solved in processes of their own, where one does not hear that it is to stop."""

from __future__ import annotations

import time
from functools import partial
from multiprocessing import active_children
from pathlib import Path

from blockrun.order import Order
from blockrun.planner.plan import Stop
from blockrun.planner.whatif.side_by_side import SideBySide
from blockrun.planner.whatif.solved import Job
from tests.yards import a_yard


def deaf(begun: Path, job: Job, order: Order, rounds: int, stop: Stop) -> str:
    """Says that it has begun, and works far longer than anybody waits, whatever it is asked."""
    begun.touch()
    time.sleep(600)
    return "done"


def test_what_does_not_hear_the_stop_is_ended_and_has_no_answer(tmp_path: Path) -> None:
    yard, begun, before = a_yard(3), tmp_path / "begun", active_children()
    with SideBySide(yard.order, 0, 2, begun.exists) as solver:
        assert solver._each(partial(deaf, begun), [Job(yard.site)] * 3, lambda _: None) == [None] * 3
        assert solver.solve([Job(yard.site)] * 2, lambda _: None) == [None] * 2  # nor is anything begun after it
    assert [process for process in active_children() if process not in before] == []
