"""How hot the middle of a cast gets: laws it must keep. What a finer grid says is in tests/published."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockrun.cure.heat import Cast, warmth
from blockrun.cure.hydration import CEMENTS
from blockrun.cure.middle import hottest_c

FOAM = Cast((0.6, 0.3, 0.2), 3.6, 400, 200, CEMENTS["normal"], conductivity_w_mk=0.2)
DAYS = 3 * 96


def hottest(cast: Cast, air_c: float = 15.0, fresh_c: float = 15.0) -> float:
    return hottest_of(cast, (air_c, fresh_c))[0]


def hottest_of(cast: Cast, *air_and_fresh_c: tuple[float, float]) -> list[float]:
    """Of pours in air as warm all the time, each with its mix; they are followed together, as many as one."""
    air_c, fresh_c = np.transpose(air_and_fresh_c)
    return list(hottest_c(cast, np.tile(air_c, (DAYS + 1, 1)), fresh_c))


def test_the_middle_is_hotter_than_the_mean():
    mean_c = warmth(FOAM, np.full((DAYS + 1, 1), 15.0), np.array([15.0])).mean_c.max()
    assert hottest(FOAM) > mean_c + 5


def test_a_cast_that_loses_nothing_gets_to_the_adiabatic_line():
    """Sudden cement, so that all of it has hydrated in three days."""
    sealed = replace(FOAM, loss_w_k=0.0, cement_kg_m3=150.0, cement=replace(FOAM.cement, beta=3.0))
    assert hottest(sealed) == pytest.approx(15 + sealed.adiabatic_rise_k, abs=0.5)


def test_without_cement_the_middle_is_never_hotter_than_poured():
    assert hottest(replace(FOAM, cement_kg_m3=0.0, other_kg_m3=400.0), fresh_c=22.0) == 22


def test_no_block_is_hotter_than_boiling_water():
    """A cube of a metre of a dense mix of rapid cement on a hot day."""
    thick = replace(FOAM, sides_m=(1.0, 1.0, 1.0), loss_w_k=6.0, cement=CEMENTS["rapid"], cement_kg_m3=700)
    assert hottest(thick, 35.0, 35.0) == 100


def test_a_cover_on_one_face_keeps_the_middle_warmer_than_the_same_loss_all_round():
    """Half a square metre each way through 0.2 m; the loss is the same in all."""
    through = FOAM.loss_w_k / (2 * 0.6 * 0.3)
    none = (0.0, 0.0)
    one_sided = replace(FOAM, faces_w_m2k=(none, none, (2 * through, 0.0)))
    both_sides = replace(FOAM, faces_w_m2k=(none, none, (through, through)))
    assert hottest(one_sided) > hottest(both_sides) + 5


def test_faces_that_are_told_alike_are_as_untold():
    loss = FOAM.loss_w_k / FOAM.area_m2
    assert hottest(replace(FOAM, faces_w_m2k=((loss, loss),) * 3)) == pytest.approx(hottest(FOAM), abs=1e-9)


@given(st.floats(-5, 25), st.floats(0, 10), st.sampled_from(sorted(CEMENTS)))
def test_a_warmer_mix_or_warmer_air_is_never_cooler_in_the_middle(air, warmer, cement):
    cast = replace(FOAM, cement=CEMENTS[cement])
    both_cool, warm_mix, both_warm = hottest_of(cast, (air, air), (air, air + warmer), (air + warmer, air + warmer))
    assert warm_mix >= both_cool - 1e-9
    assert both_warm >= warm_mix - 1e-9
