"""Yards a little out of the ordinary: each once broke a plan, or made it claim what was not so."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from blockrun import load_order, load_site
from blockrun.errors import BadInput, NoPlanInTime
from blockrun.optimiser.crew import batch_windows
from blockrun.optimiser.problem import Chore
from blockrun.planner.audit import audit
from blockrun.planner.brief import brief
from blockrun.planner.make import make_plan
from blockrun.planner.plan import Plan
from blockrun.planner.saved import load_plan, save_plan
from tests.optimiser.small import YARD
from tests.optimiser.small import at as minute

Inputs = Callable[..., Path]
FROST = "date,min_degC,max_degC\n" + "".join(
    f"2027-04-{day:02d},{low},{high}\n" for day, (low, high) in enumerate([(12, 22)] * 9 + [(2, 9)] * 8, 5)
)


@pytest.fixture
def inputs(small_folder: Path, tmp_path: Path) -> Inputs:
    """The folder of the small plan's inputs, with changes to its site."""

    def of(*changes: tuple[str, str]) -> Path:
        folder = Path(shutil.copytree(small_folder / "inputs", tmp_path / f"inputs{len(list(tmp_path.iterdir()))}"))
        text = (folder / "site.yaml").read_text(encoding="utf-8")
        for old, new in changes:
            assert old in text
            text = text.replace(old, new)
        (folder / "site.yaml").write_text(text, encoding="utf-8")
        return folder

    return of


def planned(folder: Path) -> Plan:
    """A plan by the foreman's rule, which its audit accepts."""
    plan = make_plan(load_site(folder / "site.yaml"), load_order(folder / "order.yaml"), rounds=0)
    assert audit(plan.site, plan.order, plan.tables, plan.stages, plan.totals) == []
    return plan


def test_blocks_may_leave_the_rack_long_after_all_is_poured(inputs: Inputs) -> None:
    plan = planned(inputs(("rack_for: 7 d", "rack_for: 400 d"), ("places: 14", "places: 40")))
    assert plan.tables.casts["ready"].min().year == 2028


def test_racks_that_are_not_used_limit_nothing(inputs: Inputs) -> None:
    without = ("rack_for: 7 d", "rack_for: 0 d")
    few = planned(inputs(without, ("places: 14", "places: 1"), ("places: 4}", "places: 1}")))
    assert few.stages == planned(inputs(without)).stages


def test_a_mould_that_can_never_be_stripped_is_not_used_and_said(inputs: Inputs) -> None:
    spare = "racks:\n"
    kind = "  - {kind: slow, count: 1, cavities: 2, cavity: 600 x 300 x 200 mm, strip_time: 4 h, clean_time: 5 min}\n"
    plan = planned(inputs((spare, kind + spare)))
    assert [said for said in plan.warnings if said.startswith("slow is never used")]


def test_a_move_of_a_speck_more_than_a_minute_takes_two(inputs: Inputs) -> None:
    plan = planned(inputs(("move_time: 1 min", "move_time: 60.03 s")))
    moves = plan.tables.tasks[plan.tables.tasks["task"] == "move"]
    assert set((moves["end"] - moves["start"]).dt.total_seconds() / 60 - moves["blocks"]) == {1}


def test_cement_is_counted_in_the_step_of_the_bags(inputs: Inputs) -> None:
    folder = inputs(("bag_step: 1/2", "bag_step: 0.333"))
    asked = brief(load_site(folder / "site.yaml"), load_order(folder / "order.yaml"), 30)
    assert min(load.cement for load in asked.problem.loads) <= 4
    assert float(asked.steps_a_bag) == pytest.approx(1 / 0.333)


def test_plenty_of_cement_and_long_waits_are_no_fault(inputs: Inputs) -> None:
    plenty = ("on_hand: 8, deliveries", "on_hand: 1000000, deliveries"), ("lay_at: 28 d", "lay_at: 3650 d")
    assert planned(inputs(*plenty)).tables.casts["ready"].min().year == 2037


def test_the_seed_is_kept_with_the_plan(inputs: Inputs, tmp_path: Path) -> None:
    folder = inputs()
    plan = make_plan(load_site(folder / "site.yaml"), load_order(folder / "order.yaml"), rounds=0, seed=7)
    save_plan(plan, tmp_path / "saved")
    assert load_plan(tmp_path / "saved").seed == 7


def test_a_fiftieth_of_a_bag_is_a_step(inputs: Inputs) -> None:
    assert load_site(inputs(("bag_step: 1/2", "bag_step: 1/50")) / "site.yaml").mixers[0].bag_step.denominator == 50


def test_a_day_that_works_until_midnight_is_refused_at_its_hours(inputs: Inputs) -> None:
    late = (("hours: 07:30-16:30", "hours: 07:30-24:00"), ("close_down: 30 min", "close_down: 0 min"))
    with pytest.raises(BadInput, match=r"(?s)site\.yaml:7:.*work ends at 24:00.*Write 23:59"):
        load_site(inputs(*late) / "site.yaml")


def test_time_that_runs_out_is_never_told_as_impossible(inputs: Inputs) -> None:
    folder = inputs()
    (folder / "weather.csv").write_text(FROST, encoding="utf-8")
    site, order = load_site(folder / "site.yaml"), load_order(folder / "order.yaml")
    with pytest.raises(NoPlanInTime, match="time given"):
        make_plan(site, order, stop=lambda: True)
    assert make_plan(site, order, rounds=0).stages[1].value < date(2027, 4, 14)


def test_chores_that_overlap_leave_batches_every_minute_they_can_have() -> None:
    opens = minute(0, 480)
    long, short = Chore(opens, opens + 100, 1), Chore(opens, opens + 10, 1)
    day = replace(YARD.days[0], people=3, chores=(long, short))
    assert batch_windows(day, 2)[0] == (opens + 10, minute(0, 600))
    staggered = replace(day, chores=(Chore(opens, opens + 60, 1), Chore(opens + 30, opens + 90, 1)))
    assert batch_windows(staggered, 2)[:2] == [(opens, opens + 30), (opens + 60, minute(0, 600))]


ALL_IN_ONE = "{name: light, wet_density: 1000 kg/m3, water_cement: 0.65, sand: 0.5, fly_ash: 0.1, fibre: 0.005}"


def test_mixes_with_sand_and_foam_as_weighed_go_through_plan_and_audit(inputs: Inputs) -> None:
    folder = inputs(("foam_density: 95 g/L", "foam_density: 95 g/L, weighed: 60 g/L, tank: 20 L"))
    order = folder / "order.yaml"
    text = order.read_text(encoding="utf-8")
    order.write_text(text.replace("{name: light, oven_dry_density: 600 kg/m3, slurry_water_cement: 0.50}", ALL_IN_ONE))
    plan = planned(folder)
    batch = plan.tables.batches[plan.tables.batches["mix"] == "light"].iloc[0]
    wet_kg = batch["cement_kg"] * 1.605 + batch["slurry_water_kg"] + batch["foam_kg"]
    assert wet_kg / batch["yield_l"] == pytest.approx(1.0, abs=1e-5)
    assert (batch["slurry_water_kg"] + batch["foam_kg"]) / batch["cement_kg"] == pytest.approx(0.65, abs=1e-5)
    assert batch["foam_kg"] / batch["foam_l"] == pytest.approx(0.06, abs=1e-5)
