"""The inside curve of a dome, from the springing to the crown, by its length.

All curves are given by the distance `s` along them, in mm, from 0 at the springing to `length_mm` at the crown. A
point has its distance from the axis, its height above the springing, and its lean: the angle in radians of the
outward normal above the horizontal, which is how far a block laid there leans in from upright.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property
from typing import Final, Protocol

import numpy as np

_GAUSS_AT, _GAUSS_WEIGHT = np.polynomial.legendre.leggauss(12)
_PANELS: Final = 400


@dataclass(frozen=True)
class Station:
    """A point of the curve.

    Parameters
    ----------
    radius_mm : from the axis, >= 0.
    height_mm : above the springing.
    lean_rad : of the outward normal above the horizontal, 0 to pi/2.
    curvature : change of the lean along the curve, radians a mm, >= 0.
    """

    radius_mm: float
    height_mm: float
    lean_rad: float
    curvature: float

    def outside(self, thickness_mm: float) -> tuple[float, float]:
        """The point of the outside face straight out from here: radius and height above the springing, mm."""
        return (
            self.radius_mm + thickness_mm * math.cos(self.lean_rad),
            self.height_mm + thickness_mm * math.sin(self.lean_rad),
        )


class Curve(Protocol):
    """Half of the section of a dome's inside face."""

    @property
    def length_mm(self) -> float:
        """Along the curve from the springing to the crown."""

    def at(self, along_mm: float) -> Station:
        """The point so far along from the springing."""


@dataclass(frozen=True)
class Arc:
    """An arc of a circle: a hemisphere, a segment of a sphere, or half of a two-centred pointed arch.

    Parameters
    ----------
    radius_mm : of the circle.
    centre_mm : radius (negative: beyond the axis) and height above the springing of its centre.
    from_rad, to_rad : lean at the springing and at the crown.
    """

    radius_mm: float
    centre_mm: tuple[float, float]
    from_rad: float
    to_rad: float

    @property
    def length_mm(self) -> float:
        """Radius x angle."""
        return self.radius_mm * (self.to_rad - self.from_rad)

    def at(self, along_mm: float) -> Station:
        """On a circle the lean is the angle at its centre."""
        lean = self.from_rad + along_mm / self.radius_mm
        radius = max(0.0, self.centre_mm[0] + self.radius_mm * math.cos(lean))
        return Station(radius, self.centre_mm[1] + self.radius_mm * math.sin(lean), lean, 1 / self.radius_mm)


@dataclass(frozen=True)
class Catenary:
    """A hanging chain turned over: z = rise - a (cosh(r / a) - 1).

    Its length from the crown is c = a sinh(r / a), so that r = a asinh(c / a), and tan(lean) = a / c.

    Parameters
    ----------
    parameter_mm : a.
    span_mm : radius at the springing.
    rise_mm : from the springing to the crown.
    """

    parameter_mm: float
    span_mm: float
    rise_mm: float

    @property
    def length_mm(self) -> float:
        """The length of the chain: a sinh(R / a)."""
        return self.parameter_mm * math.sinh(self.span_mm / self.parameter_mm)

    def at(self, along_mm: float) -> Station:
        """From the formulas above, with c = length - s."""
        a, chain = self.parameter_mm, max(0.0, self.length_mm - along_mm)
        height = self.rise_mm + a - math.hypot(a, chain)
        return Station(a * math.asinh(chain / a), height, math.atan2(a, chain), a / (a * a + chain * chain))


@dataclass(frozen=True)
class Ellipse:
    """A quarter of an ellipse: r = R cos(t), z = h sin(t).

    Its length has no closed form: ds = sqrt(R^2 sin^2 t + h^2 cos^2 t) dt is added up by Gauss's rule over
    equal steps of t, and t is found back from s by interpolation and two steps of Newton's method.
    """

    span_mm: float
    rise_mm: float

    @property
    def length_mm(self) -> float:
        """The whole sum."""
        return float(self._lengths[-1])

    def at(self, along_mm: float) -> Station:
        """The point at t(s)."""
        t = self._parameter(along_mm)
        radius, height = self.span_mm * math.cos(t), self.rise_mm * math.sin(t)
        lean = math.atan2(self.span_mm * math.sin(t), self.rise_mm * math.cos(t))
        return Station(max(0.0, radius), height, lean, self.span_mm * self.rise_mm / self._speed(t) ** 3)

    @cached_property
    def _steps(self) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        return np.linspace(0, math.pi / 2, _PANELS + 1)

    @cached_property
    def _lengths(self) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        half = math.pi / 4 / _PANELS
        t = (self._steps[:-1] + half)[:, None] + half * _GAUSS_AT
        speed = np.hypot(self.span_mm * np.sin(t), self.rise_mm * np.cos(t))
        return np.concatenate([[0.0], np.cumsum(half * speed @ _GAUSS_WEIGHT)])

    def _speed(self, t: float) -> float:
        return math.hypot(self.span_mm * math.sin(t), self.rise_mm * math.cos(t))

    def _parameter(self, along_mm: float) -> float:
        along = min(max(along_mm, 0.0), self.length_mm)
        t = float(np.interp(along, self._lengths, self._steps))
        for _ in range(2):
            t += (along - self._along(t)) / self._speed(t)
        return min(max(t, 0.0), math.pi / 2)

    def _along(self, t: float) -> float:
        panel = min(int(t / (math.pi / 2) * _PANELS), _PANELS - 1)
        half = (t - float(self._steps[panel])) / 2
        inside = half * _GAUSS_AT + half + self._steps[panel]
        speed = np.hypot(self.span_mm * np.sin(inside), self.rise_mm * np.cos(inside))
        return float(self._lengths[panel] + half * speed @ _GAUSS_WEIGHT)


def hemisphere(radius_mm: float) -> Arc:
    """Half a sphere."""
    return Arc(radius_mm, (0.0, 0.0), 0.0, math.pi / 2)


def segment(span_mm: float, rise_mm: float) -> Arc:
    """A part of a sphere lower than half: its radius is (span^2 + rise^2) / (2 rise), rise < span."""
    radius = (span_mm**2 + rise_mm**2) / (2 * rise_mm)
    return Arc(radius, (0.0, rise_mm - radius), math.asin((radius - rise_mm) / radius), math.pi / 2)


def pointed(span_mm: float, rise_mm: float) -> Arc:
    """Two centres on the springing line, each beyond the axis: radius (span^2 + rise^2) / (2 span), rise > span."""
    radius = (span_mm**2 + rise_mm**2) / (2 * span_mm)
    beyond = radius - span_mm
    return Arc(radius, (-beyond, 0.0), 0.0, math.acos(beyond / radius))


def catenary(span_mm: float, rise_mm: float) -> Catenary:
    """The chain through the crown and the springing; its parameter by halving, as the rise falls when it grows."""
    low, high = span_mm / 700, span_mm
    while high * (math.cosh(span_mm / high) - 1) > rise_mm:
        high *= 2
    for _ in range(200):
        middle = (low + high) / 2
        low, high = (middle, high) if middle * (math.cosh(span_mm / middle) - 1) > rise_mm else (low, middle)
    return Catenary((low + high) / 2, span_mm, rise_mm)


def along_at_radius_mm(curve: Curve, radius_mm: float) -> float:
    """How far along the curve its radius has fallen to this one, by halving; radii fall all the way."""
    low, high = 0.0, curve.length_mm
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if curve.at(middle).radius_mm > radius_mm else (low, middle)
    return (low + high) / 2


def along_at_height_mm(curve: Curve, height_mm: float) -> float:
    """How far along the curve it has risen to this height above the springing, by halving."""
    low, high = 0.0, curve.length_mm
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if curve.at(middle).height_mm < height_mm else (low, middle)
    return (low + high) / 2
