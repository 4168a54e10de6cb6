"""What a dome cannot be: values that are each right and wrong together."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from blockrun.order.domes.profile import along_at_height_mm, along_at_radius_mm

if TYPE_CHECKING:
    from blockrun.order.domes.part import DomeOpening, DomePart

Where = tuple[str | int, ...]
Fault = tuple[Where, str, str]
"""The keys and indexes down to what it is about, what is wrong, and what to do."""

FEWEST_BLOCKS: Final = 8
"""In the ring at the springing (our choice): with fewer, flat faces no longer make a round room."""
LEAST_COURSES: Final = 2
"""Courses that the curve must have room for under its crown (our choice)."""
ROUNDING_MM: Final = 3.0
"""What whole millimetres and tenths of degrees may add to a joint."""
_WIDTH_STEP_MM: Final = {"SI": 10.0, "US": 25.4}
"""What widths that are advised are rounded up to."""
_RISE_STEP_MM: Final = {"SI": 100.0, "US": 152.4}
"""What a rise that is suggested is rounded to."""
_JOINT: Final = {"SI": "10 mm", "US": "3/8 in"}
_EYE: Final = {"SI": "600 mm", "US": "24 in"}
_WIDEST_MM: Final = 100_000.0
"""Of any dome; see `part.DomePart`."""
_STEEPEST: Final = 3.0
"""Most rise to a span of one (our choice)."""


def find_faults(dome: DomePart) -> Iterator[Fault]:
    """Every fault of a dome; those of its openings only once its own shape is sound."""
    found = [*_rise(dome), *_joints(dome), *_lengths(dome)]
    found += _sizes(dome) if not found else _thickness(dome)
    yield from found
    if not found:
        found = [*_chords(dome), *_eye(dome)]
        yield from found
    if not found:
        yield from _openings(dome)


def _sizes(dome: DomePart) -> list[Fault]:
    """What the dome is too small for; where that is more than one size of its block, its width is what is wrong."""
    found = _too_small(dome)
    if len(found) < 2:
        return found
    keys = [str(where[-1]) for where, *_ in found]
    sizes = ", ".join(keys[:-1]) + f" and {keys[-1]}"
    wider = (_as_wide(dome, wide) for wide in _widths(dome.inside_diameter_mm, _WIDTH_STEP_MM[dome.system]))
    good = next((one for one in wider if not _too_small(one) and not _cuts_corners(one)), _as_wide(dome, _WIDEST_MM))
    rise = f" with rise: {dome.said(good.rise_mm)}" if good.rise_mm and dome.profile != "hemisphere" else ""
    todo = f"Write at least {dome.said(good.inside_diameter_mm)}{rise}, or smaller blocks."
    return [(("inside_diameter",), f"the dome is too small for its {sizes}", todo)]


def _as_wide(dome: DomePart, wide_mm: float) -> DomePart:
    """A dome of the same shape, so wide."""
    rise = dome.rise_mm and round(dome.rise_mm * wide_mm / dome.inside_diameter_mm / dome.step_mm) * dome.step_mm
    return _with(dome, inside_diameter_mm=wide_mm, rise_mm=rise)


def _widths(least_mm: float, step_mm: float) -> Iterator[float]:
    """Widths to try, each a twentieth more, in whole steps."""
    wide = least_mm
    while wide < _WIDEST_MM:
        wide = step_mm * (math.floor(1.05 * wide / step_mm) + 1)
        yield wide


def _too_small(dome: DomePart) -> list[Fault]:
    return [*_thickness(dome), *_block(dome), *_course(dome)]


def _with(dome: DomePart, **changes: float | None) -> DomePart:
    """The same dome with another size, sound or not."""
    return type(dome).model_construct(**{**dict(dome), **changes})


def _rise(dome: DomePart) -> Iterator[Fault]:
    rise, radius = dome.rise_mm, dome.radius_mm
    half = dome.said(radius)
    if dome.profile == "hemisphere":
        if rise is not None and abs(rise - radius) > 0.5:
            what = f"a hemisphere of {dome.said(dome.inside_diameter_mm)} rises {half}, not {dome.said(rise)}"
            yield ("rise",), what, "Take rise out, or choose another profile: segment, pointed, ellipse or catenary."
    elif rise is None:
        yield (
            ("profile",),
            f"profile {dome.profile} needs its rise",
            f"Write a line such as rise: {dome.said(_usual_rise(dome))}.",
        )
    elif dome.profile == "pointed" and rise <= radius:
        yield ("rise",), f"a pointed dome rises more than half its width, {half}", "Write more, or profile: segment."
    elif dome.profile == "segment" and rise >= radius:
        yield ("rise",), f"a segment rises less than half its width, {half}", "Write less, or profile: pointed."
    elif not radius / 10 <= rise <= _STEEPEST * radius:
        limits = f"from {dome.said(radius / 10)} to {dome.said(_STEEPEST * radius)}"
        yield ("rise",), f"a rise of {dome.said(rise)} is out of range for this width", f"Write a rise {limits}."


def _usual_rise(dome: DomePart) -> float:
    """A rise to suggest: equal arms for a pointed dome, a low one for a segment, about half the width else."""
    step = _RISE_STEP_MM[dome.system]
    return step * round(dome.radius_mm * {"pointed": math.sqrt(3), "segment": 0.5}.get(dome.profile, 1.1) / step)


def _thickness(dome: DomePart) -> Iterator[Fault]:
    if dome.thickness_mm > dome.radius_mm / 2:
        what = f"the dome is too small for its thickness: half its width is {dome.said(dome.radius_mm)}"
        yield ("thickness",), what, f"Write up to {dome.up_to(dome.radius_mm / 2)}."


def _joints(dome: DomePart) -> Iterator[Fault]:
    for key, side in (("course", dome.course_mm), ("block_length", dome.block_length_mm)):
        if dome.joint_mm >= side:
            yield (
                ("joint",),
                f"the joint is no smaller than the {key}, {dome.said(side)}",
                f"Write a joint such as {_JOINT[dome.system]}.",
            )
            return
    if dome.least_joint_mm > dome.joint_mm:
        yield ("joint_least",), f"the thinnest joint is more than the joint, {dome.said(dome.joint_mm)}", "Write less."
    if dome.most_joint_mm < dome.joint_mm + ROUNDING_MM:
        what = f"the widest joint leaves no room above the joint, {dome.said(dome.joint_mm)}"
        todo = f"Write at least {dome.at_least(dome.joint_mm + ROUNDING_MM)}: blocks are made to whole millimetres."
        yield ("joint_most",), what, todo


def _block(dome: DomePart) -> Iterator[Fault]:
    longest = 2 * (dome.radius_mm + dome.thickness_mm) * math.tan(math.pi / FEWEST_BLOCKS) - dome.joint_mm
    if dome.block_length_mm > longest:
        what = f"the dome is too small for its block: fewer than {FEWEST_BLOCKS} would go round it"
        yield ("block_length",), what, f"Write up to {dome.up_to(longest)}, or a wider dome."


def _lengths(dome: DomePart) -> Iterator[Fault]:
    if dome.shortest_mm > 0.8 * dome.block_length_mm:
        most = dome.up_to(0.8 * dome.block_length_mm)
        yield ("least_length",), "leaves hardly any length to choose below block_length", f"Write up to {most}."
    if 0 < dome.stem_mm < dome.joint_mm + dome.lowest_mm:
        what = f"the stem is lower than a cut course and its joint, {dome.said(dome.joint_mm + dome.lowest_mm)}"
        yield ("stem",), what, f"Write {dome.said(0)} or at least {dome.at_least(dome.joint_mm + dome.lowest_mm)}."


def _course(dome: DomePart) -> Iterator[Fault]:
    if _too_high(dome):
        what = f"the dome is too small for its course: its curve is {dome.said(dome.curve.length_mm)} long"
        yield ("course",), what, f"Write up to {_highest_course(dome)}, or a wider dome."


def _chords(dome: DomePart) -> Iterator[Fault]:
    if _cuts_corners(dome):
        what = "the dome is too small for its course: straight blocks up the curve leave too thin a joint"
        yield ("course",), what, f"Write up to {_highest_course(dome)}, or a wider joint."


def _too_high(dome: DomePart) -> bool:
    return dome.course_mm > dome.curve.length_mm / (LEAST_COURSES + 0.5) - dome.joint_mm


def _cuts_corners(dome: DomePart) -> bool:
    """Whether straight blocks come so much nearer to one another than the curve is long that a joint is too thin."""
    pitch = dome.course_mm + dome.joint_mm
    steps = (dome.curve.at(step * pitch) for step in range(int(dome.curve.length_mm / pitch) + 1))
    return any(
        math.hypot(below.radius_mm - above.radius_mm, below.height_mm - above.height_mm) - dome.course_mm
        < dome.least_joint_mm
        for below, above in itertools.pairwise(steps)
    )


def _highest_course(dome: DomePart) -> str:
    """The highest course, to a hundredth of what is written, that the curve has room for and straight blocks follow."""
    lower = (_with(dome, course_mm=dome.course_mm * (1 - share / 100)) for share in range(1, 100))
    return dome.up_to(
        next((one.course_mm for one in lower if not (_too_high(one) or _cuts_corners(one))), dome.joint_mm)
    )


def _eye(dome: DomePart) -> Iterator[Fault]:
    if (dome.crown == "eye") != (dome.eye_diameter_mm is not None):
        if dome.eye_diameter_mm is None:
            yield ("crown",), "an open eye needs its width", f"Write a line such as eye_diameter: {_EYE[dome.system]}."
        else:
            yield ("eye_diameter",), f"the crown is a {dome.crown}, not an eye", "Write crown: eye, or take this out."
    if dome.eye_diameter_mm is None:
        return
    most = 2 * dome.curve.at(LEAST_COURSES * (dome.course_mm + dome.joint_mm)).radius_mm
    if most < 2 * dome.smallest_mm:
        yield (
            ("inside_diameter",),
            "the dome is too small for an eye",
            "Write a wider dome, or a thinner joint.",
        )
    elif not 2 * dome.smallest_mm <= dome.eye_diameter_mm <= most:
        limits = f"from {dome.at_least(2 * dome.smallest_mm)} to {dome.up_to(most)}"
        yield (
            ("eye_diameter",),
            f"an eye of {dome.said(dome.eye_diameter_mm)} does not fit this dome",
            f"Write {limits}.",
        )


def _openings(dome: DomePart) -> Iterator[Fault]:
    names = [opening.name for opening in dome.openings]
    for index, opening in enumerate(dome.openings):
        if opening.name in names[:index]:
            yield ("openings", index, "name"), f"two openings are called {opening.name}", "Give each its own name."
        for key, what, todo in _outside(dome, opening):
            yield ("openings", index, key), what, todo
    within = [one for one in enumerate(dome.openings) if not list(_outside(dome, one[1]))]
    for (_, one), (index, other) in itertools.combinations(within, 2):
        if (least := _least_apart_rad(dome, one, other)) > _apart_rad(one, other):
            what = f"{one.name} and {other.name} overlap, or leave less than a block between them"
            yield ("openings", index, "name"), what, _moved_apart(math.ceil(math.degrees(least)))
        elif clear := _clear_over_mm(dome, one, other):
            low, high = sorted((one, other), key=lambda opening: opening.sill_mm)
            number = dome.openings.index(high)
            lowest = f"the lowest cut course, {dome.said(dome.lowest_mm)},"
            what = f"less than {lowest} is left between {low.name} and {high.name}"
            todo = f"Write a sill of {high.name} from {dome.at_least(clear)}, or make them one opening."
            yield ("openings", number, "sill"), what, todo


def _moved_apart(least_deg: int) -> str:
    if least_deg > 180:
        return "Make one narrower, or move one over the other."
    return f"Write angles at least {least_deg} deg apart round the dome with at, or make one narrower."


def _outside(dome: DomePart, opening: DomeOpening) -> Iterator[tuple[str, str, str]]:
    """Why an opening is not within the dome, if it is not: its key, what is wrong, what to do."""
    if opening.width_mm >= dome.inside_diameter_mm:
        wide = dome.said(dome.inside_diameter_mm)
        yield "width", f"{opening.name} is wider than the dome, {wide}", f"Write a width well under {wide}."
        return
    over = "is over the shell it goes through"
    highest = _highest_mm(dome, opening.width_mm / 2 + dome.shortest_mm)
    if (rim := _rim_mm(dome)) < highest:
        highest, over = rim, "is over the shell under the last ring, which goes whole round the eye"
    if opening.head_mm > highest:
        what = f"the head of {opening.name}, {dome.said(opening.head_mm)} above the floor, {over}"
        room = highest - opening.sill_mm
        less = [f"a height of up to {dome.up_to(room)}"] * (room >= 1)
        less += ["a lower sill"] * (opening.sill_mm > 0 and opening.height_mm <= highest)
        less += ["a smaller eye" if dome.eye_diameter_mm else "a narrower opening"]
        yield "height", what, f"Write {', '.join(less)} or a higher stem."


def _highest_mm(dome: DomePart, radius_mm: float) -> float:
    """How high above the floor the inside is still this far from the axis."""
    if dome.curve.at(0).radius_mm < radius_mm:
        return 0.0
    return dome.stem_mm + dome.curve.at(along_at_radius_mm(dome.curve, radius_mm)).height_mm


def _rim_mm(dome: DomePart) -> float:
    """How high above the floor the ring round an eye begins, which carries the push of the dome and stays whole."""
    if dome.eye_diameter_mm is None:
        return math.inf
    edge = along_at_radius_mm(dome.curve, dome.eye_diameter_mm / 2)
    return dome.stem_mm + dome.curve.at(edge - dome.course_mm - dome.joint_mm).height_mm


def _apart_rad(one: DomeOpening, other: DomeOpening) -> float:
    """What of the round lies between the middles of two openings, the shorter way."""
    return math.radians(abs((one.at_deg - other.at_deg + 180) % 360 - 180))


def _least_apart_rad(dome: DomePart, one: DomeOpening, other: DomeOpening) -> float:
    """How far apart the middles of two openings leave the shortest block at the highest level that they share."""
    foot, head = max(one.sill_mm, other.sill_mm), min(one.head_mm, other.head_mm)
    if foot >= head:
        return 0.0
    radius = _radius_mm(dome, head)
    return _halves_rad(radius, one, other) + dome.shortest_mm / radius


def _clear_over_mm(dome: DomePart, one: DomeOpening, other: DomeOpening) -> float:
    """Where the higher of two openings over one another may begin, where it begins too low; else nought.

    What is left between them can be laid where it is no lower than a cut course may be.
    """
    low, high = sorted((one, other), key=lambda opening: opening.sill_mm)
    if _apart_rad(low, high) >= _halves_rad(_radius_mm(dome, low.head_mm), low, high):
        return 0.0
    clear = low.head_mm + dome.lowest_mm
    return clear if high.sill_mm < clear - 1e-6 else 0.0


def _radius_mm(dome: DomePart, level_mm: float) -> float:
    """Inside radius at a level above the floor."""
    rise = max(0.0, level_mm - dome.stem_mm)
    return max(1.0, dome.curve.at(along_at_height_mm(dome.curve, rise)).radius_mm)


def _halves_rad(radius_mm: float, *openings: DomeOpening) -> float:
    """Half of what some openings take of the round, added up."""
    return sum(math.asin(min(1.0, opening.width_mm / 2 / radius_mm)) for opening in openings)
