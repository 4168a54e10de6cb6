"""The line of text in a label's code: what the label is on, and of which plan; nothing of people, and no address.

::

    blockrun1 mould 3f9a1c gang-4/03 5              mould, turn
    blockrun1 rack  3f9a1c gang-4/03 5 east         mould, turn, rack
    blockrun1 stack 3f9a1c store 7 D440 light       part, course, mark, mix

Words are parted by one blank. The first is the format and its number, the second what the label is on, the third
:func:`plan_id`; then come the ids named above. In an id every letter but A to Z, a to z, 0 to 9 and ``-._~/`` is
written as its UTF-8 bytes, each as % and two hexadecimal digits (RFC 3986), so a blank is ``%20``; an id that is
empty, such as the part and the course of spares, is a lone ``-``, and one that is a lone hyphen is ``%2D``. All of it
is ASCII.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final
from urllib.parse import quote, unquote

from blockrun.errors import BadInput

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan

FORMAT: Final = "blockrun1"
IDS: Final = {
    "mould": ("mould", "turn"),
    "rack": ("mould", "turn", "rack"),
    "stack": ("part", "course", "mark", "mix"),
}
"""What a label may be on, and the ids that tell which."""
_EMPTY: Final = "-"
_HYPHEN: Final = "%2D"
_DIGITS: Final = 6
_PLAN: Final = re.compile(rf"[0-9a-f]{{{_DIGITS}}}")
OF_A_CAST: Final = ("cast", "mould", "turn", "cavity", "batch", "mark", "mix", "part", "course")
_TODO: Final = "Scan a label that blockrun printed."


@dataclass(frozen=True)
class LabelCode:
    """What a code says.

    Parameters
    ----------
    on : ``mould``, ``rack`` or ``stack``.
    plan : of the plan the label was printed from, see :func:`plan_id`.
    ids : as ``IDS`` names them, in that order, as text.
    """

    on: str
    plan: str
    ids: tuple[str, ...]

    def __str__(self) -> str:
        """The line."""
        return " ".join((FORMAT, self.on, self.plan, *map(_written, self.ids)))

    @property
    def named(self) -> dict[str, str]:
        """The ids by their names."""
        return dict(zip(IDS[self.on], self.ids, strict=True))


def read_label_code(line: str) -> LabelCode:
    """What a line says that was scanned.

    Raises
    ------
    BadInput : it is not the line of a label of ours.
    """
    words = line.strip().split(" ")
    if words[0] != FORMAT:
        raise BadInput("this code is not of a label of blockrun", _TODO, name="code", value=line)
    on, plan, *ids = [*words[1:], "", ""][: max(2, len(words) - 1)]
    if on not in IDS or not _PLAN.fullmatch(plan) or len(ids) != len(IDS[on]):
        raise BadInput("this code is of a label that is not known here", _TODO, name="code", value=line)
    return LabelCode(on, plan, tuple(map(_read, ids)))


def plan_id(plan: Plan) -> str:
    """Six hexadecimal digits that tell a plan's casts from those of other plans: of SHA-256 over who is cast where."""
    casts = plan.tables.casts.fillna({"course": 0})
    return id_of(zip(*(casts[name].astype(str) for name in OF_A_CAST), strict=True))


def id_of(rows: Iterable[Iterable[str]]) -> str:
    """The same, of the cells of each cast that ``OF_A_CAST`` names."""
    text = "\n".join("\t".join(row) for row in rows)
    return hashlib.sha256(text.encode()).hexdigest()[:_DIGITS]


def _written(word: str) -> str:
    return _HYPHEN if word == _EMPTY else quote(word, safe="/") or _EMPTY


def _read(word: str) -> str:
    return "" if word == _EMPTY else unquote(word)
