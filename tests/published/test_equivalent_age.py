"""Equivalent age against the formulas of the codes, as another library has them.

The library is not installed with the tests: it wants a compiler on new Pythons. Its answers are written down here.
"""

from datetime import date

import pytest

from blockrun.cure import AgeClock, age_rate
from blockrun.site import Weather

# EN 1992-1-1:2004 (B.10) and fib Model Code 2010 (5.1-85): days at 20 degC that one day at T degC is worth. Computed
# with structuralcodes 0.7.2, ec2_2004.t_T(T, 1.0) and mc2010.t_T(T, 1.0), which agree to the last digit. Relative
# tolerance 1e-12.
ONE_DAY = {
    -30: 0.06015051048121391,
    -25: 0.08382430664985623,
    -20: 0.11529321731556902,
    -15: 0.1566288995057165,
    -10: 0.21031992076728448,
    -5: 0.27932672238481715,
    0: 0.36713903819174526,
    5: 0.47783527988395197,
    10: 0.6161433580764766,
    15: 0.7875023777759395,
    20: 0.9981246276066766,
    25: 1.255057273821629,
    30: 1.56624317235313,
    35: 1.9405802241796166,
    40: 2.3879787201842984,
    45: 2.919416150411873,
    50: 3.5469889880574508,
    55: 4.283960999476846,
    60: 5.144807676816335,
    65: 6.145256438380738,
    70: 7.302322292504468,
    75: 8.634338712450075,
    80: 10.160983521812543,
}


@pytest.mark.parametrize(("celsius", "days"), ONE_DAY.items())
def test_one_day_at_a_temperature(celsius, days):
    assert float(age_rate(celsius)) == pytest.approx(days, rel=1e-12)


# The same library: temperatures in degC held for whole days, and the age in days. Tolerance 1e-5.
@pytest.mark.parametrize(
    ("history", "days"),
    [
        ([(10, 2), (20, 3), (30, 4)], 10.491633),
        ([(5, 1), (15, 2), (25, 3)], 5.818012),
        ([(5, 3)], 1.43351),
        ([(10, 3)], 1.84843),
        ([(30, 3)], 4.69873),
        ([(5, 7)], 3.34485),
    ],
)
def test_the_age_clock_sums_a_history_of_days(history, days):
    start = date(2027, 4, 5)
    by_day = [celsius for celsius, n_days in history for _ in range(n_days)]
    held = Weather(start, tuple((celsius, celsius) for celsius in by_day))
    clock = AgeClock(held, start, days=len(by_day))
    assert clock.age_h(0, len(by_day) * 1440) / 24 == pytest.approx(days, abs=1e-5)
