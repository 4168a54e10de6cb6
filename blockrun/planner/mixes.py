"""The mixes of an order with the foam of a site, and by its cubes where a strength is asked for."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, Protocol

from blockrun.errors import BadInput, BlockrunError, OutOfRange
from blockrun.mix import DensityFor, Proportions, proportions_of
from blockrun.planner.placed import HasSources, at, of_cubes, said_again

if TYPE_CHECKING:
    from blockrun.order import MixSpec
    from blockrun.site import Site


class HasMixes(HasSources, Protocol):
    """An order, or the mixes of one."""

    @property
    def mixes(self) -> Sequence[MixSpec]: ...  # noqa: D102


def mix_proportions(site: Site, order: HasMixes, only: str | None = None) -> dict[str, Proportions]:
    """Proportions of each mix of the order, or of one, with the foam of this site, and its cubes for strengths.

    Raises
    ------
    BadInput : a mix cannot be made, or is asked for by its strength and the cubes are too few or contradict each
        other; it shows the very value.
    """
    return {mix.name: _made(site, order, mix) for mix in order.mixes if only in (None, mix.name)}


def _made(site: Site, order: HasMixes, mix: MixSpec) -> Proportions:
    foam, moisture = site.foam_generator.density_kg_m3, site.stock.sand_moisture
    try:
        return proportions_of(mix, foam, _density_for(site, mix.name), moisture, units=site.units)
    except (BadInput, OutOfRange) as fault:
        raise of_cubes(site, fault) or _of_site(site, fault) or of_mix(order, mix, fault) from fault


def _of_site(site: Site, fault: BlockrunError) -> BadInput | None:
    """What is wrong with what the site says of a mix."""
    where = {"foam_density": ("foam_generator", "foam_density"), "moisture": ("stock", "sand", "moisture")}
    key = where.get(fault.name or "")
    return at(site, said_again(fault), *key) if key else None


def of_mix(order: HasMixes, mix: MixSpec, fault: BlockrunError) -> BadInput:
    """What is wrong with what the order says of a mix."""
    return at(order, said_again(fault), "mixes", ("name", mix.name), fault.name or "name")


def _density_for(site: Site, mix: str) -> DensityFor | None:
    if not site.curing.cubes:
        return None
    from blockrun.cure import Reckoner  # fits and their library are loaded by those who have cubes

    return partial(Reckoner(site.curing, site.units).density_for, mix=mix)
