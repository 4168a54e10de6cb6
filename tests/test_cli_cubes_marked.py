"""Test cubes bear the number of their set in ink: it is theirs in every plan made anew."""

from __future__ import annotations

import json
import shutil
from datetime import date
from pathlib import Path

import pandas as pd
import pytest
from typer.testing import CliRunner

from blockrun.cli import app
from blockrun.order import load_order
from blockrun.planner.as_planned import load_as_planned
from blockrun.planner.make import make_plan
from blockrun.planner.saved import save_plan
from blockrun.planner.sound import load_sound_plan
from blockrun.site import load_site
from blockrun.yard.journal import FILE, open_journal
from blockrun.yard.record.planned import to_crush
from tests.cubes_yard import cubes_yard

AGAIN = "2027-04-13 16:00"


def run(*words: object) -> str:
    result = CliRunner().invoke(app, [str(word) for word in words])
    assert (result.exit_code, result.stderr) == (0, "")
    return " ".join(result.stdout.replace("\u00a0", " ").split())


def recorded(folder: Path, words: str, at: str) -> str:
    return run("record", folder, *words.split(), "--at", at)


@pytest.fixture(scope="module")
def planned(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Each of three days of pouring gives a set: of batches 1, 5 and 9."""
    folder = cubes_yard(tmp_path_factory.mktemp("yard"), "600,300,200", blocks=40, cubes=4)
    save_plan(make_plan(load_site(folder / "site.yaml"), load_order(folder / "order.yaml"), rounds=0), folder / "plan")
    return folder / "plan"


@pytest.fixture(scope="module")
def anew(planned: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The batch of the first set was thrown away, that of the second was poured, and the rest is planned anew."""
    folder = Path(shutil.copytree(planned, tmp_path_factory.mktemp("anew") / "plan"))
    assert sets(folder) == [(1, 1), (5, 2), (9, 3)]
    recorded(folder, "thrown 1 flat", "2027-04-06 08:09")
    for number, at in ((2, "08:38"), (3, "09:07"), (4, "09:36")):
        recorded(folder, f"poured {number}", f"2027-04-06 {at}")
    recorded(folder, "stripped gang-4/02 gang-4/03 gang-4/04", "2027-04-08 08:20")
    recorded(folder, "poured 5", "2027-04-13 08:09")
    run("replan", folder, "--at", AGAIN)
    return folder


def sets(folder: Path) -> list[tuple[int, int]]:
    """Each set that a sound plan gives, by its batch, in the order of the table."""
    cubes = load_sound_plan(folder).tables.cubes
    return list(dict.fromkeys(zip(cubes["batch"].tolist(), cubes["set"].tolist(), strict=True)))


def test_a_set_that_was_given_keeps_its_number_and_others_go_on_from_there(anew: Path) -> None:
    (given, number), *more = sets(anew)
    assert (given, number) == (5, 2)
    assert [number for _, number in more] == list(range(3, 3 + len(more)))
    assert more


def test_sheets_and_the_calendar_say_what_is_written_on_it(anew: Path, tmp_path: Path) -> None:
    said = run("days", anew)
    assert "2 cubes of set 2, marked 2-1 to 2-2: mix wall, batch 5 of Tue 13 Apr" in said
    assert "of set 1" not in said
    run("calendar", anew, "--out", tmp_path / "plan.ics")
    assert "marked 2-1 to 2-2" in (tmp_path / "plan.ics").read_text(encoding="utf-8").replace("\r\n ", "")


def test_what_is_asked_for_on_their_day_is_what_is_written_on_it(anew: Path) -> None:
    plan = load_as_planned(anew)
    with open_journal(anew / FILE, read_only=True) as journal:
        entries = journal.entries()
    (said,) = to_crush(plan, date(2027, 4, 20), entries)
    assert said.startswith("Cubes 2-1 to 2-2 of batch 5 are to be crushed.")


def test_a_plan_made_anew_by_versions_before_is_sound_and_the_next_one_has_the_numbers_of_the_cards(
    anew: Path, tmp_path: Path
) -> None:
    """These counted sets by the clock."""
    folder = Path(shutil.copytree(anew, tmp_path / "plan"))
    begun = folder / "inputs" / "begun.json"
    told = json.loads(begun.read_text(encoding="utf-8"))
    for batch in told["batches"]:
        batch.pop("sets", None)
    begun.write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")
    cubes = pd.read_csv(folder / "cubes.csv", dtype=str)
    by_clock = cubes["set"].astype(int) - 1
    for row, (was, number) in enumerate(zip(cubes["set"], by_clock, strict=True)):
        cubes.loc[row, "marked"] = cubes.loc[row, "marked"].replace(f"{was}-", f"{number}-")
    cubes.assign(set=by_clock).to_csv(folder / "cubes.csv", index=False)
    assert [number for _, number in sets(folder)][:2] == [1, 2]
    run("replan", folder, "--at", "2027-04-13 16:30")
    assert [number for _, number in sets(folder)][:2] == [2, 3]
