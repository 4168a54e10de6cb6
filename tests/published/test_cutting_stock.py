"""A paper mill's rolls: the cutting-stock example of a public reference article (seen in text).

Thirteen widths are cut out of rolls of 5600 mm. The article gives the numbers below, 73 rolls as the optimum and 72.7
(all widths end to end) as what no cutting gets below. Tolerance: none for the rolls; 72.7 is rounded to a tenth. A roll
is a slab of height 1 here, sawn without loss. That first-fit-decreasing takes 82 is our own working, not the article's.
"""

from __future__ import annotations

import pytest

from blockrun.optimiser.engine import Effort
from blockrun.optimiser.sawing.plan import Slab
from blockrun.optimiser.sawing.solve import saw

ROLL = 5600
ORDERED = {
    1380: 22, 1520: 25, 1560: 12, 1710: 14, 1820: 18, 1880: 18, 1930: 20, 2000: 10, 2050: 12, 2100: 14, 2140: 16,
    2150: 18, 2200: 20,
}  # fmt: skip
EFFORT = Effort(work=5.0, stop=lambda: False)


def first_fit_decreasing() -> int:
    rolls: list[int] = []
    for width in sorted((width for width, count in ORDERED.items() for _ in range(count)), reverse=True):
        at = next((index for index, used in enumerate(rolls) if used + width <= ROLL), None)
        if at is None:
            rolls.append(width)
        else:
            rolls[at] += width
    return len(rolls)


def test_all_widths_end_to_end_take_72_7_rolls() -> None:
    assert sum(width * count for width, count in ORDERED.items()) / ROLL == pytest.approx(72.7, abs=0.05)


def test_73_rolls_are_found_and_proven() -> None:
    sawn = saw([Slab(ROLL, 1)], [0], [(width, 1) for width in ORDERED], list(ORDERED.values()), EFFORT)
    assert sum(count for _, _, count in sawn.plans) == 73
    assert sawn.bound == sawn.cost == 73 * ROLL
    assert sawn.proven


def test_the_simple_way_takes_82() -> None:
    assert first_fit_decreasing() == 82
