"""Thumb tests that were made, each whole without the plan; and the table that kept them before the journal did."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Final, TypeVar, cast

from blockrun.cure.thumb import THUMBS, Thumb
from blockrun.errors import BadInput
from blockrun.files.columns import Columns
from blockrun.files.grid import Row
from blockrun.files.moments import read_moment
from blockrun.files.tables import Table, read_table
from blockrun.files.text import did_you_mean
from blockrun.site.values import read_name

NAMES: Final = (
    "pressed",
    "mould",
    "base",
    "turn",
    "batches",
    "mix",
    "poured",
    "age_h_at_20degC",
    "thumb",
    "strip_planned",
    "strip_now",
    "note",
)
_MAY_BE_MISSING: Final = ("base", "note")
_COLUMNS: Final = Columns(tuple((name,) for name in NAMES if name not in _MAY_BE_MISSING), optional=_MAY_BE_MISSING)
_OLDEST_H: Final = 87_600
"""Ten years, as for ages elsewhere."""

_DIGITS: Final = 9
"""Of the number of a turn or a batch; thousands of them are more than Python reads."""

_A_ROW: Final = 2
"""Faults of one row that are told one by one; beyond, the row is no test at all."""

Value = TypeVar("Value")


@dataclass(frozen=True)
class ThumbTest:
    """One thumb pressed into one mould; in the order of the columns of the table.

    Parameters
    ----------
    pressed : when, after ``poured``.
    mould, base : where; base is empty without one.
    turn, batches, mix : what stood there; names of several mixes are joined by ``+``. The turn is 0 where the plan has
        none.
    poured : when its last pour ended.
    age_h : hours at 20 degC reckoned from then to the test, > 0.
    thumb : what it showed.
    strip_planned : when the plan strips it.
    strip_now : the first working minute from which it might be stripped, with all that was known at the test.
    note : whatever somebody wrote.
    plan : digits of the plan by which batches and turn have their numbers; empty where nobody knows.
    entry : its number in the journal; 0 before it is there.
    """

    pressed: datetime
    mould: str
    base: str
    turn: int
    batches: tuple[int, ...]
    mix: str
    poured: datetime
    age_h: float
    thumb: Thumb
    strip_planned: datetime
    strip_now: datetime
    note: str = ""
    plan: str = ""
    entry: int = field(default=0, compare=False)

    @property
    def key(self) -> tuple[object, ...]:
        """What makes it another test than others."""
        return self.pressed, self.mould, self.base, self.turn, self.poured, self.thumb


def read_thumbs(path: Path) -> list[ThumbTest]:
    """The tests in a table, each once, by time.

    Parameters
    ----------
    path : CSV or XLSX with the columns ``NAMES`` in any order; ``base`` and ``note`` may be missing. A file that is
        not there holds none.

    Raises
    ------
    BadInput : with every fault of the table, each with its place.
    """
    if not path.exists():
        return []
    table = read_table(path, _COLUMNS, may_be_empty=True)
    found: dict[tuple[object, ...], ThumbTest] = {}
    faults: list[BadInput] = []
    for row in table.rows:
        try:
            test = _read(table, row)
            found.setdefault(test.key, test)
        except BadInput as fault:
            faults.append(fault)
    if faults:
        raise BadInput.of(faults)
    return in_order(found.values())


def in_order(tests: Iterable[ThumbTest]) -> list[ThumbTest]:
    """Tests by time, then by place; the softest last of those at one minute, for it is the one to go by."""
    return sorted(tests, key=lambda test: (test.pressed, test.mould, test.base, -THUMBS.index(test.thumb)))


def _read(table: Table, row: Row) -> ThumbTest:
    """One row; raises BadInput with all its faults."""
    faults: list[BadInput] = []

    def cell(column: str, read: Callable[[str], Value], *, number: bool = False) -> Value:
        try:
            return table.read(row, column, read, as_number=number)
        except BadInput as fault:
            faults.append(fault)
            return cast("Value", None)  # never used: the faults are raised below

    test = ThumbTest(
        cell("pressed", read_moment),
        cell("mould", read_name),
        table.cell(row, "base"),
        cell("turn", _whole),
        cell("batches", lambda text: tuple(map(_whole, text.split()))),
        cell("mix", str),
        cell("poured", read_moment),
        cell("age_h_at_20degC", _age, number=True),
        cell("thumb", read_thumb),
        cell("strip_planned", read_moment),
        cell("strip_now", read_moment),
        table.cell(row, "note"),
    )
    if not faults and test.pressed <= test.poured:
        fault = BadInput("pressed: lies before the pour", "Correct one of the two.", name="pressed")
        faults.append(table.place(fault, row, "pressed"))
    if len(faults) > _A_ROW:
        what = f"not a thumb test: {len(faults)} of its cells are wrong, the first of them: {faults[0].what}"
        todo = "Mend the row, or take it out by hand."
        raise table.place(BadInput(what, todo, name=faults[0].name), row, "pressed")
    if faults:
        raise BadInput.of(faults)
    return test


def read_thumb(text: str) -> Thumb:
    """What a thumb showed.

    Raises
    ------
    BadInput : it is not soft, dents or firm.
    """
    word = text.strip().lower()
    if word not in THUMBS:
        todo = f"{did_you_mean(word, THUMBS)} Soft sinks in, dents leaves a mark, firm leaves none."
        raise BadInput(f"{text} is not what a thumb shows", todo, value=text)
    return word


def _whole(text: str) -> int:
    if not (text.isascii() and text.isdecimal() and len(text) <= _DIGITS) or int(text) == 0:
        raise BadInput(f"{text} is not a number of a turn or a batch", "Write it as the plan has it.", value=text)
    return int(text)


def _age(text: str) -> float:
    try:
        age_h = float(text)
    except ValueError:
        age_h = 0.0
    if not 0 < age_h <= _OLDEST_H:
        raise BadInput(f"{text} is not an age in hours", "Write hours at 20 degC, such as 23.4.", value=text)
    return age_h
