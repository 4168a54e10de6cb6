"""Which mould can cast which block."""

from dataclasses import replace
from pathlib import Path

import pytest

from blockrun.errors import BadInput
from blockrun.order import OrderLine, load_order, takeoff
from blockrun.order.castable import castable
from blockrun.order.no_mould import check_castable
from blockrun.site import MouldKind, Site, load_site

CONFIGS = Path(__file__).parents[2] / "configs"


def mould(**changes: object) -> MouldKind:
    values: dict[str, object] = {
        "kind": "gang",
        "count": 1,
        "cavities": 4,
        "cavity": "600 x 300 x 200 mm",
        "strip_time": "10 min",
        "clean_time": "10 min",
    }
    return MouldKind.model_validate(values | changes)


def line(length: float = 600.0, height: float = 300.0, thickness: float = 200.0) -> OrderLine:
    return OrderLine("p", None, "A", "wall", length, height, thickness, 1, None)


@pytest.mark.parametrize(
    ("block", "stop_ends", "fits"),
    [
        (line(), False, True),
        (line(length=600.01), False, True),
        (line(length=599.99, height=300.01, thickness=199.99), False, True),
        (line(length=600.02), False, False),
        (line(length=600.02), True, False),
        (line(length=450.0), False, False),
        (line(length=450.0), True, True),
        (line(length=300.0), True, True),
        (line(height=299.98), True, False),
        (line(thickness=200.02), True, False),
        (line(length=300.0, height=600.0), True, False),  # blocks are not turned over
    ],
)
def test_a_block_fits_its_cavity_or_a_longer_one_with_stop_ends(block: OrderLine, stop_ends: bool, fits: bool):
    assert castable(mould(stop_ends=stop_ends), block) is fits


@pytest.mark.parametrize(("wedges", "fits"), [(["0 deg"], True), (["0 deg", "15 deg"], True), (["15 deg"], False)])
def test_a_block_of_a_list_has_no_bevel(wedges: list[str], fits: bool):
    assert castable(mould(wedges=wedges), line()) is fits


SLAB = {"kind": "slab", "cavities": 1, "cavity": "1200 x 900 x 200 mm", "saw": {"kerf": "5 mm", "time": "20 min"}}


@pytest.mark.parametrize(
    ("block", "fits"),
    [
        (line(), True),
        (line(length=1200.0, height=900.0), True),
        (line(length=900.0, height=1200.0), True),  # turned
        (line(length=1000.0, height=1000.0), False),
        (line(length=1201.0), False),
        (line(thickness=190.0), False),
        (replace(line(), bevel_deg=5.0), False),
    ],
)
def test_a_block_is_sawn_out_of_a_slab_of_its_thickness_lying_or_turned(block: OrderLine, fits: bool):
    assert castable(mould(**SLAB), block) is fits


def test_nothing_ordered_is_cast_in_a_filler_mould():
    assert castable(mould(), line())
    assert not castable(mould(filler="true"), line())


@pytest.fixture
def site() -> Site:
    return load_site(CONFIGS / "small-yard.yaml")


def test_blocks_that_can_be_cast_pass(site: Site):
    assert check_castable(site, [line(), line(length=250.0), line(height=200.0, thickness=100.0)]) is None


@pytest.mark.parametrize(
    ("block", "said"),
    [
        (line(thickness=150.0), "The nearest is gang-4 (600 x 300 x 200 mm); it would need a thickness of 150 mm."),
        (line(450.0, 200.0, 100.0), "The nearest is gang-6 (600 x 200 x 100 mm); it would need stop_ends: true."),
        (line(length=700.0), "The nearest is gang-4 (600 x 300 x 200 mm); it would need a length of 700 mm."),
    ],
)
def test_a_block_no_mould_can_cast_names_the_nearest_and_what_it_lacks(site: Site, block: OrderLine, said: str):
    with pytest.raises(BadInput, match="no mould can cast block A") as caught:
        check_castable(site, [block])
    assert str(caught.value.todo).startswith(said)


@pytest.mark.parametrize(
    ("block", "side", "said"),
    [
        (
            line(height=200.0, thickness=300.0),
            "height",
            "Its height and thickness look swapped: gang-4 casts blocks of 600 x 300 x 200 mm.",
        ),
        (
            line(length=300.0, height=450.0),
            "height",
            "Its height and length look swapped: gang-4 casts blocks of 450 x 300 x 200 mm.",
        ),
    ],
)
def test_two_sides_that_changed_places_are_told(site: Site, block: OrderLine, side: str, said: str):
    with pytest.raises(BadInput) as caught:
        check_castable(site, [block])
    assert str(caught.value.todo).startswith(said)
    assert caught.value.name == side


def test_each_such_mark_is_said_at_the_side_that_does_not_fit(site: Site, tmp_path: Path):
    (tmp_path / "blocks.csv").write_text(
        "mark,length_mm,height_mm,thickness_mm,count\nA,600,300,200,3\nB,600,300,210,3\nC,999,300,200,3\n"
    )
    (tmp_path / "order.yaml").write_text(
        "order: x\nmixes: [{name: wall, wet_density: 800 kg/m3, slurry_water_cement: 0.5}]\n"
        "parts: [{list: blocks.csv}]\n"
    )
    order = load_order(tmp_path / "order.yaml")
    with pytest.raises(BadInput) as caught:
        check_castable(site, takeoff(order), order)
    assert [(fault.value, fault.line, fault.column) for fault in caught.value.all()] == [("B", 3, 11), ("C", 4, 3)]


def test_a_leaning_block_needs_inserts_that_lean_so():
    wedged = mould(wedges=["0 deg", "5 deg"], tapers=["0 deg", "2 deg"])
    leaning = replace(line(), bevel_deg=5.2, taper_deg=2.0)
    assert castable(wedged, leaning)
    assert not castable(mould(), leaning)
    assert not castable(wedged, replace(leaning, bevel_deg=5.3))
    assert not castable(wedged, replace(leaning, bed_deg=1.0))
