"""``blockrun replan``: planned anew from what was recorded, kept by number, and back again."""

from __future__ import annotations

import re
import shutil
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import date, datetime
from pathlib import Path

import pandas as pd
import pypdfium2
import pytest
from click.testing import Result
from typer.testing import CliRunner

from blockrun.cli import app
from blockrun.errors import BadInput
from blockrun.planner.saved import load_plan
from blockrun.planner.sound import load_sound_plan
from blockrun.yard.journal import FILE, create_journal, entries_kept, open_journal
from blockrun.yard.replan.going_on import Job
from tests.yard.replan.went import Wrong, went

NOON = "2027-04-06 12:00"
"""Of the second day: the first batch stands in its moulds."""


@pytest.fixture(autouse=True)
def wide(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")


@pytest.fixture
def folder(small_folder: Path, tmp_path: Path) -> Path:
    """A plan of fifteen blocks, of which nothing is recorded."""
    return Path(shutil.copytree(small_folder, tmp_path / "plan"))


@dataclass(frozen=True)
class Anew:
    """A plan made anew at noon, after a flat batch: where it lies, what was said, and its files before and after."""

    folder: Path
    said: str
    before: dict[str, bytes]
    after: dict[str, bytes]


@pytest.fixture(scope="module")
def made_anew(small_folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Anew:
    """Made once for all that look at it."""
    folder = Path(shutil.copytree(small_folder, tmp_path_factory.mktemp("anew") / "plan"))
    before = files(folder)
    record(folder, Wrong(flat={1}))
    with pytest.MonkeyPatch.context() as patched:
        patched.setenv("COLUMNS", "80")
        result = run("replan", folder, "--at", NOON)
    assert (result.exit_code, result.stderr) == (0, "")
    return Anew(folder, result.stdout, before, files(folder))


@pytest.fixture
def anew(made_anew: Anew, tmp_path: Path) -> Anew:
    """The same in a folder of one's own."""
    return replace(made_anew, folder=Path(shutil.copytree(made_anew.folder, tmp_path / "plan")))


def record(folder: Path, wrong: Wrong | None = None, at: str = NOON, *, scarce: bool = False) -> None:
    """All until a moment goes as planned, but for what goes wrong; cement for that comes, or what is left is scarce.

    Where hardly any can be wasted the search takes a while, and one test is enough for that.
    """
    if wrong and not scarce:
        run("record", folder, "delivered", "cement", "10", "--at", "2027-04-05 07:30")
    job = Job(folder, datetime.fromisoformat(at))
    if not (folder / FILE).exists():
        create_journal(folder / FILE)
    with open_journal(folder / FILE) as journal:
        journal.append(went(job.plan.as_planned, job.at, wrong))


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


def flat(said: str) -> str:
    return " ".join(said.split())


def files(folder: Path) -> dict[str, bytes]:
    return {str(path.relative_to(folder)): path.read_bytes() for path in _plan_files(folder)}


def _plan_files(folder: Path) -> Iterable[Path]:
    inputs = (path for path in (folder / "inputs").rglob("*") if path.is_file())
    return [*(path for path in folder.glob("*") if path.suffix in {".csv", ".json"}), *inputs]


def test_with_nothing_recorded_the_plan_stays(folder: Path) -> None:
    before = files(folder)
    result = run("replan", folder, "--at", "2027-04-05 07:00")
    assert (result.exit_code, result.stderr) == (0, "")
    assert result.stdout == "The plan stays as it is: nothing was recorded yet.\n"
    assert files(folder) == before


def test_a_flat_batch_is_made_up_for(anew: Anew) -> None:
    assert "blocks were rejected" in flat(anew.said)
    plan = load_sound_plan(anew.folder)
    assert plan.begun is not None
    assert len(plan.tables.batches) == 1 + len(load_plan(anew.folder / "earlier" / "1").tables.batches)
    assert plan.totals["blocks"] == load_plan(anew.folder / "earlier" / "1").totals["blocks"]


def test_risk_plays_it_from_where_the_job_stands(anew: Anew) -> None:
    result = run("risk", anew.folder, "--runs", 5, "--workers", 1)
    assert (result.exit_code, result.stderr) == (0, "")
    said = flat(result.stdout)
    assert "It begins Tue 6 Apr 12:00: what happened before is as it was recorded." in said
    assert "not in it" not in said
    for words in (("note", "rain"), ("delivered", "cement", "4")):
        run("record", anew.folder, *words, "--at", "2027-04-06 13:00")
    assert "Recorded since, and not in it: 1 entry." in flat(run("risk", anew.folder, "--runs", 1).stdout)


def test_risk_tells_of_all_that_was_written_since_of_whatever_time_it_is(anew: Anew) -> None:
    folder = anew.folder
    last = max(entry.number for entry in entries_kept(folder))
    for words in (("counted", "cement", "10"), ("weather", "2", "9"), ("away", "1", "tomorrow"), ("note", "late")):
        assert run("record", folder, *words, "--at", "2027-04-06 11:00").exit_code == 0
    assert "Recorded since, and not in it: 3 entries." in flat(run("risk", folder, "--runs", 1).stdout)
    for number in (last + 1, last + 2, last + 3, 1):  # the first, a delivery, is in the plan
        assert run("record", folder, "undo", number, "--at", "2027-04-06 11:30").exit_code == 0
    assert "Recorded since, and not in it: 1 entry." in flat(run("risk", folder, "--runs", 1).stdout)
    assert run("record", folder, "undo", max(entry.number for entry in entries_kept(folder))).exit_code == 0
    assert "not in it" not in flat(run("risk", folder, "--runs", 1).stdout)


def test_what_is_planned_already_is_not_planned_again(anew: Anew) -> None:
    again = run("replan", anew.folder, "--at", "2027-04-06 12:30")
    assert flat(again.stdout) == "The plan stays as it is: nothing was recorded since 2027-04-06 12:00."
    assert not (anew.folder / "earlier" / "2").exists()


def test_the_plan_before_comes_back_byte_for_byte_and_the_other_is_kept(anew: Anew) -> None:
    folder = anew.folder
    result = run("replan", folder, "--undo")
    assert (result.exit_code, flat(result.stdout)) == (0, f"Plan 1 is in {folder} again; plan 2 is kept too.")
    assert files(folder) == anew.before
    assert files(folder / "earlier" / "2") == anew.after
    assert (folder / FILE).exists()


def test_there_is_no_going_back_from_the_first_plan(folder: Path) -> None:
    result = run("replan", folder, "--undo")
    assert (result.exit_code, "the first plan of the job" in flat(result.stderr)) == (2, True)


def test_a_plan_made_after_going_back_has_a_number_of_its_own(anew: Anew) -> None:
    folder = anew.folder
    run("replan", folder, "--undo")
    result = run("replan", folder, "--at", NOON)
    assert "this is plan 3; plan 1 is kept" in flat(result.stdout)
    assert sorted(path.name for path in (folder / "earlier").iterdir()) == ["1", "2"]


def test_trying_saves_nothing_though_cement_is_scarce(folder: Path) -> None:
    record(folder, Wrong(flat={1}), scarce=True)
    before = files(folder)
    result = run("replan", folder, "--at", NOON, "--try")
    assert "Nothing was saved: leave out --try to have this plan." in flat(result.stdout)
    assert files(folder) == before
    assert not (folder / "earlier").exists()


def test_what_should_have_been_poured_and_was_not_recorded_is_told(folder: Path) -> None:
    result = run("replan", folder, "--at", NOON)
    said = flat(result.stdout)
    assert "By the plan batch 1 is to be poured by now, and nobody recorded that: taken as not poured." in said
    assert "If it was, go back to plan 1 as below, record that and plan again." in said
    assert load_sound_plan(folder).begun is not None


def test_a_second_plan_made_anew_goes_on_from_both(anew: Anew) -> None:
    folder = anew.folder
    job = Job(folder, datetime.fromisoformat("2027-04-09 12:00"))
    since = [one for one in went(job.plan.as_planned, job.at) if one.happened > datetime.fromisoformat(NOON)]
    with open_journal(folder / FILE) as journal:
        journal.append([replace(one, key=f"second {one.key}") for one in since])
    result = run("replan", folder, "--at", "2027-04-09 12:00")
    assert (result.exit_code, result.stderr) == (0, "")
    plan = load_sound_plan(folder)
    assert plan.begun is not None
    assert {batch.plan for batch in plan.begun.batches} == {job.plan.id, Job(folder / "earlier" / "1", job.at).plan.id}


def test_a_forecast_that_begins_today_is_taken_and_kept(folder: Path, tmp_path: Path) -> None:
    record(folder)
    today = tmp_path / "today.csv"
    today.write_text("date,min_degC,max_degC\n2027-04-06,9,12\n2027-04-07,9,12\n", encoding="utf-8")
    result = run("replan", folder, "--at", NOON, "--weather", today)
    assert (result.exit_code, result.stderr) == (0, "")
    assert (folder / "inputs" / "forecast-2027-04-06.csv").read_bytes() == today.read_bytes()
    assert load_sound_plan(folder).site.weather.day(date(2027, 4, 7)).min_c == 9


def test_a_day_on_which_nobody_is_there_is_a_day_lost(folder: Path) -> None:
    crew = load_plan(folder).site.crew.people
    run("record", folder, "away", crew, "2027-04-08", "--at", "2027-04-05 07:30")
    record(folder)
    result = run("replan", folder, "--at", NOON)
    assert (result.exit_code, result.stderr) == (0, "")
    assert "too few people are there on Thu 8 Apr: taken as lost" in flat(result.stdout)
    assert not (load_sound_plan(folder).tables.tasks["start"].dt.day == 8).any()


def test_moulds_of_which_all_is_lost_are_cleaned_by_the_new_plan(folder: Path) -> None:
    record(folder, Wrong(flat={1}), at="2027-04-05 10:00")
    run("replan", folder, "--at", "2027-04-05 10:00")
    tasks = pd.read_csv(folder / "tasks.csv")
    cleaned = tasks[(tasks["task"] == "clean") & (tasks["start"] >= "2027-04-05T10:00")]
    assert {"gang-2/01", "gang-2/02", "tray-1/b01"} <= {*cleaned["mould"], *cleaned["base"]}
    assert run("audit", folder).exit_code == 0


def test_stock_that_is_short_is_told_of_the_rest(folder: Path) -> None:
    run("record", folder, "counted", "cement", "0", "--at", "2027-04-06 08:00")
    record(folder)
    result = run("replan", folder, "--at", NOON)
    assert result.exit_code == 3
    assert "the rest takes at least" in flat(result.stderr)
    assert "and 6 bags are left or to come" in flat(result.stderr)


def test_blocks_that_are_found_need_not_be_cast(folder: Path) -> None:
    record(folder, at="2027-04-07 18:00")
    run("record", folder, "counted", "east", "5", "half", "--at", "2027-04-07 18:00")
    result = run("replan", folder, "--at", "2027-04-07 18:00")
    assert (result.exit_code, result.stderr) == (0, "")
    assert "were found that nobody had recorded: taken as old enough here, and by ready from" in flat(result.stdout)
    assert load_sound_plan(folder).begun is not None


def test_a_mould_that_the_site_has_no_more_is_told(folder: Path, tmp_path: Path) -> None:
    record(folder)
    fewer = Path(shutil.copytree(folder / "inputs", tmp_path / "fewer")) / "site.yaml"
    text = fewer.read_text(encoding="utf-8")
    assert text.count("count: 2") >= 1
    fewer.write_text(text.replace("count: 2", "count: 1", 1), encoding="utf-8")
    result = run("replan", folder, "--at", NOON, "--site", fewer)
    assert (result.exit_code, "gang-2/02 was filled, and the site has none such any more" in flat(result.stderr)) == (
        2,
        True,
    )


def test_a_moment_before_the_plan_in_hand_is_refused(anew: Anew) -> None:
    result = run("replan", anew.folder, "--at", "2027-04-06 09:00")
    assert (result.exit_code, "the plan in hand was made for 2027-04-06 12:00" in flat(result.stderr)) == (2, True)


def test_what_is_recorded_as_later_is_said_not_to_be_heeded(folder: Path) -> None:
    record(folder, Wrong(flat={1}), at="2027-04-07 12:00")
    result = run("replan", folder, "--at", NOON)
    assert "recorded as later than that: not heeded" in flat(result.stdout)


def test_blocks_that_are_not_to_be_laid_are_not_silently_taken_for_good(folder: Path) -> None:
    run("record", folder, "poured", "1", "--weight", "730kg/m3", "--at", "2027-04-05 08:24")
    said = flat(run("replan", folder, "--at", NOON).stdout)
    assert "5 blocks of batches outside their cards are taken for good, though not to be laid as they are." in said
    assert "record them as rejected and plan again" in said


def test_a_plan_made_from_the_start_where_a_journal_lies_keeps_the_one_before(folder: Path) -> None:
    record(folder)
    inputs = folder / "inputs"
    before = files(folder)
    words = ("plan", inputs / "site.yaml", inputs / "order.yaml", "--out", folder, "--replace")
    result = run(*words, "--although-recorded")
    assert result.exit_code == 0
    assert files(folder / "earlier" / "1") == before
    assert "earlier/1.Thejournal(" in "".join(result.stdout.split())  # a long path breaks anywhere


def test_a_job_under_way_is_not_planned_over_unless_it_is_said_that_it_is_to_be(folder: Path) -> None:
    record(folder)
    before = files(folder)
    inputs = folder / "inputs"
    result = run("plan", inputs / "site.yaml", inputs / "order.yaml", "--out", folder, "--replace")
    assert result.exit_code == 2
    assert "holds a job under way" in flat(result.stderr)
    assert "blockrun replan" in flat(result.stderr)
    assert "--although-recorded" in flat(result.stderr)
    assert files(folder) == before


def test_a_plan_whose_journal_is_empty_is_replaced_as_any_other(folder: Path) -> None:
    create_journal(folder / FILE)
    inputs = folder / "inputs"
    result = run("plan", inputs / "site.yaml", inputs / "order.yaml", "--out", folder, "--replace")
    assert result.exit_code == 0
    assert "The journal" not in result.stdout
    assert not (folder / "earlier").exists()


def test_a_new_forecast_is_planned_by(folder: Path, tmp_path: Path) -> None:
    record(folder)
    cold = tmp_path / "cold.csv"
    days = "".join(f"2027-04-{day:02},{-3 if 7 <= day <= 9 else 8},12\n" for day in range(5, 31))
    cold.write_text("date,min_degC,max_degC\n" + days, encoding="utf-8")
    result = run("replan", folder, "--at", NOON, "--weather", cold)
    assert (result.exit_code, result.stderr) == (0, "")
    starts = load_sound_plan(folder).tables.batches["start"].dt.day.tolist()
    assert not {7, 8, 9} & set(starts)


@pytest.mark.parametrize("words", [["--at", "noonish"], ["--seconds", "lots"], ["--site", "nowhere.yaml"]])
def test_what_is_mistyped_is_answered_in_words(folder: Path, words: list[str]) -> None:
    record(folder)
    before = files(folder)
    result = run("replan", folder, *words)
    assert (result.exit_code, "Traceback" in result.stderr) == (2, False)
    assert files(folder) == before


@pytest.mark.parametrize("name", ["nowhere", "empty", "plan/casts.csv"])
def test_where_no_plan_lies_it_is_said_so(folder: Path, name: str) -> None:
    (folder.parent / "empty").mkdir()
    result = run("replan", folder.parent / name)
    assert (result.exit_code, "no plan is saved here" in flat(result.stderr)) == (2, True)
    assert "bug" not in result.stderr


def test_a_job_that_is_cast_whole_has_nothing_more_to_pour(folder: Path) -> None:
    record(folder, at="2027-04-19 18:00")
    run("record", folder, "lost", "2027-04-20", "--at", "2027-04-19 17:00")
    before = load_plan(folder)
    result = run("replan", folder, "--at", "2027-04-19 18:00")
    assert (result.exit_code, result.stderr) == (0, "")
    plan = load_sound_plan(folder)
    assert len(plan.tables.batches) == len(before.tables.batches)
    assert [stage.value for stage in plan.stages[1:3]] == [stage.value for stage in before.stages[1:3]]


def test_what_was_recorded_meanwhile_is_not_left_out(folder: Path) -> None:
    record(folder, Wrong(flat={1}))
    with Job(folder, datetime.fromisoformat(NOON)) as job:
        assert job.entries
        job.check_still()
        assert run("record", str(folder), "note", "wet day", "--at", NOON).exit_code == 0
        with pytest.raises(BadInput, match="1 thing was recorded while this was planned"):
            job.check_still()


def test_a_plan_that_was_made_meanwhile_is_not_replaced(folder: Path) -> None:
    record(folder)
    job = Job(folder, datetime.fromisoformat(NOON))
    assert job.asked() is not None
    job.check_still()
    facts = folder / "plan.json"
    facts.write_text(facts.read_text(encoding="utf-8").replace('"seed": 0', '"seed": 1'), encoding="utf-8")
    with pytest.raises(BadInput, match="another plan was made here meanwhile"):
        job.check_still()


def test_what_is_printed_of_a_plan_made_anew_says_whose_place_it_takes(made_anew: Anew, tmp_path: Path) -> None:
    assert run("paper", made_anew.folder, "--out", tmp_path / "wall.pdf", "--only", "cautions").exit_code == 0
    document = pypdfium2.PdfDocument(tmp_path / "wall.pdf")
    words = " ".join(document[0].get_textpage().get_text_bounded().split())
    document.close()
    assert re.search(r"plan 2 of .*, in place of plan 1", words)
    assert run("report", made_anew.folder, "--out", tmp_path / "report.html").exit_code == 0
    page = (tmp_path / "report.html").read_text(encoding="utf-8")
    assert re.search(r"<p class=.of.>Plan 2 of .*, in place of plan 1</p>", page)
    assert re.search(r"@bottom-left { content: .plan 2 of .*, in place of plan 1.;", page)
    assert 'content: "page " counter(page) " of " counter(pages);' in page
