"""How blocks are lifted, and what oil, sand and lead times there are: keys that may be left out."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest

from blockrun.errors import BadInput
from blockrun.site import Lifting, MassDelivery, ReleaseOil, Sand, Site, VolumeDelivery, digest_site

Yard = Callable[..., Site]
Refuse = Callable[..., BadInput]

LIFT = ("weather:", "lifting: {from_height: 10 in, to_height: 0.9 m, reach: 0.4 m, people: 2, time: 90 min}\nweather:")
OIL = (
    "stock:\n",
    "stock:\n  release_oil: {per_turn: 50 mL, on_hand: 5 L, deliveries: [{day: 2027-04-12, volume: 10 L}], price: 3}\n"
    "  sand: {on_hand: 1 t, deliveries: [{day: 2027-04-12, mass: 500 kg}], price: 0.05, lead_time: 2 d}\n",
)


def test_a_site_that_says_nothing_of_it_lifts_off_a_low_bench_alone(yard: Yard) -> None:
    assert yard().lifting == Lifting()


def test_a_lift_is_read_in_any_unit_and_what_is_left_out_stays_as_it_is_unless_told(yard: Yard) -> None:
    lifting = yard(LIFT).lifting
    assert lifting == Lifting(from_height_mm=254.0, to_height_mm=900.0, reach_mm=400.0, people=2, time_min=90)
    assert lifting.twist_deg == 30


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("reach: 0.4", "reach: 0.4 has no unit, and a length needs one"),
        ("reach: 0 m", "reach: 0 m is out of range; it must be more than 0 m"),
        ("people: 4", "people: 4 is out of range; it must be at most 3"),
        ("grip: firm", "grip: firm is not known here"),
        ("time: 9 h", "time: 9 h is out of range; it must be at most 8 h"),
        ("lifts_a_minute: 0", "lifts_a_minute: 0 is out of range; it must be more than 0"),
        ("turn: 30 deg", "unknown key turn"),
    ],
)
def test_a_lift_that_cannot_be_is_refused_at_its_place(refusal: Refuse, written: str, said: str) -> None:
    shown = str(refusal(("weather:", f"lifting: {{{written}}}\nweather:")))
    assert said in shown
    assert "yard.yaml:51:" in shown


def test_oil_and_sand_are_read_with_what_comes_of_them(yard: Yard) -> None:
    stock = yard(OIL).stock
    comes = date(2027, 4, 12)
    assert stock.release_oil == ReleaseOil(
        per_turn_l=0.05, on_hand_l=5.0, deliveries=(VolumeDelivery(day=comes, amount=10.0),), price=3.0
    )
    assert stock.sand == Sand(
        on_hand_kg=1000.0, deliveries=(MassDelivery(day=comes, amount=500.0),), price=0.05, lead_time_min=2880
    )
    assert (stock.fly_ash, stock.lime, stock.fibre) == (None, None, None)


def test_a_lead_time_is_read_for_cement_and_agent(yard: Yard) -> None:
    stock = yard(
        ("price: 6.10", "price: 6.10, lead_time: 5 d"), ("price: 9.50", "price: 9.50, lead_time: 1 week")
    ).stock
    assert (stock.cement.lead_time_min, stock.foaming_agent.lead_time_min) == (7200, 10080)


def test_lots_and_the_moisture_of_sand_are_read_where_told(yard: Yard) -> None:
    plain = yard().stock
    assert (plain.cement.lot, plain.cement.deliveries[0].lot, plain.foaming_agent.lot) == (None, None, None)
    assert plain.sand_moisture == 0
    stock = yard(
        ("bag: 25 kg,", "bag: 25 kg, lot: A1,"),
        ("bags: 80}", "bags: 80, lot: B7}"),
        ("volume: 10 L}", "volume: 10 L, lot: 2027-114}"),
        ("  foaming_agent:", "  sand: {moisture: 4 %}\n  foaming_agent:"),
    ).stock
    assert (stock.cement.lot, stock.cement.deliveries[0].lot) == ("A1", "B7")
    assert stock.foaming_agent.deliveries[0].lot == "2027-114"
    assert stock.sand_moisture == 0.04


def test_a_moisture_over_what_sand_holds_is_refused_at_its_place(refusal: Refuse) -> None:
    shown = str(refusal(("  foaming_agent:", "  sand: {moisture: 40 %}\n  foaming_agent:")))
    assert "moisture: 40 % is out of range" in shown


def test_keys_not_used_leave_the_digest_of_a_site_as_it_was(yard: Yard) -> None:
    plain = yard()
    said = yard(("weather:", "lifting: {reach: 0.3 m, twist: 30 deg}\nweather:"))
    assert digest_site(said) == digest_site(plain)
    assert digest_site(yard(OIL)) != digest_site(plain)
    assert digest_site(yard(LIFT)) != digest_site(plain)
