"""Words for what is counted and weighed by the bucket."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.mix.bucket_of_foam import BUCKET_GAL, BUCKET_L, usual_l
from blockrun.show.measures import by_volume
from blockrun.show.page import glued
from blockrun.site import Buckets
from blockrun.units import in_unit

if TYPE_CHECKING:
    from blockrun.site import Site

WHOLE_FROM: Final = 5.0
TENTHS_FROM: Final = 0.5
"""Limits that lie so far apart are told to the whole unit or to the tenth, closer ones to the hundredth."""

LITTLE: Final = 0.5
"""Less than this of a kilogram or a pound is told in grams or ounces."""

NOTHING: Final = 0.005
"""So little of a bucket is not measured."""


def buckets_of(site: Site) -> Buckets:
    """The buckets of a site, or the usual ones."""
    return site.buckets or Buckets()


def small_l(units: str) -> float:
    """Litres of what little is weighed in: a litre, or a quart."""
    return usual_l(units) / (BUCKET_GAL * 4) if units == "US" else 1.0


@dataclass(frozen=True)
class Weighs:
    """Between what a full bucket may weigh, as a scale shows it.

    Attributes
    ----------
    size : of the bucket, ``10 L``.
    low, high : ``7.7`` and ``8.4``; the same where rounding leaves nothing between.
    unit : of both, ``kg``.
    gross : the bucket is weighed, too.
    """

    size: str
    low: str
    high: str
    unit: str
    gross: bool

    @property
    def limits(self) -> str:
        """``7.7 to 8.4 kg``."""
        between = self.low if self.low == self.high else f"{self.low} to {self.high}"
        return glued(f"{between} {self.unit}")

    def said(self, what: str) -> str:
        """``10 L of mix weigh 7.7 to 8.4 kg``, or ``10 L of foam and bucket weigh 1.51 to 1.59 kg``."""
        return f"{self.size} of {what}{' and bucket' if self.gross else ''} weigh {self.limits}"


def full_bucket(density_kg_l: float, units: str, buckets: Buckets, bucket_l: float | None) -> Weighs:
    """Between what a full bucket may weigh, with the bucket where it is known what that weighs.

    Returns
    -------
    Limits, rounded inwards, so that what lies between them on the scale lies between them in fact.
    """
    net, unit = _weight(density_kg_l, units, bucket_l)
    empty = in_unit(buckets.empty_kg, "mass", unit)
    low, high = (net * (1 + share) + empty for share in (-buckets.tolerance, buckets.tolerance))
    return Weighs(_size(units, bucket_l), *_between(low, high), unit, gross=bool(buckets.empty_kg))


@dataclass(frozen=True)
class Counted:
    """A volume counted in full buckets, and what is left: ``3`` of ``10 L`` and ``3.8 L``, or no rest."""

    full: int
    size: str
    rest: str

    @property
    def said(self) -> str:
        """``3 buckets of 10 L and 3.8 L``."""
        rest = f" and {self.rest}" if self.rest else ""
        return f"{self.full} bucket{'s' if self.full > 1 else ''} of {self.size}{rest}"


def counted_in(volume_l: float, bucket_l: float | None, units: str) -> Counted | None:
    """Count a volume in buckets; None where it is not counted so, or does not fill one."""
    full = 0 if bucket_l is None else math.floor(volume_l / bucket_l + NOTHING)
    if bucket_l is None or not full:
        return None
    rest_l = volume_l - full * bucket_l
    return Counted(full, by_volume(bucket_l, units), by_volume(rest_l, units) if rest_l > NOTHING * bucket_l else "")


def in_buckets(volume_l: float, bucket_l: float | None, units: str) -> str:
    """Count a volume in buckets, such as `` = 3 buckets of 10 L and 3.8 L``; empty where it is not counted so."""
    counted = counted_in(volume_l, bucket_l, units)
    return f" = {counted.said}" if counted else ""


def _weight(density_kg_l: float, units: str, bucket_l: float | None) -> tuple[float, str]:
    """What is in a full bucket weighs so much, in this unit: in grams or ounces where that is little."""
    mass_kg = density_kg_l * (bucket_l or usual_l(units))
    small, large = ("oz", "lb") if units == "US" else ("g", "kg")
    unit = small if in_unit(mass_kg, "mass", large) < LITTLE else large
    return in_unit(mass_kg, "mass", unit), unit


def _size(units: str, bucket_l: float | None) -> str:
    if units == "US" and bucket_l == small_l(units):
        return glued("1 qt")
    if bucket_l is not None:
        return by_volume(bucket_l, units)
    return glued(f"{BUCKET_GAL} gal" if units == "US" else f"{BUCKET_L} L")


def _between(low: float, high: float) -> tuple[str, str]:
    """``7.7`` and ``8.4``; the same number twice where rounding leaves nothing between."""
    steps = 1 if high - low >= WHOLE_FROM else 10 if high - low >= TENTHS_FROM else 100
    least, most = math.ceil(low * steps - 1e-9), math.floor(high * steps + 1e-9)
    decimals = len(str(steps)) - 1
    if least >= most:
        middle = f"{(low + high) / 2:.{decimals}f}"
        return middle, middle
    return f"{least / steps:.{decimals}f}", f"{most / steps:.{decimals}f}"
