"""Which blocks of a plan are sawn or hollowed once they are stripped.

What is cast knows nothing of it: of the blocks of one mark for one course, those poured first are taken to be sawn.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.order.walls.cut import TROUGH, is_sawn

if TYPE_CHECKING:
    from blockrun.order import OrderLine
    from blockrun.planner.rows import Row
    from blockrun.show.piece_numbers import CutOf


@dataclass(frozen=True)
class Work:
    """What is done to a block between the strip and the laying, and the number of its cut where it has one."""

    trough: bool = False
    saw: bool = False
    cut: str = ""

    @property
    def words(self) -> tuple[str, ...]:
        """Said of a block where it is poured."""
        return (*(["trough"] if self.trough else []), *(["to saw"] if self.saw else []))


AS_CAST: Final = Work()
"""A block that is laid as it is cast."""

To = tuple[str, str, int, str, str]
"""What is to be done, the part and the course (0 for none) the block is for, its mark, and the number of its cut."""


def work_of(cut: str, number: str = "") -> Work:
    """What the words of a cut come to."""
    return Work(TROUGH in cut, saw=is_sawn(cut), cut=number)


def work_on_each(
    lines: Iterable[OrderLine], casts: Iterable[Row], numbers: Mapping[CutOf, str] | None = None
) -> dict[int, Work]:
    """By cast what is done to it, of those to which anything is.

    Parameters
    ----------
    numbers : of cuts, to say which it is.
    """
    asked: dict[tuple[str, int, str, str], list[Work]] = defaultdict(list)
    for line in lines:
        if line.cut:
            asked[line.part, line.course or 0, line.mark, line.mix] += [
                work_of(line.cut, (numbers or {}).get((line.part, line.mark, line.cut), ""))
            ] * line.count
    found: dict[int, Work] = {}
    for cast in sorted(casts, key=lambda row: (row.poured, row.mould, row.cavity)):
        waiting = asked.get((cast.part, cast.course or 0, cast.mark, cast.mix))
        if waiting:
            found[cast.cast] = waiting.pop(0)
    return found


def to_do(casts: Iterable[Row], works: Mapping[int, Work]) -> tuple[tuple[To, int], ...]:
    """What is to be done to blocks that are stripped, and to how many."""
    counts: Counter[To] = Counter()
    for cast in casts:
        work = works.get(cast.cast, AS_CAST)
        for what, is_due, cut in (("hollow to troughs", work.trough, ""), ("saw", work.saw, work.cut)):
            counts[what, cast.part, cast.course or 0, cast.mark, cut] += is_due
    return tuple(sorted((+counts).items()))
