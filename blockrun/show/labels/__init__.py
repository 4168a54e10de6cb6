"""Labels for moulds, racks and stacks, on sheets of any measurements.

`sheet` is the sheet as a file describes it, `turns` and `stacks` say which labels a plan needs, `label` is what stands
on one and in which order it is made shorter, `codes` draws its code, `printed` puts them on the sheets. The line of
text in a code is told in `blockrun.planner.label_code`, where those who read it find it, too.
"""

from blockrun.show.labels.printed import KINDS, labels_on_paper, lacks_said, left_out_said, print_labels
from blockrun.show.labels.sheet import LabelSheet, load_label_sheet

__all__ = ["KINDS", "LabelSheet", "labels_on_paper", "lacks_said", "left_out_said", "load_label_sheet", "print_labels"]
