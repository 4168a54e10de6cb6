from __future__ import annotations

import json
import os
import shlex
import shutil
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any, Final

import pytest
from typer.testing import CliRunner, Result

from blockrun import __version__
from blockrun.cli import app
from blockrun.errors import BadPlan, NoPlanInTime, NoPlanPossible
from blockrun.planner.beside import DiedError
from blockrun.planner.guard import Guard
from blockrun.planner.plan import Plan, Progress
from blockrun.planner.saved import load_plan

ROOT: Final = Path(__file__).parent.parent
COMMANDS: Final = (
    "plan",
    "days",
    "paper",
    "report",
    "calendar",
    "workbook",
    "why",
    "whatif",
    "risk",
    "cure",
    "materials",
    "audit",
    "takeoff",
    "mix",
    "check",
    "trial",
    "chart",
    "thumb",
    "record",
    "ready",
    "status",
    "replan",
    "learn",
    "verify",
    "backup",
    "export",
    "schema",
    "demo",
)
START: Final = [sys.executable, "-m", "blockrun"]

Planner = Callable[..., Plan]


@pytest.fixture(autouse=True)
def wide(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.delenv("BLOCKRUN_DEBUG", raising=False)


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


def process(*words: object, **options: Any) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [*START, *map(str, words)], cwd=ROOT, capture_output=True, text=True, timeout=60, check=False, **options
    )


@pytest.fixture
def planner(monkeypatch: pytest.MonkeyPatch) -> Callable[[Planner], None]:
    """Put another planner in the place of the real one."""

    def put(make: Planner) -> None:
        def plan(guard: Guard, site: object, order: object, _: object) -> Plan:
            return make(site, order, stop=guard.stopped, progress=guard.progress)

        monkeypatch.setattr(Guard, "plan", plan)

    return put


@pytest.fixture
def quick(planner: Callable[[Planner], None], small_plan: Plan) -> None:
    planner(lambda site, order, **callbacks: small_plan)


# help and version


def test_help_names_every_command_and_where_to_start() -> None:
    shown = run("--help").output
    assert all(command in shown for command in COMMANDS)
    assert "Start with: blockrun demo" in shown


@pytest.mark.parametrize("command", COMMANDS)
def test_every_command_has_help_and_an_example(command: str) -> None:
    result = run(command, "--help")
    assert result.exit_code == 0
    assert f"Example: blockrun {command}" in result.output


@pytest.mark.parametrize("command", ["", *COMMANDS])
def test_help_fits_a_phone_with_options_whole_and_without_types(command: str) -> None:
    result = process(*command.split(), "--help", env={**os.environ, "COLUMNS": "40"})
    lines = result.stdout.splitlines()
    assert max(map(len, lines)) <= 40
    assert "<" not in result.stdout
    assert not [line for line in lines if line.strip().startswith("--") and len(line.split()[0]) < len("--to")]


def test_on_a_phone_the_list_of_commands_says_all_of_what_each_does() -> None:
    shown = process("--help", env={**os.environ, "COLUMNS": "40"}).stdout
    listed = shown.partition("Commands:")[2]
    assert "..." not in listed
    assert "Make a plan for an order and save it: every pour, strip, move and batch" in " ".join(listed.split())


def test_help_names_each_option_in_full() -> None:
    shown = process("plan", "--help", env={**os.environ, "COLUMNS": "40"}).stdout
    assert all(f"\n  {option} " in shown for option in ("--out DIR", "--seconds S", "--repeatable", "--replace"))


@pytest.mark.parametrize("written", ["lots", "0", "nan", "inf", "-3"])
def test_seconds_that_are_none_say_what_to_write(inputs: tuple[Path, Path], tmp_path: Path, written: str) -> None:
    result = run("plan", *inputs, "--out", tmp_path / "plan", "--seconds", written)
    assert (result.exit_code, f"--seconds {written}" in result.stderr) == (2, True)
    assert "for example --seconds 300" in result.stderr


def test_the_commands_tested_are_all_there_are() -> None:
    assert {command.callback.__name__ for command in app.registered_commands if command.callback} == set(COMMANDS)


def test_version() -> None:
    assert run("--version").output == f"blockrun {__version__}\n"


# plan


@pytest.mark.usefixtures("quick")
def test_plan_saves_and_sums_up(inputs: tuple[Path, Path], tmp_path: Path) -> None:
    result = run("plan", *inputs, "--out", tmp_path / "plan")
    assert result.exit_code == 0, result.stderr
    for words in ("block-days late", "last pour", "batches", "cement", "thrown away", "Strength is not"):
        assert words in result.stdout
    assert shlex.join(["blockrun", "days", str(tmp_path / "plan")]) in result.stdout.splitlines()
    assert load_plan(tmp_path / "plan").order.name == "Garden wall"
    told = json.loads((tmp_path / "plan" / "run.json").read_text(encoding="utf-8"))
    assert told.keys() == {"when", "seconds", "seconds_allowed", "memory_mb", "versions", "platform", "compiled"}


@pytest.mark.usefixtures("quick")
def test_plan_keeps_what_is_there_unless_told(inputs: tuple[Path, Path], tmp_path: Path) -> None:
    assert run("plan", *inputs, "--out", tmp_path / "plan").exit_code == 0
    again = run("plan", *inputs, "--out", tmp_path / "plan")
    assert again.exit_code == 2
    assert "exists already Give another name, or add --replace." in " ".join(again.stderr.split())
    assert run("plan", *inputs, "--out", tmp_path / "plan", "--replace").exit_code == 0


def test_a_place_that_is_taken_is_told_before_the_planning(
    planner: Callable[[Planner], None], inputs: tuple[Path, Path], small_folder: Path
) -> None:
    def make(*inputs: object, **callbacks: object) -> Plan:
        raise AssertionError("planned all the same")

    planner(make)
    assert run("plan", *inputs, "--out", small_folder).exit_code == 2


@pytest.mark.parametrize("fault", [BadPlan("its own audit refuses the plan"), DiedError("it crashed (SIGSEGV)")])
def test_a_fault_of_ours_saves_nothing_and_says_what_to_send(
    planner: Callable[[Planner], None], inputs: tuple[Path, Path], tmp_path: Path, fault: Exception
) -> None:
    def make(*inputs: object, **callbacks: object) -> Plan:
        raise fault

    planner(make)
    result = run("plan", *inputs, "--out", tmp_path / "plan")
    assert result.exit_code == 1
    assert f"blockrun has a bug: {fault}" in result.stderr
    assert "Nothing was saved" in result.stderr
    assert "Please send" in result.stderr
    assert not (tmp_path / "plan").exists()


@pytest.mark.parametrize(
    ("error", "code"), [(NoPlanPossible("the cement runs out"), 3), (NoPlanInTime("none in 60 s"), 4)]
)
def test_no_plan_is_told_by_the_exit_code(
    planner: Callable[[Planner], None], inputs: tuple[Path, Path], tmp_path: Path, error: Exception, code: int
) -> None:
    def make(*inputs: object, **callbacks: object) -> Plan:
        raise error

    planner(make)
    result = run("plan", *inputs, "--out", tmp_path / "plan")
    assert (result.exit_code, result.stderr) == (code, f"{error}\n")


def test_the_time_limit_reaches_the_search(
    planner: Callable[[Planner], None], inputs: tuple[Path, Path], small_plan: Plan, tmp_path: Path
) -> None:
    asked: list[bool] = []

    def make(site: object, order: object, *, stop: Callable[[], bool], progress: Callable[[Progress], None]) -> Plan:
        asked.append(stop())
        while not stop():
            time.sleep(0.01)
        asked.append(stop())
        return small_plan

    planner(make)
    assert run("plan", *inputs, "--out", tmp_path / "plan", "--seconds", "1").exit_code == 0
    assert asked == [False, True]


def test_repeatable_hands_no_time_limit_to_the_search(
    planner: Callable[[Planner], None],
    inputs: tuple[Path, Path],
    small_plan: Plan,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    asked: list[bool] = []

    def make(site: object, order: object, *, stop: Callable[[], bool], progress: Callable[[Progress], None]) -> Plan:
        with monkeypatch.context() as later:
            later.setattr("time.monotonic", lambda: 1e12)
            asked.append(stop())
        return small_plan

    planner(make)
    assert run("plan", *inputs, "--out", tmp_path / "plan", "--repeatable").exit_code == 0
    assert asked == [False]


def test_a_plan_is_made_in_a_process_that_imports_nothing_that_solves(
    inputs: tuple[Path, Path], tmp_path: Path
) -> None:
    script = (
        "import sys\nfrom blockrun.cli import main\n"
        "try:\n    main()\nexcept SystemExit:\n    print(' '.join({name.split('.')[0] for name in sys.modules}))"
    )
    words = [sys.executable, "-c", script, "plan", *map(str, inputs), "--out", str(tmp_path / "plan")]
    shown = subprocess.run(words, cwd=ROOT, capture_output=True, text=True, check=True).stdout
    imported = set(shown.splitlines()[-1].split())
    assert "numpy" in imported
    assert "ortools" not in imported


def test_progress_says_nothing_where_there_is_no_terminal(
    planner: Callable[[Planner], None], inputs: tuple[Path, Path], small_plan: Plan, tmp_path: Path
) -> None:
    def make(site: object, order: object, *, stop: Callable[[], bool], progress: Callable[[Progress], None]) -> Plan:
        progress(Progress("batches", 5, 4))
        return small_plan

    planner(make)
    assert run("plan", *inputs, "--out", tmp_path / "plan").stderr == ""


# days, audit


def test_days_are_as_wide_as_the_terminal(small_folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    result = run("days", small_folder)
    assert result.exit_code == 0
    assert max(map(len, result.stdout.splitlines())) == 40


def test_days_takes_a_first_and_a_last_day(small_folder: Path) -> None:
    result = run("days", small_folder, "--from", "2027-04-07", "--to", "2027-04-07")
    assert [line[:14] for line in result.stdout.splitlines() if "──" in line] == ["Wed 7 Apr 2027"]


def test_several_orders_are_said_to_be_written_as_parts_of_one(small_folder: Path, tmp_path: Path) -> None:
    inputs = small_folder / "inputs"
    words = ("plan", inputs / "site.yaml", inputs / "order.yaml", inputs / "second.yaml", "--out", tmp_path / "plan")
    result = run(*words)
    assert (result.exit_code, "a plan is of one order, and 2 are given" in " ".join(result.stderr.split())) == (2, True)
    assert "parts of one" in result.stderr


@pytest.mark.parametrize("day", ["Wed 7 Apr", "7 april", "7.4.2027", "2027-04-07"])
def test_days_are_named_as_they_are_recorded(small_folder: Path, day: str) -> None:
    result = run("days", small_folder, "--from", day, "--to", day)
    assert [line[:14] for line in result.stdout.splitlines() if "──" in line] == ["Wed 7 Apr 2027"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--from", "7/4/2027"], "Write 2027-04-07 or 2027-07-04, whichever is meant."),
        (["--from", "Tue 7 Apr"], "--from Tue 7 Apr: 2027-04-07 is a Wednesday"),
        (["--from", "2027-06-01"], "The plan runs from 2027-04-05 to 2027-05-06"),
        (["--to", "Tuesday"], "--to Tuesday is not a day"),
    ],
)
def test_days_outside_the_plan_or_the_calendar_are_told(small_folder: Path, words: list[str], said: str) -> None:
    result = run("days", small_folder, *words)
    assert (result.exit_code, said in result.stderr) == (2, True)


def test_days_of_a_plan_whose_tables_were_changed_say_so_first(small_folder: Path, tmp_path: Path) -> None:
    folder = shutil.copytree(small_folder, tmp_path / "my plan")
    path = folder / "casts.csv"
    path.write_text(path.read_text(encoding="utf-8").replace(",east,", ",west,", 1), encoding="utf-8")
    said = " ".join(run("days", folder).stdout.split())
    assert said.startswith("casts.csv was changed since it was saved; run: blockrun audit '")
    assert "was changed" not in run("days", small_folder).stdout


def test_audit_of_a_good_plan(small_folder: Path) -> None:
    result = run("audit", small_folder)
    assert (result.exit_code, result.stdout.split(":")[0]) == (0, "Nothing is wrong with this plan")


def test_audit_of_a_plan_that_was_tampered_with(small_folder: Path, tmp_path: Path) -> None:
    folder = shutil.copytree(small_folder, tmp_path / "spoilt")
    path = folder / "casts.csv"
    path.write_text(path.read_text(encoding="utf-8").replace(",east,", ",west,"), encoding="utf-8")
    result = run("audit", folder)
    assert result.exit_code == 2
    assert "rack west holds" in result.stdout


# takeoff, mix, schema


def test_takeoff_counts_the_order(inputs: tuple[Path, Path]) -> None:
    shown = run("takeoff", inputs[1]).stdout
    assert "4 full 600 x 300 x 200 mm, light: 144 L, 86.4 kg dry, 21.6 kg each" in shown
    assert "190.5 lb" in run("takeoff", inputs[1], "--units", "US").stdout


def test_takeoff_says_how_many_slabs_the_order_takes_on_a_site_that_saws() -> None:
    example = ROOT / "examples" / "slabs"
    shown = run("takeoff", example / "order.yaml", "--site", example / "site.yaml").stdout
    assert "9 of slab (1205 x 910 x 200 mm); the least possible (proven)" in " ".join(shown.split())


def test_mix_prints_the_cards(inputs: tuple[Path, Path]) -> None:
    shown = run("mix", *inputs).stdout
    assert "4 bags of cement (100 kg), 50 L of water" in shown
    assert "Fresh mix burns skin and eyes" in shown


@pytest.mark.parametrize(("file", "key"), [("site", "mixers"), ("order", "parts")])
def test_schema_is_one_an_editor_can_read(file: str, key: str) -> None:
    schema = json.loads(run("schema", file).stdout)
    assert key in schema["properties"]
    assert schema["$schema"].startswith("https://json-schema.org/")


# errors


def test_errors_are_as_wide_as_the_terminal(
    inputs: tuple[Path, Path], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copytree(inputs[0].parent, tmp_path / "in")
    monkeypatch.chdir(tmp_path / "in")
    site = Path("site.yaml")
    site.write_text(site.read_text(encoding="utf-8").replace("name: drum", "name: drum\n    capacity: 20 L"), "utf-8")
    monkeypatch.setenv("COLUMNS", "40")
    told = run("mix", "site.yaml", "order.yaml").stderr
    assert "capacity" in told
    assert max(map(len, told.splitlines())) <= 40


def test_a_missing_file_is_told_without_a_traceback(tmp_path: Path) -> None:
    result = run("takeoff", tmp_path / "none.yaml")
    assert (result.exit_code, result.stdout) == (2, "")
    assert "there is no such file" in " ".join(result.stderr.split())


@pytest.fixture
def broken(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(path: Path) -> None:
        raise KeyError("lost")

    monkeypatch.setattr("blockrun.order.load_order", fail)


@pytest.mark.usefixtures("broken")
def test_a_bug_says_what_to_send_and_shows_no_traceback() -> None:
    result = run("takeoff", "order.yaml")
    assert result.exit_code == 1
    assert result.stderr.startswith("blockrun has a bug: KeyError: 'lost'\n")
    assert f"blockrun {__version__}, Python" in result.stderr
    assert "Traceback" not in result.stderr


@pytest.mark.usefixtures("broken")
def test_a_bug_shows_its_traceback_when_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("BLOCKRUN_DEBUG", "1")
    assert "Traceback" in run("takeoff", "order.yaml").stderr


def test_a_reader_that_goes_away_is_no_error(small_folder: Path) -> None:
    doing = subprocess.Popen(
        [*START, "days", str(small_folder)], cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True
    )
    assert doing.stdout is not None
    doing.stdout.close()
    assert doing.stderr is not None
    told = doing.stderr.read()
    doing.stderr.close()
    doing.wait(timeout=30)
    assert told == ""


def test_materials_are_as_wide_as_the_terminal(small_folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "40")
    shown = run("materials", small_folder)
    assert shown.exit_code == 0
    assert "8 bags on hand: gives out on Thu 8 Apr" in shown.output
    assert max(map(len, shown.output.splitlines())) <= 40


def test_materials_can_be_written_as_a_file_and_never_over_another(small_folder: Path, tmp_path: Path) -> None:
    out = tmp_path / "materials.csv"
    assert run("materials", small_folder, "--out", out).exit_code == 0
    assert out.read_text().startswith("day,cement_used_bags,cement_delivered_bags,cement_left_bags,water_used_l,")
    assert run("materials", small_folder, "--out", out).exit_code == 2
    assert run("materials", small_folder, "--out", out, "--replace").exit_code == 0


def test_materials_of_a_plan_whose_tables_were_changed_say_so_first(small_folder: Path, tmp_path: Path) -> None:
    plan = Path(shutil.copytree(small_folder, tmp_path / "plan"))
    batches = plan / "batches.csv"
    batches.write_text(batches.read_text().replace(",3.5,87.5,", ",4,100,"))
    assert "batches.csv was changed" in run("materials", plan).output.splitlines()[1]


def test_a_screen_without_our_characters_still_shows_the_days(small_folder: Path) -> None:
    result = process("days", small_folder, env={**os.environ, "PYTHONIOENCODING": "ascii", "COLUMNS": "80"})
    assert (result.returncode, result.stderr) == (0, "")
    assert "Mon 5 Apr 2027" in result.stdout


def test_a_command_that_is_not_there_is_told() -> None:
    assert process("dyas").returncode == 2
