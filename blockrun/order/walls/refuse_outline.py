"""What an outline and the walls inside it cannot be."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Final

from blockrun import units
from blockrun.errors import BadInput
from blockrun.order.walls.faults import Within, fault_at
from blockrun.order.walls.from_above import Body, bodies_of, corners_of, inner_body, overlap, turned
from blockrun.order.walls.runs import resolve

if TYPE_CHECKING:
    from blockrun.order.walls.part import InnerWall, WallPart

CLOSES_MM: Final = 5.0
"""How far from its start a closed outline may end: sketches are drawn to the centimetre (our choice)."""


def outline_faults(wall: WallPart) -> Iterator[BadInput]:
    """What is wrong with the runs of an outline, and whether it closes."""
    if not wall.outline:
        return
    if wall.closed and len(wall.outline) < 3:
        yield fault_at((), "outline", "a closed outline has at least three runs", "Write closed: false, or more runs.")
        return
    for index, (run, (first, last)) in enumerate(zip(wall.outline, _corners_take(wall), strict=True)):
        least = first + last + wall.least_mm
        if run.length_mm < least:
            what = f"{run.name} is too short to have a corner at each end"
            yield fault_at(("outline", index), "length", what, f"Write at least {wall.said(least)}.")
    if wall.closed:
        yield from _closes(wall)


def _corners_take(wall: WallPart) -> list[tuple[float, float]]:
    """How much of each run the corners at its start and its end take from its shorter face, at least a square one."""
    square = wall.block[2] + wall.joint_mm
    return [
        (
            max(square, run.start.at_mm + run.start.takes_mm),
            max(square, run.length_mm - run.end.at_mm + run.end.takes_mm),
        )
        for run in resolve(wall)[: len(wall.outline)]
    ]


def _closes(wall: WallPart) -> Iterator[BadInput]:
    gap, turn = abs(corners_of(wall)[-1]), turned(wall)
    if abs(turn - 360) > 0.1:
        what = f"the corners of the outline turn {units.show_angle(turn)} in all, and once round is 360 deg"
        yield fault_at((), "outline", what, "Walk round the building anti-clockwise; mend a corner or an angle.")
    elif gap > CLOSES_MM:
        what = f"the outline ends {wall.said(gap)} from where it starts"
        yield fault_at((), "outline", what, "Correct the length of a run, or write closed: false.")


def inner_faults(wall: WallPart) -> Iterator[BadInput]:
    """What is wrong with where inner walls begin and end, and once that is sound, with what lies between."""
    faults = [*_hosts(wall)]
    yield from faults or _lengths(wall)


def _hosts(wall: WallPart) -> Iterator[BadInput]:
    runs = {run.name: run for run in wall.outline}
    for index, inner in enumerate(wall.inner_walls):
        for key, place, host, at in (
            ("from", "at", inner.from_run, inner.at_mm),
            ("to", "to_at", inner.to, inner.to_at_mm),
        ):
            here = ("inner_walls", index)
            if host is None:
                continue
            if host not in runs:
                yield fault_at(here, key, f"there is no run {host}", f"Write one of {', '.join(runs)}.")
            elif at is None:
                yield fault_at(here, key, f"where on {host} it ends is missing", f"Write {place}, a length.")
            else:
                yield from _meets(wall, inner, here, place, host, at)


def _meets(wall: WallPart, inner: InnerWall, here: Within, key: str, host: str, at: float) -> Iterator[BadInput]:
    number = next(number for number, run in enumerate(wall.outline) if run.name == host)
    run, (first, last) = wall.outline[number], _corners_take(wall)[number]
    clear, far = wall.block[2] + wall.joint_mm, at + wall.block[2]
    low, high = first + wall.least_mm, run.length_mm - last - wall.least_mm - wall.block[2]
    if not low <= at <= high:
        beyond = (
            f"beyond its end, at {wall.said(run.length_mm)}" if far > run.length_mm else "too near its end to be bonded"
        )
        what = f"{inner.name} meets {host} {beyond}"
        yield fault_at(here, key, what, f"Write from {wall.said(low)} to {wall.said(high)}.")
    for other in wall.inner_walls[: wall.inner_walls.index(inner)]:
        for name, place in ((other.from_run, other.at_mm), (other.to, other.to_at_mm)):
            if name == host and place is not None and abs(place - at) < clear + wall.joint_mm + wall.least_mm:
                what = f"{inner.name} and {other.name} meet {host} too near to each other to be bonded"
                yield fault_at(here, key, what, "Move one of them.")
    for opening in run.openings:
        if opening.from_mm < far + wall.joint_mm and at - wall.joint_mm < opening.to_mm:
            what = f"{inner.name} meets {host} within a joint of its opening {opening.name}"
            before, after = opening.from_mm - clear, opening.to_mm + wall.joint_mm
            todo = f"Write up to {wall.said(before)}, or from {wall.said(after)} on."
            yield fault_at(here, key, what, todo)


def _lengths(wall: WallPart) -> Iterator[BadInput]:
    """Inner walls that end elsewhere than is written, run through the outline, or cross."""
    runs, solids = bodies_of(wall), _solids(wall)
    inner = [(one, inner_body(wall, one, runs[one.from_run])) for one in wall.inner_walls]
    for index, (one, body) in enumerate(inner):
        here = ("inner_walls", index)
        others = {name: solid for name, solid in solids.items() if name != one.from_run}
        through = [name for name, solid in others.items() if overlap(_built(wall, one, body, name), solid, CLOSES_MM)]
        if one.to is not None and abs(runs[one.to].along * 1j + body.along) > 1e-3:
            todo = "Take to out, so that it has a free end, or let it end at the run opposite."
            yield fault_at(here, "to", f"{one.name} does not meet {one.to} square", todo)
        elif through:
            what = f"{one.name} ends within {' and '.join(through)}, or less than a joint from it"
            yield fault_at(here, "length", what, _clear_length(wall, one, body, others))
        elif one.to is not None:
            yield from _ends_at(wall, one, here, body, runs[one.to])
        for other, crossed in inner[:index]:
            if overlap(body, crossed, CLOSES_MM):
                todo = "End one of them beside the other; what is beyond is a wall of its own from the other side."
                yield fault_at(here, "length", f"{one.name} and {other.name} cross", todo)


def _solids(wall: WallPart) -> dict[str, Body]:
    """The body of each run, with what of it goes on behind its neighbours past inside corners."""
    runs = resolve(wall)[: len(wall.outline)]
    bodies = bodies_of(wall)
    return {
        run.name: bodies[run.name].longer(max(0.0, -run.start.at_mm), max(0.0, run.end.at_mm - run.length_mm))
        for run in runs
    }


def _built(wall: WallPart, inner: InnerWall, body: Body, beside: str) -> Body:
    """What of an inner wall must be clear of a run: its ends that are built in too, and a joint after a free one."""
    if inner.to is None:
        return body.longer(wall.block[2], wall.joint_mm + CLOSES_MM)
    return body.longer(wall.block[2], 0.0 if beside == inner.to else wall.block[2])


def _clear_length(wall: WallPart, inner: InnerWall, body: Body, others: Mapping[str, Body]) -> str:
    """The longest length, in whole steps, that keeps an inner wall clear of other runs (bisection)."""
    low, high = 0.0, inner.length_mm
    while high - low > wall.step_mm / 100:
        middle = (low + high) / 2
        shorter = body.longer(0.0, middle - inner.length_mm)
        clear = not any(overlap(_built(wall, inner, shorter, name), one, CLOSES_MM) for name, one in others.items())
        low, high = (middle, high) if clear else (low, middle)
    longest = math.floor(high / wall.step_mm) * wall.step_mm
    if longest < wall.least_mm:
        return f"Let it start elsewhere along {inner.from_run}."
    bonded = "" if inner.to else ", or where it is to be bonded into a run, to and to_at"
    return f"Write a length clear of the walls it meets, up to {wall.said(longest)}{bonded}."


def _ends_at(wall: WallPart, inner: InnerWall, here: Within, body: Body, run: Body) -> Iterator[BadInput]:
    """Whether an inner wall ends at the inside of the run it is said to end at, and where that says."""
    ends = [run.seen_from(corner) for corner in body.corners[2:]]
    short, at = ends[0].imag - wall.block[2], min(end.real for end in ends)
    if short > CLOSES_MM:
        what = f"{inner.name} ends {wall.said(short)} short of {inner.to}"
        yield fault_at(here, "length", what, f"Write length: {wall.said(inner.length_mm + short)}.")
    elif abs(at - (inner.to_at_mm or 0.0)) > CLOSES_MM:
        what = f"{inner.name} meets {inner.to} {wall.said(at)} from its start, not {wall.said(inner.to_at_mm or 0.0)}"
        yield fault_at(here, "to_at", what, f"Write to_at: {wall.said(at)}.")
