"""What can go wrong, and how it is said.

::

    BlockrunError
    ├── BadInput          a file, or a value in one, is wrong               exit code 2
    ├── OutOfRange        a number outside the limits of a formula          exit code 2
    ├── NoPlanPossible    no plan can meet what the yard and order ask      exit code 3
    ├── NoPlanInTime      none was found in the time given                  exit code 4
    ├── JournalError      what the yard recorded cannot be read or kept     exit code 2
    └── BadPlan           a saved plan is not what its inputs demand        exit code 2

Every error prints what is wrong, where, and what to do::

    yard.yaml:12:19: least_volume is more than usable_volume
        least_volume: 300 L
                      ^
      Write a volume up to 220 L.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from os import PathLike, fspath
from textwrap import TextWrapper
from typing import ClassVar, Final

FOUND_SOMETHING: Final = 2
"""Exit code of a command that looks through something and finds a fault in it."""

SHOWN_AT_ONCE: Final = 10
_WIDEST_LINE: Final = 100
_INDENT: Final = "    "


class BlockrunError(Exception):
    """Any fault that is not a bug of ours.

    Parameters
    ----------
    what : one sentence, no full stop needed: what is wrong.
    todo : one sentence: what to do or write instead.
    file : path of the file, as the user would type it.
    line, column : where in the file, both from 1.
    text : the whole source line, for the caret.
    name, value, limit, unit : the thing that is wrong, what it is, what it may be, and in what unit.

    Attributes
    ----------
    cell : of a workbook, as it is called there (``C7``); shown in place of line and column.
    """

    exit_code: ClassVar[int] = 2
    cell: str | None = None

    def __init__(
        self,
        what: str,
        todo: str | None = None,
        *,
        file: str | PathLike[str] | None = None,
        line: int | None = None,
        column: int | None = None,
        text: str | None = None,
        name: str | None = None,
        value: object = None,
        limit: object = None,
        unit: str | None = None,
    ) -> None:
        super().__init__(what)
        self.what = what
        self.todo = todo
        self.file = None if file is None else fspath(file)
        self.line = line
        self.column = column
        self.text = text
        self.name = name
        self.value = value
        self.limit = limit
        self.unit = unit

    def __str__(self) -> str:
        """Where and what, then the source line with a caret, then what to do."""
        return self.told()

    def told(self, width: int | None = None) -> str:
        """Say the error for a screen.

        Parameters
        ----------
        width : characters a line, which only a word longer than that passes; None for lines that are not broken.

        Returns
        -------
        What ``str`` gives, wrapped; of the source line what is around the caret.
        """
        place = (self.cell,) if self.cell else (self.line, self.column)
        where = ":".join(str(part) for part in (self.file, *place) if part is not None)
        lines = _wrapped(f"{where}: {self.what}" if where else self.what, "", width)
        lines += self._source(_WIDEST_LINE if width is None else max(1, min(_WIDEST_LINE, width - len(_INDENT))))
        if self.todo:
            lines += _wrapped(self.todo, "  ", width)
        return "\n".join(lines)

    def _source(self, room: int) -> list[str]:
        if not self.text or not self.text.strip():
            return []
        shown, caret = _window(self.text, self.column or 0, room)
        return [_INDENT + shown] if self.column is None else [_INDENT + shown, _INDENT + " " * caret + "^"]


class BadInput(BlockrunError, ValueError):
    """A file, or a value in one, is wrong.

    It is a ``ValueError`` too, so that a check within a model reports like any other.

    Attributes
    ----------
    more : further faults of the same reading, in the order of their place.
    within : of a fault that a model finds between its values, the keys and indexes from the model to the mapping
        that holds the key `name`.
    """

    more: tuple[BadInput, ...] = ()
    within: tuple[str | int, ...] = ()

    def told(self, width: int | None = None) -> str:
        """Say all faults, at most ten of them, a blank line between."""
        faults = self.all()
        shown = [BlockrunError.told(fault, width) for fault in faults[:SHOWN_AT_ONCE]]
        if len(faults) > SHOWN_AT_ONCE:
            shown.append(f"... and {len(faults) - SHOWN_AT_ONCE} more.")
        return "\n\n".join(shown)

    def all(self) -> list[BadInput]:
        """List this fault and the further ones."""
        return [self, *(fault for further in self.more for fault in further.all())]

    @classmethod
    def of(cls, faults: Iterable[BadInput]) -> BadInput:
        """One error that holds all the faults given (at least one), by file and place."""
        flat: Sequence[BadInput] = sorted((one for fault in faults for one in fault.all()), key=_place)
        for fault in flat:
            fault.more = ()
        flat[0].more = tuple(flat[1:])
        return flat[0]


class OutOfRange(BlockrunError):
    """A number lies outside the limits of the formula it was given to."""


class NoPlanPossible(BlockrunError):
    """No plan can meet what the yard and the order ask."""

    exit_code = 3


class NoPlanInTime(BlockrunError):
    """No plan was found in the time given; there may be one."""

    exit_code = 4


class JournalError(BlockrunError):
    """What the yard recorded cannot be read or kept."""


class BadPlan(BlockrunError):
    """A plan is not what its inputs demand."""

    @classmethod
    def of(cls, fault: BadInput) -> BadPlan:
        """The same fault, of a saved plan."""
        return cls(
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


def _place(fault: BadInput) -> tuple[str, int, int]:
    return (fault.file or "", fault.line or 0, fault.column or 0)


def _wrapped(words: str, indent: str, width: int | None) -> list[str]:
    """Lines as they are, or broken at blanks, what goes over set in by two more."""
    if width is None:
        return (indent + words).split("\n")
    wrap = TextWrapper(
        width, initial_indent=indent, subsequent_indent=f"{indent}  ", break_long_words=False, break_on_hyphens=False
    )
    return [line for written in words.split("\n") for line in wrap.wrap(written) or [""]]


def _window(text: str, column: int, room: int) -> tuple[str, int]:
    """The part of a line to show, without its indent, and where the caret goes below it.

    Where the line is wider than the room, the caret stands at its middle, or nearer to an end of the line.
    """
    clean = "".join(char if char.isprintable() else " " for char in text).rstrip()
    indent = len(clean) - len(clean.lstrip())
    caret = max(column - 1, indent)
    last = max(indent, len(clean) - room, caret - room + 1)
    first = min(max(indent, caret - room // 2), last)
    return clean[first : first + room], caret - first
