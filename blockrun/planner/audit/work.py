"""Everything the crew is busy with, from the rebuilt batches and turns and from the chores the site asks for."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.turns import JOBS
from blockrun.planner.audit.working import DAY


class Chore(NamedTuple):
    """One time a chore is done: minutes since midnight of the first day, and people."""

    start: int
    end: int
    people: int


class Work(NamedTuple):
    """A stretch of minutes in which people are busy; ``past`` where it was done before the plan was made anew."""

    start: int
    end: int
    people: int
    name: str
    past: bool

    @property
    def changes(self) -> tuple[tuple[int, int], tuple[int, int]]:
        """People busy from the start, and free again at the end."""
        return (self.start, self.people), (self.end, -self.people)


def work_of(case: Case) -> Iterator[Work]:
    """Work out all that keeps people busy; a job whose row is missing is left out."""
    for batch in case.batches.values():
        yield Work(batch.start, batch.end, batch.mixer.crew, batch.name, batch.row.batch in case.past.poured)
    for turn in case.turns:
        for job in JOBS:
            start, end = turn.begins(job), turn.ends(job)
            if start is not None and end is not None:
                yield Work(start, end, 1, f"{job} of {turn.name}", case.past.has_done(turn, job))
    for gone in case.thrown_out:
        if gone.row is not None:
            yield Work(gone.row.start, gone.row.start + gone.length, 1, f"clean of {gone.name}", past=False)
    for chore in chores_of(case):
        yield Work(*chore, "a chore", chore.start < case.past.now)


def chores_of(case: Case) -> Iterator[Chore]:
    """Chores the site asks for: each of their times on each working day from the first batch to the last."""
    days = [day for day in case.pouring_days if case.working.is_working(day)]
    for chore in case.site.chores:
        for at in chore.at:
            for day in days:
                start = day * DAY + at
                yield Chore(start, start + chore.time_min, chore.people)
