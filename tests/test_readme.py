"""What the README says can be done is done here, word for word; a small yard stands in for the example.

Only the parts of its first command that install, and the one that runs these tests, are left to ``.ci/run``.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
import tomllib
from datetime import date
from pathlib import Path
from typing import Final
from xml.etree import ElementTree

import pytest
from typer.main import get_command

import blockrun
from blockrun.cli import app
from blockrun.order import DomePart, WallPart, takeoff
from blockrun.planner.saved import load_plan
from tests.typical_year import epw

ROOT: Final = Path(__file__).parent.parent
README: Final = (ROOT / "README.md").read_text(encoding="utf-8")
CI: Final = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
TESTS: Final = ".venv/bin/python -m pytest"
DEMO: Final = ".venv/bin/blockrun demo"


def blocks_of(language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```$", README, flags=re.DOTALL | re.MULTILINE)


def install() -> list[str]:
    """Pieces of the first command of all: a virtualenv, the package in it, the demo."""
    return blocks_of("sh")[0].splitlines()[0].split(" && ")


def rows_of_commands() -> list[list[str]]:
    """What stands as code in each row of the table of commands."""
    return [re.findall(r"`([^`]+)`", row) for row in README.splitlines() if row.startswith("| `blockrun ")]


def commands() -> list[str]:
    """All commands in the order of the page, those of the table with the options that stand beside them."""
    lines = [line for block in blocks_of("sh") for line in block.splitlines()][1:]
    for command, *beside in rows_of_commands():
        lines += [f".venv/bin/{command}", *(f".venv/bin/{command} {more}" for more in beside if more.startswith("--"))]
    return [line for line in dict.fromkeys(lines) if line not in {TESTS, DEMO}]


@pytest.fixture
def checkout(tmp_path: Path, small_folder: Path) -> Path:
    """A folder like a fresh checkout after its set-up; the example is a small yard, a low wall, weighed foam."""
    shutil.copytree(small_folder / "inputs", tmp_path / "examples" / "demo")
    shutil.copytree(ROOT / "configs", tmp_path / "configs")
    wall = "  - {wall: low, length: 1.21 m, height: 0.3 m, block: 600 x 300 x 200 mm, joint: 10 mm, mix: light}\n"
    with (tmp_path / "examples" / "demo" / "order.yaml").open("a", encoding="utf-8") as order:
        order.write(wall)
    measured = "batch,foam_g_l,wet_density_kg_m3\n1,95,810\n2,96,806\n3,94,802\n"
    (tmp_path / "examples" / "demo" / "measured.csv").write_text(measured, encoding="utf-8")
    there = tmp_path / ".venv" / "bin" / "blockrun"
    there.parent.mkdir(parents=True)
    there.write_text(f"#!/bin/sh\nexec '{sys.executable}' -c 'from blockrun.cli import main; main()' \"$@\"\n")
    there.chmod(0o755)
    return tmp_path


def run(command: str, folder: Path) -> subprocess.CompletedProcess[str]:
    return subprocess.run(["/bin/sh", "-c", command], cwd=folder, capture_output=True, text=True, check=False)


def test_every_command_of_the_page_runs(checkout: Path) -> None:
    done = {command: run(command, checkout) for command in commands()}
    assert len(done) >= 9
    assert {command: result.stderr for command, result in done.items() if result.returncode} == {}
    assert load_plan(checkout / "my-yard" / "plan").order.name == "Garden wall"


def test_the_demo_plans_prints_its_days_and_says_where_they_lie(checkout: Path) -> None:
    assert install()[2] == DEMO
    result = run(DEMO, checkout)
    assert (result.returncode, result.stderr) == (0, "")
    assert result.stdout.splitlines()[0] == "Heron Field yard: Tool store"
    assert "BATCH 1 mix" in result.stdout
    assert "its plan in demo-plan" in result.stdout
    demo = ROOT / "examples" / "demo"
    asked = takeoff(blockrun.load_order(demo / "order.yaml"), moulds=blockrun.load_site(demo / "site.yaml").moulds)
    assert load_plan(checkout / "demo-plan").totals["blocks"] == sum(line.count for line in asked)


def test_the_batch_of_no_plan_on_the_page_fills_a_mould_of_the_demo_with_marks_of_it() -> None:
    (mould, *marks) = re.findall(r"`poured extra ([^`]+)`", README)[0].split()
    demo = ROOT / "examples" / "demo"
    moulds = blockrun.load_site(demo / "site.yaml").moulds
    kind = next(kind for kind in moulds if mould in kind.mould_names)
    asked = takeoff(blockrun.load_order(demo / "order.yaml"), moulds=moulds)
    assert {*marks} <= {line.mark for line in asked}
    assert len(marks) <= kind.cavities


def test_the_python_of_the_page_runs_as_it_stands(
    checkout: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    (snippet,) = blocks_of("python")
    assert len(snippet.splitlines()) == 10
    shutil.copytree(checkout / "examples" / "demo", checkout / "my-yard")
    monkeypatch.chdir(checkout)
    exec(compile(snippet, "README.md", "exec"), {})
    said = capsys.readouterr().out
    assert [line.split()[0] for line in said.splitlines()[:4]] == ["block_days_late", "finish", "batches", "cement"]
    assert "sill" in said
    plan = blockrun.load_plan(checkout / "my-yard" / "plan-from-python")
    assert blockrun.audit(plan.site, plan.order, plan.tables, plan.stages, plan.totals) == []


def test_the_table_names_every_command_there_is() -> None:
    named = {command.split()[1] for command, *_ in rows_of_commands()}
    assert named == {command.callback.__name__ for command in app.registered_commands if command.callback}


def test_every_option_named_is_one() -> None:
    known = {
        "--help",
        *(option for command in get_command(app).commands.values() for p in command.params for option in p.opts),
    }  # type: ignore[attr-defined]
    assert set(re.findall(r"(?<!-)--[a-z0-9]+(?:-[a-z]+)*", README)) <= known


def test_the_six_things_to_change_are_in_the_example() -> None:
    example = (ROOT / "examples" / "demo" / "site.yaml").read_text(encoding="utf-8")
    things = re.findall(r"^\d\. .*(?:\n   .*)*", README, flags=re.MULTILINE)[:6]
    keys = {key for thing in things for key in re.findall(r"`(\w+)`", thing)}
    assert keys >= {"start", "closed", "away", "deliveries", "usable_volume", "count", "people", "places", "on_hand"}
    assert [key for key in keys if not re.search(rf"\b{key}:", example)] == []


def test_each_line_of_the_example_to_copy_says_what_it_means() -> None:
    example = (ROOT / "examples" / "demo" / "site.yaml").read_text(encoding="utf-8")
    lines = [line for line in example.splitlines() if line.strip() and not line.endswith(":")]
    explained = [line for line in lines if "#" in line]
    assert len(explained) > len(lines) / 2


def test_the_files_of_a_plan_are_those_named(small_folder: Path) -> None:
    named = re.findall(r"^\| `(\w+\.\w+|inputs/)` \|", README, flags=re.MULTILINE)
    assert {name.rstrip("/") for name in named} == {path.name for path in small_folder.iterdir()}


def test_links_and_the_picture_are_there() -> None:
    links = re.findall(r"\]\(([^)]+)\)", README)
    assert "docs/flow.svg" in links
    assert [link for link in links if not (ROOT / link).is_file()] == []
    assert ElementTree.parse(ROOT / "docs" / "flow.svg").getroot().tag.endswith("svg")


def test_a_clean_checkout_is_set_up_and_tested_as_the_page_says() -> None:
    options = install()[1].removeprefix(".venv/bin/pip install ")
    assert options == "-c constraints.txt '.[dev]'"
    assert options in CI
    assert TESTS in blocks_of("sh")[0]
    assert CI.splitlines()[-1].startswith('"$python" -m pytest')


def test_everything_the_package_needs_is_pinned() -> None:
    build = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    needed = [re.split(r"[<>=]", name)[0] for name in (*build["dependencies"], *build["optional-dependencies"]["dev"])]
    lines = (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines()
    assert all(re.fullmatch(r"[\w.-]+==[\w.]+", line) for line in lines)
    pinned = {line.split("==")[0].lower() for line in lines}
    assert [name for name in needed if name.lower() not in pinned] == []


def with_what_is_held_out(config: Path, folder: Path) -> Path:
    """A copy of a file to copy in which each line that holds a key out is taken in, as its head says."""
    for table in config.parent.glob("*.csv"):
        shutil.copy(table, folder)
    text = re.sub(r"^# ( *(?:- )?\{?\w+: )", r"\1", config.read_text(encoding="utf-8"), flags=re.MULTILINE)
    (folder / config.name).write_text(text, encoding="utf-8")
    return folder / config.name


def test_what_the_example_of_an_order_holds_out_is_read_and_laid(tmp_path: Path) -> None:
    example = ROOT / "examples" / "demo"
    for table in example.glob("*.csv"):
        shutil.copy(table, tmp_path)
    text = (example / "order.yaml").read_text(encoding="utf-8")
    taken_in = re.sub(r"(?m)^( +)# ((?:- \{)?\w+: )", r"\1\2", text)
    (tmp_path / "order.yaml").write_text(taken_in, encoding="utf-8")
    order = blockrun.load_order(tmp_path / "order.yaml")
    wall = next(part for part in order.parts if isinstance(part, WallPart))
    dome = next(part for part in order.parts if isinstance(part, DomePart))
    assert (len(wall.piers), dome.profile, len(dome.openings)) == (1, "pointed", 2)
    assert takeoff(order)


def keys_that_may_be_left_out() -> dict[str, str]:
    """Each key as the page writes it, and where it stands."""
    section = README.split("## Keys that may be left out")[1].split("\n## ")[0]
    return dict(re.findall(r"^\| `(\w+: [^`]+)` \| `?([^`|]+?)`? \|", section, flags=re.MULTILINE))


@pytest.mark.parametrize("name", ["small-yard", "us-yard"])
def test_all_that_a_ready_yard_holds_out_is_read_once_its_sign_is_taken_away(name: str, tmp_path: Path) -> None:
    site = blockrun.load_site(with_what_is_held_out(ROOT / "configs" / f"{name}.yaml", tmp_path))
    assert [kind.kind for kind in site.moulds if kind.saw] == ["slab"]
    assert [kind.kind for kind in site.moulds if kind.filler] == ["small"]
    assert (site.curing.heat == "modelled") == (name == "small-yard")


def test_every_key_that_may_be_left_out_is_held_out_in_a_file_to_copy(tmp_path: Path) -> None:
    ready = [ROOT / "configs" / "small-yard.yaml", ROOT / "configs" / "mixes.yaml"]
    held = "\n".join(with_what_is_held_out(path, tmp_path).read_text(encoding="utf-8") for path in ready)
    plain = "\n".join(re.sub(r"^# .*$", "", path.read_text("utf-8"), flags=re.MULTILINE) for path in ready)
    keys = {key: key.split(":")[0] for key in keys_that_may_be_left_out()}
    assert len(keys) >= 20
    assert [key for key, name in keys.items() if not re.search(rf"(?m)^[^#]*\b{name}: ", held)] == []
    live = {name for name in keys.values() if re.search(rf"(?m)^[^#]*\b{name}: ", plain)}
    assert live == {"lead_time", "water_cement", "sand"}


def test_each_key_that_may_be_left_out_is_read_as_the_page_writes_it(tmp_path: Path) -> None:
    site = with_what_is_held_out(ROOT / "configs" / "small-yard.yaml", tmp_path)
    text = site.read_text(encoding="utf-8")
    mixes = (ROOT / "configs" / "mixes.yaml").read_text(encoding="utf-8")
    keys = keys_that_may_be_left_out()
    assert [key for key, where in keys.items() if where == "a mix" and key not in mixes] == []
    for name, value in (key.split(": ", 1) for key, where in keys.items() if where != "a mix"):
        text = re.sub(rf"(?m)^( *{name}): .*$", rf"\1: {value}", text)
    assert text.count("{reach: 0.3 m, people: 1}") == 1
    site.write_text(text, encoding="utf-8")
    assert blockrun.load_site(site).lifting.people == 1


def test_the_mixes_to_copy_are_mixes(checkout: Path, tmp_path: Path) -> None:
    mixes = with_what_is_held_out(ROOT / "configs" / "mixes.yaml", tmp_path)
    site = with_what_is_held_out(ROOT / "configs" / "small-yard.yaml", tmp_path)
    (tmp_path / "blocks.csv").write_text(
        "mark,length_mm,height_mm,thickness_mm,count,mix\nA,600,300,200,9,wall\n", encoding="utf-8"
    )
    order = tmp_path / "order.yaml"
    order.write_text(f"order: Trials\n{mixes.read_text('utf-8')}parts:\n  - list: blocks.csv\n", encoding="utf-8")
    result = run(f".venv/bin/blockrun mix {site} {order}", checkout)
    assert (result.returncode, result.stderr) == (0, "")
    assert "by strength" in result.stdout


def test_weather_is_joined_as_the_page_writes_it(tmp_path: Path) -> None:
    (named,) = re.findall(r"`(weather: \[.*?\])`", README)
    by_day, by_hour = (re.search(rf"^\| {by} \| `([^`]+)`", README, re.MULTILINE)[1] for by in ("by day", "by hour"))  # type: ignore[index]
    (more,) = re.findall(r"`(rain_mm,[^`]+)`", README)
    (hour,) = re.findall(r"such as `([^`]+)`;", README)
    site = shutil.copy(ROOT / "configs" / "small-yard.yaml", tmp_path)
    text = re.sub("^weather: .*$", named, Path(site).read_text(encoding="utf-8"), flags=re.MULTILINE)
    Path(site).write_text(text, encoding="utf-8")
    (tmp_path / "typical.epw").write_text(epw(), encoding="utf-8")
    (tmp_path / "forecast.csv").write_text(f"{by_day},{more}\n2027-04-05,4,11,2.5,10,60\n", encoding="utf-8")
    weather = blockrun.load_site(site).weather
    assert (weather.knows_rain, weather.day(date(2027, 4, 5)).max_c) == (True, 11)
    assert weather.typical is not None
    hours = [f"2027-04-05 {n:02d}:00,{11.5 if n == 14 else 9}" for n in range(24)]
    assert hour in hours
    (tmp_path / "forecast.csv").write_text("\n".join([by_hour, *hours]) + "\n", encoding="utf-8")
    assert blockrun.load_site(site).weather.day(date(2027, 4, 5)).max_c == 11.5


def test_the_example_of_slabs_is_named_and_its_keys_are_those_of_the_page() -> None:
    site = (ROOT / "examples" / "slabs" / "site.yaml").read_text(encoding="utf-8")
    assert "`examples/slabs`" in README
    for key in ("saw: {kerf: 5 mm, time: 25 min}", "filler: true"):
        assert key in keys_that_may_be_left_out()
        assert key in site
