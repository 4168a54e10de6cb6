"""One batch of a saved plan, looked up in a moment: no table is loaded whole, and nothing that plans."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction
from pathlib import Path

from blockrun.errors import BadInput
from blockrun.files.in_place import read_whole
from blockrun.files.tables import Table, read_table
from blockrun.order.mixes_alone import OrderMixes, load_mixes
from blockrun.planner.folder import MARK
from blockrun.planner.plan_files import plan_files
from blockrun.planner.planned_batches import moment_saved
from blockrun.site import Site, load_site
from blockrun.site.values import read_fraction, read_name
from blockrun.units import runs_listed


@dataclass(frozen=True)
class OneBatch:
    """What a plan says of a batch."""

    number: int
    mixer: str
    mix: str
    bags: Fraction
    foam_at: datetime


def load_one_batch(directory: Path, number: int) -> tuple[Site, OrderMixes, OneBatch]:
    """The site, the mixes of the order and one batch of a saved plan.

    Parameters
    ----------
    directory : where the plan was saved.
    number : of the batch, as the days print it.

    Raises
    ------
    BadPlan : no plan is saved there, or what is there cannot be read.
    BadInput : the plan has no such batch, or it was broken off in coming into its place and cannot be brought in.
    """
    return read_whole(directory, MARK, lambda: _load(directory, number))


def _load(directory: Path, number: int) -> tuple[Site, OrderMixes, OneBatch]:
    site_files, order_files = plan_files(directory)
    batch = _find(directory / "batches.csv", number)
    site = load_site(site_files[""], files=site_files)
    return site, load_mixes(order_files[""], files=order_files), batch


def _find(path: Path, number: int) -> OneBatch:
    table = read_table(path)
    for row in table.rows:
        if table.cell(row, "batch") == str(number):
            return OneBatch(
                number,
                table.read(row, "mixer", read_name),
                table.read(row, "mix", read_name),
                table.read(row, "bags", read_fraction),
                table.read(row, "foam_at", moment_saved),
            )
    raise BadInput(f"the plan has no batch {number}", _batches(table), name="--batch", value=number)


def _batches(table: Table) -> str:
    cells = (table.cell(row, "batch") for row in table.rows)
    numbers = [int(cell) for cell in cells if cell.isascii() and cell.isdigit()]
    return f"It has the batches {runs_listed(numbers)}." if numbers else "It has none."
