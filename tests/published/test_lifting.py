"""Lifts by the revised NIOSH equation, the HSE filter and masses of blocks, against published figures."""

from __future__ import annotations

import pytest

from blockrun.order.shape import Shape
from blockrun.planner.lifting import Lift, hse_filter

EASY = Lift(reach_cm=25, height_cm=75, travel_cm=25)


# Canadian Centre for Occupational Health and Safety (CCOHS), OSH Answers, NIOSH lifting equation, "horizontal": 15 kg,
# H 50, V 75, D 40 cm, FM 1, CM 1; 10.9 kg, and 17.5 kg once HM is 0.80. Seen in text. They read DM off a coarse table
# (0.95 for 0.93), hence 3 %.
def test_a_load_held_far_from_the_body():
    assert Lift(reach_cm=50, height_cm=75, travel_cm=40).limit_kg == pytest.approx(10.9, rel=0.03)
    assert Lift(reach_cm=25 / 0.80, height_cm=75, travel_cm=40).limit_kg == pytest.approx(17.5, rel=0.03)


# CCOHS, same pages, "vertical": H 30, V 0, D 115 cm, poor grip: 11.4 kg. Seen in text; 3 % as above.
def test_a_load_taken_from_the_floor():
    assert Lift(reach_cm=30, height_cm=0, travel_cm=115, grip="poor").limit_kg == pytest.approx(11.4, rel=0.03)


# CCOHS, same pages, "frequency": ten lifts a minute, over an hour, A 90 deg, FM 0.13. Seen in text. Their VM is
# of a coarse table (0.93 where the hands are at 75 cm), so the factors are held against theirs one by one.
def test_ten_lifts_a_minute_all_day_and_a_quarter_turn():
    factors = Lift(
        reach_cm=20, height_cm=75, travel_cm=0, twist_deg=90, lifts_a_minute=10, hours=8, grip="fair"
    ).factors
    assert factors["lifts a minute"] == 0.13
    assert factors["twist"] == pytest.approx(0.71, abs=0.006)
    assert (factors["reach"], factors["travel"], factors["grip"]) == (1.0, 1.0, 1.0)


# University coursework on the applications manual: 12 kg, H 25, V 55, D 95 cm, 3 lifts a minute, fair grip: 15.7 kg,
# index 0.76. Seen in text. Tolerance: their rounding.
def test_three_lifts_a_minute_with_a_fair_grip():
    lift = Lift(reach_cm=25, height_cm=55, travel_cm=95, lifts_a_minute=3, hours=1, grip="fair")
    assert lift.limit_kg == pytest.approx(15.7, abs=0.05)
    assert 12 / lift.limit_kg == pytest.approx(0.76, abs=0.006)


# Cells of the manual's tables (DHHS (NIOSH) 94-110), second-hand. Tolerance: half the last digit, and a little.
@pytest.mark.parametrize(
    ("factor", "lift", "published"),
    [
        ("reach", Lift(50, 75, 25), 0.50),
        ("reach", Lift(63, 75, 25), 0.40),
        ("height", Lift(25, 0, 25), 0.78),
        ("travel", Lift(25, 75, 115), 0.86),
        ("twist", Lift(25, 75, 25, twist_deg=90), 0.71),
        ("twist", Lift(25, 75, 25, twist_deg=135), 0.57),
    ],
)
def test_cells_of_the_tables(factor: str, lift: Lift, published: float):
    assert lift.factors[factor] == pytest.approx(published, abs=0.006)


# Beyond the ends of those tables nothing is lifted at all (same source).
@pytest.mark.parametrize(
    "lift",
    [Lift(63.1, 75, 25), Lift(25, 175.1, 25), Lift(25, 75, 175.1), Lift(25, 75, 25, twist_deg=135.1)],
)
def test_beyond_the_ends_of_the_tables_nothing_is_lifted(lift: Lift):
    assert lift.limit_kg == 0


# Frequency factors, table 5 of the manual: second-hand, worksheets and two public programs that write them out alike.
# One stretch up to 1 h, 2 h, 8 h, each with the hands under 75 cm and from there up.
@pytest.mark.parametrize(
    ("lifts_a_minute", "published"),
    [
        (0.2, (1.00, 1.00, 0.95, 0.95, 0.85, 0.85)),
        (0.5, (0.97, 0.97, 0.92, 0.92, 0.81, 0.81)),
        (1, (0.94, 0.94, 0.88, 0.88, 0.75, 0.75)),
        (3, (0.88, 0.88, 0.79, 0.79, 0.55, 0.55)),
        (5, (0.80, 0.80, 0.60, 0.60, 0.35, 0.35)),
        (8, (0.60, 0.60, 0.35, 0.35, 0.18, 0.18)),
        (9, (0.52, 0.52, 0.30, 0.30, 0.00, 0.15)),
        (10, (0.45, 0.45, 0.26, 0.26, 0.00, 0.13)),
        (11, (0.41, 0.41, 0.00, 0.23, 0.00, 0.00)),
        (12, (0.37, 0.37, 0.00, 0.21, 0.00, 0.00)),
        (13, (0.00, 0.34, 0.00, 0.00, 0.00, 0.00)),
        (15, (0.00, 0.28, 0.00, 0.00, 0.00, 0.00)),
        (16, (0.00, 0.00, 0.00, 0.00, 0.00, 0.00)),
    ],
)
def test_factors_of_the_table_of_frequencies(lifts_a_minute: float, published: tuple[float, ...]):
    lifts = [
        Lift(25, height_cm, 25, lifts_a_minute=lifts_a_minute, hours=hours)
        for hours in (1, 2, 8)
        for height_cm in (74, 75)
    ]
    assert tuple(lift.factors["lifts a minute"] for lift in lifts) == published


# 23 kg under the best conditions (NIOSH, second-hand: an ergonomics handbook).
def test_the_best_of_lifts_is_23_kg():
    assert EASY.limit_kg == pytest.approx(23)


# HSE INDG143 rev. 4: a man's figures second-hand, a woman's from memory; close to the body and at arm's length, by the
# zone of the hands. Exact.
@pytest.mark.parametrize(
    ("height_cm", "close", "far"),
    [
        (150, (10, 7), (5, 3)),
        (120, (20, 13), (10, 7)),
        (90, (25, 16), (15, 10)),
        (50, (20, 13), (10, 7)),
        (10, (10, 7), (5, 3)),
    ],
)
def test_the_hse_filter_by_zones(height_cm: float, close: tuple[int, int], far: tuple[int, int]):
    for reach_cm, published in ((30, close), (60, far)):
        found = hse_filter(Lift(reach_cm, height_cm, 0), height_cm)
        assert (found.man_kg, found.woman_kg) == published


# HSE INDG143 and L23, second-hand: the smallest of the zones the hands pass; 10 % less beyond a twist of 45 deg, 20 %
# beyond 90 deg; 30 % less at once or twice a minute, 50 % at five to eight times, 80 % over twelve times. Exact.
def test_the_hse_filter_takes_the_least_zone_and_its_cuts():
    assert hse_filter(Lift(30, 10, 0), 90).man_kg == 10
    cuts = [hse_filter(Lift(30, 90, 0, twist_deg=twist), 90).man_kg / 25 for twist in (45, 46, 91)]
    assert cuts == pytest.approx([1, 0.9, 0.8])
    often = [hse_filter(Lift(30, 90, 0, lifts_a_minute=times), 90).man_kg / 25 for times in (0.5, 1, 2, 5, 8, 13)]
    assert often == pytest.approx([1, 0.7, 0.7, 0.5, 0.5, 0.2])


# Derived: volume x density. Masses as given, to a tenth of a kilogram.
@pytest.mark.parametrize(
    ("sides_mm", "masses_kg"),
    [((400, 200, 200), (9.6, 12.8, 16.0)), ((600, 300, 200), (21.6, 28.8, 36.0))],
)
def test_masses_of_solid_blocks(sides_mm: tuple[int, int, int], masses_kg: tuple[float, ...]):
    volume_l = Shape(*sides_mm).volume_l
    assert [volume_l / 1000 * density for density in (600, 800, 1000)] == pytest.approx(masses_kg, abs=0.05)
    assert (masses_kg[1] > EASY.limit_kg) == (sides_mm[0] == 600)
