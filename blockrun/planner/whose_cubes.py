"""Whose cubes tell the strength of each mix, in words, and which to cast where they are not its own."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.cure import Reckoner
from blockrun.units import digits, show

if TYPE_CHECKING:
    from blockrun.order import MixSpec
    from blockrun.site import Site

_SPECK_KG_M3: Final = 0.01
BESIDE_CEMENT: Final = {"sand": "sand", "fly_ash": "fly ash", "lime": "lime", "fibre": "fibre"}


def whose_cubes_said(
    site: Site, mixes: Sequence[MixSpec], densities_kg_m3: Mapping[str, float | None]
) -> Iterator[str]:
    """Sentences on mixes whose strength is told by cubes of others too.

    Parameters
    ----------
    mixes : all mixes ordered, by which it is known what is in those that cubes are of.
    densities_kg_m3 : dry density of each mix to tell of, by its name; None where cubes are to tell that.
    """
    reckoner = Reckoner(site.curing, site.units)
    made_of = {mix.name: beside_cement(mix) for mix in mixes}
    if not reckoner.mixes and site.curing.cubes is not None:
        yield from _nameless({name: made_of[name] for name in densities_kg_m3 if name in made_of})
    for name, density in densities_kg_m3.items():
        if lack := reckoner.lack(name, density):
            yield (
                f"{lack.what[0].upper()}{lack.what[1:]}: all of them tell its strength, as if cement, water ratio and "
                f"all that is dry were the same.{_unlike(name, made_of, reckoner.mixes)} {lack.todo}"
            )


def at_lightest_said(site: Site, mix: MixSpec, density_kg_m3: float) -> Iterator[str]:
    """Say where the lightest cubes have already what a mix is ordered with: lighter blocks might do.

    Parameters
    ----------
    density_kg_m3 : what cubes told of the mix.
    """
    if mix.strength_mpa is None or site.curing.cubes is None:
        return
    fit = Reckoner(site.curing, site.units).fit(mix.name)
    if density_kg_m3 <= fit.tests.density_kg_m3.min() + _SPECK_KG_M3:
        has, at = show(mix.strength_mpa, "strength", site.units), show(round(density_kg_m3), "density", site.units)
        yield f"{mix.name}: the lightest cubes, {at} dry, have {has} at 28 d already. Test lighter ones too."


def beside_cement(mix: MixSpec) -> str:
    """What a mix holds beside cement and water: ``neat``, or ``with 1 of sand to 1 of cement``."""
    parts = {said: getattr(mix, key) for key, said in BESIDE_CEMENT.items()}
    held = [f"{digits(part)} of {said}" for said, part in parts.items() if part]
    return f"with {' and '.join(held)} to 1 of cement" if held else "neat"


def _unlike(name: str, made_of: Mapping[str, str], tested: frozenset[str]) -> str:
    """Say which of the mixes tested are known to be made of other things."""
    ours = made_of.get(name)
    others = [f"{other} {made_of[other]}" for other in sorted(tested & made_of.keys()) if made_of[other] != ours]
    return f" They are not: {name} is {ours}, {', '.join(others)}." if ours and others else ""


def _nameless(made_of: Mapping[str, str]) -> Iterator[str]:
    """Say that cubes which name no mix stand for mixes of different things."""
    if len(set(made_of.values())) > 1:
        listed = ", ".join(f"{name} {made}" for name, made in sorted(made_of.items()))
        yield (
            f"The cubes name no mix, and one law is taken for all: {listed}. Add the column mix to the cubes, and test "
            "cubes of each, for at one density they do not bear the same."
        )
