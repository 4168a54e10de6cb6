"""Small IFC files, written for each test; lengths are told in metres and written in the unit of the project."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

import ifcopenshell
import ifcopenshell.guid

from blockrun.order import Order, load_order
from tests.order.drawings.made import HEAD

KEYS: Final = "    block: 600 x 300 x 200 mm\n    joint: 10 mm\n"
UNITS: Final = {"mm": ("MILLI", 1000.0), "cm": ("CENTI", 100.0), "m": (None, 1.0)}
Plan = list[tuple[float, float]]


def box(left: float, low: float, right: float, high: float) -> Plan:
    return [(left, low), (right, low), (right, high), (left, high)]


class Building:
    """An IFC file in the making."""

    def __init__(self, unit: str = "mm", schema: str = "IFC4") -> None:
        self.file = ifcopenshell.file(schema=schema)
        prefix, self.scale = UNITS[unit]
        self.context = self.file.createIfcGeometricRepresentationContext(None, "Model", 3, 1e-5, self._axes(0.0))
        length = self.file.createIfcSIUnit(None, "LENGTHUNIT", prefix, "METRE")
        assigned = self.file.createIfcUnitAssignment([length])
        self._rooted("IfcProject", "house", RepresentationContexts=[self.context], UnitsInContext=assigned)
        self.storeys: dict[str, Any] = {}

    def wall(
        self, name: str | None, plan: Plan, height: float = 2.5, base: float = 0.0, kind: str = "IfcWall", **more: Any
    ) -> Any:
        """Add a wall, to a storey where that is told."""
        wall = self._rooted(kind, name, **self._body(plan, base, height))
        if "storey" in more:
            name_of_it = more["storey"]
            home = self.storeys.setdefault(name_of_it, None) or self._rooted("IfcBuildingStorey", name_of_it)
            self.storeys[name_of_it] = home
            relation = {"RelatedElements": [wall], "RelatingStructure": home}
            self._rooted("IfcRelContainedInSpatialStructure", None, **relation)
        return wall

    def opening(self, wall: Any, name: str, plan: Plan, sill: float, height: float) -> Any:
        """Add an opening to a wall, drawn through it."""
        opening = self._rooted("IfcOpeningElement", name, **self._body(plan, sill, height))
        self._rooted("IfcRelVoidsElement", None, RelatingBuildingElement=wall, RelatedOpeningElement=opening)
        return opening

    def _rooted(self, kind: str, name: str | None, **more: Any) -> Any:
        return self.file.create_entity(kind, GlobalId=ifcopenshell.guid.new(), Name=name, **more)

    def _axes(self, z: float) -> Any:
        return self.file.createIfcAxis2Placement3D(self.file.createIfcCartesianPoint((0.0, 0.0, z)))

    def _body(self, plan: Plan, base: float, height: float) -> dict[str, Any]:
        corners = [self.file.createIfcCartesianPoint((x * self.scale, y * self.scale)) for x, y in [*plan, plan[0]]]
        profile = self.file.createIfcArbitraryClosedProfileDef("AREA", None, self.file.createIfcPolyline(corners))
        up = self.file.createIfcDirection((0.0, 0.0, 1.0))
        solid = self.file.createIfcExtrudedAreaSolid(profile, self._axes(0.0), up, height * self.scale)
        shape = self.file.createIfcShapeRepresentation(self.context, "Body", "SweptSolid", [solid])
        return {
            "ObjectPlacement": self.file.createIfcLocalPlacement(None, self._axes(base * self.scale)),
            "Representation": self.file.createIfcProductDefinitionShape(None, None, [shape]),
        }


def house(unit: str = "mm", kind: str = "IfcWall") -> Building:
    """Four walls that lap at the corners, 6 m x 4 m, with a door in the south and a window in the north."""
    building = Building(unit)
    south = building.wall("south", box(0, 0, 6, 0.2), kind=kind)
    building.wall("east", box(5.8, 0.2, 6, 4), kind=kind)
    north = building.wall("north", box(0, 3.8, 5.8, 4), kind=kind)
    building.wall("west", box(0, 0.2, 0.2, 3.8), kind=kind)
    building.opening(south, "door", box(1.55, -0.1, 2.45, 0.3), -0.001, 2.101)
    building.opening(north, "window", box(2.4, 3.8, 3.6, 4), 0.8, 1.2)
    return building


def order_of_ifc(folder: Path, building: Building, lines: str = "name: house", keys: str = KEYS) -> Order:
    """An order of one IFC file."""
    building.file.write(str(folder / "house.ifc"))
    told = "".join(f"    {line}\n" for line in lines.splitlines())
    (folder / "order.yaml").write_text(f"{HEAD}  - drawing: house.ifc\n{told}{keys}")
    return load_order(folder / "order.yaml")
