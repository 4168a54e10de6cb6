"""What foam and wet mix weigh as they are typed: a density, or what the container of the cards weighs full of it."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final, NamedTuple

from blockrun.mix.typed import WEIGHED, read_seen, weighed_in
from blockrun.mix.weighing import in_its_own
from blockrun.units import show, with_point

if TYPE_CHECKING:
    from blockrun.site import Site
    from blockrun.yard.record.known import Measured


_OPTION: Final = {thing: name for name, thing in WEIGHED.items()}


class Weights(NamedTuple):
    """Densities in kg/m3, None where nothing was told; and in words what a mass was taken to be weighed in."""

    foam: float | None = None
    wet: float | None = None
    said: str = ""


def weights_of(measured: Measured, site: Site) -> Weights:
    """The densities that somebody measured.

    Parameters
    ----------
    site : whose bucket a mass was weighed in, as for a check.

    Raises
    ------
    BadInput : it is neither a density nor a mass.
    """
    typed = {name: with_point(text) for name, text in _typed(measured).items() if text is not None}
    if not typed:
        return Weights()
    seen = read_seen(typed, site.units, site.buckets)
    said = []
    for container, things in weighed_in(typed, site.units, site.buckets).items():
        empty = f", {show(container.empty_kg, 'mass', site.units)} of it the bucket" if container.empty_kg else ""
        full = " and ".join(f"{in_its_own(typed[_OPTION[thing]])[0]} of {thing}" for thing in things)
        said.append(f"{full} weighed in {show(container.volume_l, 'volume', site.units)}{empty}")
    return Weights(seen.foam_kg_m3, seen.wet_kg_m3, "; ".join(said))


def _typed(measured: Measured) -> dict[str, str | None]:
    return {"foam": measured.foam, "weight": measured.weight}
