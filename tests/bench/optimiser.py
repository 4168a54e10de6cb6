"""blockrun beside its rivals on the bench yards: ``python -m tests.bench.optimiser [--sizes week,house] [--out DIR]``.

Every player gets the files a builder would write and runs in a process of its own, one after the other, so that its
seconds, its work of the processors and its most memory are its own. Writes ``optimiser.csv`` and ``optimiser.md``
after every yard. This file and what it imports stay small: see ``child.py``.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from collections.abc import Iterator, Sequence
from pathlib import Path

from tests.bench.players import BLOCKRUN, Played, play
from tests.bench.report import csv_text, markdown_text, rows_of
from tests.bench.rivals.names import RIVALS
from tests.bench.yards import KINDS, SIZES, bench_yards

EXAMPLES = Path(__file__).parents[2] / "examples"

Named = tuple[str, tuple[Path, Path]]
"""A yard, and where its site and its order lie."""


def main(arguments: Sequence[str]) -> None:
    """Play, and write after each yard."""
    asked = _asked(arguments)
    asked.out.mkdir(parents=True, exist_ok=True)
    plays: list[Played] = []
    with tempfile.TemporaryDirectory() as folder:
        for yard, files in _yards(asked, Path(folder)):
            for player in (BLOCKRUN, *asked.rivals):
                plays.append(
                    play(player, yard, files, Path(folder) / "played" / yard / player, _seconds(asked, player))
                )
                _say(plays)
            (asked.out / "optimiser.csv").write_text(csv_text(plays), encoding="utf-8")
            (asked.out / "optimiser.md").write_text(markdown_text(plays), encoding="utf-8")
    sys.stdout.write(f"\n{markdown_text(plays)}")


def _asked(arguments: Sequence[str]) -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.bench.optimiser", description=__doc__)
    parser.add_argument("--sizes", type=_listed, default=list(SIZES), help="of week,house,season; all unless told")
    parser.add_argument("--seeds", type=_numbers, default=list(KINDS), help="of 1 to 10, or a-b; all unless told")
    parser.add_argument("--seconds", type=float, default=60.0, help="for each rival; blockrun keeps its own default")
    parser.add_argument("--plan-seconds", type=float, help="for blockrun in place of its default, on a busy machine")
    parser.add_argument("--rivals", type=_listed, default=list(RIVALS), help=f"of {','.join(RIVALS)}; all unless told")
    parser.add_argument("--examples", action="store_true", help="the examples as well")
    parser.add_argument("--out", type=Path, default=Path("bench-out"), help="folder for the two tables")
    asked = parser.parse_args(arguments)
    for rival in set(asked.rivals) - set(RIVALS):
        raise SystemExit(f"no rival is called {rival}; there are {', '.join(RIVALS)}")
    return asked


def _seconds(asked: argparse.Namespace, player: str) -> float | None:
    given: float | None = asked.plan_seconds if player == BLOCKRUN else asked.seconds
    return given


def _listed(text: str) -> list[str]:
    return [word for word in text.split(",") if word]


def _numbers(text: str) -> list[int]:
    """Numbers and ranges: ``1,3,5-7``."""
    numbers: list[int] = []
    for word in _listed(text):
        first, _, last = word.partition("-")
        numbers += range(int(first), int(last or first) + 1)
    return numbers


def _yards(asked: argparse.Namespace, folder: Path) -> Iterator[Named]:
    for yard in bench_yards(asked.sizes, asked.seeds):
        yield yard.name, yard.write(folder / "yards" / yard.name)
    for example in sorted(EXAMPLES.iterdir()) if asked.examples else ():
        yield f"example-{example.name}", (example / "site.yaml", example / "order.yaml")


def _say(plays: Sequence[Played]) -> None:
    row = rows_of([played for played in plays if played.yard == plays[-1].yard])[-1]
    heads = (
        "yard",
        "player",
        "late",
        "finish",
        "batches",
        "cement_kg",
        "seconds",
        "cpu_s",
        "peak_mb",
        "against_blockrun",
    )
    sys.stdout.write("  ".join(str(row[head]) for head in heads) + f"  {row['note']}\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main(sys.argv[1:])
