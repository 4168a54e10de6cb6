"""Walls into blocks: from the keys of an order file to every block in its place.

`part` is what the file says and `refuse` what it cannot say; `runs` resolves it into straight runs with their ends,
`heights` into courses, `openings` into holes that meet the courses, `tops` into the line a run ends at; `bond` lays
one stretch of one course, `course` a whole course of a run, `layout` all of them.
"""

from blockrun.order.walls.layout import Face, WallLayout, lay_wall
from blockrun.order.walls.part import InnerWall, Opening, Pier, Run, Top, WallPart

__all__ = ["Face", "InnerWall", "Opening", "Pier", "Run", "Top", "WallLayout", "WallPart", "lay_wall"]
