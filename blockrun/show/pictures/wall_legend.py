"""What the signs of an elevation mean, in rows below it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator
from typing import Any, Final

from blockrun.order.laid import Laid
from blockrun.order.walls import Face
from blockrun.show.pictures.paper import SAWN, WIDTH_MM, kind_of
from blockrun.show.pictures.strips import LEFT, RIGHT
from blockrun.show.pictures.wall_names import WallNames

_ROW: Final = 5.2
_BAR: Final = 65.0
"""Room for the scale bar at the right."""
_LETTER: Final = 1.25
"""Width of a letter of the legend, mm."""


def legend(
    blocks: Collection[Laid], face: Face, hidden: bool, short: Collection[str], names: WallNames, foot: float
) -> list[dict[str, Any]]:
    """Signs with their words: kinds of block, other things drawn, and short letters for marks."""
    kinds = Counter(map(kind_of, blocks))
    entries: list[tuple[str, Any, str]] = []
    for kind, count in sorted(kinds.items(), key=lambda item: item[0].letter):
        where = ", sizes with the notes or on the list of cuts" if kind is SAWN else ""
        entries.append(("kind", kind, f"{kind.letter + ': ' if kind.letter else ''}{kind.words}, {count}{where}"))
    entries += [(sign, None, words) for sign, words, there in _others(face, hidden) if there]
    entries += [("", None, f"{names.short[mark]}: {mark}") for mark in sorted(short)]
    return list(_placed(entries, foot))


def _others(face: Face, hidden: bool) -> Iterable[tuple[str, str, bool]]:
    return (
        ("return", "end of a wall or pier that goes through here", bool(face.returns)),
        ("lintel", "bought lintel, not counted", bool(face.lintels)),
        ("mortar", "made up in mortar", bool(face.mortar)),
        ("hidden", "face of the wall it goes on into", hidden),
        ("lap", f"overlap under the least, {len(face.short_overlaps)}", bool(face.short_overlaps)),
    )


def _placed(entries: Iterable[tuple[str, Any, str]], foot: float) -> Iterator[dict[str, Any]]:
    """Entries in rows from left to right, clear of the scale bar."""
    x, y = LEFT, foot
    for sign, kind, text in entries:
        wide = (7.5 if sign else 0) + _LETTER * len(text) + 3
        if x + wide > WIDTH_MM - RIGHT - _BAR:
            x, y = LEFT, y + _ROW
        yield {"sign": sign, "kind": kind, "x": x, "y": y, "text": text}
        x += wide
