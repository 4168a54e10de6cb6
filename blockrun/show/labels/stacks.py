"""Labels on the stack: of each course what lies there for it."""

from __future__ import annotations

from collections.abc import Container
from typing import TYPE_CHECKING

from blockrun.planner.label_code import LabelCode, plan_id
from blockrun.show.course_rows import CourseRow, course_rows
from blockrun.show.labels.label import LAY, Blocks, Label

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


def stack_labels(plan: Plan, apart: Container[int] = ()) -> list[Label]:
    """A label for each mark of each course, in the order in which they are ready; spares have theirs, too.

    Parameters
    ----------
    plan : as the audit passes it.
    apart : batches outside their cards, not to be laid.
    """
    made = plan_id(plan)
    return [_label(row, made) for row in sorted(course_rows(plan, apart), key=lambda row: row.ready)]


def _label(row: CourseRow, made: str) -> Label:
    needed = (("needed", row.needed),) if row.needed else ()
    code = LabelCode("stack", made, (row.part, str(row.course or ""), row.mark, row.mix))
    blocks = (Blocks(row.count, row.mark, row.part, row.course or 0),)
    batches = tuple(batch for batch, _ in row.apart)
    return Label(
        "stack", row.mark, row.mix, blocks, row.poured, needed, (LAY, row.ready), str(code), (), batches, row.n_apart
    )
