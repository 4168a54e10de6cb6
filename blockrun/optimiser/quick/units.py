"""Moulds, sides and bases by the minute they come free."""

from __future__ import annotations

from bisect import bisect_right, insort

from blockrun.optimiser.problem import Problem


class Units:
    """Moulds of each kind that are free, or will be at a minute that is known; with bases these are the sides."""

    def __init__(self, problem: Problem) -> None:
        self._moulds = [[0] * mould.count for mould in problem.moulds]
        self._bases = [[0] * mould.bases for mould in problem.moulds]
        self._on_bases = [bool(mould.bases) for mould in problem.moulds]

    def free(self, kind: int) -> list[int]:
        """Minutes from which another mould of a kind, with its base, is free, ascending."""
        moulds, bases = self._moulds[kind], self._bases[kind]
        return list(map(max, moulds, bases)) if self._on_bases[kind] else moulds

    def take(self, kind: int, at: int) -> None:
        """Fill the mould, and the base, that came free last before a minute."""
        _pop(self._moulds[kind], at)
        if self._on_bases[kind]:
            _pop(self._bases[kind], at)

    def mould_free(self, kind: int, at: int) -> None:
        """A mould, or sides, can be filled from a minute on."""
        insort(self._moulds[kind], at)

    def base_free(self, kind: int, at: int) -> None:
        """A base can be used from a minute on."""
        insort(self._bases[kind], at)


def _pop(free: list[int], at: int) -> None:
    free.pop(bisect_right(free, at) - 1)
