"""Small drawings, written for each test, and orders that name them."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

import ezdxf
from ezdxf.document import Drawing

from blockrun.order import Order, WallPart, load_order, takeoff

HEAD = """\
order: House
mixes:
  - {name: wall, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.50}
parts:
"""
KEYS = """\
    height: 2.5 m
    block: 600 x 300 x 200 mm
    joint: 10 mm
"""
NAMED = "layer: walls\nname: house"
MM = 4
Corners = Sequence[tuple[float, float]]


def rectangle(left: float, low: float, right: float, high: float) -> Corners:
    return [(left, low), (right, low), (right, high), (left, high)]


OUTSIDE = rectangle(0, 0, 6000, 4000)
INSIDE = rectangle(200, 200, 5800, 3800)
OUTLINE = """\
    outline:
      - {run: run 1, length: 6 m}
      - {run: run 2, length: 4 m}
      - {run: run 3, length: 6 m}
      - {run: run 4, length: 4 m}
"""
"""What the house above is, spelled out."""


def new_drawing(*walls: Corners, unit: int = MM) -> Drawing:
    """A drawing with walls on its layer ``walls``, each a closed polyline."""
    drawing = ezdxf.new(units=unit)
    for corners in walls:
        add_wall(drawing, corners)
    return drawing


def add_wall(
    drawing: Drawing, corners: Corners, *, close: bool = True, width: float = 0.0, layer: str = "walls"
) -> str:
    """Draw a polyline; gives its handle."""
    style = {"layer": layer, "const_width": width}
    return str(drawing.modelspace().add_lwpolyline(corners, close=close, dxfattribs=style).dxf.handle)


def add_opening(drawing: Drawing, name: str, at: tuple[float, float], turned: float = 0.0, **measures: str) -> str:
    """Insert a block with attributes; gives its handle."""
    if name not in drawing.blocks:
        drawing.blocks.new(name)
    insert = drawing.modelspace().add_blockref(name, at, {"layer": "doors", "rotation": turned})
    for tag, text in measures.items():
        insert.add_attrib(tag, text)
    return str(insert.dxf.handle)


def order_of(folder: Path, drawing: Drawing, lines: str = NAMED, keys: str = KEYS) -> Order:
    """An order of one drawing, with lines in its part beside the usual ones."""
    drawing.saveas(folder / "house.dxf")
    told = "".join(f"    {line}\n" for line in lines.splitlines())
    (folder / "order.yaml").write_text(f"{HEAD}  - drawing: house.dxf\n{told}{keys}")
    return load_order(folder / "order.yaml")


def spelled_out(folder: Path, lines: str, keys: str = KEYS) -> Order:
    """An order of one wall called house, with these lines."""
    (folder / "written.yaml").write_text(f"{HEAD}  - wall: house\n{lines}{keys}")
    return load_order(folder / "written.yaml")


def walls_of(order: Order) -> list[WallPart]:
    assert all(isinstance(part, WallPart) for part in order.parts)
    return [part for part in order.parts if isinstance(part, WallPart)]


def same_blocks(one: Order, other: Order) -> bool:
    return takeoff(one) == takeoff(other)
