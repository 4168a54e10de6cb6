"""Blocks told of a mould that cannot cast them: another mould, or another mark, was meant."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

from blockrun.errors import BadInput
from blockrun.units import listed

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned


def check_fits(mould: str, marks: Iterable[str], plan: AsPlanned) -> None:
    """Refuse marks that a mould cannot cast; those that the order has no more pass.

    Raises
    ------
    BadInput : it says what the mould lacks, and which moulds cast the mark.
    """
    from blockrun.order.castable import castable, obstacles

    kind = plan.kind_of(mould)
    for mark in dict.fromkeys(marks):
        line = next((line for line in plan.ordered if line.mark == mark), None)
        lacks = list(obstacles(kind, line, plan.site.units)) if line and not kind.filler else []
        if line and lacks:
            others = [one.kind for one in plan.site.moulds if castable(one, line)]
            cast = f"{listed(others)} can. " if others else ""
            due = listed([lack.said([lack.due]) for lack in lacks])
            todo = f"{cast}Else correct the mark; for {mark} a mould would need {due}."
            raise BadInput(f"{mould} cannot cast {mark}", todo, value=mark)
