"""Rules on the crew: its rows for batches and chores, its working minutes, and how many people there are."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import counted
from blockrun.planner.audit.finding import Rule, Said
from blockrun.planner.audit.records import Task
from blockrun.planner.audit.sweep import levels
from blockrun.planner.audit.work import Chore, chores_of, work_of
from blockrun.planner.audit.working import clock_text


def one_row_a_batch(case: Case) -> Iterator[Said]:
    """Write one row in the tasks for each batch."""
    rows = Counter(task.batch for task in case.records.tasks if task.task == "batch")
    for number, batch in case.batches.items():
        if rows[number] != 1:
            yield batch.name, f"{batch.name} has {counted(rows[number], 'row')} in the tasks, not 1"


def batch_rows(case: Case) -> Iterator[Said]:
    """Write in the row of a batch its start and end, its mixer's crew and the cavities poured, but no mould."""
    for task in case.records.tasks:
        if task.task != "batch" or task.batch is None:
            continue
        batch = case.batches[task.batch]
        for column, right in (("start", batch.start), ("end", batch.end)):
            if getattr(task, column) != right:
                yield (
                    batch.name,
                    f"the row of {batch.name} {column}s {case.at(getattr(task, column))}, the batch {case.at(right)}",
                )
        if task.people != batch.mixer.crew:
            yield batch.name, f"{batch.name} is written for {_people(task.people)}, not {batch.mixer.crew}"
        if task.blocks != len(batch.casts):
            yield (
                batch.name,
                f"the row of {batch.name} says {task.blocks or 'no'} blocks, but it pours {len(batch.casts)}",
            )
        if task.mould or task.base:
            yield batch.name, f"the row of {batch.name} names a mould or a base; its blocks do that"


def chore_rows(case: Case) -> Iterator[Said]:
    """Do each chore at each of its times on each working day from the first batch to the last, and on no other."""
    asked: defaultdict[int, Counter[Chore]] = defaultdict(Counter)
    for chore in chores_of(case):
        asked[case.day_of(chore.start)][chore] += 1
    written: defaultdict[int, Counter[Chore]] = defaultdict(Counter)
    for task in _chore_tasks(case):
        written[case.day_of(task.start)][Chore(task.start, task.end, task.people)] += 1
    for day in sorted(asked.keys() | written.keys()):
        missing, extra = asked[day] - written[day], written[day] - asked[day]
        said = [_chores_text("is missing", missing), _chores_text("is not asked for", extra)]
        if any(said):
            yield case.on(day), f"on {case.on(day)} {' and '.join(filter(None, said))}"


def chore_cells(case: Case) -> Iterator[Said]:
    """Name no mould, base, batch or blocks for a chore."""
    for task in _chore_tasks(case):
        if task.mould or task.base or task.batch is not None or task.blocks is not None:
            yield case.at(task.start), f"the chore at {case.at(task.start)} names a mould, a base, a batch or blocks"


def _chore_tasks(case: Case) -> Iterator[Task]:
    return (task for task in case.records.tasks if task.task == "chore")


def _chores_text(what: str, chores: Counter[Chore]) -> str:
    each = (f"{clock_text(one.start)} to {clock_text(one.end)}, {_people(one.people)}" for one in chores.elements())
    listed = "; ".join(sorted(each))
    return f"a chore {what} ({listed})" if listed else ""


def working_minutes(case: Case) -> Iterator[Said]:
    """Work through no break, set-up, close-down or night, and on no day that is not worked."""
    for work in work_of(case):
        if not work.past and not case.working.holds(work.start, work.end):
            end = case.at(work.end) if case.day_of(work.start) != case.day_of(work.end) else clock_text(work.end)
            yield (
                work.name,
                f"{work.name}, {case.at(work.start)} to {end}, is not within working minutes{_hours(case, work.start)}",
            )


def _hours(case: Case, minute: int) -> str:
    day = case.day_of(minute)
    if not case.working.is_working(day):
        return f": {case.on(day)} is not a working day"
    return " (" + ", ".join(f"{clock_text(start)}-{clock_text(end)}" for start, end in case.working.windows) + ")"


def people_present(case: Case) -> Iterator[Said]:
    """Keep no more people busy at any minute than are there that day. The worst minute of each day is said."""
    work = list(work_of(case))
    needed = levels(change for one in work for change in one.changes)
    # who is still at what was done before the plan was made anew is there
    at_it = levels((minute, people * one.past) for one in work for minute, people in one.changes)
    away = {(day - case.site.calendar.start).days: people for day, people in case.site.crew.away.items()}
    worst: dict[int, tuple[int, int]] = {}
    for (minute, busy), (_, before) in zip(needed, at_it, strict=True):
        day = case.day_of(minute)
        if busy > max(case.site.crew.people - away.get(day, 0), before, worst.get(day, (0, 0))[0]):
            worst[day] = (busy, minute)
    for day, (busy, minute) in worst.items():
        present = max(0, case.site.crew.people - away.get(day, 0))
        there = "1 is" if present == 1 else f"{present} are"
        yield case.on(day), f"{case.at(minute)} needs {_people(busy)}, but {there} there that day"


def _people(number: int) -> str:
    return counted(number, "person", "people")


CREW: tuple[Rule, ...] = (one_row_a_batch, batch_rows, chore_rows, chore_cells, working_minutes, people_present)
