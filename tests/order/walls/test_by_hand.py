"""Walls reckoned by hand: how many blocks of which length, and how many litres."""

from __future__ import annotations

from collections import Counter

import pytest

from blockrun.order.walls import WallLayout, WallPart, lay_wall

INCH = 25.4


def laid(**keys: object) -> WallLayout:
    return lay_wall(WallPart.model_validate({"wall": "w", **keys}))


def test_an_open_corner_of_two_runs_with_two_windows_in_inches() -> None:
    """Units of half a block and a joint are 8 in.

    One run is 20 of them and the other 15 past the corner, or 19 and 16: 35 a course, so 17 whole blocks and a half in
    each of 12. Two windows take 4 units each of 4 courses: 388 are left. In the courses that are on the jambs they
    leave no halves, in the other two 2 each: 8 more, so 20 halves and 184 whole ones.
    """
    window = {"sill": "32 in", "width": "32 3/8 in", "height": "32 in"}
    windows = [{"name": name, "from": at, **window} for name, at in (("one", "31 5/8 in"), ("two", "95 5/8 in"))]
    runs = [{"run": "a", "length": "159 5/8 in", "openings": windows}, {"run": "b", "length": "127 5/8 in"}]
    block = {"block": "15 5/8 x 7 5/8 x 7 5/8 in", "joint": "3/8 in", "height": "96 in"}
    layout = laid(outline=runs, closed=False, **block)
    lengths = Counter(round(one.shape.length_mm / INCH, 3) for one in layout.blocks)
    assert lengths == {15.625: 184, 7.625: 20}
    assert layout.volume_l == pytest.approx((184 * 15.625 + 20 * 7.625) * 7.625**2 * INCH**3 / 1e6)


def test_piers_add_what_stands_out_of_the_wall() -> None:
    """Ten courses of 6090 mm: 95 whole blocks and 10 halves. A pier of 400 mm is a block of that in five of them.

    In the other five a block of 410 mm goes through both, one of 190 mm beside it, and two of the wall are 495 mm.
    """
    keys = {"length": "6.09 m", "height": "3.1 m", "block": "600 x 300 x 200 mm", "joint": "10 mm"}
    piers = [{"at": at, "width": "400 mm"} for at in ("1.22 m", "4.27 m")]
    alone, layout = laid(**keys), laid(piers=piers, **keys)
    assert alone.volume_l == pytest.approx((95 * 600 + 10 * 295) * 0.06)
    of_a_pier = 5 * 400 + 5 * (410 + 190 + 2 * 495 - 2 * 600)
    assert layout.volume_l - alone.volume_l == pytest.approx(2 * of_a_pier * 0.06)


def test_an_outline_of_twelve_short_legs() -> None:
    """Legs of 1200 mm at 150 deg are 1092.82 mm inside, 1146.41 mm on the mean.

    A mitred joint a leg, and one end joint or two in turn, 1.5 on the mean, take 10 mm each.
    """
    legs = [{"run": f"leg {number}", "length": "1.2 m", "angle": "150 deg"} for number in range(12)]
    layout = laid(outline=legs, height="1.24 m", block="600 x 300 x 200 mm", joint="10 mm")
    assert len(layout.blocks) == 12 * (2 * 2 + 2 * 3)
    assert layout.volume_l == pytest.approx(12 * 4 * (1146.41 - 25) * 0.06, rel=1e-4)
