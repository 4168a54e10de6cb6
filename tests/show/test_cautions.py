"""Cautions agree with what the same sheets say of a plan."""

from __future__ import annotations

from blockrun.show.batch.check import IN_THE_YARD
from blockrun.show.cautions import CAUTIONS, DUST


def test_no_caution_promises_that_two_people_are_enough() -> None:
    """A plan may say that a block is too heavy for two, and for three."""
    (lifting,) = (caution for caution in CAUTIONS if "heavy" in caution)
    assert "in pairs" not in lifting
    assert "in pairs" not in IN_THE_YARD
    assert "notes on lifting" in lifting


def test_dust_asks_for_water_or_for_a_respirator_that_holds_it_back() -> None:
    assert "wet" in DUST
    assert "P3" in DUST
    assert "N100" in DUST
