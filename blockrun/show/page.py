"""Lines of text that fit a width: words wrap under a hanging indent, and what belongs together stays together."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from rich.text import Text

from blockrun.show.site_words import on_screen

LEAST_WIDTH: Final = 30
"""Narrower than this nothing can be read, so wider lines are printed (our choice)."""

GLUE: Final = "\u00a0"

LIMIT: Final = "bold reverse"
HEADING: Final = "bold"
QUIET: Final = "dim"
ALARM: Final = "bold red"

_OF_A_FRACTION: Final = re.compile(r"(?<=\d) (?=\d{1,2}/\d)|(?<=\d/\d) (?=in\b)|(?<=\d/\d\d) (?=in\b)")
"""Blanks within ``17 11/16 in``."""
INDENT: Final = 2
"""Characters by which what stands under a line is set in."""

Part = str | tuple[str, str]
"""Words, or words and the style they print in."""


def glued(words: str) -> str:
    """Join words that no line may part, such as a number and its unit."""
    return words.replace(" ", GLUE)


def fractions_whole(words: str) -> str:
    """The same, as long, with fractions glued to their whole number and to their inches."""
    return _OF_A_FRACTION.sub(GLUE, words)


def plain(parts: Iterable[Part]) -> str:
    """Parts as one text, without their styles."""
    return "".join(part if isinstance(part, str) else part[0] for part in parts)


class Page:
    """Lines of at most ``width`` characters, written from the top.

    Parameters
    ----------
    width : characters a line, >= 1; under 30 the lines are 30 wide.
    units : ``SI`` or ``US``: how dates and large numbers are written.
    """

    def __init__(self, width: int, units: str = "SI") -> None:
        self.width = max(width, LEAST_WIDTH)
        self._units = units
        self._lines: list[Text] = []

    def line(self, *parts: Part, label: str = "", indent: int = 0) -> None:
        """Write parts one after another, wrapped, with a label before the first line.

        Parameters
        ----------
        parts : words in the order they are read; spaces between them are the caller's.
        label : stands left of the words, in the indent.
        indent : characters left of the words on each line; the label and a space need to fit.
        """
        room = self.width - indent
        words = Text.assemble(*map(self._written, parts))
        words.plain = fractions_whole(words.plain)
        wrapped = _wrapped(words, room) or [Text()]
        for number, words in enumerate(wrapped):
            gutter = f"{label if number == 0 else '':<{indent}}"
            whole = Text.assemble(gutter, words)
            whole.rstrip()
            whole.plain = whole.plain.replace(GLUE, " ")
            self._lines.append(whole)

    def verbatim(self, words: str, label: str, indent: int) -> None:
        """Write words to copy, such as a path; where they do not fit behind their label, uncut on their own line."""
        if len(words) <= self.width - indent:
            self.line(glued(words), label=label, indent=indent)
        else:
            self._lines += [Text(label), Text(words)]

    def section(self, heading: str, lines: Iterable[Sequence[Part]]) -> None:
        """Write lines as a list under a heading; nothing where there is none."""
        written = list(lines)
        if written:
            self.blank()
            self.line((heading, HEADING))
        for parts in written:
            self.item(*parts)

    def item(self, *parts: Part) -> None:
        """Write parts as one thing of a list."""
        self.line(*parts, label="-", indent=INDENT)

    def rule(self, words: str) -> None:
        """Write a heading with a line drawn to the edge of the page."""
        words = on_screen(words, self._units)
        self.line((glued(words), HEADING), " " + "─" * max(0, self.width - len(words) - 1))

    def blank(self) -> None:
        """Leave a line free."""
        self._lines.append(Text())

    def _written(self, part: Part) -> Part:
        return on_screen(part, self._units) if isinstance(part, str) else (on_screen(part[0], self._units), part[1])

    def text(self) -> Text:
        """All lines, with their styles."""
        return Text("\n").join(self._lines)


def _wrapped(text: Text, room: int) -> list[Text]:
    """Break at blanks; where glued words are longer than the room, between them; within a word only at the last."""
    if not text.spans and text.cell_len <= room:
        return [text]
    lines: list[list[Text]] = []
    length = 0
    for word in _pieces(text.split(" "), room):
        longer = length + 1 + word.cell_len
        if lines and longer <= room:
            lines[-1].append(word)
            length = longer
        else:
            lines.append([word])
            length = word.cell_len
    return [Text(" ").join(words) for words in lines]  # each line at once: word by word copies it again for each


def _pieces(words: Iterable[Text], room: int) -> Iterator[Text]:
    """Words that fit the room."""
    for word in words:
        parts = word.split(GLUE) if word.cell_len > room else [word]
        for part in parts:
            rest = part
            while rest.cell_len > room:  # a path, or a name longer than a phone is wide
                head, rest = rest.divide([room])
                yield head
            yield rest
