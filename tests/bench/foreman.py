"""How much better than the foreman: ``python -m tests.bench.foreman [SEED ...]`` writes a Markdown table."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from datetime import date

from blockrun.planner.tables import Stage
from tests.bench.against import Match, match
from tests.yards import a_yard

LONGEST_S = 60.0
HEADS = ("yard", "blocks", "", "block-days late", "last pour", "batches", "cement, kg", "seconds", "times his")


def main(seeds: Sequence[int]) -> None:
    """Write the table, row by row."""
    for cells in (HEADS, ["---"] * len(HEADS)):
        _write(cells)
    for seed in seeds:
        for cells in rows_of(match(a_yard(seed), longest_s=LONGEST_S)):
            _write(cells)


def rows_of(of: Match) -> Iterator[list[str]]:
    """Three rows of a yard: the foreman, blockrun, and the best possible."""
    his, ours = ([_shown(stage.value) for stage in stages] for stages in (of.foreman, of.plan.stages))
    yield [of.name, str(of.blocks), "foreman", *his, f"{of.foreman_s:.2f}", "1"]
    yield ["", "", "blockrun", *ours, f"{of.plan_s:.1f}", f"{of.plan_s / of.foreman_s:.0f}"]
    yield ["", "", "best possible", *(_bound(stage) for stage in of.plan.stages), "", ""]


def _shown(number: int | float | date) -> str:
    return f"{number:%d %b}" if isinstance(number, date) else f"{number:.5g}"


def _bound(stage: Stage) -> str:
    return "proven" if stage.proven else _shown(stage.bound)


def _write(cells: Sequence[str]) -> None:
    sys.stdout.write(f"| {' | '.join(cells)} |\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main([int(seed) for seed in sys.argv[1:]] or range(20))
