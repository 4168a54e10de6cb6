"""One entry of a calendar."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date
from typing import Final

from blockrun.show import page
from blockrun.show.page import GLUE, Part
from blockrun.show.site_words import as_the_site_writes
from blockrun.site.mould_names import kind_named

KINDS: Final = ("cover", "damp", "order", "deliver", "pour", "thumb", "strip", "move", "crush", "ready")
"""What entries are of, in the order in which they stand on one day."""

NAMED: Final = 3
"""Kinds of mould and courses that a title names at the most."""


@dataclass(frozen=True)
class Entry:
    """What stands on one day of a calendar.

    Attributes
    ----------
    kind : one of ``KINDS``; no two entries of one day have the same.
    day : the whole of it.
    title : a few words, to be read on a phone.
    lines : what is told of it when somebody opens it.
    """

    kind: str
    day: date
    title: str
    lines: tuple[str, ...]


def plain(words: Iterable[Part]) -> str:
    """Words without how they print and where lines may part."""
    return page.plain(words).replace(GLUE, " ")


def as_read_at(units: str, entry: Entry) -> Entry:
    """An entry with its dates, degrees and thousands as they are written where the site is."""
    title, *lines = (plain([as_the_site_writes(words, units)]) for words in (entry.title, *entry.lines))
    return replace(entry, title=title, lines=tuple(lines))


def kinds_counted(names: Iterable[str]) -> str:
    """``12 gang-4, 3 tray-3`` of names of moulds or bases; the fewest together where there are many kinds."""
    counts = Counter(map(kind_named, sorted(names))).most_common()
    said = [f"{n} {kind}" for kind, n in counts[:NAMED]]
    others = sum(n for _, n in counts[NAMED:])
    return ", ".join([*said, f"{others} more"] if others else said)
