"""A plan on disk: its tables, how good it is, how it was made, and copies of what it was made from.

::

    plan.json      what is the same on every run: stages, totals, warnings, digests of the inputs
    run.json       what may differ: seconds, versions, memory, when
    casts.csv, batches.csv, tasks.csv, materials.csv, sawing.csv, cubes.csv
    inputs/        the site, the order and the files they name; what had happened, where the plan was made anew
"""

from __future__ import annotations

import csv
import io
import json
import shlex
from collections.abc import Mapping
from pathlib import Path, PureWindowsPath
from typing import Final

import pandas as pd

from blockrun import __version__
from blockrun.errors import BadInput, BadPlan
from blockrun.files.digests import digest
from blockrun.files.in_place import read_whole
from blockrun.files.writing import whole_folder
from blockrun.order import Order, digest_order, load_order, takeoff
from blockrun.planner.as_read import AsRead
from blockrun.planner.as_saved import as_text
from blockrun.planner.begun.facts import FILE, Begun, read_begun
from blockrun.planner.begun.site import site_begun
from blockrun.planner.cells import CellError
from blockrun.planner.columns import COLUMNS
from blockrun.planner.facts import FORMAT, Facts, Input
from blockrun.planner.folder import AGAIN, MARK
from blockrun.planner.own_files import own_files
from blockrun.planner.plan import Plan
from blockrun.planner.saved_rows import saved_column, saved_table
from blockrun.planner.tables import PlanTables
from blockrun.site import Site, digest_site, load_site

GONE: Final = "the files of the site or the order cannot be read again, so nothing was saved"

Sources = Mapping[str, Path]
"""Where files lie, by the name that stands in the site or order file; the file itself under no name."""


def save_plan(
    plan: Plan,
    directory: str | Path,
    *,
    replace: bool = False,
    run: Mapping[str, object] | None = None,
    files: AsRead | None = None,
) -> None:
    """Save a plan that passed its audit, all of it or nothing; see `blockrun.planner.sound` for any other.

    Parameters
    ----------
    plan : audited, and made from a site and an order that were read from files.
    directory : new, or empty, or with ``replace`` one that holds a plan.
    replace : put this plan in the place of the one that is there.
    run : what may differ between equal plans; kept apart from the plan.
    files : of the site and the order, as they were read; left out, they are read again.

    Raises
    ------
    BadInput : the directory is in the way, or a file that is read again has changed since it was read.
    BadPlan : a value that no file of ours may hold, such as a number that is not finite.
    """
    texts = texts_of(plan.tables)
    facts = _facts(plan, texts)
    texts[MARK] = facts.text()
    texts["run.json"] = json.dumps(dict(run or {}), indent=2, allow_nan=False) + "\n"
    with whole_folder(Path(directory), replace=replace, mark=MARK, ours=own_files) as folder:
        for name, text in texts.items():
            (folder / name).write_text(text, encoding="utf-8", newline="")
        _copy_inputs(plan, facts, folder, files or AsRead({}))


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
    BadInput : another one was broken off in coming into its place, and the rest of it cannot be brought in.
    """
    folder = Path(directory)
    return read_whole(folder, MARK, lambda: _load(folder))


def _load(folder: Path) -> Plan:
    _check_is_plan(folder)
    facts = Facts.read(folder / MARK)
    try:
        site, order, begun = _read_inputs(folder, facts)
        tables = PlanTables(**{name: _read(folder / f"{name}.csv", name) for name in COLUMNS})
    except BadInput as fault:
        raise BadPlan.of(fault) from fault
    for kind, said in _digests(site, order).items():
        if facts.inputs[kind] != said:
            what = f"the {kind} kept here is not the one the plan was made from"
            raise BadPlan(what, AGAIN, file=folder / facts.files[kind])
    totals = dict(facts.totals)
    return Plan(
        site,
        order,
        tables,
        facts.as_stages(),
        facts.warnings,
        totals,
        facts.seed,
        begun,
        _changed(folder, facts, tables),
    )


def _changed(folder: Path, facts: Facts, tables: PlanTables) -> tuple[str, ...]:
    """Tables that say something else than when they were saved: as they stand there now, or are written anew."""
    there = {f"{name}.csv": (folder / f"{name}.csv").read_bytes().decode("utf-8", "replace") for name in COLUMNS}
    other = [name for name, was in sorted(facts.tables.items()) if digest(there.get(name)) != was]
    now = texts_of(tables) if other else {}
    return tuple(name for name in other if digest(now.get(name)) != facts.tables[name])


def _check_is_plan(folder: Path) -> None:
    """Refuse what is no folder of a plan."""
    try:
        if not (folder / MARK).is_file():
            raise _no_plan(folder)
    except OSError as error:
        what = f"cannot be opened: {error.strerror or error}"
        raise BadPlan(what, "Check the name and the permissions.", file=folder) from error


def _no_plan(folder: Path) -> BadPlan:
    """What stands in the place of a plan, and the plan that may be meant."""
    if folder.is_dir():
        what, near = "no plan is saved here", sorted(mark.parent for mark in folder.glob(f"*/{MARK}"))
    elif folder.exists():
        what, near = "is a file, and a plan is saved as a folder", [mark.parent for mark in folder.parent.glob(MARK)]
    else:
        what, near = "there is no such folder", []
    named = ", or ".join(shlex.quote(str(one)) for one in near[:3])
    todo = f"Give the folder of a plan: {named}" if near else "Make one with: blockrun plan SITE ORDER --out DIR"
    return BadPlan(what, todo, file=folder)


def texts_of(tables: PlanTables) -> dict[str, str]:
    """The tables as their files hold them, by the names of these.

    Raises
    ------
    BadPlan : a table lacks a column, or holds what no file of ours may hold.
    """
    return {f"{name}.csv": _csv(getattr(tables, name), name) for name in COLUMNS}


def _facts(plan: Plan, texts: Mapping[str, str]) -> Facts:
    taken = {"site.yaml", "order.yaml", FILE}
    inputs: dict[Input, Sources] = {"site": plan.site.sources, "order": plan.order.sources}
    return Facts.checked(
        format=FORMAT,
        blockrun=__version__,
        site=plan.site.name,
        order=plan.order.name,
        inputs=_digests(plan.site, plan.order),
        files={kind: f"inputs/{kind}.yaml" for kind in inputs},
        begun=f"inputs/{FILE}" if plan.begun else "",
        references={
            kind: {reference: _place(reference, taken) for reference in sorted(sources) if reference}
            for kind, sources in inputs.items()
        },
        tables={name: digest(text) for name, text in texts.items()},
        seed=plan.seed,
        warnings=plan.warnings,
        totals=plan.totals,
        stages=[vars(stage) for stage in plan.stages],
    )


def _digests(site: Site, order: Order) -> dict[Input, str]:
    return {"site": digest_site(site), "order": digest_order(order, takeoff(order, site.calendar, site.moulds))}


def _place(reference: str, taken: set[str]) -> str:
    """Where the copy of a file goes: under its own name, with a number where that is taken."""
    named = PureWindowsPath(reference)  # splits at both kinds of slash
    name, number = named.name, 1
    while name.lower() in taken:
        number += 1
        name = f"{named.stem}-{number}{named.suffix}"
    taken.add(name.lower())
    return f"inputs/{name}"


def _places(folder: Path, facts: Facts, kind: Input) -> dict[str, Path]:
    """Where the copies lie, by the names of the files they are copies of."""
    places = {"": facts.files[kind], **facts.references[kind]}
    return {reference: folder / place for reference, place in places.items()}


def _read_inputs(folder: Path, facts: Facts) -> tuple[Site, Order, Begun | None]:
    """The site as it was by the time of the plan, the order, and what had happened."""
    site, order = _places(folder, facts, "site"), _places(folder, facts, "order")
    begun = read_begun(folder / facts.begun) if facts.begun else None
    return site_begun(load_site(site[""], files=site), begun), load_order(order[""], files=order), begun


def _copy_inputs(plan: Plan, facts: Facts, folder: Path, files: AsRead) -> None:
    """Copy the files; what the copies say must be what the plan was made from."""
    inputs: dict[Input, Sources] = {"site": plan.site.sources, "order": plan.order.sources}
    try:
        copies = [
            (place, files.read(sources[reference]))
            for kind, sources in inputs.items()
            for reference, place in _places(folder, facts, kind).items()
        ]
    except (KeyError, OSError) as error:
        raise BadInput(GONE, "Make the plan again.") from error
    (folder / "inputs").mkdir()
    for place, content in copies:
        place.write_bytes(content)
    if plan.begun is not None and facts.begun:
        (folder / facts.begun).write_text(plan.begun.text(), encoding="utf-8", newline="")
    try:
        kept = _digests(*_read_inputs(folder, facts)[:2])
    except BadInput as error:
        raise BadInput(GONE, "Make the plan again.") from error
    for kind, said in facts.inputs.items():
        if kept[kind] != said:
            what = f"the {kind} has changed since the plan began to be made, so nothing was saved"
            raise BadInput(what, "Make the plan again.")


def _csv(frame: pd.DataFrame, name: str) -> str:
    if [(column, str(kind)) for column, kind in frame.dtypes.items()] != list(COLUMNS[name].items()):
        raise BadPlan(f"the table {name} does not have its columns and types", f"Make it with table({name!r}, rows).")
    written = io.StringIO()
    writer = csv.writer(written, lineterminator="\n")
    try:
        cells = {str(column): as_text(frame[column]) for column in frame.columns}
    except CellError as error:
        raise BadPlan(f"{error}, and no such thing is saved") from error
    writer.writerow(cells)
    writer.writerows(zip(*cells.values(), strict=True))
    return written.getvalue()


def _read(path: Path, name: str) -> pd.DataFrame:
    """One table of a plan, each cell what its column holds."""
    saved, due = saved_table(path, name), COLUMNS[name]
    return pd.DataFrame({column: saved_column(saved, column, kind) for column, kind in due.items()}).astype(due)
