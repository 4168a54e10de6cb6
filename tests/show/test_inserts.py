"""What is set into a cavity before it is poured."""

from __future__ import annotations

import pytest

from blockrun.order.shape import Shape
from blockrun.show.inserts import inserts_for
from blockrun.show.tape import size_on_tape
from blockrun.site import MouldKind

RING = MouldKind.model_validate(
    {
        "kind": "ring",
        "count": 1,
        "cavities": 2,
        "cavity": "450 x 300 x 200 mm",
        "stop_ends": True,
        "wedges": ["0 deg", "5 deg", "7 deg"],
        "tapers": ["0 deg", "3 deg"],
        "strip_time": "10 min",
        "clean_time": "5 min",
    }
)


@pytest.mark.parametrize(
    ("shape", "said"),
    [
        (Shape(450, 300, 200), ""),
        (Shape(440, 300, 200), "stop-end at 440 mm"),
        (Shape(450, 300, 200, bevel_deg=7.1), "wedges of 7 deg"),
        (Shape(380, 300, 200, 5.0, 3.0), "stop-end at 380 mm, wedges of 5 deg, tapers of 3 deg"),
    ],
)
def test_what_is_set_in_is_said(shape: Shape, said: str) -> None:
    assert inserts_for(shape, RING).said("SI") == said


def test_a_stop_end_is_said_in_the_units_of_the_yard() -> None:
    assert inserts_for(Shape(381, 300, 200), RING).said("US") == "stop-end at 15 in"


@pytest.mark.parametrize(("length_mm", "inches"), [(299.2, "11 3/4"), (201.6125, "7 15/16"), (303.2, "11 15/16")])
def test_a_stop_end_is_set_by_a_tape_with_sixteenths_as_in_the_list_of_blocks(length_mm: float, inches: str) -> None:
    inserts = inserts_for(Shape(length_mm, 300, 200), RING)
    assert inserts.said("US") == f"stop-end at {inches} in"
    assert size_on_tape("US", length_mm) == f"{inches} in"
