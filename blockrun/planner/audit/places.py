"""Where in the saved files a finding can be looked at: the file, and its rows as a spreadsheet counts them."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.planner.audit.records import Batch, Cast, CubeSet, Material, SawnOut, Task

if TYPE_CHECKING:
    from blockrun.planner.audit.case import Case

FIRST_ROW: Final = 2
"""Row of the first record; the header is row 1."""

RUNS_SAID: Final = 3
IN_PLAN: Final = ("stages", "block_days_late", "finish", "batches", "cement")
"""What findings on the stages concern."""

Record = Cast | Batch | Task | Material | SawnOut | CubeSet


def place_of(where: str, row: Record | None, case: Case) -> str:
    """Say where a finding can be looked at.

    Parameters
    ----------
    where : what it concerns, as rules say it.
    row : the row it is about, where a rule knows better.
    case : the plan.

    Returns
    -------
    Such as ``casts.csv row 4``; "" where no row is nearer to it than another.
    """
    if row is not None:
        table = _TABLES[type(row)]
        return rows_said(table, [getattr(case.records, table).index(row)])
    if where in IN_PLAN or where.startswith("totals "):
        return "plan.json"
    return case.places.get(where, "")


def places_of(case: Case) -> dict[str, str]:
    """Places of all that rules may say a finding concerns."""
    rows: defaultdict[tuple[str, str], list[int]] = defaultdict(list)
    for table in _TABLES.values():
        records: Sequence[Record] = getattr(case.records, table)
        for index, record in enumerate(records):
            for label in _labels(record, case):
                rows[label, table].append(index)
    return {label: rows_said(table, indices) for (label, table), indices in rows.items()}


def _labels(row: Record, case: Case) -> Iterator[str]:
    if isinstance(row, Cast):
        yield from (f"block {row.cast}", f"{row.mould} turn {row.turn}")
        yield from (f"mould {row.mould}", f"base {row.base}", f"rack {row.rack}", f"mark {row.mark}")
    elif isinstance(row, Batch):
        yield from (f"batch {row.batch}", f"mixer {row.mixer}", f"mix {row.mix}")
    elif isinstance(row, CubeSet):
        yield f"batch {row.batch}"
    elif isinstance(row, SawnOut):
        yield f"{row.mould} turn {row.turn}"
    elif isinstance(row, Material):
        yield f"materials {case.on(row.day)}"
    else:
        yield f"tasks {case.at(row.start)}" if row.task == "batch" else f"task {row.task}"
        if row.task == "chore":
            yield case.at(row.start)


def rows_said(table: str, indices: Sequence[int]) -> str:
    """Say some rows of a table in short, such as ``casts.csv rows 4-6, 9``."""
    runs: list[list[int]] = []
    for index in indices:
        if runs and index == runs[-1][-1] + 1:
            runs[-1].append(index)
        else:
            runs.append([index])
    said = [_run(run) for run in runs[:RUNS_SAID]]
    more = " and more" if len(runs) > RUNS_SAID else ""
    return f"{table}.csv {'row' if len(indices) == 1 else 'rows'} {', '.join(said)}{more}"


def _run(run: Sequence[int]) -> str:
    first, last = run[0] + FIRST_ROW, run[-1] + FIRST_ROW
    return str(first) if first == last else f"{first}-{last}"


_TABLES: Final[dict[type[Record], str]] = {
    SawnOut: "sawing",
    CubeSet: "cubes",
    Cast: "casts",
    Batch: "batches",
    Task: "tasks",
    Material: "materials",
}
"""Table of each kind of record."""
