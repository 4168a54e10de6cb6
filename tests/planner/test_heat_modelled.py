"""Blocks with a warmth of their own: from the site file to the plan, and the audit that works it out again."""

from __future__ import annotations

import re
import shutil
from datetime import date
from pathlib import Path

import numpy as np
import pytest

from blockrun.cure.age import NEVER
from blockrun.cure.warm import Contents, WarmClock, cast_in
from blockrun.errors import BadInput
from blockrun.order import load_order, takeoff
from blockrun.planner import make_plan
from blockrun.planner.audit import audit
from blockrun.planner.brief import brief
from blockrun.planner.clocks import Clocks
from blockrun.planner.heat import heat_said
from blockrun.planner.plan import Plan
from blockrun.site import MouldKind, Site, Weather, load_site
from blockrun.site.insulation import Layer, read_layer
from tests.yards import a_yard

START = date(2027, 4, 5)
NEAT = Contents(400.0, 200.0, 0.0)
LEAN = Contents(250.0, 180.0, 150.0)


def modelled(site: Site, air: tuple[float, float] = (6.0, 10.0), **curing: object) -> Site:
    changed = site.curing.model_copy(update={"heat": "modelled", "least_air_c": 0.0, **curing})
    return site.model_copy(update={"curing": changed, "weather": Weather(START, (air,) * 7)})


def with_cover(kind: MouldKind, cover: str) -> MouldKind:
    return kind.model_copy(update={"cover": read_layer(cover)})


def test_layers_are_read_as_a_builder_writes_them():
    assert read_layer("plywood 18 mm") == Layer("plywood", 18.0)
    assert read_layer("Mineral wool 2 in") == Layer("mineral wool", 50.8)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("plywod 18 mm", "plywod is not a material known here"),
        ("18 mm", "18 mm is not a material known here"),
        ("steel", "steel has no thickness"),
        ("steel 0 mm", "out of range"),
        ("steel 4", "4 has no unit"),
    ],
)
def test_layers_that_cannot_be_are_refused(text: str, said: str):
    with pytest.raises(BadInput, match=said):
        read_layer(text)


def test_more_of_a_material_lets_less_through_and_all_less_than_bare():
    losses = [Layer("polystyrene", mm).loss_w_m2k for mm in (10.0, 50.0, 100.0)]
    assert losses == sorted(losses, reverse=True)
    assert Layer("steel", 3.0).loss_w_m2k == pytest.approx(25, rel=0.01)


def test_a_cast_has_the_faces_of_its_block_and_a_cover_on_top(small_plan: Plan):
    site = modelled(small_plan.site)
    kind = site.moulds[0].model_copy(
        update={"cavity": (600.0, 300.0, 200.0), "walls": Layer("steel", 5.0), "saw": None}
    )
    bare, covered = cast_in(kind, 600, NEAT, site), cast_in(with_cover(kind, "polystyrene 50 mm"), 600, NEAT, site)
    assert bare.volume_m3 == pytest.approx(0.036)
    assert bare.area_m2 == pytest.approx(0.72)
    assert bare.loss_w_k == pytest.approx(0.72 * kind.walls.loss_w_m2k)
    top = 0.6 * 0.2
    saved = top * (kind.walls.loss_w_m2k - Layer("polystyrene", 50.0).loss_w_m2k)
    assert covered.loss_w_k == pytest.approx(bare.loss_w_k - saved)


def test_a_clock_goes_by_its_slowest_mix(small_plan: Plan):
    site = modelled(small_plan.site)
    neat, lean = (cast_in(site.moulds[0], 600, mix, site) for mix in (NEAT, LEAN))
    pours = np.arange(0, 2880, 60)
    each = [WarmClock(site, [cast]).when(pours, 24.0) for cast in (neat, lean)]
    both = WarmClock(site, [neat, lean]).when(pours, 24.0)
    assert (both == np.maximum(*each)).all()
    assert (each[1] > each[0]).all()


def test_a_pour_counts_from_the_quarter_hour_it_ends_in_or_before(small_plan: Plan):
    site = modelled(small_plan.site)
    clock = WarmClock(site, [cast_in(site.moulds[0], 600, NEAT, site)])
    assert clock.when(481, 24.0) == clock.when(495, 24.0)
    assert clock.when(480, 24.0) < clock.when(481, 24.0)


def test_the_table_of_a_clock_is_the_same_however_far_it_was_asked_to_look(small_plan: Plan):
    site = modelled(small_plan.site)
    casts = [cast_in(site.moulds[0], 600, NEAT, site)]
    near, far = WarmClock(site, casts), WarmClock(site, casts)
    far.when(80 * 1440, 24.0)
    pours = np.arange(0, 5 * 1440, 7)
    assert (near.when(pours, 24.0) == far.when(pours, 24.0)).all()


def test_an_age_that_never_comes_is_later_than_any_plan(small_plan: Plan):
    site = modelled(small_plan.site, (-30.0, -25.0), fresh_mix_c=0.0, least_air_c=-40.0)
    assert WarmClock(site, [cast_in(site.moulds[0], 600, NEAT, site)]).when(480, 2000.0) == NEVER


def test_each_kind_of_mould_has_its_own_table_and_warmth_strips_sooner_in_the_cold(small_plan: Plan):
    site = modelled(small_plan.site)
    moulds = (site.moulds[0], with_cover(site.moulds[1], "polystyrene 100 mm"))
    warm = brief(site.model_copy(update={"moulds": moulds}), small_plan.order, 30).problem.ripe_strip
    by_air = site.model_copy(update={"curing": site.curing.model_copy(update={"heat": "as the air"})})
    cold = brief(by_air, small_plan.order, 30).problem.ripe_strip
    assert (cold[0] == cold[1]).all()
    assert (warm[0] != warm[1]).any()
    assert (warm[0][:1440] < cold[0][:1440]).all()
    for table in warm:
        ripe = table[table >= 0]
        assert (np.diff(ripe) >= 0).all()
        assert (ripe >= np.arange(len(ripe))).all()


@pytest.fixture
def inputs(small_folder: Path, tmp_path: Path) -> Path:
    """Site and order of the small plan with heat modelled, in a cold spring."""
    folder = Path(shutil.copytree(small_folder / "inputs", tmp_path / "inputs"))
    site = (folder / "site.yaml").read_text(encoding="utf-8")
    assert "least_air: 5 degC" in site
    site = site.replace("least_air: 5 degC", "least_air: 2 degC\n  heat: modelled\n  fresh_mix: 15 degC")
    site = re.sub(r"(  - kind: \S+\n)", r"\1    walls: plywood 18 mm\n", site)
    (folder / "site.yaml").write_text(site, encoding="utf-8")
    rows = "".join(f"2027-04-{day:02d},4,11\n" for day in range(5, 20))
    (folder / "weather.csv").write_text("date,min_degC,max_degC\n" + rows, encoding="utf-8")
    return folder


def plan(folder: Path) -> str:
    """What a plan says that passes its audit."""
    made = make_plan(load_site(folder / "site.yaml"), load_order(folder / "order.yaml"), rounds=0)
    assert audit(made.site, made.order, made.tables, list(made.stages), made.totals) == []
    return " ".join(made.warnings)


def test_a_plan_with_modelled_heat_passes_its_audit_and_says_what_was_used(inputs: Path):
    said = plan(inputs)
    assert "Heat is modelled, for a slow cement of a usual make (from memory), poured as warm as 15 degC." in said
    assert "Ages are those of the corners, which break first" in said
    assert "up to" not in said


def test_heat_over_what_the_model_holds_for_is_said_and_boiling_is_the_most(small_plan: Plan):
    site = modelled(small_plan.site, (22.0, 38.0), cement_heat="rapid", least_air_c=0.0)
    clocks = Clocks(site, small_plan.order, takeoff(small_plan.order, moulds=site.moulds))
    said = " ".join(heat_said(site, clocks, small_plan.tables, 24.0))
    assert "may get to about 100 degC" in said
    assert "over 80 degC, where neither ages nor heat can be reckoned" in said


def test_a_plan_by_the_air_says_nothing_of_heat(inputs: Path):
    site = (inputs / "site.yaml").read_text(encoding="utf-8")
    (inputs / "site.yaml").write_text(site.replace("  heat: modelled\n  fresh_mix: 15 degC", ""), encoding="utf-8")
    assert "Heat is modelled" not in plan(inputs)


@pytest.mark.parametrize("seed", [0, 4, 8])
def test_plans_of_invented_yards_with_modelled_heat_pass_their_audit(seed: int):
    yard = a_yard(seed)
    warm = yard.site.curing.model_copy(update={"heat": "modelled"})
    made = make_plan(yard.site.model_copy(update={"curing": warm}), yard.order)
    assert audit(made.site, made.order, made.tables, list(made.stages), made.totals) == []
    assert any("Heat is modelled" in said for said in made.warnings)


def test_degrees_of_a_middle_are_whole_in_the_units_of_the_yard(small_plan: Plan):
    site = modelled(small_plan.site).model_copy(update={"units": "US"})
    clocks = Clocks(site, small_plan.order, takeoff(small_plan.order, moulds=site.moulds))
    assert re.search(r"may get to about \d+ degF", " ".join(heat_said(site, clocks, small_plan.tables, 24.0)))


def test_moulds_of_several_cavities_are_said_to_get_hotter(small_plan: Plan):
    site = modelled(small_plan.site)
    clocks = Clocks(site, small_plan.order, takeoff(small_plan.order, moulds=site.moulds))
    said = list(heat_said(site, clocks, small_plan.tables, 24.0))
    (gang,) = [line for line in said if line.startswith("gang-2: the middle")]
    (tray,) = [line for line in said if line.startswith("tray-1: the middle")]
    assert "hotter where cavities stand side by side" in gang
    assert "side by side" not in tray


def test_of_several_mixes_the_hottest_and_the_slowest_are_named(small_plan: Plan):
    """Mix heavy has half as much cement again as light, and with it as much more heat."""
    site = modelled(small_plan.site)
    lines = takeoff(small_plan.order, moulds=site.moulds)
    said = " ".join(heat_said(site, Clocks(site, small_plan.order, lines), small_plan.tables, 24.0))
    assert re.search(r"gang-2: the middle may get to about \d+ degC with heavy,", said)
    assert "gang-2: its times are those of light, of the 2 mixes the slowest to be old enough." in said
    alone = " ".join(
        heat_said(
            site,
            Clocks(site, small_plan.order, [line for line in lines if line.mix == "light"]),
            small_plan.tables,
            24.0,
        )
    )
    assert "the slowest" not in alone
    assert "with light" not in alone
