"""Where what a command says reaches nobody: a full disk, a closed pipe, no screen; and a Ctrl-C before all else."""

from __future__ import annotations

import shutil
import subprocess
import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Final

import pytest
from typer.testing import CliRunner

from blockrun import __main__
from blockrun.cli import app
from blockrun.yard.journal import FILE, open_journal

FULL: Final = Path("/dev/full")
CLOSED: Final = (
    "import os, sys; os.close({}); os.execv(sys.executable, [sys.executable, '-m', 'blockrun', *sys.argv[1:]])"
)

Ended = subprocess.CompletedProcess[str]


@pytest.fixture
def plan(tmp_path: Path, small_folder: Path) -> Path:
    return Path(shutil.copytree(small_folder, tmp_path / "plan"))


def with_a_full_screen(*words: object) -> Ended:
    with FULL.open("w") as full:
        start = [sys.executable, "-m", "blockrun", *map(str, words)]
        return subprocess.run(start, stdout=full, stderr=subprocess.PIPE, text=True, timeout=60, check=False)


def with_closed(stream: int, *words: object) -> Ended:
    start = [sys.executable, "-c", CLOSED.format(stream), *map(str, words)]
    return subprocess.run(start, capture_output=True, text=True, timeout=60, check=False)


def notes(plan: Path) -> int:
    with open_journal(plan / FILE, read_only=True) as journal:
        return len(journal)


def test_where_a_screen_takes_no_more_it_is_said_that_all_was_recorded(plan: Path) -> None:
    ended = with_a_full_screen("record", plan, "note", "swept", "--at", "2027-04-05 09:00")
    assert (ended.returncode, notes(plan)) == (2, 1)
    assert "cannot be printed: No space left on device" in " ".join(ended.stderr.split())
    assert "what it writes or records is there" in " ".join(ended.stderr.split())


@pytest.mark.parametrize("words", [["days"], ["audit"], ["--help"], ["days", "--help"], ["--version"]])
def test_no_command_has_a_bug_where_a_screen_takes_no_more(plan: Path, words: list[str]) -> None:
    ended = with_a_full_screen(*words, *([plan] if words[-1] in ("days", "audit") else []))
    assert ended.returncode == 2
    assert ended.stderr.startswith("what there is to say cannot be printed")


def test_a_fault_keeps_its_words_and_its_code(tmp_path: Path) -> None:
    ended = with_a_full_screen("days", tmp_path / "none")
    assert (ended.returncode, "there is no such folder" in " ".join(ended.stderr.split())) == (2, True)


@pytest.mark.parametrize("stream", [0, 1, 2])
def test_a_command_without_a_screen_does_its_work(plan: Path, stream: int) -> None:
    ended = with_closed(stream, "record", plan, "note", "swept", "--at", "2027-04-05 09:00")
    assert (ended.returncode, ended.stderr, notes(plan)) == (0, "", 1)


def test_a_reader_that_has_gone_is_nothing_to_complain_of(plan: Path, tmp_path: Path) -> None:
    start = [sys.executable, "-m", "blockrun", "calendar", str(plan), "--out", str(tmp_path / "a.ics")]
    with subprocess.Popen(start, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        assert (process.stderr.read(), process.wait(60)) == ("", 0)
    assert (tmp_path / "a.ics").is_file()


def interrupt() -> None:
    raise KeyboardInterrupt


def test_a_ctrl_c_before_the_command_is_at_work_ends_in_a_word(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setitem(sys.modules, "blockrun.cli", SimpleNamespace(main=interrupt))
    with pytest.raises(SystemExit) as ended:
        __main__.main()
    assert (ended.value.code, capsys.readouterr().err) == (130, "Stopped.\n")


def test_what_somebody_typed_never_drives_the_terminal(plan: Path) -> None:
    words = ["record", str(plan), "note", "\x1b[2Jhi\x9b31m", "--who", "\x1b[31mAna", "--at", "2027-04-05 09:00"]
    assert "Note: ?[2Jhi?31m, Mon 5 Apr 09:00, by ?[31mAna." in CliRunner().invoke(app, words).stdout
    refused = CliRunner().invoke(app, ["days", str(plan), "--from", "\x1b[2J"]).stderr
    assert refused.startswith("--from ?[2J is not a day")
