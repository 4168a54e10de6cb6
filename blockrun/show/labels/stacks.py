"""Labels on the stack: of each course what lies there for it."""

from __future__ import annotations

from collections.abc import Container
from typing import TYPE_CHECKING

from blockrun.planner.label_code import LabelCode, plan_id
from blockrun.planner.rows import rows_of
from blockrun.show.course_rows import CourseRow, course_rows
from blockrun.show.labels.label import LAY, Blocks, Label

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


Cavity = tuple[str, int, int]
"""A mould, the number of one of its turns, and the cavity in it."""


def laid_before(plan: Plan) -> frozenset[Cavity]:
    """Where blocks were cast that were laid before a plan was made anew: nobody stacks them any more."""
    turns = plan.begun.turns if plan.begun else ()
    return frozenset((turn.mould, turn.turn, block.cavity) for turn in turns for block in turn.blocks if block.laid)


def stack_labels(plan: Plan, apart: Container[int] = (), over: Container[Cavity] = ()) -> list[Label]:
    """A label for each mark of each course, in the order in which they are ready; spares have theirs, too.

    Parameters
    ----------
    over : cavities whose blocks need none: a course of them alone gets no label.
    """
    made, left = plan_id(plan), _left(plan, over)
    rows = (row for row in course_rows(plan, apart) if (row.part, row.course or 0, row.mark, row.mix) in left)
    return [_label(row, made) for row in sorted(rows, key=lambda row: row.ready)]


def _left(plan: Plan, over: Container[Cavity]) -> set[tuple[str, int, str, str]]:
    """Part, course (0 for none), mark and mix of all blocks but those of some cavities."""
    return {
        (cast.part, cast.course or 0, cast.mark, cast.mix)
        for cast in rows_of(plan.tables.casts)
        if (cast.mould, cast.turn, cast.cavity) not in over
    }


def _label(row: CourseRow, made: str) -> Label:
    needed = (("needed", row.needed),) if row.needed else ()
    code = LabelCode("stack", made, (row.part, str(row.course or ""), row.mark, row.mix))
    blocks = (Blocks(row.count, row.mark, row.part, row.course or 0),)
    batches = tuple(batch for batch, _ in row.apart)
    return Label(
        "stack", row.mark, row.mix, blocks, row.poured, needed, (LAY, row.ready), str(code), (), batches, row.n_apart
    )
