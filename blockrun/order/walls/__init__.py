"""Walls into blocks: from the keys of an order file to every block in its place.

`part` is what the file says and `refuse`, with `refuse_openings` and `refuse_outline`, what it cannot say
(`from_above` has the outline as a plan, `faults` the place of a fault); `runs` resolves it into straight runs with
their ends, `heights` into courses, `openings` into holes that meet the courses, `tops` into the line a run ends at,
`headers` bonds piers into it; `bond` lays one stretch of one course, `course` a whole course of a run, `alike` makes
lengths that are nearly the same one, `cut` says how blocks are sawn, `layout` lays all of them and `piers`, and tries
openings a little beside, where `jambs` finds the bond; `notes`, `opening_notes` and `pier_notes` say what was `found`
in that and `sense` what may not be meant, and a `face` has what a picture shows beside blocks.
"""

from blockrun.order.walls.face import Face
from blockrun.order.walls.layout import WallLayout, lay_wall
from blockrun.order.walls.part import InnerWall, Opening, Pier, Run, Top, WallPart

__all__ = ["Face", "InnerWall", "Opening", "Pier", "Run", "Top", "WallLayout", "WallPart", "lay_wall"]
