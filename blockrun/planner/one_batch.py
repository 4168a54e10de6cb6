"""One batch of a saved plan, looked up in a moment: no table is loaded whole, and nothing that plans."""

from __future__ import annotations

from pathlib import Path

from blockrun.errors import BadInput
from blockrun.files.in_place import read_whole
from blockrun.order.mixes_alone import OrderMixes, load_mixes
from blockrun.planner.folder import MARK
from blockrun.planner.plan_files import plan_files
from blockrun.planner.saved_rows import PlannedBatch, planned_batches
from blockrun.site import Site, load_site
from blockrun.units import runs_listed


def load_one_batch(directory: Path, number: int) -> tuple[Site, OrderMixes, PlannedBatch]:
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


def _load(directory: Path, number: int) -> tuple[Site, OrderMixes, PlannedBatch]:
    site_files, order_files = plan_files(directory)
    batches = {one.batch: one for one in planned_batches(directory)}
    if number not in batches:
        todo = f"It has the batches {runs_listed([*batches])}."
        raise BadInput(f"the plan has no batch {number}", todo, name="--batch", value=number)
    site = load_site(site_files[""], files=site_files)
    return site, load_mixes(order_files[""], files=order_files), batches[number]
