"""Compiles the plays where the machine can: the same plays in half the time.

Without a C compiler, or where anything else is in the way, blockrun is installed as it is written. An editable install
is never compiled, for what is compiled would go on unchanged while its source is edited; ``python hatch_build.py``
compiles a checkout in place, and ``python hatch_build.py --undo`` takes that back.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

TOP = Path(__file__).resolve().parent
OPTIMISER = Path("blockrun", "optimiser")
VALUES = ("cubes", "frost", "needless", "problem", "score", "sent", "stacked", "state")
"""What plays are made of; all of it is compiled together, for what is not is slow to reach from what is."""
COMPILED = {".so", ".pyd"}
OFF = "BLOCKRUN_PURE"
"""Set in the environment, it has nothing compiled."""


def sources() -> list[str]:
    """Files that are compiled, from the top of the checkout."""
    plays = (path.relative_to(TOP) for path in sorted((TOP / OPTIMISER / "quick").glob("*.py")))
    return [path.as_posix() for path in (*(OPTIMISER / f"{name}.py" for name in VALUES), *plays)]


class Compiled(BuildHookInterface[Any]):
    """Puts what is compiled into a wheel beside its source."""

    _place: tempfile.TemporaryDirectory[str] | None = None

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Compile, before a wheel is put together; a machine that cannot gets a wheel without it."""
        if self.target_name != "wheel" or version == "editable" or os.environ.get(OFF):
            return
        self._place = tempfile.TemporaryDirectory()
        command = [sys.executable, __file__, self._place.name]
        done = subprocess.run(command, capture_output=True, text=True, check=False)
        if done.returncode:
            self.app.display_warning(f"not compiled, and slower: {done.stdout}{done.stderr}")
            return
        made = Path(self._place.name)
        for path in made.rglob("*"):
            if path.suffix in COMPILED:
                build_data["force_include"][str(path)] = path.relative_to(made).as_posix()
        build_data["pure_python"], build_data["infer_tag"] = False, True

    def finalize(self, version: str, build_data: dict[str, Any], artifact_path: str) -> None:
        """Leave nothing behind."""
        if self._place is not None:
            self._place.cleanup()


def compile_into(place: str) -> None:
    """Compile in a process of its own, from the top of the checkout: what does it ends the process where it fails."""
    from mypyc.build import mypycify
    from setuptools import Distribution
    from setuptools.command.build_ext import build_ext

    os.chdir(TOP)
    with tempfile.TemporaryDirectory() as scratch:
        # what else there is may be of any type: all of it is looked through in .ci/run, and here that takes long
        options = [
            "--config-file=",
            f"--cache-dir={scratch}/types",
            "--follow-imports=skip",
            "--ignore-missing-imports",
        ]
        options += sources()
        # measured: more optimising takes longer and gives nothing
        extensions = mypycify(options, opt_level="1", debug_level="0", target_dir=scratch, group_name="blockrun")
        command = build_ext(Distribution({"name": "blockrun", "ext_modules": extensions}))
        command.build_lib, command.build_temp = place, scratch
        command.ensure_finalized()
        command.run()


def undo(top: Path = TOP) -> None:
    """Take out of a checkout what was compiled in place, and nothing else."""
    for made in (*top.glob("blockrun__mypyc*"), *top.joinpath("blockrun").rglob("*")):
        if made.suffix in COMPILED:
            made.unlink()


if __name__ == "__main__":
    if sys.argv[1:] == ["--undo"]:
        undo()
    else:
        compile_into(sys.argv[1] if len(sys.argv) > 1 else str(TOP))
