"""Air lost on the way, against the limit of ASTM C869."""

from types import SimpleNamespace

import pytest

from blockrun.mix import proportions
from blockrun.mix.card import Card
from blockrun.mix.seen import Seen
from blockrun.mix.trial import tried

WET, RATIO, AIR = 641, 0.58, 0.6359


# ASTM C869-91(R1999) allows 4.5 % by volume of air lost in pumping (seen in text). Derived for its batch of 641 kg/m3,
# water/cement 0.58 from memory of ASTM C796, air 63.59 %: 659.9 kg/m3 if 4.5 % of the air is meant. Ours is the share
# of the air: a trial that weighs 659.9 kg/m3 has lost 4.5 % of it. Tolerance: the rounding of 659.9.
def test_a_trial_of_659_9_is_told_to_have_lost_that_air():
    cement = WET / (1 + RATIO)
    foam = (1 - cement / 3150 - cement * RATIO / 1000) / (1 - 95 / 1000)
    slurry_ratio = RATIO - 95 * foam / cement
    mix = proportions(wet_density_kg_m3=WET, slurry_water_cement=slurry_ratio, foam_density_kg_m3=95)
    generator = SimpleNamespace(rate_l_min=60.0, density_kg_m3=95.0, agent_share=1 / 41)
    trial = tried(Card(mix, 10, generator), Seen(wet_kg_m3=659.9))
    assert trial.checked.put_in.air_fraction == pytest.approx(AIR, abs=5e-5)
    assert trial.checked.air_lost == pytest.approx(0.045, abs=2e-4)
