"""What a body takes up: seen from above, and from its lowest to its highest point."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from blockrun.order.drawings.plane import CLOSE_MM, Line, Point, cross, minus, tidy, unit

_GRAIN = 3


@dataclass(frozen=True)
class Solid:
    """A body without hollows.

    Parameters
    ----------
    plan : the line round it as seen from above, mm.
    low, high : its lowest and highest point, mm.
    is_upright : whether it goes up straight from its plan to one height, and its plan has no nook.
    """

    plan: Line
    low: float
    high: float
    is_upright: bool


def solid_of(corners: Sequence[tuple[float, float, float]]) -> Solid:
    """The body with these corners, mm."""
    places = sorted({(round(x, _GRAIN), round(y, _GRAIN)) for x, y, _ in corners})
    plan = tidy(_around(places))
    low, high = min(z for _, _, z in corners), max(z for _, _, z in corners)
    level = all(min(z - low, high - z) <= CLOSE_MM for _, _, z in corners)
    return Solid(plan, low, high, level and bool(plan) and all(_is_on(plan, place) for place in places))


def _around(places: Sequence[Point]) -> list[Point]:
    """The convex line round sorted places, anti-clockwise (A. M. Andrew's monotone chain, 1979)."""
    halves: list[list[Point]] = []
    for way in (places, places[::-1]):
        half: list[Point] = []
        for place in way:
            while len(half) > 1 and cross(minus(half[-1], half[-2]), minus(place, half[-1])) <= 0:
                half.pop()
            half.append(place)
        halves.append(half[:-1])
    return [*halves[0], *halves[1]]


def _is_on(plan: Line, place: Point) -> bool:
    """Whether a place inside a convex line lies on it, or nearly so."""
    sides = zip(plan, (*plan[1:], plan[0]), strict=True)
    return min(abs(cross(unit(one, other), minus(place, one))) for one, other in sides) <= CLOSE_MM
