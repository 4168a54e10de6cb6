"""Minutes as bits."""

from __future__ import annotations

from random import Random

import pytest

from blockrun.optimiser.quick.minutes import first, span, starts


def test_a_span_is_half_open() -> None:
    assert span(2, 5) == 0b11100
    assert span(5, 5) == span(6, 2) == 0


def test_a_task_starts_where_all_its_minutes_are_free() -> None:
    assert starts(0b1110111, 3) == 0b0010001
    assert starts(0b1110111, 4) == 0
    assert starts(0b1110111, 1) == 0b1110111


@pytest.mark.parametrize("seed", range(20))
def test_starts_are_those_found_minute_by_minute(seed: int) -> None:
    rng = Random(seed)
    free, length = rng.getrandbits(90) | rng.getrandbits(90), rng.randint(1, 9)
    slowly = [at for at in range(90) if all(free >> minute & 1 for minute in range(at, at + length))]
    assert [at for at in range(90) if starts(free, length) >> at & 1] == slowly


def test_the_first_minute_is_never_before_the_one_asked_for() -> None:
    assert first(0b101100, 0) == 2
    assert first(0b101100, 4) == 5
    assert first(0b101100, 6) is None
    assert first(0b101100, -7) == 2
