"""Invented yards with what some builders have besides: slabs, fillers, cubes, sand, other rules of age, a stack."""

from __future__ import annotations

from random import Random

from blockrun.order import ListPart, Order
from blockrun.site import CubeSets, MouldKind, Saw, Site, Stack
from tests.yards import SMALL, Yard, a_yard


def a_yard_with_more(seed: int, blocks: tuple[int, int] = SMALL) -> Yard:
    """The yard of a seed, with slabs beside or in place of its moulds, and some of the rest."""
    yard, rng = a_yard(seed, blocks), Random(seed + 50_000)
    order = _order(rng, yard.order)
    return Yard(_site(rng, yard.site, order), order)


def a_yard_with_a_stack(seed: int, blocks: tuple[int, int] = SMALL) -> Yard:
    """The yard of a seed, every third with slabs, and little ground for blocks off the rack."""
    yard, rng = a_yard_with_more(seed, blocks) if seed % 3 == 2 else a_yard(seed, blocks), Random(seed + 90_000)
    most = max(4 if kind.saw else kind.cavities for kind in yard.site.moulds)
    stack = Stack(places=most * rng.choice((1, 1, 2, 4)), layers=rng.choice((1, 2, 4)))
    return Yard(yard.site.model_copy(update={"stack": stack}), yard.order)


def _order(rng: Random, order: Order) -> Order:
    sand = rng.choice((0.0, 0.0, 0.4))
    mixes = tuple(mix.model_copy(update={"sand": sand}) for mix in order.mixes)
    return order.model_copy(update={"mixes": mixes})


def _site(rng: Random, site: Site, order: Order) -> Site:
    curing = site.curing.model_copy(update={"age": rng.choice(("EN", "arrhenius", "nurse-saul"))})
    cubes = rng.choice((None, CubeSets(every_l=rng.choice((150.0, 600.0)), count=3, size_mm=rng.choice((70.0, 100.0)))))
    if cubes is not None:
        cubes = _otherwise(Random(f"cubes of {site.name}"), cubes)
    moulds = [kind for kind in site.moulds if rng.random() < 0.7]
    moulds += _slabs(rng, site, order)
    if rng.random() < 0.3:
        moulds.append(moulds[0].model_copy(update={"kind": "left over", "filler": True, "saw": None}))
    return site.model_copy(update={"curing": curing, "test_cubes": cubes, "moulds": tuple(moulds)})


def _otherwise(rng: Random, cubes: CubeSets) -> CubeSets:
    """Some sets a day or a delivery, some crushed at two ages; drawn apart, so that all else stays as it was."""
    every = rng.choice((cubes.every_l, cubes.every_l, 70.0, "day", "delivery"))
    ages = rng.choice(((), (5 * 1440, 28 * 1440)))
    return cubes.model_copy(update={"every_l": every, "crush_at_min": ages})


def _slabs(rng: Random, site: Site, order: Order) -> list[MouldKind]:
    """A slab of each thickness that is ordered: some sides of the biggest block, and two cuts."""
    rows = [row for part in order.parts if isinstance(part, ListPart) for row in part.blocks.rows]
    most_l = max(mixer.usable_volume_l for mixer in site.mixers) * 0.6
    slabs = []
    for thickness in sorted({row.thickness_mm for row in rows}):
        of_thickness = [row for row in rows if row.thickness_mm == thickness]
        length, height = max(row.length_mm for row in of_thickness), max(row.height_mm for row in of_thickness)
        across, up = rng.choice(((1, 1), (2, 1), (2, 2), (1, 2)))
        kerf = rng.choice((0.0, 3.5, 5.0))
        sides = (across * length + (across - 1) * kerf, up * height + (up - 1) * kerf, thickness)
        if sides[0] * sides[1] * sides[2] / 1e6 > most_l:
            sides = (length, height, thickness)
        slabs.append(
            MouldKind(
                kind=f"slab {thickness:g}",
                count=rng.choice((1, 2, 4)),
                cavities=1,
                cavity=sides,
                saw=Saw(kerf_mm=kerf, time_min=rng.choice((5, 20))),
                strip_time_min=rng.choice((5, 12)),
                clean_time_min=rng.choice((0, 8)),
            )
        )
    return slabs
