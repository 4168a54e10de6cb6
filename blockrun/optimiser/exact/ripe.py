"""What is ripe when: the minute from which a task may begin, by the minute of the pour, as exact runs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from ortools.sat.python import cp_model

from blockrun.optimiser.engine import Expression
from blockrun.optimiser.problem import Minutes, Problem

_NEVER = 1 << 40


@dataclass(frozen=True)
class Run:
    """Poured from ``first`` to ``last``, both of them in it: ripe at ``at``, or ``after`` minutes later."""

    first: int
    last: int
    at: int | None
    after: int


def runs_of(problem: Problem, table: Minutes, pours: list[tuple[int, int]], length: int) -> list[Run]:
    """Runs of the pours in which a task of a length may begin ever at the same minute, or as long after the pour.

    Pours that are never ripe in working time are in none.
    """
    poured = np.unique(np.concatenate([np.arange(first, last + 1) for first, last in pours]))
    poured = poured[table[poured] >= 0]
    ripe = table[poured].astype(np.int64)
    begins = _fitted(problem, ripe, length)
    poured, ripe, begins = (of[begins < _NEVER] for of in (poured, ripe, begins))
    return list(_runs(poured, ripe, begins))


def _runs(poured: npt.NDArray[np.int64], ripe: npt.NDArray[np.int64], begins: npt.NDArray[np.int64]) -> Iterator[Run]:
    at, size = 0, len(poured)
    after = ripe - poured
    while at < size:
        same_minute = _alike(begins, at)
        as_long = _alike(after, at)
        end = max(same_minute, as_long)
        minute = int(begins[at]) if same_minute >= as_long else None
        yield Run(int(poured[at]), int(poured[end - 1]), minute, int(after[at]))
        at = end


def _alike(of: npt.NDArray[np.int64], at: int) -> int:
    """End of the run of equal numbers that begins at a place."""
    other = np.flatnonzero(of[at:] != of[at])
    return at + int(other[0]) if len(other) else len(of)


def _fitted(problem: Problem, ripe: npt.NDArray[np.int64], length: int) -> npt.NDArray[np.int64]:
    """First minutes at or after these from which a task lies in one window."""
    windows = np.array([(start, end - length) for start, end in problem.windows if end - start >= length])
    index = np.searchsorted(windows[:, 1], ripe)
    starts = np.append(windows[:, 0], _NEVER)
    found: npt.NDArray[np.int64] = np.maximum(ripe, starts[index])
    return found


def once_ripe(
    model: cp_model.CpModel, runs: list[Run], poured: cp_model.IntVar, start: Expression, used: cp_model.IntVar
) -> None:
    """A task begins once what is poured is ripe, where it is done at all."""
    if not runs:
        model.add(used == 0)
        return
    model.add(poured <= runs[-1].last).only_enforce_if(used)
    begun: cp_model.IntVar | None = None
    for number, run in enumerate(runs):
        over = None if run is runs[-1] else model.new_bool_var("past")
        if over is not None:
            model.add(poured < runs[number + 1].first).only_enforce_if(over.negated())
            model.add(poured >= runs[number + 1].first).only_enforce_if(over)
            if begun is not None:
                model.add_implication(over, begun)
        here = [used, *([begun] if begun is not None else [])]
        if run.at is not None:
            model.add(start >= run.at).only_enforce_if(here)
        else:
            within = [over.negated()] if over is not None else []
            model.add(start >= poured + run.after).only_enforce_if([*here, *within])
        begun = over
