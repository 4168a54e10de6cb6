"""The second gate: every name and number in the plan stands for one thing that the site or the order has."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from blockrun.errors import BlockrunError
from blockrun.planner.audit.case import Case
from blockrun.planner.audit.finding import Rule, Said
from blockrun.planner.audit.records import Task
from blockrun.planner.audit.turns import JOBS


def unique_numbers(case: Case) -> Iterator[Said]:
    """Give no two blocks the same number, and no two batches."""
    numbers = {"block": (row.cast for row in case.records.casts), "batch": (row.batch for row in case.records.batches)}
    for thing, used in numbers.items():
        for number, times in Counter(used).items():
            if times > 1:
                yield f"{thing} {number}", f"{thing} {number} is written {times} times"


def known_names(case: Case) -> Iterator[Said]:
    """Name only marks, mixes, moulds, bases, racks, mixers and tasks that the order or the site has."""
    used = (
        ("mould", case.moulds, {row.mould for row in case.records.casts} | {row.mould for row in _jobs(case)}),
        ("base", case.bases, ({row.base for row in case.records.casts} | {row.base for row in _jobs(case)}) - {""}),
        ("rack", {rack.name for rack in case.site.racks}, {row.rack for row in case.records.casts}),
        ("mixer", case.mixers, {row.mixer for row in case.records.batches}),
        ("mark", case.blocks, {row.mark for row in case.records.casts}),
        ("mix", case.mixes, {row.mix for row in case.records.casts} | {row.mix for row in case.records.batches}),
        ("task", {*JOBS, "batch", "chore"}, {row.task for row in case.records.tasks}),
    )
    for thing, known, names in used:
        for name in sorted(names.difference(known)):
            yield f"{thing} {name}", f'there is no {thing} "{name}"{_instead(known)}'


def known_batches(case: Case) -> Iterator[Said]:
    """Pour each block from a batch of the table of batches; give batch rows to no others."""
    known = {row.batch for row in case.records.batches}
    for cast in case.records.casts:
        if cast.batch not in known:
            yield f"block {cast.cast}", f"block {cast.cast} is poured from batch {cast.batch}, which is not planned"
    for task in case.records.tasks:
        if task.task == "batch" and task.batch not in known:
            which = "no batch" if task.batch is None else f"batch {task.batch}, which is not planned"
            yield f"tasks {case.at(task.start)}", f"the batch row at {case.at(task.start)} is for {which}"


def base_of_the_mould(case: Case) -> Iterator[Said]:
    """Stand a mould with bases on a base of its kind, and one without on none."""
    used = {(row.mould, row.base) for row in case.records.casts} | {(row.mould, row.base) for row in _jobs(case)}
    for mould, base in sorted(used):
        kind = case.moulds.get(mould)
        if kind is None or (base and base not in case.bases):
            continue
        if kind.bases is None and base:
            yield mould, f"{mould} has no bases, but stands on {base}"
        elif kind.bases is not None and not base:
            yield mould, f"{mould} is used without one of its {kind.bases} bases"
        elif base and case.bases[base].kind != kind.kind:
            yield mould, f"{mould} stands on {base}, which is of another kind"


def possible_mixes(case: Case) -> Iterator[Said]:
    """Pour only mixes that can be made with the foam of the site."""
    for name in sorted({row.mix for row in case.records.batches} & set(case.mixes)):
        try:
            case.proportions(name)
        except BlockrunError as error:
            yield f"mix {name}", f"mix {name} cannot be made: {error.what}"


def _jobs(case: Case) -> Iterator[Task]:
    return (row for row in case.records.tasks if row.task in JOBS)


def _instead(known: Iterable[str]) -> str:
    names = sorted(known)
    if not names:
        return ""
    return f"; there is {', '.join(names)}" if len(names) <= 6 else f"; there is {names[0]} to {names[-1]}"


NAMES: tuple[Rule, ...] = (unique_numbers, known_names, known_batches, base_of_the_mould, possible_mixes)
