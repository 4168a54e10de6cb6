from __future__ import annotations

from pathlib import Path

import pytest
from syrupy.assertion import SnapshotAssertion

from blockrun.errors import BadInput
from blockrun.mix.records import Record
from blockrun.show.batch.chart import charts_of

FOAM = (95, 96, 94, 95, 97, 95, 94, 96, 95, 95, 96, 94, 97, 98, 99, 100, 101, 95, 96, 112, 95)
RECORDS = [
    Record(str(number), foam, 806 + 4 * (number % 3) if number % 5 else None) for number, foam in enumerate(FOAM, 1)
]


def test_charts_at_40_columns(golden: SnapshotAssertion) -> None:
    assert charts_of(RECORDS, "SI").text(40).plain == golden


def test_charts_in_us_units_at_80_columns(golden: SnapshotAssertion) -> None:
    assert charts_of(RECORDS, "US").text(80).plain == golden


def of(*foam: float) -> str:
    return " ".join(charts_of([Record(f"b{n}", value) for n, value in enumerate(foam, 1)], "SI").text(80).plain.split())


def test_signals_are_said_in_words() -> None:
    assert "batch b9: 140.0 g/L is beyond the upper limit" in of(*[95, 96] * 4, 140, *[95, 96] * 6)
    assert "batch b13 to b20: 8 in a row above the mean" in of(*[96, 94] * 6, *[98, 96] * 4)
    assert "batch b13 to b20: 8 in a row below the mean" in of(*[94, 96] * 6, *[92, 94] * 4)
    assert "batch b2 to b7: 6 in a row, each higher than the last" in of(95, 90, 91, 92, 93, 94, 95, 90)
    assert "batch b1 to b6: 6 in a row, each lower than the last" in of(95, 94, 93, 92, 91, 90, 95)
    assert "batch b8 to b9: a step larger than chance makes, to 140.0 g/L" in of(*[95, 96] * 4, 140, *[95, 96] * 6)


def test_without_a_signal_the_differences_are_chance_once_there_are_ten() -> None:
    assert "No signal: the differences are chance." in of(*[95, 96] * 5)
    assert "Too few to say whether the differences are chance: 10 are needed" in of(*[95, 96] * 4)
    assert "Limits are loose yet: 20 batches" in of(*[95, 96, 94, 95] * 3)
    assert "Limits are loose yet" not in of(*[95, 96] * 10)


def test_a_few_batches_have_a_mean_and_no_limits() -> None:
    """Two equal readings are no limits of nothing."""
    words = of(99, 99)
    assert "mean 99.0 g/L; mean step 0.0 g/L" in words
    assert "usual from" not in words
    assert "|" not in words
    assert "usual from" in of(*[95, 96] * 5)


def test_each_mix_has_its_own_chart_of_wet_density_and_foam_has_one() -> None:
    records = [Record(str(n), 95 + n % 2, (806, 1128)[n % 2] + n, mix=("light", "heavy")[n % 2]) for n in range(24)]
    names = [one.name for one in charts_of(records, "SI").each]
    assert names == ["foam weight", "wet density of light", "wet density of heavy"]
    assert [len(one.records) for one in charts_of(records, "SI").each] == [24, 12, 12]


def test_the_mean_is_compared_with_what_is_due() -> None:
    records = [Record(str(n), 100 + n % 2, foam_due_kg_m3=95) for n in range(10)]
    words = charts_of(records, "SI").text(80).plain.replace("\u00a0", " ")
    assert "due 95.0 g/L: the mean is 5.8 % over it" in words


def lots_of(*cement: str, trial: str = "") -> list[Record]:
    """Ten batches of each lot, foam alike, each lot 40 kg/m3 lighter than the one before."""
    made = [
        Record(f"{lot}-{n}", 95 + n % 2, 806 - 40 * number + n % 3, cement_lot=lot)
        for number, lot in enumerate(cement)
        for n in range(10)
    ]
    return [Record("T", 95, 700, cement_lot=trial, is_trial=True), *made] if trial else made


def test_another_lot_of_cement_begins_the_limits_of_the_mix_anew_and_not_those_of_the_foam() -> None:
    charts = charts_of(lots_of("A1", "B7"), "SI")
    names = ["foam weight", "wet density, cement lot A1", "wet density, cement lot B7"]
    assert [(one.name, len(one.records)) for one in charts.each] == list(zip(names, (20, 10, 10), strict=True))
    assert [one.chart.found for one in charts.each] == [(), (), ()]
    words = " ".join(charts.text(80).plain.replace("\u00a0", " ").split())
    assert "cement lot B7 from batch B7-0 on, A1 before it: no trial recorded." in words
    assert "The mean is 5.0 % under that before, and 10 of 10 lie beyond what was usual then." in words


def test_a_trial_that_is_recorded_is_said_and_stands_in_no_chart() -> None:
    charts = charts_of(lots_of("A1", "B7", trial="B7"), "SI")
    assert "B7-0 on, A1 before it: a trial is recorded." in " ".join(
        charts.text(200).plain.replace("\u00a0", " ").split()
    )
    assert all(record.batch != "T" for one in charts.each for record in one.records)


def test_one_batch_of_another_lot_is_noted_with_it() -> None:
    words = charts_of(lots_of("A1", "B7")[:11], "SI").text(200).plain.replace("\u00a0", " ")
    assert "wet density, cement lot B7: one batch, 766 kg/m3; two are needed. cement lot B7 from batch B7-0" in words


def test_charts_of_two_lots_at_40_columns(golden: SnapshotAssertion) -> None:
    assert charts_of(lots_of("A1", "B7"), "SI").text(40).plain == golden


def test_one_weighing_of_a_kind_is_noted_and_none_is_refused() -> None:
    charts = charts_of([Record("1", 95, 806), Record("2", 96)], "SI")
    assert "wet density: one batch, 806 kg/m3; two are needed." in charts.text(80).plain
    with pytest.raises(BadInput, match="two batches"):
        charts_of([Record("1", 95, 806)], "SI", Path("batches.csv"))


@pytest.mark.parametrize("width", [30, 40, 80])
def test_no_line_is_wider_than_the_screen(width: int) -> None:
    assert max(map(len, charts_of(RECORDS, "US").text(width).plain.split("\n"))) <= width
