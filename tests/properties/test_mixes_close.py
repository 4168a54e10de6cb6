"""Any mix that can be made is found from its density and its water: masses and volumes close to 1e-9.

The cubic metre is put together first, and what an order would say of it is worked out from that, so that no mix is
refused and none is met by chance.
"""

from __future__ import annotations

from typing import Final

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from blockrun.mix import Solids, proportions

KINDS: Final = ("sand", "fly_ash", "lime", "fibre")
LEAST_SLURRY: Final = 0.30
"""Water of the slurry to cement, ash and lime under which a slurry cannot be mixed."""


@st.composite
def cubic_metres(draw: st.DrawFn) -> tuple[Solids, dict[str, float]]:
    """What one cubic metre holds, kg, and of foam m3; by shares of a slurry that foam fills up."""
    parts = [draw(st.sampled_from((0.0, 1.0))) * draw(st.floats(0.001, most)) for most in (2.5, 0.6, 0.3, 0.05)]
    grains = [draw(st.floats(*span)) for span in ((1500, 3000), (1900, 2800), (2000, 2500), (900, 7850))]
    solids = Solids(*parts, *grains)
    ratio = draw(st.floats(LEAST_SLURRY + 0.001, 1.5)) * (1 + parts[1] + parts[2])
    of_one_kg = 1 / 3150 + ratio / 1000 + sum(part / grain for part, grain in zip(parts, grains, strict=True))
    foam_m3 = draw(st.floats(0.05, 0.9))
    cement_kg = (1 - foam_m3) / of_one_kg
    held = {"cement": cement_kg, "slurry_water": ratio * cement_kg, "foam": foam_m3 * draw(st.floats(20, 200))}
    return solids, held | dict(zip(KINDS, (part * cement_kg for part in parts), strict=True)) | {"foam_m3": foam_m3}


@given(cubic_metres(), st.booleans(), st.booleans())
@settings(max_examples=300)
def test_a_cubic_metre_is_found_from_its_density_and_its_water(
    made: tuple[Solids, dict[str, float]], dry: bool, total: bool
) -> None:
    solids, kg = made
    beside_cement = sum(kg[kind] for kind in KINDS)
    event(f"{'oven-dry' if dry else 'wet'} density, {'all water' if total else 'water of the slurry'}")
    asked = {
        "oven_dry_density_kg_m3" if dry else "wet_density_kg_m3": (
            1.2 * kg["cement"] + beside_cement
            if dry
            else kg["cement"] + beside_cement + kg["slurry_water"] + kg["foam"]
        ),
        "water_cement" if total else "slurry_water_cement": ((kg["slurry_water"] + total * kg["foam"]) / kg["cement"]),
    }
    mix = proportions(foam_density_kg_m3=kg["foam"] / kg["foam_m3"], solids=solids, **asked)
    found = (mix.cement_kg, mix.slurry_water_kg, mix.foam_kg, *(getattr(mix, f"{kind}_kg") for kind in KINDS))
    assert found == pytest.approx([kg[name] for name in ("cement", "slurry_water", "foam", *KINDS)], rel=1e-9, abs=1e-9)
    assert mix.foam_volume_m3 == pytest.approx(kg["foam_m3"], abs=1e-9)
    grains = (getattr(solids, f"{kind}_density_kg_m3") for kind in KINDS)
    volume = mix.cement_kg / 3150 + sum(kg[kind] / grain for kind, grain in zip(KINDS, grains, strict=True))
    assert volume + mix.total_water_kg / 1000 + mix.air_fraction == pytest.approx(1, abs=1e-9)
    assert sum(found) == pytest.approx(mix.wet_density_kg_m3, rel=1e-9)
