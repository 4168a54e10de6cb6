from __future__ import annotations

import dataclasses
from datetime import date, datetime

import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.order import WallPart
from blockrun.order.parts import notes_of_parts
from blockrun.order.walls.cut import TROUGH
from blockrun.planner.begun import Begun
from blockrun.planner.costs import total_cost
from blockrun.planner.plan import Plan, Progress
from blockrun.planner.tables import STAGES, Stage
from blockrun.show.not_in_hours import not_in_hours_said
from blockrun.show.page import GLUE
from blockrun.show.summary import NAMES, blocks_said, progress_said, stage_said, summary_text
from blockrun.units import counted
from tests.planner.test_costs import with_oil


def said(stage: Stage, units: str = "SI") -> str:
    words = [part if isinstance(part, str) else part[0] for part in stage_said(stage, units)]
    return "".join(words).replace("\u00a0", " ")


def test_summary_at_80_columns(small_plan: Plan, golden: SnapshotAssertion) -> None:
    assert summary_text(small_plan, 80, "plan").plain == golden


def test_summary_at_40_columns(small_plan: Plan, golden: SnapshotAssertion) -> None:
    assert summary_text(small_plan, 40, "plan").plain == golden


def test_a_plan_takes_and_pays_for_the_foam_weighed_before_each_batch(small_plan: Plan) -> None:
    """664 mL and four times 0.95 / 41 L, 9.50 a litre; 160.9 L of water and four times 0.927 L."""
    text = " ".join(summary_text(small_plan, 400, "plan").plain.replace(GLUE, " ").split())
    assert "165 L of water, 757 mL of foaming agent, 92.7 mL of it to weigh foam" in text
    assert small_plan.totals["cost"] == 74.29
    assert "74.29 for cement and foaming agent" in text


def test_cement_is_rounded_once(small_plan: Plan) -> None:
    """3830.5 lb, which a sum of rounded batches and one of bags put on either side of the half."""
    cement = dataclasses.replace(small_plan.stages[3], value=1737.4855732849999, bound=1700.0, proven=False)
    us = small_plan.site.model_copy(update={"units": "US"})
    totals = {**small_plan.totals, "cement_kg": 1737.485577}
    plan = dataclasses.replace(small_plan, site=us, stages=(*small_plan.stages[:3], cement), totals=totals)
    text = summary_text(plan, 400, "plan").plain.replace(GLUE, " ")
    assert "3,830 lb, best possible" in text
    assert "of cement (3,830 lb)" in text


def cost_of(plan: Plan) -> str:
    text = summary_text(plan, 400, "plan").plain.replace(GLUE, " ")
    return " ".join(next(line for line in text.split("\n") if line.startswith("cost")).split()[1:])


def test_the_cost_is_that_of_all_materials_and_says_which_have_no_price(small_plan: Plan) -> None:
    """As `materials` has it: nine turns of 50 mL of oil at 3.00 a litre are 1.35."""

    def said(price: float | None) -> str:
        plan = with_oil(small_plan, price)
        return cost_of(dataclasses.replace(plan, totals={**plan.totals, "cost": total_cost(plan)}))

    assert said(3.00) == "75.64 for cement, foaming agent and release oil, at your prices"
    assert said(None) == "at least 74.29 for cement and foaming agent, at your prices; no price of release oil"


def test_work_that_no_hours_are_planned_for_is_told_with_its_busiest_day(small_plan: Plan) -> None:
    """Five blocks leave their rack on 13, 15 and 19 April."""
    said = not_in_hours_said(small_plan).replace(GLUE, " ")
    assert (
        said
        == "carrying off the rack (up to 5 blocks a day, Tue 13 Apr): give it people of their own, or write a chore"
    )
    begun = dataclasses.replace(
        small_plan, begun=Begun(since=datetime.fromisoformat("2027-04-14T07:30"), number=3, after=2)
    )
    assert "(up to 5 blocks a day, Thu 15 Apr)" in not_in_hours_said(begun).replace(GLUE, " ")


def test_sawing_and_hollowing_are_told_too(small_plan: Plan) -> None:
    """Of the full blocks of course 1 that are stripped on Tuesday two are sawn, and one is hollowed."""
    first, *others = small_plan.ordered
    lines = (dataclasses.replace(first, count=2, cut="saw"), dataclasses.replace(first, count=1, cut=TROUGH), *others)
    plan = dataclasses.replace(small_plan)
    vars(plan)["ordered"] = lines
    assert (
        "sawing (up to 2 blocks a day, Tue 6 Apr) and hollowing troughs (up to 1 block a day, Tue 6 Apr): give them"
        in (not_in_hours_said(plan).replace(GLUE, " "))
    )


def test_where_blocks_never_lie_on_a_rack_nothing_is_told(small_plan: Plan) -> None:
    casts = small_plan.tables.casts.assign(rack_to=small_plan.tables.casts["rack_from"])
    plan = dataclasses.replace(small_plan, tables=dataclasses.replace(small_plan.tables, casts=casts))
    assert not_in_hours_said(plan) == ""
    assert "not in hours" not in summary_text(plan, 80, "plan").plain


def test_spares_beyond_those_asked_for_are_told_and_fewer_as_fewer(small_plan: Plan) -> None:
    def said(spares: int) -> str:
        return blocks_said(dataclasses.replace(small_plan, totals={**small_plan.totals, "spares": spares}))

    asked = int(small_plan.totals["spares"] or 0)
    assert f"and {counted(asked, 'spare')}, poured" in said(asked)
    assert f"and {counted(asked + 2, 'spare')} (2 beyond those asked for), poured" in said(asked + 2)
    fewer = f"and {counted(asked - 1, 'spare')} (1 fewer than asked for: spares make up for what was lost), poured"
    assert fewer in said(asked - 1)


def test_spares_beyond_those_wanted_are_said_to_come_of_slabs(small_plan: Plan) -> None:
    order = small_plan.order.model_copy(update={"further_spares": False})
    spares = int(small_plan.totals["spares"] or 0) + 2
    plan = dataclasses.replace(small_plan, order=order, totals={**small_plan.totals, "spares": spares})
    assert "(2 beyond those asked for, which slabs give though further_spares is false)" in blocks_said(plan)


def test_without_prices_no_cost_is_said(small_plan: Plan) -> None:
    plan = dataclasses.replace(small_plan, totals={**small_plan.totals, "cost": None})
    assert "cost" not in summary_text(plan, 80, "plan").plain


def test_a_late_plan_names_the_command_that_says_why(small_plan: Plan) -> None:
    in_time = dataclasses.replace(
        small_plan, stages=(Stage("block_days_late", 0, 0, proven=True), *small_plan.stages[1:])
    )
    assert "why late         blockrun why plan" in summary_text(small_plan, 80, "plan").plain.split("\n")
    assert "blockrun why" not in summary_text(in_time, 80, "plan").plain


def test_what_is_struck_off_the_moulds_is_told_besides(small_plan: Plan) -> None:
    """Of 103 L that go into the moulds 100 L are blocks; drum, leavings and these make up what becomes no block."""
    poured_l = small_plan.tables.batches["poured_l"].sum()
    words = " ".join(summary_text(small_plan, 80, "plan").plain.replace(GLUE, " ").split())
    assert small_plan.site.overfill == pytest.approx(0.03)
    assert f"left in the drum; {poured_l * 3 / 103:.1f} L more struck off the moulds" in words


def test_a_command_to_copy_is_quoted_and_never_broken(small_plan: Plan) -> None:
    lines = summary_text(small_plan, 40, "plans of the yard/north wall of the house").plain.split("\n")
    assert "blockrun days 'plans of the yard/north wall of the house'" in lines
    assert "next             blockrun days plan" in summary_text(small_plan, 40, "plan").plain


def with_a_wall(plan: Plan) -> Plan:
    """The same plan, of an order with a wall of which there are things to know."""
    wall = WallPart(name="north", length_mm=7300, height_mm=2650, block=(600, 300, 200), joint_mm=10, mix="light")
    order = plan.order.model_copy(update={"parts": (*plan.order.parts, wall)})
    return dataclasses.replace(plan, order=order)


def test_notes_are_counted_and_the_command_that_shows_them_is_said(small_plan: Plan) -> None:
    plan = with_a_wall(small_plan)
    ((_, notes),) = notes_of_parts(plan.order, ())
    assert notes
    text = summary_text(plan, 80, "plan", "blockrun takeoff order.yaml --site site.yaml").plain
    said = f"{'walls, domes':<17}{counted(len(notes), 'note')} on how they are laid, shown by:"
    assert f"{said}\n{'takeoff':<17}blockrun takeoff order.yaml --site site.yaml\n" in text


def test_an_order_without_notes_says_nothing_of_them(small_plan: Plan) -> None:
    assert "takeoff" not in summary_text(small_plan, 80, "plan", "blockrun takeoff order.yaml").plain


@pytest.mark.parametrize(
    ("stage", "words"),
    [
        (Stage("block_days_late", 0, 0, proven=True), "0, the best possible (proven)"),
        (Stage("block_days_late", 5, 2, proven=False), "5, best possible 2: not proven, 3 more at most"),
        (
            Stage("finish", date(2027, 4, 30), date(2027, 4, 29), proven=False),
            "Fri 30 Apr 2027, best possible Thu 29 Apr 2027: not proven, 1 day later at most",
        ),
        (
            Stage("cement", 5000.0, 4950.0, proven=False),
            "5000 kg, best possible 4950 kg: not proven, 50 kg more at most",
        ),
    ],
)
def test_a_stage_says_how_far_it_is_from_the_best_possible(stage: Stage, words: str) -> None:
    assert said(stage) == words


def test_cement_is_said_in_the_units_of_the_site() -> None:
    assert said(Stage("cement", 5000.0, 5000.0, proven=True), "US") == "11023 lb, the best possible (proven)"


def test_every_stage_has_its_words() -> None:
    assert list(NAMES) == list(STAGES)


@pytest.mark.parametrize(
    ("progress", "words"),
    [
        (Progress("block_days_late", 5, None), "block-days late: 5"),
        (
            Progress("finish", date(2027, 4, 30), date(2027, 4, 29)),
            "last pour: Fri 30 Apr 2027, best possible Thu 29 Apr 2027",
        ),
        (Progress("cement", 5000.0, 4950.0), "cement: 5000 kg, best possible 4950 kg"),
    ],
)
def test_the_progress_names_a_stage_and_the_best_possible(progress: Progress, words: str) -> None:
    assert progress_said(progress, "SI").replace("\u00a0", " ") == words


@pytest.mark.parametrize("width", [40, 80])
def test_summary_of_a_plan_with_slabs_and_a_filler(slabs_plan: Plan, golden: SnapshotAssertion, width: int) -> None:
    assert summary_text(slabs_plan, width, "plan").plain == golden


def test_slabs_are_counted_and_what_of_them_becomes_blocks_is_said(slabs_plan: Plan) -> None:
    words = " ".join(summary_text(slabs_plan, 2000, "plan").plain.split())
    assert "slabs 16, and 94 % of them become blocks" in words


def test_blocks_that_are_sawn_though_other_moulds_cast_them_too_are_counted(slabs_plan: Plan) -> None:
    tables, words = slabs_plan.tables, " ".join(summary_text(slabs_plan, 2000, "plan").plain.split())
    sawn = tables.sawing.merge(tables.casts, on=["mould", "turn", "cavity"])
    n_of_gang = int(sawn["mark"].isin(["A"]).sum())
    assert f"{n_of_gang} of these other moulds cast too, and takeoff counts no slabs for them" in words
    assert n_of_gang > 0


def test_what_goes_into_fillers_is_not_thrown_away(slabs_plan: Plan) -> None:
    """Eight cavities of 12 L take 98.88 L with their overfill of 3 %; the plan itself throws 468.33 L away."""
    words = " ".join(summary_text(slabs_plan, 2000, "plan").plain.split())
    assert "left over 98.9 L of mix in filler moulds: 8 blocks more, as spares thrown away 369 L of mix" in words
    assert slabs_plan.totals["thrown_away_l"] == pytest.approx(468.33, abs=0.01)


def test_a_plan_without_slabs_and_fillers_says_nothing_of_them(small_plan: Plan) -> None:
    text = summary_text(small_plan, 80, "plan").plain
    assert "slabs" not in text
    assert "left over" not in text


def test_warnings_are_said_as_a_tape_shows_them(small_plan: Plan) -> None:
    plan = dataclasses.replace(small_plan, warnings=("Nothing fits gang-6 (15.625 x 7.625 x 7.625 in).",))
    assert "gang-6 (15 5/8 x 7 5/8 x 7 5/8 in)" in " ".join(summary_text(plan, 400, "plan").plain.split())
