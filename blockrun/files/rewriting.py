"""A YAML file with some of its values written anew, and all else of it byte for byte as it was.

No dump of what was read: that would set quotes, blanks and comments as its writer likes them.
"""

from __future__ import annotations

import codecs
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from blockrun.errors import BadInput
from blockrun.files.text import read_bytes, read_text, split_lines
from blockrun.files.yaml import Document, Where, read_yaml

Value = tuple[Where, str]
"""Where a value stands, and the text that takes its place."""


@dataclass(frozen=True)
class NewLine:
    """A line before and after; its number counts from 1."""

    number: int
    before: str
    after: str


@dataclass(frozen=True)
class Rewritten:
    """A file before and after."""

    old: bytes
    new: bytes

    @property
    def lines(self) -> tuple[NewLine, ...]:
        """Lines that differ; a value written anew adds none."""
        both = zip(*(split_lines(content.decode("utf-8-sig")) for content in (self.old, self.new)), strict=True)
        return tuple(NewLine(nth, old, new) for nth, (old, new) in enumerate(both, 1) if old != new)


def rewritten(path: Path, values: Sequence[Value]) -> Rewritten:
    """A file with some of its values written anew; nothing is written to the disk.

    Parameters
    ----------
    path : of a YAML file.
    values : each of another place; no line end in any.

    Raises
    ------
    BadInput : the file cannot be read, or one of the places holds no value that can be written anew; with all of them.
    """
    old, text, document = read_bytes(path), read_text(path), read_yaml(path)
    spans = sorted(_spans(document, values), reverse=True)
    for begin, end, value in spans:
        text = text[:begin] + value + text[end:]
    mark = codecs.BOM_UTF8 if old.startswith(codecs.BOM_UTF8) else b""
    return Rewritten(old, mark + text.encode())


def value_at(path: Path, where: Where) -> str:
    """The text of a value as it stands in a file, its quotes left out.

    Raises
    ------
    BadInput : as `rewritten`.
    """
    begin, end = read_yaml(path).span(where)
    return read_text(path)[begin:end]


def _spans(document: Document, values: Sequence[Value]) -> Iterator[tuple[int, int, str]]:
    faults: list[BadInput] = []
    for where, value in values:
        try:
            yield (*document.span(where), value)
        except BadInput as fault:
            faults.append(fault)
    if faults:
        raise BadInput.of(faults)
