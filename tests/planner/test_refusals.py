"""What no yard day could ever do is refused in words, before any search, and nothing is written."""

from __future__ import annotations

import shutil
from collections.abc import Sequence
from datetime import date
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app
from blockrun.order import load_order
from blockrun.planner import Plan, make_plan
from blockrun.planner.audit import audit
from blockrun.site import load_site
from tests.typical_year import epw

CEMENT = "on_hand: 8, deliveries: [{day: 2027-04-08, bags: 6}]"
AGENT = "on_hand: 2 L, deliveries: [{day: 2027-04-08, volume: 2 L}]"
DRUM = "usable_volume: 220 L\n    least_volume: 40 L"


@pytest.fixture
def inputs(small_folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Site and order of the small plan, free to be spoilt."""
    monkeypatch.setenv("COLUMNS", "80")
    return Path(shutil.copytree(small_folder / "inputs", tmp_path / "inputs"))


def spoil(path: Path, *changes: tuple[str, str]) -> None:
    text = path.read_text(encoding="utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    path.write_text(text, encoding="utf-8")


def weather(inputs: Path, ranges: Sequence[tuple[int, int]]) -> None:
    rows = [f"2027-04-{day:02d},{low},{high}" for day, (low, high) in enumerate(ranges, 5)]
    (inputs / "weather.csv").write_text("\n".join(["date,min_degC,max_degC", *rows]) + "\n", encoding="utf-8")


def plan(inputs: Path, *options: str) -> Result:
    words = ("plan", inputs / "site.yaml", inputs / "order.yaml", "--out", inputs.parent / "out", *options)
    return CliRunner().invoke(app, [str(word) for word in words])


def planned(inputs: Path) -> Plan:
    """A quick plan that passes the audit."""
    made = make_plan(load_site(inputs / "site.yaml"), load_order(inputs / "order.yaml"), rounds=0)
    assert audit(made.site, made.order, made.tables, list(made.stages), made.totals) == []
    return made


def poured_on(plan: Plan) -> set[int]:
    """Days of the month."""
    return set(plan.tables.batches["start"].dt.day)


def refused(inputs: Path, code: int, *said: str, options: Sequence[str] = ()) -> None:
    """Plan; expect this exit code and these words, no traceback, and no file that was not there."""
    result = plan(inputs, *options)
    assert result.exit_code == code, result.output
    words = " ".join(result.stderr.split())
    assert [phrase for phrase in said if phrase not in words] == []
    assert "Traceback" not in result.output
    assert "has a bug" not in result.output
    assert result.stdout == ""
    assert list(inputs.parent.iterdir()) == [inputs]


def test_a_block_no_mould_can_cast_is_named_with_the_nearest_mould(inputs: Path) -> None:
    spoil(inputs / "wall.csv", ("thin,600,300,100", "thin,650,300,100"))
    refused(inputs, 2, "thin", "650 x 300 x 100 mm", "tray-1")


def test_a_batch_too_small_for_its_block_is_told_with_both_volumes(inputs: Path) -> None:
    spoil(inputs / "site.yaml", (DRUM, "usable_volume: 40 L\n    least_volume: 20 L"))
    refused(
        inputs,
        2,
        "wall.csv:2:1",
        "one block full takes 37.08 L with overfill",
        "light has 21 L to pour",
        "greater usable_volume",
    )


def test_cement_that_never_arrives_is_told_with_what_is_there(inputs: Path) -> None:
    spoil(inputs / "site.yaml", (CEMENT, "on_hand: 2"))
    refused(
        inputs,
        2,
        "site.yaml:55:33",
        "10 1/2 bags of cement",
        "only 2 bags are on hand or delivered",
        "Add deliveries under stock: cement:",
    )


def test_cement_that_is_delivered_in_part_only_is_counted_in_full(inputs: Path) -> None:
    spoil(inputs / "site.yaml", (CEMENT, "on_hand: 2, deliveries: [{day: 2027-04-08, bags: 3}]"))
    refused(inputs, 2, "10 1/2 bags of cement", "only 5 bags are on hand or delivered")


def test_a_delivery_before_the_start_is_refused_since_on_hand_has_it(inputs: Path) -> None:
    early = "on_hand: 8, deliveries: [{day: 2027-04-08, bags: 6}, {day: 2027-04-04, bags: 6}]"
    spoil(inputs / "site.yaml", (CEMENT, early))
    refused(inputs, 2, "site.yaml:55:", "comes on 2027-04-04", "before the calendar starts on 2027-04-05", "on_hand")


def test_deliveries_before_the_start_are_refused_together_of_whatever_material(inputs: Path) -> None:
    spoil(inputs / "site.yaml", ("2027-04-08, bags", "2027-04-01, bags"), ("2027-04-08, volume", "2027-04-02, volume"))
    refused(inputs, 2, "site.yaml:55:", "2027-04-01", "site.yaml:56:", "2027-04-02")


def test_cement_one_bag_short_is_told(inputs: Path) -> None:
    spoil(inputs / "site.yaml", (CEMENT, "on_hand: 10"))
    refused(inputs, 2, "at least 10 1/2 bags of cement", "only 10 bags are on hand")


def test_agent_that_never_arrives_is_told_with_what_is_there(inputs: Path) -> None:
    spoil(inputs / "site.yaml", (AGENT, "on_hand: 0.1 L"))
    refused(
        inputs,
        2,
        "site.yaml:56:28",
        "0.63 L of foaming agent",
        "only 0.1 L is on hand",
        "Add deliveries under stock: foaming_agent:",
    )


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ([("[mon, tue, wed, thu, fri]", "[]")], ["workdays", "Write at least one"]),
        ([("set_up: 30 min", "set_up: 10 h")], ["no working minute is left of the day", "Lengthen the hours"]),
        ([("last_foam: 15:00", "last_foam: 07:35")], ["site.yaml:13:11", "drum", "last_foam"]),
        ([("crew: 2", "crew: 4")], ["drum needs 4 people, and the crew is 3"]),
        ([("strip_time: 10 min", "strip_time: 5 h")], ["strip_time is 5 h", "Shorten it, or move the breaks"]),
    ],
)
def test_a_yard_without_a_working_day_is_told_at_its_place(
    inputs: Path, changes: list[tuple[str, str]], said: list[str]
) -> None:
    spoil(inputs / "site.yaml", *changes)
    refused(inputs, 2, "site.yaml:", *said)


def test_steps_longer_than_the_pour_life_are_told_at_their_place(inputs: Path) -> None:
    spoil(inputs / "site.yaml", ("pour_life: 25 min", "pour_life: 12 min"))
    refused(inputs, 2, "site.yaml:19:16", "foam_time and pour_time take 14 min, and the pour life is 12 min")


def test_foam_that_takes_longer_than_the_pour_life_is_told_with_the_mix(inputs: Path) -> None:
    spoil(inputs / "site.yaml", ("rate: 60 L/min", "rate: 1 L/min"))
    refused(
        inputs, 2, "site.yaml:23:24", "the mix heavy", "22 min to make and blend 21.22 L of foam", "pour_life of 25 min"
    )


def test_a_mix_too_dense_for_foam_is_told_with_its_limit(inputs: Path) -> None:
    spoil(inputs / "order.yaml", ("oven_dry_density: 900 kg/m3", "oven_dry_density: 2200 kg/m3"))
    refused(
        inputs,
        2,
        "order.yaml:5:37",
        "oven_dry_density 2200 kg/m3 leaves no room for foam",
        "Lower oven_dry_density to under 1563",
    )


def test_a_list_with_no_rows_is_named(inputs: Path) -> None:
    header = (inputs / "wall.csv").read_text(encoding="utf-8").splitlines()[0]
    (inputs / "wall.csv").write_text(header + "\n", encoding="utf-8")
    refused(inputs, 2, "wall.csv:1", "has a header and no rows", "Write the rows below the header")


def test_frost_on_every_day_is_told(inputs: Path) -> None:
    weather(inputs, [(2, 9)] * 5)
    refused(inputs, 3, "site.yaml:51:14", "600 x 300 x 200 mm", "the air falls under 5 degC", "Wait for milder days")


def test_a_datum_above_all_the_air_is_told_at_its_place(inputs: Path) -> None:
    weather(inputs, [(6, 8)] * 5)
    spoil(inputs / "site.yaml", ("strip_at: 24 h", "strip_at: 24 h\n  age: nurse-saul\n  datum: 10 degC"))
    refused(inputs, 2, "site.yaml:50:10", "more than ten years away")


def test_a_strip_age_nobody_lives_to_see_is_told_at_its_place(inputs: Path) -> None:
    weather(inputs, [(-12, -9)] * 5)
    spoil(inputs / "site.yaml", ("strip_at: 24 h", "strip_at: 8760 h"), ("least_air: 5 degC", "least_air: -40 degC"))
    refused(inputs, 3, "site.yaml:48:13", "it is never old enough", "Wait for milder days")


def test_a_batch_crew_that_chores_never_leave_together_is_told(inputs: Path) -> None:
    hours = [f"{hour:02d}:{minute}" for hour in range(8, 16) for minute in ("00", "20", "40")]
    times = ", ".join(time for time in hours if time not in ("12:00", "12:20"))
    spoil(inputs / "site.yaml", ("crew: 2", "crew: 3"), ("at: [08:30], time: 10 min", f"at: [{times}], time: 12 min"))
    refused(
        inputs, 3, "site.yaml:52:16", "on no day are the people of a batch there and free", "Look at people and away"
    )


def test_foam_too_heavy_for_the_mix_is_told_at_the_mix(inputs: Path) -> None:
    spoil(inputs / "order.yaml", ("oven_dry_density: 900 kg/m3", "wet_density: 80 kg/m3"))
    refused(inputs, 2, "order.yaml:5:32", "wet_density 80 kg/m3 leaves no room for cement", "Raise wet_density")


def test_frost_that_never_ends_after_too_few_good_days_is_told_with_its_day(inputs: Path) -> None:
    weather(inputs, [(12, 22)] * 3 + [(2, 9)] * 8)
    refused(
        inputs,
        3,
        "site.yaml:51:14",
        "the nights from Thu 8 Apr 2027 on are all under 5 degC",
        "Wait for milder days: add them to the weather file",
    )


def test_a_frost_that_ends_only_delays(inputs: Path) -> None:
    weather(inputs, [(12, 22)] * 3 + [(2, 9)] * 4 + [(12, 22)] * 7)
    days = poured_on(planned(inputs))
    assert days & {5, 6, 7}
    assert not days & {8, 9, 10, 11}


def test_a_time_that_ends_before_any_plan_is_told(inputs: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("blockrun.cli.making.PLAN_SECONDS", -1)
    refused(inputs, 4, "no plan was found in the time given", "Give it longer with --seconds")


def test_what_is_hardly_enough_is_named_where_the_time_ends_before_any_plan(
    inputs: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("blockrun.cli.making.PLAN_SECONDS", -1)
    tight = "are there and to come"
    assert tight not in plan(inputs).output
    spoil(inputs / "site.yaml", (CEMENT, "on_hand: 11"))
    needed = "and at least 10 1/2 bags are needed: order more, or give it longer with --seconds"
    refused(inputs, 4, f"11 bags of cement {tight}, {needed}")
    spoil(inputs / "site.yaml", ("on_hand: 11", CEMENT), (AGENT, "on_hand: 0.65 L"))
    refused(inputs, 4, f"0.65 L of foaming agent {tight}, and at least 0.63 L are needed")


def test_heat_on_every_day_is_told_at_its_limit(inputs: Path) -> None:
    spoil(inputs / "site.yaml", ("least_air: 5 degC", "least_air: 5 degC\n  most_air: 15 degC"))
    refused(inputs, 3, "site.yaml:52:13", "the air rises to", "15 degC is the most", "Raise the limit")


def test_a_wet_day_pours_nothing_and_the_plan_passes_its_audit(inputs: Path) -> None:
    rows = [f"2027-04-{day:02d},12,22,{12 if day in (6, 7) else 0}" for day in range(5, 19)]
    (inputs / "weather.csv").write_text("\n".join(["date,min_degC,max_degC,rain_mm", *rows]) + "\n", encoding="utf-8")
    spoil(inputs / "site.yaml", ("least_air: 5 degC", "least_air: 5 degC\n  rain_stops: 5 mm"))
    days = poured_on(planned(inputs))
    assert 5 in days
    assert not days & {6, 7}


def test_a_winter_of_a_typical_year_is_waited_for(inputs: Path) -> None:
    """It freezes from the third day on, until a spring that only a longer look finds."""
    rows = ["2027-04-05,12,22", "2027-04-06,-9,-2"]
    (inputs / "weather.csv").write_text("\n".join(["date,min_degC,max_degC", *rows]) + "\n", encoding="utf-8")
    cold = epw(lambda day, hour: -5.0 if day < date(2001, 9, 1) else 15.0)
    (inputs / "typical.epw").write_text(cold, encoding="utf-8")
    spoil(inputs / "site.yaml", ("weather: weather.csv", "weather: [weather.csv, typical.epw]"))
    made = planned(inputs)
    assert made.tables.batches["start"].max().strftime("%Y-%m") == "2027-09"
    assert any("Forecast to Tue 6 Apr, then the typical year of Heron Field." in said for said in made.warnings)


def test_sand_that_brings_more_water_than_the_mix_takes_is_shown_at_its_moisture(inputs: Path) -> None:
    spoil(inputs / "order.yaml", ("slurry_water_cement: 0.50}", "slurry_water_cement: 0.50, sand: 2}"))
    spoil(inputs / "site.yaml", ("  foaming_agent:", "  sand: {moisture: 26 %}\n  foaming_agent:"))
    refused(inputs, 2, "site.yaml:", "the damp sand brings", "Let the sand dry", "moisture: 26 %")


def test_an_overfill_that_is_too_high_is_blamed_and_neither_block_nor_cavity(inputs: Path) -> None:
    small = DRUM.replace("220 L", "60 L")
    spoil(inputs / "site.yaml", ("overfill: 3 %", "overfill: 90 %"), (DRUM, small))
    refused(inputs, 2, "site.yaml:", "takes 68.4 L with overfill", "Lower overfill", "overfill: 90 %")
