"""Walls of an order from the runs and openings of a drawing."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from typing import Any, Final

from pydantic import ValidationError

from blockrun.errors import BadInput
from blockrun.order.drawings.corners import join
from blockrun.order.drawings.legs import Building, Leg, find_buildings
from blockrun.order.drawings.overlaps import refuse_doubled, refuse_overlaps
from blockrun.order.drawings.plane import CLOSE_MM, turn_deg
from blockrun.order.drawings.sketch import Hole, Sketch
from blockrun.order.drawings.strips import find_chains
from blockrun.order.walls import InnerWall, Opening, Run, WallPart

_GRAIN: Final = 2
_SQUARE_DEG: Final = 0.05
_OF_THE_ORDER: Final = {"height", "block", "joint", "joint_give", "overlap", "least_length", "ring_beams", "bearing"}
Openings = Mapping[Leg, tuple[Opening, ...]]


def build_walls(sketches: Sequence[Sketch], name: str, keys: Mapping[str, Any]) -> tuple[WallPart, ...]:
    """The walls of sketches.

    Parameters
    ----------
    name : of the only wall; of several, each has a number after it, from the lowest on the plan.
    keys : of every wall: how it is laid, and its height where that is not the one drawn.

    Raises
    ------
    BadInput : with every fault; its name is a key of the order, ``drawing`` for what only the drawing can mend.
    """
    thickness: float = keys["block"][2]
    found = [(sketch, _buildings(sketch, thickness)) for sketch in sketches]
    n_walls, numbers = sum(len(buildings) for _, buildings in found), itertools.count(1)
    walls: list[WallPart] = []
    faults: list[BadInput] = []
    for sketch, buildings in found:
        openings = _openings(sketch.holes, buildings, thickness)
        for building, number in zip(buildings, numbers, strict=False):
            called = name if n_walls == 1 else f"{name} {number}"
            try:
                walls.append(
                    WallPart(name=called, **{"height_mm": sketch.height_mm, **keys}, **_shape(building, openings))
                )
            except ValidationError as error:
                faults.extend(_faults(error, building.labels))
    if faults:
        raise BadInput.of({(fault.what, fault.name): fault for fault in faults}.values())
    return tuple(walls)


def _buildings(sketch: Sketch, thickness: float) -> list[Building]:
    refuse_doubled(sketch.outlines)
    buildings = find_buildings(join(find_chains(sketch.outlines, thickness), thickness), thickness)
    refuse_overlaps(buildings, thickness)
    return buildings


def _shape(building: Building, openings: Openings) -> dict[str, Any]:
    """What a wall says of its plan."""
    first = building.legs[0]
    if len(building.legs) == 1:
        return {"length_mm": _rounded(first.length_mm), "openings": openings.get(first, ())}
    afters = [*building.legs[1:], building.legs[0] if building.closed else None]
    runs = [_run(leg, after, openings.get(leg, ())) for leg, after in zip(building.legs, afters, strict=True)]
    return {"outline": tuple(runs), "closed": building.closed, "inner_walls": tuple(_inner(building, openings))}


def _run(leg: Leg, after: Leg | None, openings: tuple[Opening, ...]) -> Run:
    turn = turn_deg(leg.way, after.way) if after else 90.0
    angle = 180 - abs(turn)
    return Run(
        name=leg.name,
        length_mm=_rounded(leg.length_mm),
        corner="outside" if turn > 0 else "inside",
        angle_deg=90.0 if abs(angle - 90) < _SQUARE_DEG else round(angle, 3),
        openings=openings,
    )


def _inner(building: Building, openings: Openings) -> Iterator[InnerWall]:
    for tee in building.tees:
        to, to_at = tee.end or (None, None)
        yield InnerWall(
            name=tee.leg.name,
            from_run=tee.start[0],
            at_mm=_rounded(tee.start[1]),
            length_mm=_rounded(tee.leg.length_mm),
            to=to,
            to_at_mm=None if to_at is None else _rounded(to_at),
            openings=openings.get(tee.leg, ()),
        )


def _openings(holes: Sequence[Hole], buildings: Sequence[Building], thickness: float) -> dict[Leg, tuple[Opening, ...]]:
    """The openings of each run."""
    found: dict[Leg, list[Opening]] = {}
    faults: list[BadInput] = []
    legs = list(itertools.chain.from_iterable(building.every_leg for building in buildings))
    for hole in sorted(holes, key=lambda hole: (hole.at[1], hole.at[0])):
        leg = _leg_of(hole, legs, thickness)
        if leg is None:
            faults.append(_homeless(hole, "lies in no wall", "Move it onto a wall"))
        elif (start := _start(hole, leg)) < 0 or start + hole.width_mm > leg.length_mm:
            faults.append(_homeless(hole, "goes beyond the end of its wall", "Move it, or make it narrower"))
        else:
            others = found.setdefault(leg, [])
            others.append(_opening(hole, start, others))
    if faults:
        raise BadInput.of(faults)
    return {leg: tuple(openings) for leg, openings in found.items()}


def _leg_of(hole: Hole, legs: Sequence[Leg], thickness: float) -> Leg | None:
    """The run an opening is in; at a corner, the one with room for it."""

    def is_in(leg: Leg) -> bool:
        along, behind = leg.place(hole.at)
        return -CLOSE_MM <= along <= leg.length_mm + CLOSE_MM and -CLOSE_MM <= behind <= thickness + CLOSE_MM

    def fits(leg: Leg) -> bool:
        return 0 <= _start(hole, leg) <= leg.length_mm - hole.width_mm

    return max(filter(is_in, legs), key=fits, default=None)


def _start(hole: Hole, leg: Leg) -> float:
    """From the start of a run to the near jamb of an opening."""
    places = [leg.place(point)[0] for point in hole.drawn]
    return _rounded((min(places) + max(places)) / 2 - hole.width_mm / 2)


def _opening(hole: Hole, start: float, others: Sequence[Opening]) -> Opening:
    """An opening of a run; of several alike in it, all but the first are numbered."""
    n_alike = sum(opening.name.partition(" no ")[0] == hole.name for opening in others)
    return Opening(
        name=f"{hole.name} no {n_alike + 1}" if n_alike else hole.name,
        from_mm=start,
        sill_mm=_rounded(hole.sill_mm),
        width_mm=_rounded(hole.width_mm),
        height_mm=_rounded(hole.height_mm),
    )


def _homeless(hole: Hole, what: str, todo: str) -> BadInput:
    return BadInput(f"{hole.label} {what}", f"{todo} in the drawing, or take it out.", name="drawing")


def _rounded(length_mm: float) -> float:
    return round(length_mm, _GRAIN)


def _faults(error: ValidationError, label: str) -> Iterator[BadInput]:
    """What a wall cannot be, in words of its drawing; what a key of the order can mend keeps its key."""
    for details in error.errors(include_url=False):
        fault = details.get("ctx", {}).get("error")
        assert isinstance(fault, BadInput), details
        yield from (_in_drawing(one, label, details["loc"]) for one in fault.all())


def _in_drawing(fault: BadInput, label: str, where: tuple[int | str, ...]) -> BadInput:
    if fault.name in _OF_THE_ORDER and not fault.within:
        return BadInput(fault.what, fault.todo, name=fault.name)
    what = fault.what if fault.name else f"{str(where[-1]).rpartition('_')[0] or where[-1]}: {fault.what}"
    return BadInput(f"{label}: {what}", "Mend it in the drawing, and look at its unit.", name="drawing")
