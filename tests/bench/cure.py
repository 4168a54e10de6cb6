"""How long strip times take for a year of quarter-hour pours: ``python -m tests.bench.cure``.

The clock sums a year of air once and looks every pour up in the sum; beside it the plain way, which adds minutes up
pour by pour, timed on some of the pours and told for all of them. The last lines are a strength law fitted to 24 cubes
and one strength turned into an age. Seconds are those of the processor, the best of five.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from datetime import date

import numpy as np

from blockrun.cure import AgeClock, age_rate
from blockrun.cure.fit import fit_cubes
from blockrun.cure.reckoning import hours_for
from blockrun.site import Weather
from tests.cure.cubes import cubes

START = date(2027, 1, 1)
N_DAYS = 365
STRIP_H = 24.0
SAMPLE = 200


def a_year() -> Weather:
    """Air of a mild place: means of 3 to 17 degC, eight degrees between night and day."""
    means = 10 - 7 * np.cos(2 * np.pi * np.arange(N_DAYS + 30) / 365)
    return Weather(START, tuple((float(mean) - 4, float(mean) + 4) for mean in means))


def pours() -> np.ndarray:
    """Minutes of a year, every quarter of an hour."""
    return np.arange(0, N_DAYS * 1440, 15)


def looked_up(weather: Weather) -> np.ndarray:
    """Strip times by the clock, its table included."""
    return AgeClock(weather, START, N_DAYS).when(pours(), STRIP_H)


def added_up(rates: np.ndarray, minutes: np.ndarray) -> list[int]:
    """Strip times of some pours, each minute by minute."""
    found = []
    for minute in minutes:
        age, at = 0.0, int(minute)
        while age < STRIP_H - 1e-9:
            age += rates[at]
            at += 1
        found.append(at)
    return found


def best(run: Callable[[], object]) -> float:
    """Seconds of the processor, the least of five runs."""
    took = []
    for _ in range(5):
        start = time.process_time()
        run()
        took.append(time.process_time() - start)
    return min(took)


def main() -> None:
    """Print seconds, and how many times as long the plain way takes."""
    weather = a_year()
    clock = AgeClock(weather, START, N_DAYS + 30)
    rates = np.diff(clock.age_h(0, np.arange((N_DAYS + 30) * 1440)))
    some = np.random.default_rng(1).choice(pours(), SAMPLE)
    assert added_up(rates, some) == clock.when(some, STRIP_H).tolist()
    ours = best(lambda: looked_up(weather))
    plain = best(lambda: added_up(rates, some)) * pours().size / SAMPLE
    tests = cubes(scatter=0.15, times=2)
    fitted = best(lambda: fit_cubes(tests, age_rate))
    fit = fit_cubes(tests, age_rate)
    reckoned = best(lambda: hours_for(fit, 0.4, 600, units="SI"))
    sys.stdout.write(
        f"{pours().size} pours: {ours:.3f} s, minute by minute {plain:.1f} s, {plain / ours:.0f} times as long\n"
        f"24 cubes fitted: {fitted * 1000:.1f} ms; a strength turned into an age: {reckoned * 1000:.1f} ms\n"
    )


if __name__ == "__main__":
    main()
