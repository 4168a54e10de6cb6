"""Moulds, sides and bases by the minute they come free."""

from __future__ import annotations

from bisect import bisect_right, insort

from blockrun.optimiser.problem import Problem


class Units:
    """Moulds of each kind that are free, or will be at a minute that is known; with bases these are the sides."""

    def __init__(self, problem: Problem) -> None:
        self._moulds = [Free(mould.count) for mould in problem.moulds]
        self._bases = [Free(mould.bases) for mould in problem.moulds]
        self._on_bases = [bool(mould.bases) for mould in problem.moulds]
        self._together: dict[int, list[int]] = {}
        """With their bases, until one of them is taken or comes free: plays ask all the time."""

    def free(self, kind: int) -> list[int]:
        """Minutes from which another mould of a kind, with its base, is free, ascending."""
        if not self._on_bases[kind]:
            return self._moulds[kind].at
        if kind not in self._together:
            self._together[kind] = list(map(max, self._moulds[kind].at, self._bases[kind].at))
        return self._together[kind]

    def take(self, kind: int, at: int) -> None:
        """Fill the mould, and the base, that came free last before a minute."""
        self._moulds[kind].take(at)
        if self._on_bases[kind]:
            self._bases[kind].take(at)
            self._together.pop(kind, None)

    def mould_free(self, kind: int, at: int) -> None:
        """A mould, or sides, can be filled from a minute on."""
        self._moulds[kind].give(at)
        self._together.pop(kind, None)

    def base_free(self, kind: int, at: int) -> None:
        """A base can be used from a minute on."""
        self._bases[kind].give(at)
        self._together.pop(kind, None)


class Free:
    """Equal things, by the minute from which each is free; more may stand in use than the yard still has."""

    def __init__(self, count: int) -> None:
        self.at = [0] * count
        self._too_many = 0
        self._gone: list[int] = []

    def take(self, at: int) -> None:
        """The one that came free last before a minute."""
        if self.at:
            self.at.pop(bisect_right(self.at, at) - 1)
        else:
            self._too_many += 1

    def give(self, at: int) -> None:
        """One is free again from a minute on; of too many those that are free first are used no more."""
        if self._too_many:
            self._too_many -= 1
            insort(self._gone, at)
        else:
            if self._gone and at < self._gone[-1]:
                insort(self._gone, at)
                at = self._gone.pop()
            insort(self.at, at)
