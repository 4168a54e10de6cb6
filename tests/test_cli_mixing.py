"""The commands for a batch, from the command line: check, trial, chart."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from blockrun.cli import app


@pytest.fixture(autouse=True)
def wide(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.delenv("BLOCKRUN_DEBUG", raising=False)


def run(*words: object) -> Result:
    return CliRunner().invoke(app, [str(word) for word in words])


def test_check_of_a_batch_of_a_plan_says_what_to_add(small_folder: Path) -> None:
    result = run("check", small_folder, "--batch", 1, "--foam", "95g/L", "--weight", "8.6kg", "--since", "6min")
    assert result.exit_code == 0, result.stderr
    # 141.1 kg in 164.05 L at 860 kg/m3: (806.17 x 0.16405 - 141.08)/(0.095 - 0.80617) = 12.4 L
    assert "CORRECT: add, blend in" in result.stdout
    assert "add 12.5 L of foam (1.2 kg): run the generator 12 s" in result.stdout
    assert "Fresh mix burns skin and eyes" in result.stdout


@pytest.mark.parametrize("asked", [(), ("--bags", "3 1/3"), ("--bags", "10/3")])
def test_thirds_of_a_bag_are_thirds_where_a_plan_is_read(
    small_folder: Path, tmp_path: Path, asked: tuple[str, ...]
) -> None:
    folder = shutil.copytree(small_folder, tmp_path / "thirds")
    table = folder / "batches.csv"
    table.write_text(table.read_text(encoding="utf-8").replace(",3.5,87.5,", f",{10 / 3},83.333333,"), encoding="utf-8")
    result = run("check", folder, "--batch", 1, *asked, "--foam", "95g/L", "--weight", "8.1kg")
    assert result.exit_code == 0, result.stderr
    assert "3 1/3 bags of light" in " ".join(result.stdout.split())


def test_check_of_so_many_bags_takes_the_two_files(inputs: tuple[Path, Path]) -> None:
    result = run("check", *inputs, "--mix", "light", "--bags", "3.5", "--weight", "8.06kg")
    assert (result.exit_code, "PASS: pour it." in result.stdout) == (0, True)


def test_a_rejected_batch_is_an_answer_and_no_fault(inputs: tuple[Path, Path]) -> None:
    result = run("check", *inputs, "--mix", "light", "--bags", "2", "--sank", "12mm", "--of", "200mm")
    assert (result.exit_code, "REJECT: set its blocks aside" in result.stdout) == (0, True)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--bags", "2", "--foam", "95g/L"], "which mix? There are 2 Add --mix and one of light, heavy."),
        (["--mix", "lite", "--bags", "2"], "there is no mix lite Did you mean light?"),
        (["--mix", "light"], "how many bags of cement are in it?"),
        (["--mix", "light", "--bags", "two"], "--bags: two is not a number"),
        (["--mix", "light", "--bags", "1.500"], "--bags: 1.500 may be a thousand or a part of one Write 1500 or 1.5."),
        (["--mix", "light", "--bags", "0"], "--bags 0 is no batch"),
        (["--mix", "light", "--bags", "20"], "20 bags of this mix make 1000 L, and the drum holds 220 L"),
        (["--mix", "light", "--bags", "2", "--mixer", "pan"], "there is no mixer pan"),
        (["--mix", "light", "--bags", "2"], "nothing was measured"),
        (["--mix", "light", "--bags", "2", "--foam", "102"], "--foam: 102 has no unit"),
        (["--mix", "light", "--bags", "2", "--weight", "80kg"], "a mix of 8000 kg/m3 cannot be"),
        (["--mix", "light", "--bags", "2", "--weight", "8kg", "--within", "5"], "--within: 5 is not a percentage"),
    ],
)
def test_what_is_amiss_with_a_check_is_told(inputs: tuple[Path, Path], words: list[str], said: str) -> None:
    result = run("check", *inputs, *words)
    assert (result.exit_code, result.stdout) == (2, "")
    assert said in " ".join(result.stderr.split())


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([], "which batch of the plan?"),
        (["--batch", "7"], "the plan has no batch 7 It has the batches 1 to 4."),
        (["--batch", "one"], "--batch one is no number"),
    ],
)
def test_a_batch_that_the_plan_does_not_have_is_told(small_folder: Path, words: list[str], said: str) -> None:
    result = run("check", small_folder, *words, "--foam", "95g/L")
    assert (result.exit_code, said in " ".join(result.stderr.split())) == (2, True)


def test_a_check_in_three_places_or_without_a_plan_is_told(inputs: tuple[Path, Path], tmp_path: Path) -> None:
    assert "Write DIR --batch 7, or SITE ORDER" in run("check", *inputs, inputs[0]).stderr
    assert "no plan is saved here" in " ".join(run("check", tmp_path, "--batch", "1").stderr.split())


def test_trial_scales_the_card_to_a_bucket_or_a_bag(inputs: tuple[Path, Path]) -> None:
    bucket = run("trial", *inputs, "--mix", "light", "--bucket", "10L").stdout
    assert "5 kg of cement, 2.5 L of water" in bucket
    assert "when the cement or the foaming agent comes from another lot" in bucket
    assert "25 kg of cement, 12.5 L of water" in run("trial", *inputs, "--mix", "light", "--bags", "1").stdout
    result = run("trial", *inputs, "--mix", "light", "--bags", "1", "--bucket", "10L")
    assert (result.exit_code, "two sizes of one trial" in result.stderr) == (2, True)
    assert "is no trial batch" in run("trial", *inputs, "--mix", "light", "--bucket", "0.1L").stderr


def test_trial_says_what_to_change_once_something_was_weighed(inputs: tuple[Path, Path]) -> None:
    shown = run("trial", *inputs, "--mix", "light", "--foam", "95g/L", "--weight", "8.6kg").stdout
    assert "12 % of the foam's air is lost" in shown
    assert "Next time 2.43 L of water (-3.0 %) and 6.7 L of foam (+13.2 %)" in shown


def test_a_cold_trial_is_to_be_repeated_before_it_is_changed(inputs: tuple[Path, Path]) -> None:
    shown = run("trial", *inputs, "--mix", "light", "--weight", "8.6kg", "--temperature", "4degC").stdout
    assert "Repeat the card with a slurry neither cold nor hot." in shown


def test_chart_prints_and_draws(tmp_path: Path) -> None:
    table = tmp_path / "batches.csv"
    table.write_text("batch,foam_g_l\n" + "".join(f"{n},{95 + n % 3}\n" for n in range(9)), encoding="utf-8")
    result = run("chart", table, "--picture", tmp_path / "chart.svg")
    assert result.exit_code == 0, result.stderr
    assert "foam weight, 9 batches" in result.stdout
    assert (tmp_path / "chart.svg").read_text(encoding="utf-8").startswith("<svg")
    again = run("chart", table, "--picture", tmp_path / "chart.svg")
    assert (again.exit_code, again.stdout) == (2, "")
    assert "exists already" in " ".join(again.stderr.split())


def test_a_picture_is_not_named_as_another_kind_of_file(tmp_path: Path) -> None:
    table = tmp_path / "batches.csv"
    table.write_text("batch,foam_g_l\n1,95\n2,96\n", encoding="utf-8")
    result = run("chart", table, "--picture", tmp_path / "chart.png")
    assert result.exit_code == 2
    assert "pictures are drawn as SVG" in " ".join(result.stderr.split())
    assert not (tmp_path / "chart.png").exists()
