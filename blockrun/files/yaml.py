"""YAML with the place of every value.

Every plain value is kept as the text that stands in the file: what ``12:30``, ``1:40``, ``NO``, ``010`` or
``2027-04-05`` mean is for the field that reads it, never for YAML to guess.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final, TypeVar

from ruamel.yaml import YAML
from ruamel.yaml.error import MarkedYAMLError, YAMLError
from ruamel.yaml.nodes import CollectionNode, MappingNode, Node, ScalarNode, SequenceNode
from ruamel.yaml.reader import ReaderError

from blockrun.errors import BadInput, BlockrunError
from blockrun.files.text import read_text, split_lines
from blockrun.files.yaml_faults import explain

_MOST_VALUES: Final = 100_000
_NULLS: Final = ("", "~", "null", "Null", "NULL")
_TAG: Final = re.compile(r"(?:&\S+ +)?(!\S*)")
Where = Sequence[str | int | tuple[str, str]]
"""A path into a document: keys of mappings, and of lists the index (from 0) or the (key, value) of the item meant."""

Fault = TypeVar("Fault", bound=BlockrunError)


@dataclass(frozen=True)
class Document:
    """A YAML file: its data (mappings, lists, text and None) and where each of them stands."""

    path: Path
    lines: list[str]
    root: MappingNode
    data: dict[str, Any]

    def place(self, fault: Fault, where: Where, *, at_key: bool = False) -> Fault:
        """The same fault with file, line, column and source line; one that has a file already is left alone.

        Parameters
        ----------
        where : the value it is about; if that is missing, the nearest thing around it that is there.
        at_key : point at the key, not at its value.
        """
        if fault.file is None:
            line, column = self._position(where, at_key=at_key)
            fault.file, fault.line, fault.column = str(self.path), line, column
            fault.text = self.lines[line - 1] if line <= len(self.lines) else None
        return fault

    def span(self, where: Where) -> tuple[int, int]:
        """Where in the text of the file a value stands, its quotes left out: first character, and first after it.

        Raises
        ------
        BadInput : it is not there, is no single value of one line, or is written once for several places.
        """
        steps = [value for _, value in self._walk(where)]
        named = ".".join(
            step if isinstance(step, str) else str(step[-1]) for step in where if not isinstance(step, int)
        )
        if len(steps) < len(where):
            raise self.place(BadInput(f"{named} is not in this file", "Write it there first."), where)
        if any(node.anchor for node in steps):
            todo = "Write it out at each place, or change it by hand."
            raise self.place(BadInput(f"{named} is written once for several places", todo), where)
        node = steps[-1]
        one_line = node.start_mark.line == node.end_mark.line
        if not isinstance(node, ScalarNode) or node.style not in (None, "'", '"') or not one_line:
            raise self.place(BadInput(f"{named} is no single value of one line", "Change it by hand."), where)
        quote = 0 if node.style is None else 1
        return node.start_mark.index + quote, node.end_mark.index - quote

    def _position(self, where: Where, *, at_key: bool) -> tuple[int, int]:
        steps = list(self._walk(where))
        key, value = steps[-1] if steps else (None, self.root)
        shows = bool(value.flow_style if isinstance(value, CollectionNode) else value.value)
        at_value = shows and not at_key and len(steps) == len(where)
        mark = (value if key is None or at_value else key).start_mark
        return mark.line + 1, mark.column + 1

    def _walk(self, where: Where) -> Iterator[tuple[Node | None, Node]]:
        """The key (if any) and value of each step of a path, as far as it goes."""
        node: Node = self.root
        for step in where:
            key, value = _step(node, step)
            if value is None:
                return
            yield key, value
            node = value


def read_yaml(path: Path) -> Document:
    """A YAML file whose root is a mapping.

    Raises
    ------
    BadInput : it cannot be opened or is no YAML, a key is doubled, or its root is not a mapping.
    """
    text = read_text(path)
    lines = split_lines(text)
    faults: list[BadInput] = []
    try:
        root = _compose(path, text, lines)
        data = _Reader(path, lines, faults).read(root) if isinstance(root, MappingNode) else {}
    except RecursionError:
        raise BadInput("is nested too deep", "Check for a row of opening brackets.", file=path) from None
    if not isinstance(root, MappingNode):
        what = "holds nothing but comments" if root is None else "does not start with a key"
        raise BadInput(what, "Start the file with lines of the form key: value.", file=path, line=1)
    if faults:
        raise BadInput.of(faults)
    return Document(path, lines, root, data)


def _compose(path: Path, text: str, lines: list[str]) -> Node | None:
    try:
        root: Node | None = YAML(typ="rt").compose(text)
        return root
    except MarkedYAMLError as error:
        fault = explain(error, lines)
        raise BadInput(
            fault.what,
            fault.todo,
            file=path,
            line=fault.line,
            column=fault.column,
            text=lines[fault.line - 1],
        ) from None
    except ReaderError as error:
        line = len(split_lines(text[: error.position]))
        raise BadInput("a character here does not print", "Type the line anew.", file=path, line=line) from None
    except (YAMLError, ValueError) as error:
        raise BadInput(f"cannot be read: {error}", "Check that it is a YAML file.", file=path) from None


class _Reader:
    """Nodes to data; doubled keys and keys that are no text become faults."""

    def __init__(self, path: Path, lines: list[str], faults: list[BadInput]) -> None:
        self.path, self.lines, self.faults = path, lines, faults
        self.n_values = 0
        self.tagged: set[int] = set()
        """Where tags stand that are told already: a mapping begins where its first key does."""

    def read(self, node: Node) -> Any:
        self._refuse_tag(node)
        self.n_values += 1
        if self.n_values > _MOST_VALUES:
            raise BadInput("holds too many values", "Put long lists in a CSV or XLSX file.", file=self.path)
        if isinstance(node, ScalarNode):
            return None if node.style is None and node.value in _NULLS else node.value
        if isinstance(node, SequenceNode):
            return [self.read(item) for item in node.value]
        return self._mapping(node)

    def _mapping(self, node: Node) -> dict[str, Any]:
        data: dict[str, Any] = {}
        first_line: dict[str, int] = {}
        for key, value in node.value:
            self._refuse_tag(key)
            if not isinstance(key, ScalarNode):
                self._fault(key, "a key must be one word", "Write key: value.")
            elif key.value == "<<":
                self._fault(key, "keys are not taken over from elsewhere here", "Write them out in place of <<.")
            elif key.value in data:
                line = first_line[key.value]
                self._fault(key, f"{key.value} is written twice; first in line {line}", "Take one of them out.")
            else:
                first_line[key.value] = key.start_mark.line + 1
                data[key.value] = self.read(value)
        return data

    def _refuse_tag(self, node: Node) -> None:
        """Refuse what says of which kind a value is: every value here is the text that stands in the file."""
        mark = node.start_mark
        line = self.lines[mark.line] if mark.line < len(self.lines) else ""
        tag = _TAG.match(line, mark.column)
        if tag and mark.index not in self.tagged:
            self.tagged.add(mark.index)
            todo = "Take it out; a text that starts with ! put in quotes."
            self._fault(node, f"tags such as {tag[1]} mean nothing here", todo)

    def _fault(self, node: Node, what: str, todo: str) -> None:
        line, column = node.start_mark.line + 1, node.start_mark.column + 1
        self.faults.append(BadInput(what, todo, file=self.path, line=line, column=column, text=self.lines[line - 1]))


def _step(node: Node, step: str | int | tuple[str, str]) -> tuple[Node | None, Node | None]:
    if isinstance(node, MappingNode) and isinstance(step, str):
        return next(((key, value) for key, value in node.value if key.value == step), (None, None))
    if isinstance(node, SequenceNode) and isinstance(step, tuple):
        return None, next((item for item in node.value if _says(item, *step)), None)
    if isinstance(node, SequenceNode) and isinstance(step, int) and step < len(node.value):
        return None, node.value[step]
    return None, None


def _says(node: Node, key: str, value: str) -> bool:
    """Whether a mapping has this value at this key."""
    written = _step(node, key)[1]
    return isinstance(written, ScalarNode) and written.value.strip() == value
