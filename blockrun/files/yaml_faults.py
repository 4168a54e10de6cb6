"""What is wrong with a file that is no YAML, in words of lines and spaces instead of the reader's own."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Final, NamedTuple

from ruamel.yaml.error import MarkedYAMLError


class Fault(NamedTuple):
    """What is wrong, what to do, and where, both from 1."""

    what: str
    todo: str
    line: int
    column: int


_OWN_SIGN: Final = ("a value starts with a sign that YAML keeps for itself", "Put the value in quotes.")
_KNOWN: Final = {
    "expected ',' or": ("a bracket is not closed, or a comma is missing", "Close it, and put commas between values."),
    "another document": ("a second document starts here", "Keep to one: take the line --- out."),
    "undefined alias": ("a value starts with *, which YAML keeps for itself", "Put the value in quotes."),
    "cannot start any token": _OWN_SIGN,
    "alphabetic or numeric": _OWN_SIGN,
    "chomping": _OWN_SIGN,
    "comment or a line break": _OWN_SIGN,
    "sequence entries": ("an item of a list starts in the line of its key", "Start it on a line of its own."),
    "node content": ("a value is missing here", "Write it, or take out the sign that stands in its place."),
    "'<document start>'": ("this line starts further left than the first one", "Give both the same indent."),
}


def explain(error: MarkedYAMLError, lines: Sequence[str]) -> Fault:
    """The fault that a reader of YAML stumbled over, at the line to change.

    Parameters
    ----------
    error : the reader's own.
    lines : of the file.
    """
    mark, context, problem = error.problem_mark or error.context_mark, error.context_mark, error.problem or ""
    line = min(mark.line, len(lines) - 1) if mark else 0
    column = mark.column if mark else 0
    if "'\\t'" in problem:
        return _tab(lines[line], line, column)
    if "mapping values" in problem:
        return _second_colon(lines, line, column)
    if "block end" in problem:
        return _indent(lines, line)
    if context and "expected ':'" in problem:
        return _no_colon(context.line, context.column)
    if context and "quoted scalar" in (error.context or ""):
        return Fault("a quote is opened here and never closed", "Close it.", context.line + 1, context.column + 1)
    said = next((said for sign, said in _KNOWN.items() if sign in problem), None)
    what, todo = said or (f"cannot be read: {problem or 'it is not YAML'}", "Check the line and the one above.")
    return Fault(what, todo, line + 1, column + 1)


def _tab(text: str, line: int, column: int) -> Fault:
    if text[:column].strip():
        return Fault("a tab stands where a space is due", "Put a space there.", line + 1, column + 1)
    return Fault("a tab stands at the start of the line", "Indent with spaces, not with a tab.", line + 1, column + 1)


def _second_colon(lines: Sequence[str], line: int, column: int) -> Fault:
    """A colon where no key may be: two in a line, a line too far right, or a line above without its colon."""
    above = _above(lines, line)
    if ": " not in lines[line][:column] and above is not None:
        if ": " not in f"{lines[above]} ":
            return _no_colon(above, _starts(lines[above])[-1])
        if _starts(lines[line])[0] > _starts(lines[above])[-1]:
            return _indent(lines, line)
    return Fault(
        "a second colon with a space after it stands in this line",
        "Put a value that holds a colon and a space in quotes; start each key on its own line.",
        line + 1,
        column + 1,
    )


def _no_colon(line: int, column: int) -> Fault:
    return Fault("this line has no key with a colon and a space", "Write it as key: value.", line + 1, column + 1)


def _indent(lines: Sequence[str], line: int) -> Fault:
    """A line that starts in a column in which none above it does, or in that of something else."""
    open_columns: list[int] = []
    for text in filter(_says_something, lines[:line]):
        starts = _starts(text)
        open_columns = [column for column in open_columns if column < starts[0]] + starts
    start, deepest = _starts(lines[line])[0], open_columns[-1] if open_columns else 0
    if start > deepest:
        todo = f"Line it up with the line above: put {_spaces(deepest)} before it."
        return Fault("this line starts too far right", todo, line + 1, start + 1)
    if start in open_columns:
        todo = "Start every item of a list with -, and indent the keys of an item alike."
        return Fault("a key and an item of a list stand in one column", todo, line + 1, start + 1)
    inner = next((column for column in open_columns if column > start), deepest)
    outer = next((column for column in reversed(open_columns) if column < start), 0)
    todo = f"Line it up with a line above: put {_spaces(inner)} before it, or {outer} if it belongs further out."
    return Fault("this line starts too far left", todo, line + 1, start + 1)


def _spaces(number: int) -> str:
    return "no space" if number == 0 else "1 space" if number == 1 else f"{number} spaces"


def _above(lines: Sequence[str], line: int) -> int | None:
    """The nearest line above that says something."""
    return next((above for above in range(line - 1, -1, -1) if _says_something(lines[above])), None)


def _says_something(text: str) -> bool:
    return bool(text.strip()) and not text.lstrip().startswith("#")


def _starts(text: str) -> list[int]:
    """Columns, from 0, in which the dashes of a line and then its content start."""
    marks = re.match(r" *(?:- +)*", text)
    content = marks.end() if marks else 0
    return [*(column for column, char in enumerate(text[:content]) if char == "-"), content]
