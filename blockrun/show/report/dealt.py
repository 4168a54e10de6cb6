"""Which cast is which block of a wall or a dome.

A cast carries its part, course and mark; blocks of one mark in a course are interchangeable, so casts are dealt to
them in order: the first poured to the first block as they are laid out.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable
from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.order.laid import Laid
from blockrun.order.marks import kind_of
from blockrun.order.model import ListPart
from blockrun.order.parts import layout_of, letter_of, marks_of, mix_of, part_names
from blockrun.planner.rows import grouped, rows_of

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
    rows = zip(rows_of(plan.tables.casts), lives.of_cast, strict=True)
    return [
        Cast(row.cast, row.part, row.course, row.mark, row.mix, row.mould, row.batch, life)
        for row, life in sorted(rows, key=lambda one: (one[0].poured, one[0].cast))
    ]


def by_part(casts: Iterable[Cast]) -> dict[str, list[Cast]]:
    """Casts of each part; those of none are spares."""
    return grouped(casts, lambda cast: cast.part)


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
