"""What was weighed of each batch, as a table keeps it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Final

from blockrun import units
from blockrun.errors import BadInput
from blockrun.files.columns import Columns
from blockrun.files.grid import Row
from blockrun.files.tables import Table, read_table
from blockrun.mix.seen import LIMITS
from blockrun.site.values import read_name

FOAM: Final = {"foam_g_l": "g/L", "foam_kg_m3": "kg/m3", "foam_lb_ft3": "lb/ft3"}
WET: Final = {"wet_density_kg_m3": "kg/m3", "wet_density_lb_ft3": "lb/ft3"}
"""Names that a column may go by, and the unit each says."""

FOAM_DUE: Final = {f"due_{name}": unit for name, unit in FOAM.items()}
WET_DUE: Final = {f"due_{name}": unit for name, unit in WET.items()}
"""The same of what the card says, where the table holds that."""

LOTS: Final = ("cement_lot", "agent_lot")
"""Names of the lots in use; an empty cell is the lot of the batch above."""

_COLUMNS: Final = Columns((("batch",),), optional=(*FOAM, *WET, *FOAM_DUE, *WET_DUE, "when", "mix", *LOTS, "trial"))


@dataclass(frozen=True)
class Record:
    """One batch: what to call it, and what was weighed of it; None for what was not.

    Parameters
    ----------
    batch, when : as they were written; when may be empty.
    foam_kg_m3, wet_kg_m3 : > 0.
    mix : its name; empty where the table does not say.
    foam_due_kg_m3, wet_due_kg_m3 : as on its card.
    cement_lot, agent_lot : their names; empty where the table does not say.
    is_trial : a trial of these lots, and no batch of the mixer.
    """

    batch: str
    foam_kg_m3: float | None = None
    wet_kg_m3: float | None = None
    when: str = ""
    mix: str = ""
    foam_due_kg_m3: float | None = None
    wet_due_kg_m3: float | None = None
    cement_lot: str = ""
    agent_lot: str = ""
    is_trial: bool = False

    def lot_of(self, what: str) -> str:
        """The lot of its ``cement`` or ``agent``; empty where the table does not say."""
        return {"cement": self.cement_lot, "agent": self.agent_lot}[what]


def weighed(records: Iterable[Record], what: Callable[[Record], float | None]) -> tuple[list[Record], list[float]]:
    """Those of the records of which something was weighed, and what, in their order."""
    kept = [(record, value) for record in records if (value := what(record)) is not None]
    return [record for record, _ in kept], [value for _, value in kept]


def read_records(path: Path) -> list[Record]:
    """The batches in a table with the columns ``batch`` and one or both of foam and wet weights, in any order.

    Parameters
    ----------
    path : CSV or XLSX; columns ``foam_g_l`` (or ``foam_lb_ft3``), ``wet_density_kg_m3`` (or ``_lb_ft3``), ``when``,
        ``mix``, and any of the weights with ``due_`` before its name: what the card says.
        Cells of what was not weighed may be empty. ``cement_lot``, ``agent_lot``: where a cell is empty, as of the
        batch above. ``trial``: ``yes`` for a trial.

    Returns
    -------
    A record a row, in the order of the file.

    Raises
    ------
    BadInput : with every fault of the table, each with its place.
    """
    table = read_table(path, _COLUMNS)
    foam, wet = _one_of(table, FOAM), _one_of(table, WET)
    if foam is None and wet is None:
        todo = f"Add {next(iter(FOAM))}, {next(iter(WET))}, or both."
        raise table.place(BadInput("there is no column of weights", todo, name=""), table.header)
    columns = (
        (foam, FOAM, "foam_kg_m3"),
        (wet, WET, "wet_kg_m3"),
        (_one_of(table, FOAM_DUE), FOAM_DUE, "foam_kg_m3"),
        (_one_of(table, WET_DUE), WET_DUE, "wet_kg_m3"),
    )
    records: dict[tuple[str, str], Record] = {}
    faults: list[BadInput] = []
    for row in table.rows:
        try:
            record = _record(table, row, [_density(table, row, *one) for one in columns])
            if (record.batch, record.when) in records:
                todo = "Take one of them out, or add a column when."
                what = f"batch {record.batch} is written twice"
                raise table.place(BadInput(what, todo, value=record.batch), row, "batch")
            records[record.batch, record.when] = record
        except BadInput as fault:
            faults.append(fault)
    if faults:
        raise BadInput.of(faults)
    return list(_lots_told(records.values()))


def _record(table: Table, row: Row, weights: Sequence[float | None]) -> Record:
    """A row as it is written."""
    foam, wet, foam_due, wet_due = weights
    return Record(
        batch=table.read(row, "batch", read_name),
        foam_kg_m3=foam,
        wet_kg_m3=wet,
        when=table.text(row, "when"),
        mix=table.text(row, "mix"),
        foam_due_kg_m3=foam_due,
        wet_due_kg_m3=wet_due,
        cement_lot=table.text(row, "cement_lot"),
        agent_lot=table.text(row, "agent_lot"),
        is_trial=bool(table.cell(row, "trial")) and table.read(row, "trial", _is_yes),
    )


def _lots_told(records: Iterable[Record]) -> Iterator[Record]:
    """Records with the lots of the batch above where theirs are not told; a trial tells no batch its lots."""
    last = Record("")
    for record in records:
        cement_lot, agent_lot = record.cement_lot or last.cement_lot, record.agent_lot or last.agent_lot
        told = replace(record, cement_lot=cement_lot, agent_lot=agent_lot)
        yield told
        last = last if record.is_trial else told


def _is_yes(text: str) -> bool:
    if text.casefold() not in ("yes", "no"):
        raise BadInput(f"{text} is neither yes nor no", "Write yes for a trial, or leave the cell empty.", value=text)
    return text.casefold() == "yes"


def _one_of(table: Table, kinds: dict[str, str]) -> str | None:
    there: Iterator[str] = (column for column in kinds if column in table.columns)
    first, second = next(there, None), next(there, None)
    if second is not None:
        what = f"{first} and {second} are the same thing in two units"
        raise table.place(BadInput(what, "Take one of them out.", name=""), table.header, second)
    return first


def _density(table: Table, row: Row, column: str | None, kinds: dict[str, str], what: str) -> float | None:
    if column is None or not table.cell(row, column):
        return None

    def read(text: str) -> float:
        value = units.read(f"{text} {kinds[column]}", "density").value
        least, most = LIMITS[what]
        if not least <= value <= most:
            raise BadInput(
                f"{text} is no density of {'foam' if what == 'foam_kg_m3' else 'a mix'}",
                "Correct it, or empty the cell.",
                value=text,
            )
        return value

    return table.read(row, column, read, as_number=True)
