"""The chart of foam weights and wet densities as a picture: each value above, the steps between them below."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.show.pictures.paper import WIDTH_MM, points, render

if TYPE_CHECKING:
    from blockrun.show.chart import Charted

LEFT: Final = 24.0
RIGHT: Final = WIDTH_MM - 4.0
TOP: Final = 13.0
VALUES_MM: Final = 46.0
STEPS_MM: Final = 20.0
BETWEEN_MM: Final = 5.0
PANEL_MM: Final = 84.0
LEGEND_MM: Final = 4.0
NAMED: Final = 30
"""Batches that are named below a plot at the most."""
_EDGE_MM: Final = 3.0


@dataclass(frozen=True)
class Mark:
    """A point: where, whether a signal is of it, and what it says when pointed at."""

    x: float
    y: float
    flagged: bool
    title: str


@dataclass(frozen=True)
class Level:
    """A line across a plot, its words beside it."""

    y: float
    words: str
    dashed: bool


@dataclass(frozen=True)
class Plot:
    """Points over batches, with their limits."""

    title: str
    top: float
    bottom: float
    levels: tuple[Level, ...]
    line: str
    marks: tuple[Mark, ...]


def chart_picture(each: Sequence[Charted], rules: str) -> str:
    """Draw charts one below the other; two fill a sheet that A4 and Letter both hold on their side.

    Parameters
    ----------
    each : one or two charts.
    rules : what counts as a signal, in words.

    Returns
    -------
    SVG.
    """
    plots: list[Plot] = []
    names: list[tuple[float, float, str]] = []
    for number, charted in enumerate(each):
        top = TOP + number * PANEL_MM
        plots += [_values(charted, top), _steps(charted, top + VALUES_MM + BETWEEN_MM)]
        names += _names(charted, top + VALUES_MM + BETWEEN_MM + STEPS_MM + 3)
    title = " and ".join(charted.name for charted in each) + ", batch by batch"
    height = TOP + PANEL_MM * len(each) + LEGEND_MM
    return render(
        "chart.svg.jinja",
        title=title, said=rules, plots=plots, names=names, left=LEFT, right=RIGHT, width=WIDTH_MM, height=height,
    ) + "\n"  # fmt: skip


def _values(charted: Charted, top: float) -> Plot:
    drawn = charted.chart
    flagged = {
        index for found in drawn.found if found.signal.value != "jump" for index in range(found.first, found.last + 1)
    }
    levels = ((drawn.upper, True), (drawn.mean, False), (drawn.lower, True))
    titles = [
        f"batch {record.batch}: {charted.said(value)}"
        for record, value in zip(charted.records, drawn.values, strict=True)
    ]
    return _plot(charted, charted.name, drawn.values, levels, flagged, titles, (top, top + VALUES_MM), 0)


def _steps(charted: Charted, top: float) -> Plot:
    drawn = charted.chart
    steps = [abs(later - earlier) for earlier, later in itertools.pairwise(drawn.values)]
    flagged = {found.first for found in drawn.found if found.signal.value == "jump"}
    titles = [
        f"step to batch {record.batch}: {charted.said(step)}"
        for record, step in zip(charted.records[1:], steps, strict=True)
    ]
    levels = ((drawn.upper_range, True), (drawn.mean_range, False))
    return _plot(charted, "step from batch to batch", [*steps], levels, flagged, titles, (top, top + STEPS_MM), 1)


def _plot(
    charted: Charted,
    title: str,
    values: Sequence[float],
    levels: Sequence[tuple[float, bool]],
    flagged: set[int],
    titles: Sequence[str],
    place: tuple[float, float],
    first: int,
) -> Plot:
    """Lay values out between the top and the bottom of a place; ``first`` is the batch that the first is of."""
    top, bottom = place
    every = [*values, *(value for value, _ in levels)]
    low, high = min(every), max(every)
    scale = (bottom - top - 2 * _EDGE_MM) / (high - low) if high > low else 0.0

    def down(value: float) -> float:
        return bottom - _EDGE_MM - (value - low) * scale if scale else (top + bottom) / 2

    n = len(charted.records)
    marks = [
        Mark(_across(index + first, n), down(value), index in flagged, titles[index])
        for index, value in enumerate(values)
    ]
    lines = tuple(Level(down(value), charted.said(value), dashed) for value, dashed in levels)
    return Plot(title, top, bottom, lines, points([(mark.x, mark.y) for mark in marks]), tuple(marks))


def _across(index: int, n: int) -> float:
    return LEFT + 4 + (RIGHT - LEFT - 8) * index / max(1, n - 1)


def _names(charted: Charted, y: float) -> list[tuple[float, float, str]]:
    n = len(charted.records)
    every = -(-n // NAMED)
    return [(_across(index, n), y, charted.records[index].batch[:8]) for index in range(0, n, every)]
