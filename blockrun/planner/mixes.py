"""The mixes of an order with the foam of a site, and by its cubes where a strength is asked for."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, Protocol

from blockrun.mix import DensityFor, Proportions, proportions_of

if TYPE_CHECKING:
    from blockrun.order import MixSpec
    from blockrun.site import Site


class HasMixes(Protocol):
    """An order, or the mixes of one."""

    @property
    def mixes(self) -> Sequence[MixSpec]: ...  # noqa: D102


def mix_proportions(site: Site, order: HasMixes, only: str | None = None) -> dict[str, Proportions]:
    """Proportions of each mix of the order, or of one, with the foam of this site, and its cubes for strengths.

    Raises
    ------
    OutOfRange : a mix cannot be made, and why.
    BadInput : a mix is asked for by its strength, and the cubes are too few or contradict each other.
    """
    return {
        mix.name: proportions_of(
            mix, site.foam_generator.density_kg_m3, _density_for(site, mix.name), site.stock.sand_moisture
        )
        for mix in order.mixes
        if only in (None, mix.name)
    }


def _density_for(site: Site, mix: str) -> DensityFor | None:
    if not site.curing.cubes:
        return None
    from blockrun.cure import Reckoner  # fits and their library are loaded by those who have cubes

    return partial(Reckoner(site.curing).density_for, mix=mix)
