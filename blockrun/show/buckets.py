"""Words for what is counted and weighed by the bucket."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Final

from blockrun.show.measures import by_volume
from blockrun.show.page import glued
from blockrun.site import Buckets
from blockrun.units import in_unit

if TYPE_CHECKING:
    from blockrun.site import Site

BUCKET_L: Final = 10
BUCKET_GAL: Final = 2
"""What a check is weighed in where the site names no bucket (our choice)."""

TENTHS_FROM: Final = 0.5
"""Limits that lie so far apart, in kg or lb, are told to the tenth, closer ones to the hundredth."""

NOTHING: Final = 0.005
"""So little of a bucket is not measured."""


def buckets_of(site: Site) -> Buckets:
    """The buckets of a site, or the usual ones."""
    return site.buckets or Buckets()


def bucket(density_kg_l: float, what: str, units: str, bucket_l: float | None = None) -> str:
    """Say what a bucketful weighs, the bucket itself not counted.

    Parameters
    ----------
    density_kg_l : of what is in it.
    what : ``mix`` or ``foam``.
    units : ``SI`` or ``US``.
    bucket_l : its volume; 10 L or 2 gal unless told.

    Returns
    -------
    Such as ``10 L of mix weigh 8.1 kg``: to a tenth, under 1 to two digits; no scale of the yard shows more.
    """
    weight, unit = _weight(density_kg_l, units, bucket_l)
    digits_said = f"{weight:.1f}" if weight >= 1 else f"{weight:.2g}"
    return f"{_size(units, bucket_l)} of {what} weigh {glued(f'{digits_said} {unit}')}"


def full_bucket(density_kg_l: float, what: str, units: str, buckets: Buckets, bucket_l: float | None) -> str:
    """Say between what a full bucket may weigh, with the bucket where it is known what that weighs.

    Returns
    -------
    Such as ``10 L of mix weigh 7.7 to 8.4 kg``, or ``10 L of foam and bucket weigh 1.51 to 1.59 kg``. The limits
    are rounded inwards, so that what lies between them on the scale lies between them in fact.
    """
    net, unit = _weight(density_kg_l, units, bucket_l)
    empty = in_unit(buckets.empty_kg, "mass", unit)
    low, high = (net * (1 + share) + empty for share in (-buckets.tolerance, buckets.tolerance))
    what = f"{what} and bucket" if buckets.empty_kg else what
    return f"{_size(units, bucket_l)} of {what} weigh {glued(f'{_between(low, high)} {unit}')}"


def in_buckets(volume_l: float, bucket_l: float | None, units: str) -> str:
    """Count a volume in buckets, such as `` = 3 buckets of 10 L and 3.8 L``; empty where it is not counted so."""
    full = 0 if bucket_l is None else math.floor(volume_l / bucket_l + NOTHING)
    if bucket_l is None or not full:
        return ""
    counted = f"{full} bucket{'s' if full > 1 else ''} of {by_volume(bucket_l, units)}"
    rest_l = volume_l - full * bucket_l
    rest = f" and {by_volume(rest_l, units)}" if rest_l > NOTHING * bucket_l else ""
    return f" = {counted}{rest}"


def _weight(density_kg_l: float, units: str, bucket_l: float | None) -> tuple[float, str]:
    """What is in a full bucket weighs so much, in this unit."""
    litres = (BUCKET_GAL / in_unit(1, "volume", "gal") if units == "US" else BUCKET_L) if bucket_l is None else bucket_l
    unit = "lb" if units == "US" else "kg"
    return in_unit(density_kg_l * litres, "mass", unit), unit


def _size(units: str, bucket_l: float | None) -> str:
    if bucket_l is not None:
        return by_volume(bucket_l, units)
    return glued(f"{BUCKET_GAL} gal" if units == "US" else f"{BUCKET_L} L")


def _between(low: float, high: float) -> str:
    """``7.7 to 8.4``; a single number where rounding leaves nothing between."""
    steps = 10 if high - low >= TENTHS_FROM else 100
    least, most = math.ceil(low * steps - 1e-9), math.floor(high * steps + 1e-9)
    decimals = 1 if steps == 10 else 2
    if least >= most:
        return f"{(low + high) / 2:.{decimals}f}"
    return f"{least / steps:.{decimals}f} to {most / steps:.{decimals}f}"
