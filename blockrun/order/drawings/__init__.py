"""Walls taken from a drawing: from the lines of a file to walls like those an order spells out.

`part` is what the order says; `dxf` and `dxf_inserts`, or `ifc` with the `solids` of its bodies, read a file into a
`sketch` of outlines and openings in mm.
`strips` finds the centre lines of walls in outlines, `corners` joins those that meet, `legs` makes straight runs of
them and finds walls inside, `overlaps` refuses what would be counted twice; `build` makes walls of an order of it all.
`plane` holds the geometry they share.
"""

from blockrun.order.drawings.part import DrawingPart, DrawnOpening

__all__ = ["DrawingPart", "DrawnOpening"]
