"""Labels on the stack: of each course what lies there for it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from blockrun.planner.label_code import LabelCode, plan_id
from blockrun.show.course_rows import CourseRow, course_rows
from blockrun.show.labels.label import LAY, Blocks, Label

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan


def stack_labels(plan: Plan) -> list[Label]:
    """A label for each mark of each course, in the order in which they are ready; spares have theirs, too."""
    made = plan_id(plan)
    return [_label(row, made) for row in sorted(course_rows(plan), key=lambda row: row.ready)]


def _label(row: CourseRow, made: str) -> Label:
    needed = (("needed", row.needed),) if row.needed else ()
    code = LabelCode("stack", made, (row.part, str(row.course or ""), row.mark, row.mix))
    blocks = (Blocks(row.count, row.mark, row.part, row.course or 0),)
    return Label("stack", row.mark, row.mix, blocks, row.poured, needed, (LAY, row.ready), str(code))
