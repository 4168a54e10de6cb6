"""Courses as notes and cautions name them."""

from __future__ import annotations

from collections.abc import Sequence

from blockrun.units import listed


def courses_said(numbers: Sequence[int]) -> str:
    """Course 3, Courses 1 to 4, Courses 1 to 4 and 7."""
    runs: list[list[int]] = []
    for number in sorted(numbers):
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    runs = [part for run in runs for part in ([[run[0]], [run[1]]] if len(run) == 2 else [run])]
    words = [str(run[0]) if len(run) == 1 else f"{run[0]} to {run[-1]}" for run in runs]
    return f"Course{'s' if len(numbers) > 1 else ''} {listed(words)}"
