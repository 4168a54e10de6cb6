"""Laws of what is left of batches, on yards invented from a seed: into spares, then into fillers, else thrown away."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest

from blockrun.order import spares, takeoff
from blockrun.planner import Plan, make_plan
from blockrun.planner.audit import audit
from blockrun.planner.left_over import left_over
from tests.yards import Yard, a_yard
from tests.yards_more import a_yard_with_more

pytestmark = pytest.mark.xdist_group("what is left over")  # one of the tests looks at all of these yards

SEEDS = (103, 106, 111, 115)
"""Yards in most of which there is something left for a block more."""
WITH_MORE = (8, 24)
"""The same, with slabs, fillers or test cubes."""

yards = pytest.mark.parametrize("seed", [*SEEDS, *WITH_MORE])


def yard_of(seed: int) -> Yard:
    return a_yard(seed, (4, 15)) if seed in SEEDS else a_yard_with_more(seed, (4, 25))


@cache
def planned(seed: int, *, further: bool | None) -> Plan:
    yard = yard_of(seed)
    return make_plan(yard.site, yard.order.model_copy(update={"further_spares": further}), rounds=0)


def n_spares(plan: Plan) -> int:
    return int(plan.totals["spares"] or 0)


@yards
def test_further_spares_leave_every_stage_as_it_was(seed: int) -> None:
    with_more, without = planned(seed, further=True), planned(seed, further=False)
    assert n_spares(with_more) >= n_spares(without)
    assert with_more.stages == without.stages


def test_in_most_of_these_yards_there_are_some() -> None:
    seeds = (*SEEDS, *WITH_MORE)
    more = [n_spares(planned(seed, further=True)) - n_spares(planned(seed, further=False)) for seed in seeds]
    assert sum(n > 0 for n in more) > len(seeds) / 2


@yards
def test_further_spares_come_of_the_same_batches(seed: int) -> None:
    with_more, without = planned(seed, further=True), planned(seed, further=False)
    same = ["mixer", "mix", "start", "end", "bags", "yield_l"]
    assert with_more.tables.batches[same].equals(without.tables.batches[same])


@yards
def test_the_audit_finds_nothing_in_them(seed: int) -> None:
    plan = planned(seed, further=True)
    assert audit(plan.site, plan.order, plan.tables, list(plan.stages), plan.totals) == []


@yards
def test_all_that_is_made_is_cast_or_left_or_stays_in_the_drum(seed: int) -> None:
    plan = planned(seed, further=True)
    assert made_l(plan) == pytest.approx(cast_l(plan) + sum(one.left_l for one in left_over(plan).batches.values()))


def made_l(plan: Plan) -> float:
    """What batches yield, less what each leaves in its drum."""
    drum = {mixer.name: mixer.left_behind_l for mixer in plan.site.mixers}
    batches = plan.tables.batches
    return float(batches["yield_l"].sum() - batches["mixer"].map(drum).sum())


def cast_l(plan: Plan) -> float:
    """Blocks and slabs with overfill, and test cubes."""
    volumes = {line.mark: line.volume_l for line in takeoff(plan.order, moulds=plan.site.moulds)}
    slabs = {
        kind.kind: kind.length_mm * kind.height_mm * kind.thickness_mm / 1e6 for kind in plan.site.moulds if kind.saw
    }
    casts = plan.tables.casts.assign(kind=plan.tables.casts["mould"].str.rsplit("/", n=1).str[0])
    sawn = casts[casts["kind"].isin(list(slabs))].drop_duplicates(["mould", "turn"])
    blocks = casts[~casts["kind"].isin(list(slabs))]["mark"].map(volumes).sum() + sawn["kind"].map(slabs).sum()
    return float(blocks * (1 + plan.site.overfill) + plan.tables.cubes["volume_l"].sum())


@pytest.mark.parametrize(("seed", "wanted"), [(106, True), (111, False)])
def test_without_a_word_they_are_wanted_where_spares_are_asked_for(seed: int, wanted: bool) -> None:
    plan = planned(seed, further=None)
    assert (plan.order.spares > 0) == wanted
    assert n_spares(plan) == n_spares(planned(seed, further=wanted))


@pytest.mark.parametrize("seed", SEEDS)
def test_none_are_cast_where_the_order_wants_none(seed: int) -> None:
    plan = planned(seed, further=False)
    assert n_spares(plan) == sum(line.count for line in spares(plan.order, takeoff(plan.order)))


def test_spares_come_before_fillers_and_these_take_what_is_left_then() -> None:
    """Fillers of a litre: what a spare took is no longer there for them, and less is thrown away."""
    with_more, without = (with_a_filler(planned(111, further=further)) for further in (True, False))
    assert left_over(with_more).poured_l < left_over(without).poured_l
    assert left_over(with_more).thrown_l < left_over(without).thrown_l


def with_a_filler(plan: Plan) -> Plan:
    small = {"kind": "small", "count": 9, "cavities": 9, "cavity": (100.0, 100.0, 100.0), "filler": True}
    moulds = (*plan.site.moulds, plan.site.moulds[0].model_copy(update=small))
    return replace(plan, site=plan.site.model_copy(update={"moulds": moulds}))
