"""Course sheets of a dome: for each ring what its layers and its sawyer need, on half a sheet for the scaffold."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from itertools import groupby
from typing import TYPE_CHECKING, Any, Final

from blockrun.files.day_names import day_name
from blockrun.order import DomePart
from blockrun.order.domes import DomeLayout, Ring, Way
from blockrun.order.domes.cautions import on_cards
from blockrun.order.parts import layout_of, marks_of
from blockrun.show.cautions import SHORT
from blockrun.show.course_rows import CourseRow, course_rows
from blockrun.show.paper.dome_pieces import dome_pieces
from blockrun.show.paper.dome_round import names_of_blocks, round_the_ring
from blockrun.show.paper.picture import picture_sheets
from blockrun.show.paper.press import Sheet
from blockrun.show.tape import on_tape, size_on_tape, tape_unit
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from blockrun.show.paper.asked import Asked

_HOLD_CROWN: Final = "Hold or prop it until its joints have set; keep out from under it."
_LEVEL_DEG: Final = 0.05
"""An arm no further from level than this is level."""


def dome_courses(asked: Asked) -> Iterator[Sheet]:
    """For each dome its pictures and notes, then a card for each course in the order of laying, and for its crown."""
    plan, moulds = asked.plan, asked.plan.site.moulds
    marks, rows = marks_of(plan.order, moulds), course_rows(plan, asked.apart)
    for part in plan.order.parts:
        if isinstance(part, DomePart):
            layout = layout_of(part, moulds)
            assert isinstance(layout, DomeLayout)
            yield from picture_sheets(part, moulds, marks, asked.units, but="setting out")
            yield Sheet(
                "dome_notes",
                {"title": f"Dome {part.name}: what to know", "notes": list(layout.notes), "cautions": SHORT},
            )
            names = names_of_blocks(dome_pieces(part, moulds, marks))
            of_dome = [row for row in rows if row.part == part.name]
            cards = _Cards(part, layout, names, asked.units)
            yield Sheet("dome_courses", {"cards": list(cards.all(of_dome)), "cautions": SHORT})


class _Cards:
    """Cards of one dome."""

    def __init__(self, part: DomePart, layout: DomeLayout, names: Mapping[int, str], units: str) -> None:
        self.part, self.layout, self.names, self.units = part, layout, names, units
        self.cautions = on_cards(part, layout.courses)

    def all(self, rows: Sequence[CourseRow]) -> Iterator[dict[str, Any]]:
        """From the bottom course to what closes the dome."""
        for ring in self.layout.courses:
            yield self._head(ring.course, rows) | self._ring(ring)
        yield self._head(len(self.layout.courses) + 1, rows) | self._crown()

    def _head(self, course: int, rows: Sequence[CourseRow]) -> dict[str, Any]:
        """When all blocks of a course are ready, and when they are needed."""
        mine = [row for row in rows if row.course == course]
        needed = min((row.needed for row in mine if row.needed), default=None)
        late = max((row.days_late for row in mine), default=0)
        return {
            "dome": self.part.name,
            "of": len(self.layout.courses) + (self.part.crown == "block"),
            "marks": listed([f"{sum(row.count for row in same)} {mark}" for mark, same in _by_mark(mine)]),
            "needed": day_name(needed) if needed else "",
            "ready": day_name(max(row.ready for row in mine)) if mine else "",
            "late": "; ".join(filter(None, (f"LATE {counted(late, 'day')}" if late else "", *_not_to_lay(mine)))),
            "pivot": f"Pivot of the arm: on the axis, {self._height(self.layout.pivot_mm)}.",
        }

    def _ring(self, ring: Ring) -> dict[str, Any]:
        return {
            "course": str(ring.course),
            "arm": self._length(ring.arm_mm),
            "angle": _angle(ring),
            "lean": f"{ring.lean_deg:.1f} deg",
            "full": f"{ring.count} in a full ring" if ring.laid != ring.count else "",
            "facts": list(self._facts(ring)),
            "edges": [*map(self._length, ring.edges), self._length(ring.height_mm)],
            "lengths": list(ring.edges),
            "round": [
                {"name": name, "count": count, "opening": is_opening}
                for count, name, is_opening in round_the_ring(self.part, self.layout, ring, self.names)
            ],
            "begin": f"First joint {ring.begin_deg:.1f} deg anti-clockwise from {self.part.line_of_angles}: "
            f"{self._length(math.radians(ring.begin_deg) * ring.inside_radius_mm)} round the bottom edge, inside.",
            "closing": self._closing(ring),
            "cautions": list(self.cautions[ring.course]),
        }

    def _facts(self, ring: Ring) -> Iterator[tuple[str, str]]:
        yield ("saw to" if ring.setting.way is Way.SAWN else "mould"), self._set(ring)
        yield "radius, inside", self._length(ring.inside_radius_mm)
        yield "radius, outside", self._length(ring.outside_radius_mm)
        if ring.is_arm_long:
            yield "top edge, inside", self._height(self.layout.pivot_mm + ring.tip_mm)
        yield "head joints", self._span(*ring.head_joint_mm)
        inside, outside = ring.bed_joint_mm
        yield "bed below", f"{self._length(inside)} inside, {self._length(outside)} outside"

    def _set(self, ring: Ring) -> str:
        """Angles of the saw or of the mould, those that are not nought."""
        ends = ("deg through the thickness", "deg up the face", "deg of the beds")
        said = [f"{angle:.1f} {what}" for angle, what in zip(ring.setting.set_deg, ends, strict=True) if angle]
        return "; ".join(said) or "square, as it is cast"

    def _closing(self, ring: Ring) -> str:
        if not ring.closing:
            return ""
        bottom, top, inside_bottom, inside_top = map(self._length, ring.closing)
        return (
            f"Closing piece, from {math.degrees(ring.joints_rad[-1]) % 360:.1f} deg on: outside {bottom} at the bottom,"
            f" {top} at the top; inside {inside_bottom} and {inside_top}."
        )

    def _crown(self) -> dict[str, Any]:
        """What closes the dome: a block, a plug cast in place, or an eye that stays open."""
        crown, rise_mm = self.layout.crown, self.layout.crown.floor_mm - self.layout.pivot_mm
        across = [self._length(2 * radius) for radius in (crown.outside_radius_mm, crown.inside_radius_mm)]
        last = len(self.layout.courses)
        name = self.names.get(len(self.layout.spots), "")
        said = {
            "block": f"Crown block {name}, sawn round: {across[0]} across outside, {across[1]} inside.",
            "ring": f"Plug, cast in place: {across[0]} across outside, {across[1]} inside.",
            "eye": f"The eye stays open: {across[0]} across outside, {across[1]} inside.",
        }
        return {
            "course": str(last + 1) if self.part.crown == "block" else "crown",
            "arm": self._length(abs(rise_mm)),
            "angle": "straight up" if rise_mm >= 0 else "straight down",
            "lean": "90.0 deg",
            "full": "",
            "facts": [],
            "edges": [],
            "lengths": [],
            "round": [],
            "begin": said[self.part.crown],
            "closing": "",
            "cautions": [] if self.part.crown == "eye" else [_HOLD_CROWN],
        }

    def _height(self, level_mm: float) -> str:
        where = "above" if level_mm > 0 else "under"
        return f"{self._length(abs(level_mm))} {where} the floor" if level_mm else "at the floor"

    def _span(self, least_mm: float, most_mm: float) -> str:
        low, high = on_tape(least_mm, self.units), self._length(most_mm)
        return high if f"{low} {tape_unit(self.units)}" == high else f"{low} to {high}"

    def _length(self, length_mm: float) -> str:
        return size_on_tape(self.units, length_mm)


def _not_to_lay(rows: Sequence[CourseRow]) -> Iterator[str]:
    """``DO NOT LAY 5 of batch 12, B3``."""
    yield from (f"{row.not_to_lay}, {row.mark}" for row in rows if row.apart)


def _by_mark(rows: Sequence[CourseRow]) -> Iterator[tuple[str, list[CourseRow]]]:
    for mark, same in groupby(rows, key=lambda row: row.mark):
        yield mark, list(same)


def _angle(ring: Ring) -> str:
    """Of the arm, as a level with an angle shows it."""
    if abs(ring.arm_deg) < _LEVEL_DEG:
        return "level"
    return f"{ring.arm_angle.removeprefix('-')} deg {'up' if ring.arm_deg > 0 else 'down'}"
