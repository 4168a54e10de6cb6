"""What is compiled on install, where a machine can, and what comes of it where one cannot."""

from __future__ import annotations

import ast
import os
import re
import subprocess
import sys
import tomllib
import zipfile
from pathlib import Path
from typing import Final

import pytest

import hatch_build

ROOT: Final = Path(__file__).parent.parent
LACKED: Final = {"cached_property", "copy", "deepcopy"}
"""What takes a ``__dict__``, or an ``__init__`` that asks for nothing."""


def imported(path: str) -> set[str]:
    """Names that a file takes from the standard library."""
    tree = ast.parse((ROOT / path).read_text(encoding="utf-8"))
    found = [node for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    return {name.name for node in found if node.module in {"functools", "copy"} for name in node.names}


def wheel(place: Path, **environment: str) -> list[str]:
    """Names of all files in a wheel built here."""
    command = [sys.executable, "-m", "pip", "wheel", "--no-deps", "--no-build-isolation", "--quiet", "-w", str(place)]
    subprocess.run([*command, str(ROOT)], check=True, env={**os.environ, **environment}, capture_output=True)
    (built,) = place.glob("*.whl")
    return zipfile.ZipFile(built).namelist()


@pytest.mark.parametrize("path", hatch_build.sources())
def test_what_is_compiled_needs_nothing_that_compiled_classes_lack(path: str) -> None:
    assert not imported(path) & LACKED


def test_all_of_the_plays_and_of_what_they_are_made_of_is_compiled() -> None:
    files = hatch_build.sources()
    assert {path.relative_to(ROOT).as_posix() for path in (ROOT / "blockrun/optimiser/quick").glob("*.py")} < set(files)
    assert all((ROOT / path).is_file() for path in files)


def test_a_machine_without_a_compiler_has_blockrun_as_it_is_written(tmp_path: Path) -> None:
    names = wheel(tmp_path, CC=str(tmp_path / "no-compiler"))
    assert "blockrun/optimiser/quick/play.py" in names
    assert [name for name in names if name.endswith((".so", ".pyd"))] == []


def test_what_was_compiled_in_place_is_taken_out_and_nothing_else(tmp_path: Path) -> None:
    made = [tmp_path / "blockrun__mypyc.x.so", tmp_path / "blockrun" / "optimiser" / "play.x.so"]
    kept = [tmp_path / ".venv" / "lib" / "other.so", tmp_path / "blockrun" / "optimiser" / "play.py"]
    for path in (*made, *kept):
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch()
    hatch_build.undo(tmp_path)
    assert [path.exists() for path in (*made, *kept)] == [False, False, True, True]


def test_what_compiles_is_the_version_that_checks_the_types() -> None:
    needed = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["build-system"]["requires"]
    (pinned,) = [of for of in needed if re.match(r"mypy\b", of)]
    assert pinned in (ROOT / "constraints.txt").read_text(encoding="utf-8").splitlines()
