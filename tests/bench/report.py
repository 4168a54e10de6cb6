"""What came of all plays: a row a play, who is better at which stage, and medians and the worst by size of yard."""

from __future__ import annotations

import csv
import io
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from statistics import median
from typing import Final

from tests.bench.answer import STAGES, Answer
from tests.bench.players import BLOCKRUN, Played

HEADS: Final = (
    "yard",
    "player",
    "plan",
    *STAGES,
    *(f"{stage}_bound" for stage in STAGES),
    *(f"{stage}_proven" for stage in STAGES),
    "seconds",
    "cpu_s",
    "peak_mb",
    "best_after_s",
    "against_blockrun",
    "note",
)
_SHOWN: Final = ("yard", "player", "plan", *STAGES, "bounds", "seconds", "cpu_s", "peak_mb", "against_blockrun", "note")


def rows_of(plays: Sequence[Played]) -> list[dict[str, object]]:
    """A row a play, those of a yard together."""
    ours = {play.yard: play.answer for play in plays if play.player == BLOCKRUN}
    return [_row(play, ours.get(play.yard)) for play in plays]


def _row(play: Played, ours: Answer | None) -> dict[str, object]:
    answer, ran = play.answer, play.ran
    return {
        "yard": play.yard,
        "player": play.player,
        "plan": "yes" if answer.stands else "counts" if not answer.is_plan else "no",
        **dict(zip(STAGES, answer.values, strict=True)),
        **dict(zip((f"{stage}_bound" for stage in STAGES), answer.bounds, strict=True)),
        **dict(zip((f"{stage}_proven" for stage in STAGES), answer.proven, strict=True)),
        "seconds": ran.seconds,
        "cpu_s": ran.cpu_s,
        "peak_mb": ran.peak_mb,
        "best_after_s": answer.best_after_s,
        "against_blockrun": "" if ours is None or play.player == BLOCKRUN else compared(answer, ours),
        "note": "; ".join([*answer.findings[:2], *([answer.note] if answer.note else [])]),
    }


def compared(answer: Answer, ours: Answer) -> str:
    """Which is better at the first stage at which they differ; a bound that a plan passes is a fault."""
    if not answer.is_plan:
        return "no plan"
    if not answer.stands:
        return "no plan" if ours.stands else "neither has a plan"
    if not ours.stands:
        return "better: blockrun has no plan"
    for stage, his, our, bound in zip(STAGES, answer.values, ours.values, ours.bounds, strict=True):
        if less(his, bound):
            return f"PASSES the best possible of {stage}"
        if his != our:
            return f"{'better' if less(his, our) else 'worse'} at {stage}"
    return "equal"


def less(one: object, other: object) -> bool:
    """Whether a value of a stage is under another: numbers, or dates as ISO text."""
    if isinstance(one, str) and isinstance(other, str):
        return one < other
    return isinstance(one, int | float) and isinstance(other, int | float) and one < other - 1e-6


def csv_text(plays: Sequence[Played]) -> str:
    """The table as CSV."""
    written = io.StringIO()
    writer = csv.DictWriter(written, HEADS, lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows_of(plays))
    return written.getvalue()


def markdown_text(plays: Sequence[Played]) -> str:
    """The table as Markdown, with what it comes to after it."""
    parts = ["# blockrun and its rivals", "", *_table(_SHOWN, map(_shown, rows_of(plays)))]
    parts += ["", "## In sum, by size of yard", "", *_table(_SUMS, _sums(plays))]
    parts += [
        "",
        "## How blockrun stands against each",
        "",
        *_table(("size", "player", "what", "yards"), _stands(plays)),
    ]
    return "\n".join(parts) + "\n"


def _shown(row: dict[str, object]) -> list[str]:
    bounds = ("proven" if row[f"{stage}_proven"] else _cell(row[f"{stage}_bound"]) or "-" for stage in STAGES)
    cells = row | {"bounds": " / ".join(bounds)}
    return [_cell(cells[head]) for head in _SHOWN]


def _cell(value: object) -> str:
    return "" if value is None else f"{value:.7g}" if isinstance(value, float) else str(value).replace("|", "/")


_SUMS: Final = (
    "size", "player", "yards", "plans", "median s", "worst s", "median cpu s", "worst cpu s", "worst MB",
    "late and finish proven", "all proven",
)  # fmt: skip


def _sums(plays: Iterable[Played]) -> Iterator[list[str]]:
    groups: dict[tuple[str, str], list[Played]] = defaultdict(list)
    for play in plays:
        groups[play.yard.split("-")[0], play.player].append(play)
    for (size, player), of in groups.items():
        seconds, cpu = [play.ran.seconds for play in of], [play.ran.cpu_s for play in of]
        found = [
            len(of),
            sum(play.answer.stands for play in of),
            *(float(number) for number in (median(seconds), max(seconds), median(cpu), max(cpu))),
            max(play.ran.peak_mb for play in of),
            sum(all(play.answer.proven[:2]) for play in of),
            sum(all(play.answer.proven) for play in of),
        ]
        yield [size, player, *map(_cell, found)]


def _stands(plays: Sequence[Played]) -> Iterator[list[str]]:
    """In how many yards each rival is better or worse than blockrun, and at which stage."""
    count: dict[tuple[str, str, str], list[str]] = defaultdict(list)
    for row in rows_of(plays):
        if row["against_blockrun"]:
            size, *rest = str(row["yard"]).split("-")
            count[size, str(row["player"]), str(row["against_blockrun"])].append("-".join(rest))
    for (size, player, what), yards in sorted(count.items()):
        yield [size, player, what, f"{len(yards)}: {', '.join(yards)}"]


def _table(heads: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[str]:
    for cells in (heads, ["---"] * len(heads), *rows):
        yield f"| {' | '.join(cells)} |"
