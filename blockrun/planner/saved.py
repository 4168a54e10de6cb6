"""A plan on disk: its tables, how good it is, how it was made, and copies of what it was made from.

::

    plan.json      what is the same on every run: stages, totals, warnings, digests of the inputs
    run.json       what may differ: seconds, versions, memory, when
    casts.csv, batches.csv, tasks.csv, materials.csv
    inputs/        the site, the order and the files they name
"""

from __future__ import annotations

import csv
import io
import json
import shutil
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path, PureWindowsPath
from typing import Final

import pandas as pd

from blockrun import __version__
from blockrun.errors import BadInput, BadPlan
from blockrun.files.digests import digest
from blockrun.files.tables import Table, read_table
from blockrun.files.writing import check_place, whole_folder
from blockrun.order import Order, load_order
from blockrun.planner.cells import CellError, texts, values
from blockrun.planner.facts import FORMAT, Facts, Input
from blockrun.planner.plan import Plan
from blockrun.planner.tables import COLUMNS, PlanTables
from blockrun.site import Site, load_site

MARK: Final = "plan.json"
SEED: Final = 0


def check_free(directory: str | Path, *, replace: bool = False) -> None:
    """Refuse a place at which a plan would not be saved; ask before long work.

    Raises
    ------
    BadInput : something is there that is not to be replaced, or is no plan.
    """
    check_place(Path(directory), replace=replace, mark=MARK)


def save_plan(
    plan: Plan, directory: str | Path, *, replace: bool = False, run: Mapping[str, object] | None = None
) -> None:
    """Save a plan, all of it or nothing.

    Parameters
    ----------
    plan : made from a site and an order that were read from files.
    directory : new, or empty, or with ``replace`` one that holds a plan.
    replace : put this plan in the place of the one that is there.
    run : what may differ between equal plans; kept apart from the plan.

    Raises
    ------
    BadInput : the directory is in the way, or the site or the order has changed since it was read.
    BadPlan : a value that no file of ours may hold, such as a number that is not finite.
    """
    site, order = _copies(plan)
    with whole_folder(Path(directory), replace=replace, mark=MARK) as folder:
        facts = _facts(plan, site, order)
        (folder / MARK).write_text(facts.model_dump_json(indent=2) + "\n", encoding="utf-8")
        told = json.dumps(dict(run or {}), indent=2, allow_nan=False)
        (folder / "run.json").write_text(told + "\n", encoding="utf-8")
        for name in COLUMNS:
            (folder / f"{name}.csv").write_text(_csv(getattr(plan.tables, name)), encoding="utf-8", newline="")
        for copies in (site, order):
            copies.write(folder)


def load_plan(directory: str | Path) -> Plan:
    """Read a saved plan, with the site and the order kept in it.

    Parameters
    ----------
    directory : where :func:`save_plan` put it.

    Returns
    -------
    A plan equal to the one saved. Its tables hold what the files say; only the audit tells whether that is right.

    Raises
    ------
    BadPlan : there is no plan, a file is missing or holds what is not due there (with file, line and column),
        or the inputs kept with it are not those it was made from.
    """
    folder = Path(directory)
    if not (folder / MARK).is_file():
        raise BadPlan("no plan is saved here", "Make one with: blockrun plan SITE ORDER --out DIR", file=folder)
    facts = Facts.read(folder / MARK)
    try:
        site = load_site(folder / facts.files["site"], files=_references(folder, facts, "site"))
        order = load_order(folder / facts.files["order"], files=_references(folder, facts, "order"))
        tables = PlanTables(**{name: _read(folder / f"{name}.csv", name) for name in COLUMNS})
    except BadInput as fault:
        raise _as_bad_plan(fault) from fault
    _check_digests(facts, folder, site, order)
    return Plan(site, order, tables, facts.as_stages(), facts.warnings, dict(facts.totals))


@dataclass(frozen=True)
class _Copies:
    """Files that a site or an order was read from, and where in a plan's directory their copies lie."""

    kind: Input
    read: Site | Order
    places: Mapping[str, str]
    """From the name that stands in the file, or nothing for the file itself."""

    def write(self, folder: Path) -> None:
        """Copy them; what the copies say must be what the plan was made from."""
        (folder / "inputs").mkdir(exist_ok=True)
        again: Site | Order | None
        try:
            for reference, place in self.places.items():
                shutil.copyfile(self.read.sources[reference], folder / place)
            files = {reference: folder / place for reference, place in self.places.items()}
            again = load_site(files[""], files=files) if self.kind == "site" else load_order(files[""], files=files)
        except (OSError, BadInput):
            again = None
        if again is None or digest(again) != digest(self.read):
            raise BadInput(
                f"the {self.kind} has changed since the plan began to be made, so nothing was saved",
                "Make the plan again.",
                file=self.read.sources[""],
            )


def _copies(plan: Plan) -> tuple[_Copies, _Copies]:
    """Name the copies: as in the files that name them, with a number where two names are the same."""
    taken = {"site.yaml", "order.yaml"}

    def place(reference: str) -> str:
        named = PureWindowsPath(reference)  # splits at both kinds of slash
        name, number = named.name, 1
        while name.lower() in taken:
            number += 1
            name = f"{named.stem}-{number}{named.suffix}"
        taken.add(name.lower())
        return f"inputs/{name}"

    def copies(kind: Input, read: Site | Order) -> _Copies:
        if "" not in read.sources:
            raise BadInput(f"the {kind} was not read from a file, so no copy of it can be saved", f"Use load_{kind}.")
        references = {reference: place(reference) for reference in sorted(read.sources) if reference}
        return _Copies(kind, read, {"": f"inputs/{kind}.yaml", **references})

    return copies("site", plan.site), copies("order", plan.order)


def _facts(plan: Plan, *inputs: _Copies) -> Facts:
    return Facts.checked(
        format=FORMAT,
        blockrun=__version__,
        site=plan.site.name,
        order=plan.order.name,
        inputs={copies.kind: digest(copies.read) for copies in inputs},
        files={copies.kind: copies.places[""] for copies in inputs},
        references={
            copies.kind: {reference: place for reference, place in copies.places.items() if reference}
            for copies in inputs
        },
        seed=SEED,
        warnings=plan.warnings,
        totals=plan.totals,
        stages=[vars(stage) for stage in plan.stages],
    )


def _references(folder: Path, facts: Facts, kind: Input) -> dict[str, Path]:
    return {reference: folder / place for reference, place in facts.references[kind].items()}


def _check_digests(facts: Facts, folder: Path, site: Site, order: Order) -> None:
    read_again: dict[Input, Site | Order] = {"site": site, "order": order}
    for kind, read in read_again.items():
        if digest(read) != facts.inputs[kind]:
            raise BadPlan(
                f"the {kind} kept here is not the one the plan was made from",
                "Make the plan again, or put the file back as it was.",
                file=folder / facts.files[kind],
            )


def _csv(frame: pd.DataFrame) -> str:
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    writer.writerow(frame.columns)
    try:
        writer.writerows(zip(*(texts(frame[column]) for column in frame.columns), strict=True))
    except CellError as error:
        raise BadPlan(f"{error}, and no such thing is saved") from error
    return written.getvalue()


def _read(path: Path, name: str) -> pd.DataFrame:
    """One table of a plan, each cell what its column holds."""
    saved = read_table(path)
    due = COLUMNS[name]
    if saved.columns != tuple(due):
        raise saved.place(
            BadInput("these are not the columns of the table", f"Due are: {', '.join(due)}."), saved.header
        )
    columns = {column: _column(saved, index, column, kind) for index, (column, kind) in enumerate(due.items())}
    return pd.DataFrame(columns).astype(due)


def _column(saved: Table, index: int, column: str, kind: str) -> list[object]:
    cells = [row.cells[index] for row in saved.rows]
    try:
        return values(column, kind, cells)
    except CellError as error:
        row = saved.rows[error.index]
        fault = BadInput(f"{cells[error.index]!r}: {error}", "Make the plan again, or put the file back as it was.")
        raise saved.place(fault, row, column) from error


def _as_bad_plan(fault: BadInput) -> BadPlan:
    """Make it the same fault of a saved plan."""
    return BadPlan(
        fault.what,
        fault.todo,
        file=fault.file,
        line=fault.line,
        column=fault.column,
        text=fault.text,
        name=fault.name,
        value=fault.value,
        limit=fault.limit,
        unit=fault.unit,
    )
