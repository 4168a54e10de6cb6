"""Which cast is which block of a wall or a dome.

A cast carries its part, course and mark; blocks of one mark in a course are interchangeable, so casts are dealt to
them in order: the first poured to the first block as they are laid out.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable
from typing import TYPE_CHECKING, Any, Final, NamedTuple

from pandas import isna

from blockrun.order.laid import Laid
from blockrun.order.marks import kind_of
from blockrun.order.model import ListPart
from blockrun.order.parts import layout_of, letter_of, marks_of, mix_of, part_names
from blockrun.planner.moments import moments

if TYPE_CHECKING:
    from blockrun.order.model import Part
    from blockrun.planner.plan import Plan
    from blockrun.show.report.lives import Lives

DEALT_SAID: Final = (
    "Blocks of one mark in a course are interchangeable: which of them is which cast is dealt out in order, the first "
    "poured to the first as they are laid out."
)


class Cast(NamedTuple):
    """A block of a plan, and the number of its life."""

    number: int
    part: str
    course: int | None
    mark: str
    mix: str
    mould: str
    batch: int
    life: int


def casts_of(plan: Plan, lives: Lives) -> list[Cast]:
    """All blocks of a plan, the first poured first."""
    table = plan.tables.casts
    columns = (table[name].tolist() for name in ("cast", "part", "course", "mark", "mix", "mould", "batch"))
    rows: list[tuple[Any, ...]] = list(zip(moments(table["poured"]), *columns, lives.of_cast, strict=True))
    rows.sort(key=lambda row: row[:2])
    return [
        Cast(number, part, None if isna(course) else course, mark, mix, mould, batch, life)
        for _, number, part, course, mark, mix, mould, batch, life in rows
    ]


def by_part(casts: Iterable[Cast]) -> dict[str, list[Cast]]:
    """Casts of each part; those of none are spares."""
    found: dict[str, list[Cast]] = defaultdict(list)
    for cast in casts:
        found[cast.part].append(cast)
    return found


def dealt(plan: Plan, part: Part, casts: Iterable[Cast]) -> list[tuple[Laid, Cast]]:
    """Each block of a part in its place, with the cast that is dealt to it; none of a list, which has no places.

    Parameters
    ----------
    casts : of the part, the first poured first.
    """
    if isinstance(part, ListPart):
        return []
    there: dict[tuple[int | None, str, str], deque[Cast]] = defaultdict(deque)
    for cast in casts:
        there[cast.course, cast.mark, cast.mix].append(cast)
    marks, letter = marks_of(plan.order, plan.site.moulds), letter_of(part)
    mix = mix_of(None, part, plan.order)
    blocks = layout_of(part, tuple(plan.site.moulds)).blocks
    return [(block, there[block.course, marks[kind_of(letter, block)], mix].popleft()) for block in blocks]


def named_parts(plan: Plan) -> list[tuple[str, Part]]:
    """Parts of the order with what each is called."""
    return list(zip(part_names(plan.order), plan.order.parts, strict=True))
