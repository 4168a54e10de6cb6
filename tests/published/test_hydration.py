"""Heat of cement: the curve of hydration, the heat of thirteen cements, and the laws a cast in its mould must keep.

Schindler and Folliard, ACI Materials Journal 102-M04 (2005): the paper's identity is verified and the shape of the
curve stands in the source of an open finite-element code that cites it; coefficients are from memory. Woods, Steinour
and Starke, Industrial and Engineering Chemistry 24, 1207 (1932): calories per gram after 180 days, as the data set
``MASS::cement`` of R gives them.
"""

import numpy as np
import pytest

from blockrun.cure.heat import Cast
from blockrun.cure.hydration import CEMENTS, CementHeat, ultimate_degree
from blockrun.errors import OutOfRange

WOODS = np.array([
    # percent of C3A, C3S, C4AF, C2S; cal/g at 180 days
    (7, 26, 6, 60, 78.5), (1, 29, 15, 52, 74.3), (11, 56, 8, 20, 104.3), (11, 31, 8, 47, 87.6), (7, 52, 6, 33, 95.9),
    (11, 55, 9, 22, 109.2), (3, 71, 17, 6, 102.7), (1, 31, 22, 44, 72.5), (2, 54, 18, 22, 93.1), (21, 47, 4, 26, 115.9),
    (1, 40, 23, 34, 83.8), (11, 66, 9, 12, 113.3), (10, 68, 8, 12, 109.4),
])  # fmt: skip
JOULES_A_CALORIE = 4.184
REFERENCE = CementHeat(heat_j_g=490.0, tau_h=13.69, beta=0.905, activation_energy_kj_mol=45.0)


def predicted_cal_g(row: np.ndarray) -> float:
    c3a, c3s, c4af, c2s = row[:4] / 100
    cement = CementHeat.of(c3s=c3s, c2s=c2s, c3a=c3a, c4af=c4af, so3=1e-9, lime=0, magnesia=0, blaine_m2_kg=350)
    return cement.heat_j_g / JOULES_A_CALORIE


@pytest.mark.parametrize(
    ("water_cement", "degree"), [(0.40, 0.69428), (0.50, 0.74280), (0.58, 0.77258), (0.60, 0.77909)]
)
def test_what_ever_hydrates_by_water_over_cement(water_cement, degree):
    """Mills, formula from memory."""
    assert ultimate_degree(water_cement) == pytest.approx(degree, abs=1e-5)


@pytest.mark.parametrize(("water_cement", "degree"), [(0.2, 0.52335), (5.0, 0.99249)])
def test_at_both_limits_no_more_than_all_of_it_hydrates(water_cement, degree):
    """1.031 w / (0.194 + w) by hand: 0.2062 / 0.394 and 5.155 / 5.194."""
    assert ultimate_degree(water_cement) == pytest.approx(degree, abs=1e-5)


@pytest.mark.parametrize("water_cement", [0.19, 5.1])
def test_outside_the_limits_it_is_refused(water_cement):
    with pytest.raises(OutOfRange):
        ultimate_degree(water_cement)


@pytest.mark.parametrize(
    ("age_h", "degree"),
    [(6, 0.09008), (12, 0.24075), (24, 0.40698), (48, 0.53868), (72, 0.59455), (168, 0.66982), (672, 0.72121)],
)
def test_the_reference_curve_of_hydration(age_h, degree):
    assert float(REFERENCE.degree(age_h, ultimate_degree(0.50))) == pytest.approx(degree, abs=1e-5)


@pytest.mark.parametrize("cement", [REFERENCE, *CEMENTS.values()])
def test_at_tau_a_part_in_e_has_hydrated(cement):
    assert float(cement.degree(cement.tau_h, 1.0)) == pytest.approx(np.exp(-1))


def test_the_example_cement_from_memory():
    example = CementHeat.of(
        c3s=0.55, c2s=0.18, c3a=0.10, c4af=0.08, so3=0.03, lime=0.01, magnesia=0.02, blaine_m2_kg=350
    )
    assert example.heat_j_g == pytest.approx(489.6, abs=0.05)
    assert (example.tau_h, example.beta) == (pytest.approx(15.55, abs=0.005), pytest.approx(0.696, abs=5e-4))
    assert example.activation_energy_kj_mol == pytest.approx(45.8, abs=0.05)


def test_its_activation_energy_is_near_what_a_national_laboratory_tells():
    """45.5 kJ/mol, a web page of NIST on the modelling of hydration."""
    assert CEMENTS["normal"].activation_energy_kj_mol == pytest.approx(45.5, abs=1)


def test_heats_of_thirteen_cements_rank_as_measured():
    """After 180 days not all has hydrated, so each measured heat is somewhat under the ultimate one."""
    predicted = np.array([predicted_cal_g(row) for row in WOODS])
    measured = WOODS[:, 4]
    ratio = measured / predicted
    assert np.corrcoef(predicted, measured)[0, 1] == pytest.approx(0.98707, abs=1e-5)
    assert ratio.mean() == pytest.approx(0.919, abs=0.005)
    assert 0.80 < ratio.min() < ratio.max() < 1.0
    assert predicted[[0, 2, 5, 7]] == pytest.approx([88.9, 110.1, 111.2, 88.5], abs=0.06)


def test_the_thirteen_cements_are_those_of_the_textbook_regression():
    """Coefficients printed with the data set in many textbooks; a slip of the pen in a row would change them."""
    matrix = np.column_stack((np.ones(len(WOODS)), WOODS[:, :4]))
    coefficients, residual, *_ = np.linalg.lstsq(matrix, WOODS[:, 4], rcond=None)
    assert coefficients == pytest.approx([62.4054, 1.55110, 0.51017, 0.10191, -0.14406], abs=1e-4)
    assert residual[0] == pytest.approx(47.8636, abs=1e-3)


def test_the_adiabatic_rise_as_a_guide_on_thick_concrete_writes_it():
    """CIRIA C766, public transcription of its formulas (seen in text): Q x binder / (c x density).

    With its defaults c 1 kJ/kgK and 2400 kg/m3, and 350 kg of a binder that gives off 340 kJ/kg, 49.58 K (derived).
    Water is chosen so that 750 and 4186 J/kgK (from memory) make its c of 1. Tolerance: half the last digit.
    """
    water = (2400 * 1000 - 2400 * 750) / (4186 - 750)
    gives_off = CementHeat(340 / ultimate_degree(water / 350), tau_h=13.69, beta=0.905, activation_energy_kj_mol=45)
    cast = Cast((1, 1, 1), 0.0, 350, water, gives_off, other_kg_m3=2400 - 350 - water)
    assert cast.capacity_j_m3k == pytest.approx(2400e3)
    assert cast.adiabatic_rise_k == pytest.approx(49.58, abs=0.005)
