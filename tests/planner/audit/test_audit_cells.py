"""The first gate: what cannot be read is the only thing found."""

import pandas as pd
import pytest


def test_a_missing_time_is_found(plain):
    plain.set("casts", {"cast": 3}, strip=None)
    assert plain.broken() == [("readable cells", "casts.csv row 4")]


def test_a_missing_column_is_found(plain):
    plain.tasks = plain.tasks.drop(columns="people")
    assert plain.said() == ["tasks.csv must have one column people"]


def test_a_doubled_column_is_found(plain):
    plain.tasks = pd.concat([plain.tasks, plain.tasks[["people"]]], axis="columns")
    assert plain.said() == ["tasks.csv must have one column people"]


def test_text_in_a_column_of_times_is_found(plain):
    plain.casts["poured"] = "this morning"
    assert plain.said() == ["poured of casts.csv holds something that is not a time"]


def test_a_number_in_a_column_of_text_is_found(plain):
    plain.casts["rack"] = 7
    assert plain.said() == ["rack of casts.csv holds something that is not text"]


def test_part_of_a_block_is_found(plain):
    plain.casts["cavity"] = plain.casts["cavity"] + 0.5
    assert plain.said() == ["cavity of casts.csv holds something that is not a whole number"]


def test_a_yes_in_a_column_of_true_and_false_is_found(plain):
    plain.casts["spare"] = "yes"
    assert plain.said() == ["spare of casts.csv holds something that is not true or false"]


@pytest.mark.parametrize("number", [float("nan"), float("inf"), 1e11])
def test_a_number_that_is_none_is_found(plain, number):
    plain.set("batches", {"batch": 2}, bags=number)
    assert plain.broken() == [("readable cells", "batches.csv row 3")]


def test_seconds_are_found(plain):
    plain.tasks.loc[0, "start"] += pd.Timedelta(30, "s")
    assert plain.said() == ["start in tasks.csv row 2 is not a whole minute"]


def test_a_fraction_of_a_second_is_found(plain):
    plain.tasks["start"] = plain.tasks["start"].astype("datetime64[ns]") + pd.Timedelta(1, "ns")
    assert len(plain.broken()) == len(plain.tasks)


def test_an_hour_in_a_date_is_found(plain):
    plain.set("casts", {"cast": 1}, needed="06T10:00")
    assert plain.said() == ["needed in casts.csv row 2 is not a whole day"]


@pytest.mark.parametrize("moment", ["2027-04-04T08:00", "2060-04-04T08:00"])
def test_a_time_that_no_plan_reaches_is_found(plain, moment):
    plain.tasks.loc[0, "start"] = pd.Timestamp(moment)
    assert plain.broken() == [("readable cells", "tasks.csv row 2")]
