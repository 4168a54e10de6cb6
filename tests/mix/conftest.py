from fractions import Fraction
from types import SimpleNamespace

import pytest

from blockrun.mix import proportions

MIXER = {
    "name": "drum",
    "usable_volume_l": 220.0,
    "least_volume_l": 80.0,
    "bag_step": Fraction(1, 2),
    "slurry_time_min": 10,
    "foam_time_min": 4,
    "pour_time_min": 10,
    "wash_time_min": 4,
    "left_behind_l": 4.0,
}


@pytest.fixture(scope="session")
def mix():
    """500 kg of cement in each m3, so that a 25 kg bag makes 50 L."""
    return proportions(oven_dry_density_kg_m3=600, slurry_water_cement=0.5, foam_density_kg_m3=95)


@pytest.fixture(scope="session")
def yard():
    """A site and its mixer, with any of their numbers changed."""

    def make(*, pour_life_min=25.0, rate_l_min=60.0, units="SI", **mixer):
        site = SimpleNamespace(
            units=units,
            pour_life_min=pour_life_min,
            foam_generator=SimpleNamespace(rate_l_min=rate_l_min, foam_density_kg_m3=95.0, agent_share=1 / 41),
            stock=SimpleNamespace(cement=SimpleNamespace(bag_kg=25.0)),
        )
        return site, SimpleNamespace(**{**MIXER, **mixer})

    return make
