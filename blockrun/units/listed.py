"""Words as they are said one after the other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Final

_PAIR: Final = 2


def listed(words: Sequence[str]) -> str:
    """Join words as in ``a, b and c``."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def runs_listed(numbers: Iterable[int]) -> str:
    """Numbers in short, in order: ``1, 2, 4 and 7 to 61``."""
    runs: list[list[int]] = []
    for number in sorted({*numbers}):
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    said = [[f"{run[0]} to {run[-1]}"] if len(run) > _PAIR else [f"{number}" for number in run] for run in runs]
    return listed([one for run in said for one in run])
