"""One digest for equal content."""

from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel

from blockrun.files.digests import digest


@dataclass(frozen=True)
class Thing:
    name: str
    size: float


@given(st.lists(st.builds(Thing, st.text(max_size=3), st.floats(-1e6, 1e6)), max_size=6), st.randoms())
def test_the_order_of_rows_never_matters(things: list[Thing], shuffler: object):
    shuffled = list(things)
    shuffler.shuffle(shuffled)
    assert digest(things) == digest(shuffled)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        ([Thing("a", 1.0)], [Thing("a", 1.1)]),
        ([Thing("a", 1.0)], [Thing("a", 1.0)] * 2),
        ((1, 2), (2, 1)),
        ({"a": 1}, {"b": 1}),
        (None, ""),
        (date(2027, 4, 5), date(2027, 4, 6)),
    ],
)
def test_other_content_has_another_digest(one: object, other: object):
    assert digest(one) != digest(other)


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (Fraction(1, 2), 0.5),
        (Decimal("0.50"), Decimal("0.5")),
        (406.4, 406.40000000000003),
        (frozenset([1, 2]), frozenset([2, 1])),
        ({"a": 1, "b": 2}, {"b": 2, "a": 1}),
    ],
)
def test_the_same_number_or_set_has_the_same_digest(one: object, other: object):
    assert digest(one) == digest(other)


class Before(BaseModel):
    size: float


class Since(BaseModel):
    size: float
    colours: tuple[str, ...] = ()


@dataclass(frozen=True)
class Row:
    size: float
    colours: tuple[str, ...] = ()
    shades: list[str] = field(default_factory=list)
    seen: int = field(default=0, compare=False)


@pytest.mark.parametrize("since", [Since, Row])
def test_a_field_added_later_counts_only_once_it_is_used(since: type[Since | Row]) -> None:
    assert digest(since(size=1)) == digest(since(size=1, colours=())) == digest(Before(size=1))
    assert digest(since(size=1, colours=("red",))) != digest(Before(size=1))


def test_a_field_that_nobody_compares_counts_for_nothing() -> None:
    assert digest(Row(1, seen=2)) == digest(Row(1))


def test_what_has_no_content_has_no_digest():
    with pytest.raises(TypeError):
        digest(object())
