"""A day's sheet, typed in at night: a row for each thing that happened, all of them or none.

::

    at,what,who,remark,foam,weight,temperature
    07:50,stripped gang-4/3 1 C broken,Ana,corner,,,
    10:40,poured 7,,,98g/L,806kg/m3,18degC

``what`` is written as it is typed behind ``blockrun record DIR``; only it and ``at`` must be there, which may be called
``time`` or ``when``, too. The key of a row is
made of what it says, so the same sheet given twice counts once, and one to which rows were added adds these.
"""

from __future__ import annotations

import hashlib
import shlex
from collections import Counter
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.files.columns import Columns
from blockrun.files.moments import is_clock
from blockrun.files.tables import Table, read_table
from blockrun.yard.record.known import Measured
from blockrun.yard.record.recorder import Recorded, Recorder, Typed

if TYPE_CHECKING:
    from blockrun.files.grid import Row
    from blockrun.yard.journal import Entry

_OPTIONAL: Final = ("who", "remark", "foam", "weight", "temperature")
_AT: Final = ("at", "time", "when")
_COLUMNS: Final = Columns((_AT, ("what",)), optional=_OPTIONAL)


def record_sheet(recorder: Recorder, path: Path, day: date | None = None) -> Recorded:
    """Record all rows of a sheet, or none.

    Parameters
    ----------
    path : CSV or XLSX.
    day : of rows that tell only the time; today unless told.

    Raises
    ------
    BadInput : with every fault, each with its row and column; nothing was recorded.
    """
    table = read_table(path, _COLUMNS)
    return recorder.keep(lambda: _drafted(table, recorder, day))


def _drafted(table: Table, recorder: Recorder, day: date | None) -> list[Entry]:
    """The entries of all rows, by their times."""
    typed, faults = _typed(table, recorder, day)
    new: list[Entry] = []
    for number, (row, _, one) in enumerate(sorted(typed, key=lambda each: each[1])):
        try:
            new += recorder.drafted(one, number)
        except BadInput as fault:
            faults.append(table.place(fault, row, "what"))
    if faults:
        raise BadInput.of(faults)
    return new


def _typed(
    table: Table, recorder: Recorder, day: date | None
) -> tuple[list[tuple[Row, datetime, Typed]], list[BadInput]]:
    """Each row with its moment; and what is wrong with those that have none."""
    typed: list[tuple[Row, datetime, Typed]] = []
    faults: list[BadInput] = []
    seen: Counter[str] = Counter()
    at = next(name for name in _AT if name in table.columns)
    for row in table.rows:
        try:
            moment = table.read(row, at, lambda text: recorder.moment(_on(text, day)))
            words = table.read(row, "what", _split)
            told = {name: table.text(row, name) for name in _OPTIONAL}
        except BadInput as fault:
            faults.append(fault)
            continue
        said = "\n".join([f"{moment:%Y-%m-%dT%H:%M}", *words, *told.values()])
        seen[said] += 1
        told_apart = f"{said}\n{seen[said]}".encode()
        key = f"sheet-{hashlib.blake2b(told_apart, digest_size=12).hexdigest()}"
        measured = Measured(told["foam"] or None, told["weight"] or None, told["temperature"] or None)
        whole = f"{moment:%Y-%m-%d %H:%M}"
        typed.append((row, moment, Typed(words, key, whole, told["who"], told["remark"], measured)))
    return typed, faults


def _on(text: str, day: date | None) -> str:
    """A time of a day that is told for the whole sheet, as a whole moment."""
    return f"{day} {text}" if is_clock(text) and day is not None else text


def _split(text: str) -> tuple[str, ...]:
    """Words of a cell; what stands in double quotes is one."""
    reader = shlex.shlex(text, posix=True)
    reader.whitespace_split, reader.quotes, reader.escape, reader.commenters = True, '"', "", ""
    try:
        return tuple(reader)
    except ValueError:
        raise BadInput("a quote is not closed", 'Put " before and behind the words that belong together.') from None
