"""Evaporation from fresh surfaces, against other formulas and a chart.

Uno, ACI Materials Journal 95-M34 (1998): the paper's identity is verified, its formula is from memory. Menzel's
formula, E = 0.44 (e_c - r e_a)(0.253 + 0.096 V) in psi and mph, is from memory too; its vapour pressures below are
those of psychrolib 2.5.0 (GetSatVapPres). The variant in more exact units (5.275, 17.778, 4.02336) was seen on the
help page of an instrument.
"""

import pytest

from blockrun.cure.evaporation import evaporation_kg_m2_h

VAPOUR_PA = {10: 1228.0, 15: 1705.4, 20: 2338.8, 25: 3169.2, 30: 4246.0, 35: 5627.8}
PSI_PA = 6894.757
LB_FT2 = 4.88243
CASES = [
    # surface and air degC, humidity, wind km/h, Uno, variant
    (25, 25, 0.5, 20, 0.7275, 0.7584),
    (30, 30, 0.4, 30, 1.6282, 1.6991),
    (20, 15, 0.6, 10, 0.3604, 0.3759),
    (35, 35, 0.2, 25, 2.3722, 2.4785),
]


def menzel(surface_c: int, air_c: int, humidity: float, wind_km_h: float) -> float:
    drop_psi = (VAPOUR_PA[surface_c] - humidity * VAPOUR_PA[air_c]) / PSI_PA
    return 0.44 * drop_psi * (0.253 + 0.096 * wind_km_h / 1.609344) * LB_FT2


@pytest.mark.parametrize(("surface", "air", "humidity", "wind", "uno", "variant"), CASES)
def test_uno_gives_the_rates_worked_out_by_hand(surface, air, humidity, wind, uno, variant):
    assert evaporation_kg_m2_h(surface, air, humidity, wind) == pytest.approx(uno, abs=1e-4)


@pytest.mark.parametrize(("surface", "air", "humidity", "wind", "uno", "variant"), CASES)
def test_menzel_with_vapour_pressures_of_a_library_agrees_within_five_percent(
    surface, air, humidity, wind, uno, variant
):
    assert menzel(surface, air, humidity, wind) == pytest.approx(
        evaporation_kg_m2_h(surface, air, humidity, wind), rel=0.05
    )


@pytest.mark.parametrize(("surface", "air", "humidity", "wind", "uno", "variant"), CASES)
def test_the_variant_in_exact_units_is_some_four_percent_above(surface, air, humidity, wind, uno, variant):
    exact = 5.275e-6 * ((surface + 17.778) ** 2.5 - humidity * (air + 17.778) ** 2.5) * (wind + 4.02336)
    assert exact == pytest.approx(variant, abs=1e-4)
    assert evaporation_kg_m2_h(surface, air, humidity, wind) == pytest.approx(exact, rel=0.05)


def test_the_example_of_the_chart_in_us_units():
    """87 degF over 80 degF, 50 %, 12 mph: about 0.25 lb/ft2 and hour on the chart of ACI 305 (from memory)."""
    us = (87**2.5 - 0.5 * 80**2.5) * (1 + 0.4 * 12) * 1e-6
    assert us == pytest.approx(0.243, abs=5e-4)
    ours = evaporation_kg_m2_h((87 - 32) / 1.8, (80 - 32) / 1.8, 0.5, 12 * 1.609344) / LB_FT2
    assert ours == pytest.approx(0.25, rel=0.1)
