"""Blocks that were cast are in the order still, though it may have changed since: else they have no size and no use."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.order.lists import LEANS
from blockrun.units import listed

if TYPE_CHECKING:
    from blockrun.order import OrderLine
    from blockrun.planner.begun.facts import TurnBegun
    from blockrun.yard.now import Kind
    from blockrun.yard.replan.kept import Kept

_COLUMNS: Final = ("mark", "length_mm", "height_mm", "thickness_mm", "count", "mix")


def check_ordered_still(turns: Iterable[TurnBegun], lines: Iterable[OrderLine], plans: Sequence[Kept]) -> None:
    """Refuse an order without marks that were cast, and say how to leave them in it.

    Parameters
    ----------
    turns : that were begun, with their good blocks.
    lines : of the order to come.
    plans : made for the job; they know how big a block of each mark is.

    Raises
    ------
    BadInput : it says which marks, how many of each, and what to write into the order.
    """
    ordered = {(line.mark, line.mix) for line in lines}
    there = Counter((block.mark, block.mix) for turn in turns for block in turn.blocks)
    gone = {kind: count for kind, count in sorted(there.items()) if kind not in ordered}
    if gone:
        told = listed([f"{count} {mark} of {mix}" for (mark, mix), count in gone.items()])
        known = {(line.mark, line.mix): line for kept in reversed(plans) for line in kept.plan.ordered}
        raise BadInput(f"{told} were cast, and the order has no such blocks any more", _todo(gone, known))


def _todo(gone: dict[Kind, int], known: dict[Kind, OrderLine]) -> str:
    if not gone.keys() <= known.keys():
        return "Leave the parts that they are of in the order until the job is done."
    lines = [known[kind] for kind in gone]
    leans = LEANS if any(getattr(line, name) for line in lines for name in LEANS) else ()
    rows = [
        ",".join((*_cells(line, count), *(f"{getattr(line, name):g}" for name in leans)))
        for line, count in zip(lines, gone.values(), strict=True)
    ]
    return (
        "Leave them in it as a list of their own: beside the order a file left.csv with the lines "
        f"{' and '.join([','.join((*_COLUMNS, *leans)), *rows])}, and among its parts: - list: left.csv"
    )


def _cells(line: OrderLine, count: int) -> Iterator[str]:
    yield line.mark
    yield from (f"{side:g}" for side in (line.length_mm, line.height_mm, line.thickness_mm))
    yield from (str(count), line.mix)
