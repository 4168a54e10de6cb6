"""A plan is the same, byte for byte, on every run and however its files are written out."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Final

import pytest

from tests.planner.reordered import reorder

ROOT: Final = Path(__file__).parents[2]


def planned(inputs: Path, out: Path, rounds: int, hash_seed: int) -> dict[str, bytes]:
    """Files of a plan made in a process of its own, but for those that may differ."""
    command = [sys.executable, "-m", "tests.planner.reordered", str(inputs), str(out), str(rounds)]
    subprocess.run(command, cwd=ROOT, env=os.environ | {"PYTHONHASHSEED": str(hash_seed)}, check=True)
    return {file.name: file.read_bytes() for file in out.iterdir() if file.is_file() and file.name != "run.json"}


@pytest.mark.parametrize(("inputs", "rounds"), [("tests/plans/small/inputs", 1), ("examples/demo", 0)])
def test_rows_keys_and_lists_in_another_order_make_the_same_plan(inputs: str, rounds: int, tmp_path: Path) -> None:
    reorder(ROOT / inputs, tmp_path / "inputs", seed=1)
    as_it_stands = planned(ROOT / inputs, tmp_path / "one", rounds, hash_seed=1)
    reordered = planned(tmp_path / "inputs", tmp_path / "two", rounds, hash_seed=2)
    assert len(as_it_stands) == 7
    assert [name for name in as_it_stands if as_it_stands[name] != reordered[name]] == []


def test_the_order_is_another_one(tmp_path: Path) -> None:
    reorder(ROOT / "examples/demo", tmp_path / "inputs", seed=1)
    for name, first in (("blocks.csv", "mark"), ("site.yaml", "gang-4"), ("order.yaml", "wall: yard")):
        texts = [
            (folder / name).read_text(encoding="utf-8") for folder in (ROOT / "examples/demo", tmp_path / "inputs")
        ]
        assert first in texts[1]
        assert texts[0].splitlines()[1:4] != texts[1].splitlines()[1:4]
