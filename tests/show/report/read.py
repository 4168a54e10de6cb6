"""A page read back: its elements, its words, its tables; and the same numbers out of casts.csv, by themselves."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from datetime import date
from html.parser import HTMLParser
from pathlib import Path
from typing import Final

EMPTY: Final = {"meta", "input", "link", "br", "hr", "img"}


@dataclass
class Element:
    """An element of a page, with the elements in it and all the words in it."""

    name: str
    attributes: dict[str, str]
    inside: list[Element] = field(default_factory=list)
    words: str = ""

    def all(self, name: str, **attributes: str) -> Iterator[Element]:
        """Elements of a name in it, at any depth, that have these attributes; ``class_`` is one of its classes."""
        for element in self.inside:
            if element.name == name and all(element.has(key, value) for key, value in attributes.items()):
                yield element
            yield from element.all(name, **attributes)

    def has(self, key: str, value: str) -> bool:
        if key == "class_":
            return value in self.attributes.get("class", "").split()
        return self.attributes.get(key.replace("_", "-")) == value

    def one(self, name: str, **attributes: str) -> Element:
        """The first such element."""
        return next(self.all(name, **attributes))


class Page(HTMLParser):
    """A page, whose elements must be closed in their order."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.text = text
        self.root = Element("", {})
        self._open = [self.root]
        self.feed(text)
        self.close()
        assert self._open == [self.root], f"<{self._open[-1].name}> is never closed"

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        element = Element(tag, {key: value or "" for key, value in attrs})
        assert len(element.attributes) == len(attrs), f"an attribute of <{tag}> stands twice"
        self._open[-1].inside.append(element)
        if tag not in EMPTY:
            self._open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in EMPTY:
            self.handle_endtag(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self._open[-1].name == tag, f"</{tag}> closes <{self._open[-1].name}> at {self.getpos()}"
        self._open.pop()

    def handle_data(self, data: str) -> None:
        for element in self._open:
            element.words += data

    def every(self) -> Iterator[Element]:
        waiting = [self.root]
        while waiting:
            element = waiting.pop()
            yield element
            waiting += element.inside

    def table(self, caption: str) -> list[list[str]]:
        """Rows of the table with a caption, heads first."""
        table = next(one for one in self.root.all("table") if one.one("caption").words == caption)
        return [[cell.words for cell in row.inside] for row in table.all("tr")]


STATES: Final = ("poured", "rack_from", "rack_to", "ready")


def counted_by_hand(casts: Iterable[dict[str, str]], day: date) -> list[int]:
    """Blocks in each state in the evening of a day, straight from the rows of casts.csv."""
    count = Counter(_state(cast, day.isoformat()) for cast in casts)
    return [count[state] for state in range(len(STATES) + 2)]


def _state(cast: dict[str, str], day: str) -> int:
    """ISO days compare as text."""
    reached = sum(cast[column][:10] <= day for column in STATES)
    laid = bool(cast["needed"]) and max(cast["needed"][:10], cast["ready"][:10]) <= day
    return reached + laid


def rows_of_casts(folder: Path) -> list[dict[str, str]]:
    with (folder / "casts.csv").open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))
