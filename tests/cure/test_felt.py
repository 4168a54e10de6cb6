"""All thumbs of one mould together, by a clock on which an hour is an hour: poured at 0, stripped at 24 h."""

from __future__ import annotations

import pytest

from blockrun.cure.felt import Felt, Press
from blockrun.cure.thumb import SOONEST, Pressed, Thumb

DUE_H = 24.0


class Hours:
    """An hour is an hour."""

    def when(self, from_min: int, hours: float, /) -> int:
        return from_min + round(60 * hours)


def felt(*tests: tuple[int, Thumb], frost: range = range(0)) -> Felt:
    """Thumbs by the hour they were pressed in, and the hours that freeze."""
    presses = [Press(60 * hour, Pressed(float(hour), thumb)) for hour, thumb in tests]
    frozen = range(60 * frost.start, 60 * frost.stop)
    return Felt(0, DUE_H, presses, lambda begin, end: bool(set(range(begin, end)) & set(frozen)))


def test_without_thumbs_it_is_as_reckoned() -> None:
    assert felt().strip(Hours()) == 60 * DUE_H
    assert felt().sides(Hours(), 12.0, ()) == 60 * 12


def test_a_firm_thumb_brings_it_forward_unless_it_froze() -> None:
    assert felt((20, "firm")).strip(Hours()) == 60 * 20
    assert felt((20, "firm"), frost=range(2, 3)).strip(Hours()) == 60 * DUE_H
    assert felt((17, "firm")).strip(Hours()) == 60 * SOONEST * DUE_H


def test_a_strength_is_waited_for_however_firm() -> None:
    assert felt((20, "firm")).strip(Hours(), held=True) == 60 * DUE_H


def test_ice_tells_nothing_but_stood_there() -> None:
    iced = felt((30, "firm"), frost=range(30, 31))
    assert (len(iced.iced), iced.counted) == (1, ())
    assert iced.strip(Hours()) == 60 * 30


def test_dents_put_it_off_and_the_softest_of_a_minute_is_the_last() -> None:
    assert felt((24, "dents")).strip(Hours()) > 60 * DUE_H
    assert [press.test.thumb for press in felt((24, "soft"), (24, "firm")).in_order] == ["firm", "soft"]


@pytest.mark.parametrize("thumb", ["soft", "dents"])
def test_what_is_behind_keeps_its_sides_on(thumb: Thumb) -> None:
    behind = felt((24, thumb))
    assert behind.sides(Hours(), 23.0, behind.counted) > 60 * 24
