"""What was measured of a batch, and what of it cannot be."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from blockrun.errors import BadInput, OutOfRange
from blockrun.mix.card import Card
from blockrun.mix.contents import Contents
from blockrun.mix.volume import LITRES_PER_M3
from blockrun.site.mixers import HEAVIEST_FOAM_KG_M3, LIGHTEST_FOAM_KG_M3
from blockrun.units import show, show_percent

LONGEST_MIN: Final = 1440.0
LIMITS: Final = {
    "foam_kg_m3": (LIGHTEST_FOAM_KG_M3, HEAVIEST_FOAM_KG_M3),
    "slurry_kg_m3": (1050.0, 2800.0),
    "wet_kg_m3": (50.0, 3150.0),
    "slurry_c": (0.0, 60.0),
    "mixed_min": (0.0, LONGEST_MIN),
    "since_foam_min": (0.0, LONGEST_MIN),
    "ran_s": (1.0, 36_000.0),
    "sank": (0.0, 0.99),
}
"""Beyond these a measurement is a slip of the scale or of the finger (our choice)."""


OPTIONS: Final = {
    "foam_kg_m3": "--foam",
    "slurry_kg_m3": "--slurry",
    "wet_kg_m3": "--weight",
    "slurry_c": "--temperature",
    "mixed_min": "--mixed",
    "since_foam_min": "--since",
    "ran_s": "--ran",
    "sank": "--sank",
}
"""As what each is typed."""


@dataclass(frozen=True)
class Seen:
    """What was measured of a batch; None for what was not.

    Parameters
    ----------
    foam_kg_m3, slurry_kg_m3, wet_kg_m3 : densities of the foam, of the slurry before it and of the mix, > 0.
    slurry_c : temperature of the slurry, degC.
    mixed_min : minutes of mixing with the foam in, >= 0.
    since_foam_min : minutes since the foam began to go in, >= 0.
    ran_s : seconds that the generator ran for it, >= 1.
    sank : share of its height that a filled mould or container lost in an hour, 0 to 1.
    """

    foam_kg_m3: float | None = None
    slurry_kg_m3: float | None = None
    wet_kg_m3: float | None = None
    slurry_c: float | None = None
    mixed_min: float | None = None
    since_foam_min: float | None = None
    ran_s: float | None = None
    sank: float | None = None

    @property
    def is_poured(self) -> bool:
        """Whether it has stood for an hour."""
        return self.sank is not None

    @property
    def foam_is_in(self) -> bool:
        """Whether foam and slurry have come together."""
        return any(
            one is not None for one in (self.wet_kg_m3, self.mixed_min, self.since_foam_min, self.ran_s, self.sank)
        )


def check_seen(card: Card, seen: Seen, units: str) -> None:
    """Refuse measurements that cannot be.

    Raises
    ------
    BadInput : nothing was measured, or two times gainsay each other.
    OutOfRange : something is outside `LIMITS`, or a slurry half as heavy again as that of the card.
    """
    measured = {name: value for name, value in vars(seen).items() if value is not None}
    if not measured:
        raise BadInput("nothing was measured", "Give at least one, such as --foam 95g/L or --weight 8.1kg.")
    for name, value in measured.items():
        least, most = LIMITS[name]
        if name == "slurry_kg_m3":
            most = min(most, 1.5 * card.mix.slurry_density_kg_m3)
        if not least <= value <= most:
            said = _said(name, value, units) if math.isfinite(value) else f"{value:g}"
            raise OutOfRange(f"{OPTIONS[name]}: {said} cannot be", "Measure again.", name=name, value=value)
    _check_times(seen)


def _check_times(seen: Seen) -> None:
    """Refuse more minutes of mixing with the foam in than it has been in."""
    mixed, since = seen.mixed_min, seen.since_foam_min
    if mixed is not None and since is not None and mixed > since:
        what = f"it cannot have been mixed {mixed:g} min with the foam in: that went in {since:g} min ago"
        raise BadInput(what, "Correct --mixed or --since: both count from the foam.", name="--mixed", value=mixed)


def check_weighed(put_in: Contents, foam_kg_m3: float, wet_kg_m3: float, units: str) -> None:
    """Refuse a mix heavier than what went in without its air, or lighter than its foam.

    Raises
    ------
    OutOfRange : it is one of these.
    """
    heaviest = put_in.mass_kg / put_in.air_free_l * LITRES_PER_M3
    mix, free, foam = (show(value, "density", units) for value in (wet_kg_m3, heaviest, foam_kg_m3))
    if wet_kg_m3 >= heaviest:
        raise OutOfRange(
            f"a mix of {mix} would hold no air at all: free of air it weighs {free}",
            "Weigh again: the whole container, struck off, its empty weight taken off.",
            name="weight",
            value=wet_kg_m3,
            limit=heaviest,
            unit="kg/m3",
        )
    if wet_kg_m3 <= foam_kg_m3:
        what = f"a mix of {mix} would be lighter than its foam of {foam}"
        raise OutOfRange(what, "Weigh again.", name="weight", value=wet_kg_m3, limit=foam_kg_m3, unit="kg/m3")


def _said(name: str, value: float, units: str) -> str:
    if name.endswith("kg_m3"):
        what = {"foam_kg_m3": "foam", "slurry_kg_m3": "a slurry", "wet_kg_m3": "a mix"}[name]
        return f"{what} of {show(value, 'density', units)}"
    if name == "slurry_c":
        return f"a slurry at {show(value, 'temperature', units)}"
    if name == "sank":
        return f"sinking by {show_percent(value)} of the height"
    if name == "ran_s":
        return f"{value:g} s of the generator"
    return f"{value:g} min of mixing" if name == "mixed_min" else f"{value:g} min since the foam went in"
