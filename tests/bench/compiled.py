"""What compiling the plays gains: ``python -m tests.bench.compiled [YARD ...]``, yards like ``week-8`` or ``house-1``.

The checkout is copied twice and one copy compiled. Each plays the set policies of the same yards, by turns and in
processes of their own; a row for each yard has both times, their ratio, and whether the plans were the same.
"""

from __future__ import annotations

import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

TOP = Path(__file__).parents[2]
_YARDS = ("week-1", "week-8", "house-1", "house-9")
_TURNS = 3


def main(yards: Sequence[str]) -> None:
    """Print a row for each yard."""
    with tempfile.TemporaryDirectory() as place:
        written, compiled = Path(place, "written"), Path(place, "compiled")
        for copy in (written, compiled):
            for part in ("blockrun", "tests"):
                shutil.copytree(TOP / part, copy / part, ignore=shutil.ignore_patterns("*.so", "*.pyd", "__pycache__"))
            shutil.copy(TOP / "hatch_build.py", copy)
        began = time.perf_counter()
        subprocess.run([sys.executable, "hatch_build.py"], cwd=compiled, check=True, capture_output=True)
        sys.stdout.write(f"# compiled in {time.perf_counter() - began:.0f} s\nyard,written_s,compiled_s,ratio,same\n")
        for yard in yards or _YARDS:
            _compare(yard, written, compiled)


def _compare(yard: str, *copies: Path) -> None:
    """The least time of some turns; what a process says is its time and then its plans."""
    said = [[_played(yard, copy) for copy in copies] for _ in range(_TURNS)]
    written, compiled = (min(seconds for seconds, _ in of) for of in zip(*said, strict=True))
    same = len({plans for of in said for _, plans in of}) == 1
    sys.stdout.write(f"{yard},{written:.3f},{compiled:.3f},{written / compiled:.2f},{same}\n")
    sys.stdout.flush()


def _played(yard: str, copy: Path) -> tuple[float, str]:
    command = [sys.executable, "-c", f"from tests.bench.compiled import play; play({yard!r})"]
    done = subprocess.run(command, cwd=copy, check=True, capture_output=True, text=True)
    seconds, _, plans = done.stdout.partition("\n")
    return float(seconds), plans


def play(yard: str) -> None:
    """Play the set policies of a yard and say how long it took and how good the plans are."""
    from blockrun.optimiser.limits import Limits
    from blockrun.optimiser.quick.ground import Ground
    from blockrun.optimiser.quick.tries import Tries
    from blockrun.order import load_order
    from blockrun.planner.brief import brief
    from blockrun.planner.sawing import settle_sawing
    from blockrun.planner.wanted import wanted
    from blockrun.site import load_site
    from tests.bench.yards import bench_yard

    size, _, seed = yard.partition("-")
    with tempfile.TemporaryDirectory() as folder:
        files = bench_yard(size, int(seed)).write(Path(folder))
        site, order = load_site(files[0]), load_order(files[1])
    problem = brief(site, order, 400, settle_sawing(site, order, wanted(site, order))).problem
    tries = Tries(Ground(problem, Limits(problem)), 0, lambda: False)
    began = time.process_time()
    plans = [*tries.openings()]
    took = time.process_time() - began
    sys.stdout.write(f"{took}\n{[plan.score for plan in plans]}\n")


if __name__ == "__main__":
    main(sys.argv[1:])
