"""Words as they are said one after the other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence


def listed(words: Sequence[str]) -> str:
    """Join words as in ``a, b and c``."""
    if len(words) < 2:
        return "".join(words)
    return f"{', '.join(words[:-1])} and {words[-1]}"


def runs_listed(numbers: Iterable[int]) -> str:
    """Numbers in short, in order: ``1 to 3, 5 and 7 to 61``."""
    runs: list[tuple[int, int]] = []
    for number in sorted({*numbers}):
        if runs and runs[-1][1] == number - 1:
            runs[-1] = (runs[-1][0], number)
        else:
            runs.append((number, number))
    return listed([f"{first}" if first == last else f"{first} to {last}" for first, last in runs])
