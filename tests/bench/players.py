"""Whoever plans a bench yard, each in a child process: blockrun with its default settings, and its rivals."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from tests.bench.answer import Answer
from tests.bench.child import Ran, run

BLOCKRUN: Final = "blockrun"
LONGEST_S: Final = 600.0
_LATE_S: Final = 60.0
"""A rival may be so much later than it was told before it is ended."""
_COMMAND: Final = "from blockrun.cli import main; main()"
_STAGES: Final = ("block_days_late", "finish", "batches", "cement")


@dataclass(frozen=True)
class Played:
    """What one player made of one yard, and what it took."""

    yard: str
    player: str
    answer: Answer
    ran: Ran


def play(player: str, yard: str, files: tuple[Path, Path], folder: Path, seconds: float | None) -> Played:
    """Let a player plan a yard; ``folder`` takes what it writes, and no ``seconds`` are its own default."""
    folder.mkdir(parents=True, exist_ok=True)
    if player == BLOCKRUN:
        ran = run(plan_command(files, folder / "plan", seconds), folder / "log", LONGEST_S)
        return Played(yard, player, _answer_of(folder / "plan", ran), ran)
    assert seconds is not None, "a rival has no default"
    out = folder / "answer.json"
    command = [sys.executable, "-m", "tests.bench.rivals", player, *map(str, files), str(seconds), str(out)]
    ran = run(command, folder / "log", seconds + _LATE_S)
    return Played(yard, player, Answer.read(out) if out.exists() else _failed(ran), ran)


def plan_command(files: tuple[Path, Path], out: Path, seconds: float | None) -> list[str]:
    """``blockrun plan`` of this working copy, as the command line has it."""
    given = [] if seconds is None else ["--seconds", str(seconds)]
    return [sys.executable, "-c", _COMMAND, "plan", *map(str, files), "--out", str(out), *given]


def _answer_of(plan: Path, ran: Ran) -> Answer:
    """A plan of blockrun's is audited before it is written: one that is there has no findings."""
    if not (plan / "plan.json").exists():
        return _failed(ran)
    stages = {stage["stage"]: stage for stage in json.loads((plan / "plan.json").read_text(encoding="utf-8"))["stages"]}
    return Answer(tuple(stages[name]["value"] for name in _STAGES), tuple(stages[name]["bound"] for name in _STAGES))


def _failed(ran: Ran) -> Answer:
    words = " ".join(_last_lines(ran.said))
    return Answer(note=f"ended with {ran.code}{', its time over' if ran.stopped else ''}: {words}")


def _last_lines(said: str) -> Sequence[str]:
    return [line.strip() for line in said.splitlines() if line.strip()][-2:]
