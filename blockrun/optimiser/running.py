"""A number of each slot and its running total, so that each rule of the counts speaks of two or three variables."""

from __future__ import annotations

from collections.abc import Callable

from ortools.sat.python import cp_model

from blockrun.optimiser.engine import Expression


class Running:
    """A number of each slot that is at most ``most`` of it; none where that is nothing."""

    def __init__(self, model: cp_model.CpModel, slots: range, most: Callable[[int], int], name: str) -> None:
        self._first, self._last = slots[0], slots[-1]
        self.of: dict[int, cp_model.IntVar] = {}
        self._upto: dict[int, cp_model.IntVar] = {}
        ceiling = 0
        for slot in slots:
            limit = most(slot)
            ceiling += limit
            if limit:
                self.of[slot] = model.new_int_var(0, limit, f"{name} {slot}")
            self._upto[slot] = model.new_int_var(0, ceiling, f"{name} by {slot}")
            model.add(self._upto[slot] == self.by(slot - 1) + self.of.get(slot, 0))

    def by(self, slot: int) -> Expression:
        """Total from the first slot to this one."""
        if slot < self._first:
            return 0
        return self._upto[min(slot, self._last)]

    def between(self, first: int, last: int) -> Expression:
        """Total of the slots from ``first`` to ``last``."""
        return self.by(last) - self.by(first - 1)
