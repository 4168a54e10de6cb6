"""Blocks too weak to be lifted when they are stripped, told where the yard's own cubes say how strong they are then."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.cure import Reckoner
from blockrun.errors import BlockrunError
from blockrun.units import show, show_share

if TYPE_CHECKING:
    from blockrun.mix import Proportions
    from blockrun.order import OrderLine
    from blockrun.site import Site

GRAVITY_M_S2: Final = 9.81
JERK: Final = 2.0
"""Times its own weight that a block bears as it is taken up and set down (our choice)."""
IN_BENDING: Final = 0.1
"""Strength in bending over that of cubes; a tenth to a fifth is common practice, no source, so the least is taken."""
_PA_A_MPA: Final = 1e6
_MM_A_M: Final = 1e3


def lifted_at_its_ends_mpa(sides_mm: Sequence[float], density_kg_m3: float) -> float:
    """Greatest tension in a block that is held at the two ends of its longest side, lying on its flat side.

    Parameters
    ----------
    sides_mm : of the block, each > 0, in any order.
    density_kg_m3 : as it is lifted, > 0.

    Returns
    -------
    MPa, of its own weight alone: 3/4 density x g x length^2 / least side.

    Source
    ------
    A simple beam of span L and depth d under its own weight: moment w L^2/8, section modulus b d^2/6.
    """
    length_m, depth_m = max(sides_mm) / _MM_A_M, min(sides_mm) / _MM_A_M
    return 0.75 * density_kg_m3 * GRAVITY_M_S2 * length_m**2 / depth_m / _PA_A_MPA


@dataclass(frozen=True)
class TooWeak:
    """A mark whose blocks may break when they are lifted at their ends; strengths are those of cubes, in MPa."""

    mark: str
    has_mpa: float
    needs_mpa: float


def needed_mpa(line: OrderLine, mix: Proportions) -> float:
    """Strength of cubes with which a block bears being lifted at its ends, MPa."""
    sides = (line.length_mm, line.height_mm, line.thickness_mm)
    return JERK * lifted_at_its_ends_mpa(sides, mix.wet_density_kg_m3) / IN_BENDING


def too_weak(
    lines: Iterable[OrderLine], mixes: Mapping[str, Proportions], strengths_mpa: Mapping[str, float]
) -> list[TooWeak]:
    """Marks that need more strength to be lifted than they have.

    Parameters
    ----------
    strengths_mpa : what cubes of each mix bear by the time blocks are stripped.

    Returns
    -------
    Those that lack most first, one of each mark.
    """
    found: dict[str, TooWeak] = {}
    for line in lines:
        weak = TooWeak(line.mark, strengths_mpa[line.mix], needed_mpa(line, mixes[line.mix]))
        if weak.needs_mpa > weak.has_mpa:
            found[line.mark] = max(weak, found.get(line.mark, weak), key=_lacks)
    return sorted(found.values(), key=lambda weak: (-_lacks(weak), weak.mark))


def _lacks(weak: TooWeak) -> float:
    return weak.needs_mpa - weak.has_mpa


def bearing_h(
    site: Site, lines: Iterable[OrderLine], mixes: Mapping[str, Proportions], strip_h: float
) -> dict[tuple[str, str], float]:
    """From which age blocks bear being lifted at their ends, of those that do not when they may be stripped.

    Parameters
    ----------
    site : whose cubes tell; where they do not, no mark is named.
    lines, mixes : as for :func:`too_weak`.

    Returns
    -------
    Hours at 20 degC by mark and mix, endless where no cube of that age is so strong.
    """
    of = list(lines)
    if site.curing.cubes is None:
        return {}
    try:
        strengths = _strengths(site, {line.mix for line in of}, mixes, strip_h)
    except BlockrunError:
        return {}
    weak = {(line.mark, line.mix): line for line in of if needed_mpa(line, mixes[line.mix]) > strengths[line.mix]}
    return {key: _bears_from_h(site, line, mixes[line.mix]) for key, line in weak.items()}


def _bears_from_h(site: Site, line: OrderLine, mix: Proportions) -> float:
    try:
        return (
            Reckoner(site.curing, site.units)
            .hours_for(needed_mpa(line, mix), mix.oven_dry_density_kg_m3, line.mix)
            .hours
        )
    except BlockrunError:
        return math.inf


def weak_said(
    site: Site,
    lines: Sequence[OrderLine],
    mixes: Mapping[str, Proportions],
    strip_h: float,
    most: int | None = None,
) -> Iterator[str]:
    """Sentences on blocks too weak to be lifted, or on the cubes that would tell.

    Parameters
    ----------
    site : whose cubes tell; without any nothing is said.
    lines, mixes : as for :func:`too_weak`.
    most : marks to name; all unless told.
    """
    if site.curing.cubes is None:
        return
    try:
        strengths = _strengths(site, {line.mix for line in lines}, mixes, strip_h)
    except BlockrunError as fault:
        yield f"Whether blocks bear being lifted when they are stripped is not known: {fault.what}. {fault.todo or ''}"
        return
    weak = too_weak(lines, mixes, strengths)
    for item in weak[:most]:
        has, needs = (show(strength, "strength", site.units) for strength in (item.has_mpa, item.needs_mpa))
        yield (
            f"{item.mark} has {has} when it is stripped, and takes {needs} to be lifted at its ends: strip it later, "
            "or carry it on a board."
        )
    if weak:
        left = len(weak[most:]) if most is not None else 0
        more = f"{left} more {'is' if left == 1 else 'are'} as weak. " if left > 0 else ""
        yield (
            f"{more}That is reckoned from your cubes for simple bending under {JERK:g} times the block's weight, with "
            f"{show_share(IN_BENDING)} of their strength in bending (our choice)."
        )


def _strengths(site: Site, names: Iterable[str], mixes: Mapping[str, Proportions], strip_h: float) -> dict[str, float]:
    """Strength of each mix by an age, MPa; raises BadInput or OutOfRange where the cubes do not tell it."""
    reckoner = Reckoner(site.curing, site.units)
    return {
        name: reckoner.strength_at_least(mixes[name].oven_dry_density_kg_m3, strip_h, name) for name in sorted(names)
    }
