"""Slabs of an order that can be worked out by hand: three blocks of 300 x 300 mm out of slabs of 605 x 300 mm."""

from __future__ import annotations

import dataclasses
from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.order import Order, load_order
from blockrun.planner.sawing import Sawing, SawnBlock, SawnSlab, SlabsNeeded
from blockrun.show.page import Page
from blockrun.show.slabs_needed import Waste, waste_of, write_slabs
from blockrun.show.takeoff import takeoff_text
from blockrun.site import MouldKind, load_site

C = ("light", 300.0, 300.0, 200.0, 0.0, 0.0, 0.0)
EXAMPLE = Path(__file__).parents[2] / "examples" / "slabs"


def kind(cavity: str = "605 x 300 x 200 mm", name: str = "slab") -> MouldKind:
    given = {"kind": name, "count": 1, "cavities": 1, "cavity": cavity, "saw": {"kerf": "5 mm", "time": "9 min"}}
    return MouldKind.model_validate(given | {"strip_time": "5 min", "clean_time": "5 min"})


def slab(blocks: int, of: MouldKind | None = None) -> SawnSlab:
    return SawnSlab(
        of or kind(), "light", tuple(SawnBlock(C, 305.0 * number, 0.0, 300.0, 300.0) for number in range(blocks))
    )


def needed(*slabs: tuple[SawnSlab, int], least_l: float = 72.6) -> SlabsNeeded:
    """A slab is 605 x 300 x 200 mm, 36.3 L."""
    cost_l = sum(count * of.kind.length_mm * of.kind.height_mm * 200 / 1e6 for of, count in slabs)
    return SlabsNeeded("light", 200.0, slabs, cost_l, least_l, proven=least_l == cost_l)


def said(found: SlabsNeeded) -> str:
    page = Page(2000)
    write_slabs(page, Sawing((found,), tuple(of for of, _ in found.slabs)), {C: 3}, {C: "C"}, "SI")
    return " ".join(page.text().plain.split())


def test_what_a_slab_gives_no_block_of_is_offcuts_and_dust() -> None:
    """Of two slabs 363 000 mm2 are seen; three blocks are 270 000, two cuts of 300 x 5 mm 3000, one offcut 90 000."""
    waste = waste_of(needed((slab(2), 1), (slab(1), 1)))
    assert waste == Waste(pytest.approx(90_000 / 363_000), pytest.approx(3000 / 363_000))


def test_blocks_that_only_slabs_give_the_slabs_and_their_waste_are_said() -> None:
    assert said(needed((slab(2), 1), (slab(1), 1))) == (
        "slabs of light, 200 mm thick for what no other mould casts: 3 C 2 of slab (605 x 300 x 200 mm); the least "
        "possible (proven) waste 26 % of them: offcuts 25 %, sawdust 1 % 1 of slab: 2 C 1 of slab: 1 C"
    )


def test_spares_that_slabs_give_beyond_what_is_asked_for_are_said() -> None:
    """Two slabs of two blocks each give four, where three are asked for; three of them give just those."""
    assert said(needed((slab(2), 2))).endswith("spares that slabs give besides, whatever further_spares says: 1 C")
    assert "besides" not in said(needed((slab(2), 1), (slab(1), 1)))


def test_where_it_is_not_proven_how_many_slabs_it_may_be_too_many_is_said() -> None:
    """40 L are more than one slab of 36.3 L, so two at the least."""
    three = needed((slab(1), 3), least_l=40.0)
    assert "3 of slab (605 x 300 x 200 mm); least possible 2 slabs: not proven, 1 more at most" in said(three)


def test_slabs_of_several_kinds_are_compared_by_what_they_take() -> None:
    two = needed((slab(1), 2), (slab(1, kind("300 x 300 x 200 mm", "half")), 1), least_l=80.0)
    assert (
        "2 of slab (605 x 300 x 200 mm) and 1 of half (300 x 300 x 200 mm); in all 90.6 L, least possible 80 L: not "
        "proven, 10.6 L more at most"
    ) in said(two)


def test_blocks_of_one_size_with_several_marks_are_said_with_all_of_them() -> None:
    page = Page(2000)
    found = needed((slab(2), 1))
    write_slabs(page, Sawing((found,), ()), {C: 2}, {C: "C/J"}, "SI")
    assert "1 of slab: 2 C/J" in page.text().plain.replace("\u00a0", " ")


@pytest.fixture
def order() -> Order:
    return load_order(EXAMPLE / "order.yaml")


def test_a_take_off_without_saw_plans_says_nothing_of_slabs(order: Order) -> None:
    assert "slab" not in takeoff_text(order, 80).plain


@pytest.mark.parametrize("width", [40, 80])
def test_a_take_off_with_slabs(order: Order, golden: SnapshotAssertion, width: int) -> None:
    """The site of examples/slabs, with two saw plans of its slab made up for this."""
    site = load_site(EXAMPLE / "site.yaml")
    large = next(mould for mould in site.moulds if mould.saw)
    found = needed((slab(2, large), 13), least_l=13 * 219.31)
    sawing = Sawing((dataclasses.replace(found, proven=True),), (slab(2, large),))
    assert takeoff_text(order, width, site=site, sawing=sawing).plain == golden
