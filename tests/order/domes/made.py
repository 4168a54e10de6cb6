"""The dome of the design, with changes: 4.4 m across, on a stem, with a door."""

from __future__ import annotations

from typing import Any

from blockrun.order.domes import DomePart
from blockrun.site.moulds import MouldKind

STORE: dict[str, Any] = {
    "dome": "store",
    "inside_diameter": "4.4 m",
    "profile": "hemisphere",
    "stem": "1.2 m",
    "thickness": "200 mm",
    "course": "300 mm",
    "block_length": "450 mm",
    "joint": "10 mm",
    "openings": [{"name": "door", "width": "0.9 m", "height": "2.0 m"}],
}


def dome(**changes: Any) -> DomePart:
    """The dome with some keys otherwise; None takes a key out."""
    return DomePart.model_validate({key: value for key, value in {**STORE, **changes}.items() if value is not None})


def shell(**changes: Any) -> DomePart:
    """The same without its door."""
    return dome(openings=[], **changes)


def mould(cavity: str = "600 x 300 x 200 mm", **changes: Any) -> MouldKind:
    """Plain moulds with stop-ends."""
    keys = {"kind": "gang", "count": 4, "cavities": 4, "stop_ends": True, "strip_time": "9 min", "clean_time": "9 min"}
    return MouldKind.model_validate({**keys, "cavity": cavity, **changes})
