"""How many people a thing takes, said so that no two lines ask for more people than there are."""

from __future__ import annotations

from collections.abc import Sequence

from blockrun.planner.heavy import PEOPLE
from blockrun.show.day import Job, Pour
from blockrun.show.page import glued

AS_FREE = "as people come free"

Taken = list[tuple[Job | Pour, int]]


def people_said(jobs: Sequence[Job | Pour], present: int) -> list[str]:
    """Say who does each job of a day.

    A batch and a chore take just as many people as they do. Of other jobs only the busiest minute is known, and it is
    said where those people can be there from its start to its end, beside batches, chores and the jobs said before it;
    with those who lift together, or that they are not there: plans count one person a strip. Where no batch of the day
    follows that might wait for it, it may wait for them.

    Parameters
    ----------
    jobs : of one day, by start.
    present : people there that day.

    Returns
    -------
    Words for each job, such as ``3 of the 4 people``, ``up to 4 people`` or ``as people come free``.
    """
    taken: Taken = [(job, job.people) for job in jobs if isinstance(job, Pour) or job.task == "chore"]
    said = []
    for job in jobs:
        if isinstance(job, Pour) or job.task == "chore":
            said.append(_of_all(job.people, present))
            continue
        free = present - _busiest(job, taken)
        people = max(job.people, job.lifters) if job.lifters <= free else job.people
        if people <= free:
            taken.append((job, people))
        may_wait = job.lifters <= present and not any(isinstance(one, Pour) and one.end > job.start for one in jobs)
        said.append(_of_free(job, people, free, may_wait=may_wait))
    return said


def _of_free(job: Job, people: int, free: int, *, may_wait: bool) -> str:
    """Who does a job of so many people where so many are free, and may wait for more of them."""
    if people > free:
        return AS_FREE
    if job.lifters <= people:
        up_to = "" if people == job.lifters else "up to "
        return glued("1 person" if people == 1 else f"{up_to}{people} people")
    if job.slabs:
        return _together(job.lifters)
    lift = f"or {_together(job.lifters)}" if may_wait else "nobody is free to lift with"
    return f"{glued('1 person' if people == 1 else f'{people} people')} with the trolley, {lift}"


def _together(people: int) -> str:
    return f"{PEOPLE[people]}, when {'both' if people == 2 else 'all'} are free"


def _of_all(people: int, present: int) -> str:
    if people == present:
        return glued("1 person" if people == 1 else f"all {people} people")
    return glued(f"{people} of the {present} people")


def _busiest(job: Job, taken: Taken) -> int:
    """People taken at the busiest minute of a job by the others."""
    meeting = [(other, people) for other, people in taken if other.start < job.end and job.start < other.end]
    moments = {job.start, *(other.start for other, _ in meeting if other.start > job.start)}
    return max(sum(people for other, people in meeting if other.start <= at < other.end) for at in moments)
