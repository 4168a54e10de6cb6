"""Elevations of the runs of a wall, every block with its name, for the people who lay it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from blockrun.order.laid import Laid
from blockrun.order.walls import Face, WallLayout
from blockrun.show.pictures import wall_dimensions
from blockrun.show.pictures.paper import WIDTH_MM, points, render, unit
from blockrun.show.pictures.strips import FOOT, LEFT, RIGHT, UNDER, Strip, Window, peak_of, strips_of, windows
from blockrun.show.pictures.wall_blocks import drawn_blocks
from blockrun.show.pictures.wall_legend import legend
from blockrun.show.pictures.wall_names import WallNames
from blockrun.units import counted


def wall_pictures(layout: WallLayout, face: Face, names: WallNames, title: str, *, units: str) -> list[str]:
    """SVG of one face of a wall, on several sheets where its marks would be too small to read on one.

    Returns
    -------
    Sheets that print at their scale on A4 and on Letter; a long run goes on in strips below one another.
    """
    blocks = [block for block in layout.blocks if block.face == face.number]
    shown = windows(face, blocks)
    of = [f", sheet {n} of {len(shown)}" if len(shown) > 1 else "" for n in range(1, len(shown) + 1)]
    return [_sheet(face, blocks, names, title + sheet, units, window) for sheet, window in zip(of, shown, strict=True)]


def _sheet(face: Face, everything: Sequence[Laid], names: WallNames, title: str, units: str, window: Window) -> str:
    """A sheet with what of a face lies in a window of it."""
    peak = peak_of(face, everything)
    strips = strips_of(window, peak)
    blocks = [block for block in everything if any(strip.shows(block.corners) for strip in strips)]
    foot = max(strip.floor for strip in strips) + UNDER
    drawn = [_drawn(strip, face, blocks, names, peak, units) for strip in strips]
    short = {mark for one in drawn for mark in one["short"]}
    hidden = any(one["hidden"] for one in drawn)
    n_courses = len({block.course for block in blocks})
    many = f"{counted(len(blocks), 'block')} in {counted(n_courses, 'course')}"
    return render(
        "wall.svg.jinja",
        title=title,
        said=f"{many}, seen {face.side}, drawn 1:{strips[0].scale}, lengths in {unit(units)}",
        width=WIDTH_MM,
        height=foot + FOOT,
        margin=LEFT,
        strips=drawn,
        legend=legend(blocks, face, hidden, short, names, foot),
        bar=_bar(strips[0].scale, foot, units),
        unit=unit(units),
    )


def _drawn(
    strip: Strip, face: Face, blocks: Sequence[Laid], names: WallNames, peak: float, units: str
) -> dict[str, Any]:
    """All that the template draws of one strip."""
    shown = [block for block in blocks if strip.shows(block.corners)]
    drawn, short = drawn_blocks(strip, shown, names, units)
    top = strip.y(peak)
    return {
        "left": strip.x(strip.left_mm),
        "right": strip.x(strip.right_mm),
        "top": top,
        "floor": strip.floor,
        "blocks": drawn,
        "short": short,
        "returns": [points(strip.shape(corners)) for _, corners in face.returns if strip.shows(corners)],
        "mortar": [points(strip.shape(corners)) for corners in face.mortar if strip.shows(corners)],
        "lintels": [points(strip.shape(corners)) for corners in face.lintels if strip.shows(corners)],
        "laps": [(strip.x(along), strip.y(up)) for along, up in face.short_overlaps if strip.shows([(along, up)])],
        "hidden": wall_dimensions.hidden(strip, face),
        "openings": list(wall_dimensions.openings(strip, face, units)),
        "courses": wall_dimensions.courses(strip, shown, units),
        "chain": list(wall_dimensions.chain(strip, face, units)),
        "behind": list(wall_dimensions.behind(strip, face)),
        "length": wall_dimensions.length(face, units),
        "heights": list(wall_dimensions.heights(strip, face, peak, units)),
    }


def _bar(scale: int, foot: float, units: str) -> dict[str, Any]:
    """A scale bar of whole metres or feet, 20 to 60 mm long on paper."""
    step = 1000.0 if units == "SI" else 304.8
    whole = next(n for n in (0.2, 0.5, 1, 2, 5, 10, 20, 50, 100) if n * step / scale >= 18)
    name = "m" if units == "SI" else "ft"
    length = whole * step / scale
    return {"x": WIDTH_MM - RIGHT - length, "y": foot, "length": length, "text": f"{whole:g} {name}, 1:{scale}"}
