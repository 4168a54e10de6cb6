"""A batch that was poured keeps the number of its card, its label and its blocks, through any number of replans."""

from __future__ import annotations

import shutil
from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import pandas as pd
import pytest
from typer.testing import CliRunner

from blockrun.cli import app
from blockrun.planner.as_planned import load_as_planned
from blockrun.planner.sound import load_sound_plan

LIGHT = ("poured 3 without tray-1/b01 --weight 690kg/m3", "2027-04-06 15:00")
"""A batch outside its card, while one before it is left out."""
FIRST, SECOND = "2027-04-06 16:00", "2027-04-09 12:00"
BEFORE = (
    ("delivered cement 20", "2027-04-05 07:30"),
    ("thrown 1 flat", "2027-04-05 08:24"),
    ("poured 1 again", "2027-04-05 09:30"),
    ("sides tray-1/b01", "2027-04-06 08:30"),
    ("stripped gang-2/1 gang-2/2 tray-1/b01", "2027-04-06 14:30"),
    ("poured extra tray-1/01 on tray-1/b02 thin mix light", "2027-04-06 14:45"),
    LIGHT,
)
POURED = {1: ("09:30", 5), 3: ("15:00", 2)}
"""By their cards: when, and how many blocks."""


@dataclass(frozen=True)
class Story:
    """A plan made anew twice, as it was after each time."""

    once: Path
    twice: Path
    poured: int
    """What was poured between, by the plan made anew once."""


def run(*words: object) -> str:
    result = CliRunner().invoke(app, [str(word) for word in words])
    assert (result.exit_code, result.stderr) == (0, "")
    return " ".join(result.stdout.split())


def recorded(folder: Path, words: str, at: str) -> str:
    return run("record", folder, *words.split(), "--at", at)


@pytest.fixture(scope="module")
def story(small_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Story:
    folder = Path(shutil.copytree(small_folder, tmp_path_factory.mktemp("story") / "once"))
    for words, at in BEFORE:
        recorded(folder, words, at)
    run("replan", folder, "--at", FIRST)
    twice = Path(shutil.copytree(folder, folder.parent / "twice"))
    plan = load_as_planned(twice)
    first = next(cast for cast in plan.casts if cast.poured > pd.Timestamp(FIRST))
    run("record", twice, "sides", "tray-1/b02", "--at", "2027-04-07 08:30")
    run("record", twice, "stripped", "gang-2/1", "gang-2/2", "tray-1/b02", "--at", "2027-04-08 08:10")
    run("record", twice, "poured", first.batch, "--at", "2027-04-09 11:00")
    run("replan", twice, "--at", SECOND)
    return Story(folder, twice, first.batch)


@pytest.fixture
def once(story: Story, tmp_path: Path) -> Path:
    return Path(shutil.copytree(story.once, tmp_path / "plan"))


def blocks(folder: Path) -> dict[int, tuple[str, int]]:
    """By number: when a batch was poured, and its blocks."""
    casts = load_as_planned(folder).casts
    counts = Counter(cast.batch for cast in casts)
    return {cast.batch: (f"{cast.poured:%H:%M}", counts[cast.batch]) for cast in casts}


def test_what_was_poured_keeps_its_number_and_what_is_to_come_goes_on_from_the_highest(story: Story) -> None:
    once, twice = load_sound_plan(story.once), load_sound_plan(story.twice)
    assert once.begun is not None
    assert twice.begun is not None
    assert [(one.number, one.was) for one in once.begun.batches] == [(4, 1), (1, 1), (5, 1), (3, 3)]
    assert min({*once.tables.batches["batch"]} - once.begun.poured) == 6 == story.poured
    assert [one.number for one in twice.begun.batches] == [4, 1, 5, 3, 6]
    assert min({*twice.tables.batches["batch"]} - twice.begun.poured) == 7


def test_blocks_are_of_the_batch_that_their_card_named(story: Story) -> None:
    for folder in (story.once, story.twice):
        there = blocks(folder)
        assert {number: there[number] for number in POURED} == POURED
        assert there[5] == ("14:45", 1)
        assert 4 not in there
        assert load_sound_plan(folder).tables.batches["batch"].is_unique


def test_the_morning_list_status_and_days_name_it_by_that_number(story: Story) -> None:
    for folder, at in ((story.once, FIRST), (story.twice, SECOND)):
        assert "batch 3: DO NOT LAY" in run("ready", folder, "--at", at)
        assert "batch 3" in run("status", folder, "--at", at)
    assert "DO NOT LAY 3" in run("days", story.twice) or "batch 3" in run("days", story.twice)


def test_what_is_typed_means_it_and_is_said_so(once: Path) -> None:
    assert "ube of batch 3 crushed" in recorded(once, "test cube 3 30kN 7d", "2027-04-13 12:00")
    assert "Batch 3 may be used" in recorded(once, "passed 3 engineer", "2027-04-13 13:00")
    assert "DO NOT LAY" not in run("ready", once, "--at", "2027-04-13 14:00")


def test_an_extra_batch_has_one_number_once_the_plan_knows_it(once: Path) -> None:
    assert "ube of batch 5 crushed" in recorded(once, "test cube extra 1 30kN 7d", "2027-04-13 12:00")
    run("export", once, "--out", once.parent / "out")
    table = pd.read_csv(once.parent / "out" / "blocks.csv", dtype=str)
    assert {*table["batch"]} == {"1", "3", "5"}
    pours = pd.read_csv(once.parent / "out" / "poured.csv", dtype=str).fillna("")
    there = table.fillna("")
    assert {*zip(there["plan"], there["recorded"], strict=True)} <= {*zip(pours["plan"], pours["batch"], strict=True)}
    assert {*table.loc[table["batch"] == "5", "recorded"]} == {"1"}


def test_labels_are_printed_of_what_stands_and_what_is_to_come(story: Story, tmp_path: Path) -> None:
    sheet = Path(__file__).parent.parent / "configs" / "labels.yaml"
    paper = ("paper", story.twice, "--labels", sheet, "--only", "moulds")
    said = run(*paper, "--out", tmp_path / "now.pdf")
    assert "What was stripped before Fri 9 Apr 12:00 has its labels" in said.replace("\u00a0", " ")
    assert "has its labels" not in run(*paper, "--out", tmp_path / "all.pdf", "--from", "2027-04-05")


def test_a_batch_made_once_more_after_the_plan_was_made_anew_is_of_its_number(once: Path) -> None:
    recorded(once, "rejected gang-2/1 gang-2/2 flat", "2027-04-06 16:10")
    assert "batch 3 (light) poured" in recorded(once, "poured 3 again", "2027-04-07 09:00").lower()
    assert "Batch 3 may be used" in recorded(once, "passed 3 engineer", "2027-04-07 10:00")


def test_a_batch_that_was_left_out_is_recorded_in_the_plan_before(once: Path) -> None:
    result = CliRunner().invoke(app, ["record", str(once), "poured", "2", "--at", "2027-04-06 09:00"])
    said = " ".join(result.stderr.split())
    assert "the plan has no batch 2 It has the batches 1, 3 and 5 to " in said
    assert f"record it there and plan anew: blockrun replan {once} --undo" in said
    run("replan", once, "--undo")
    assert 2 in load_as_planned(once).batches


@pytest.mark.parametrize(("number", "said"), [(2, "--undo, 2 times"), (99, "")])
def test_how_many_plans_to_go_back_for_a_batch_is_told_and_nothing_of_one_that_none_had(
    story: Story, number: int, said: str
) -> None:
    result = CliRunner().invoke(app, ["record", str(story.twice), "poured", str(number), "--at", "2027-04-06 09:00"])
    told = " ".join(result.stderr.split())
    assert f"the plan has no batch {number}" in told
    assert ("One of 2 plans before that nobody recorded" in told, said in told) == (bool(said), True)
    assert ("--undo" in told) == bool(said)


def test_of_a_batch_thrown_away_it_is_said_that_no_block_is_left(once: Path) -> None:
    result = CliRunner().invoke(app, ["record", str(once), "poured", "4", "--at", "2027-04-07 09:00"])
    said = " ".join(result.stderr.split())
    assert "It was poured before this plan was made, and no good block is left of it." in said


def test_a_cube_crushed_before_its_pour_names_the_batch_as_it_was_typed(once: Path) -> None:
    result = CliRunner().invoke(app, ["record", str(once), "test", "cube", "5", "30kN", "--at", "2027-04-06 14:00"])
    assert "nobody recorded when batch 5 was poured" in " ".join(result.stderr.split())


def test_a_cube_of_the_pour_that_was_thrown_away_is_said_to_count_for_both(once: Path) -> None:
    both = "batches 1 and 4 are one, poured again: this counts for all of it"
    assert both in recorded(once, "test cube 4 30kN 7d", "2027-04-13 12:00").lower()
    assert both not in recorded(once, "test cube 3 30kN 7d", "2027-04-13 12:00").lower()
