"""What is asked by a day: so many blocks of each format, ready to lay or at least poured."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from blockrun.optimiser.problem import Problem


@dataclass(frozen=True)
class Goal:
    """Blocks that are to be there by a day.

    Attributes
    ----------
    day : its number among the calendar days.
    counts : how many blocks of each format of the problem.
    ready : whether they are to be ready to lay by then, and not just poured.
    """

    day: int
    counts: tuple[int, ...]
    ready: bool = True

    @property
    def blocks(self) -> int:
        """All of them together."""
        return sum(self.counts)

    @property
    def formats(self) -> frozenset[int]:
        """Formats of which there are blocks."""
        return frozenset(block for block, count in enumerate(self.counts) if count)

    def only(self, formats: Iterable[int]) -> Goal:
        """The same of some formats alone."""
        kept = set(formats)
        return replace(self, counts=tuple(n if b in kept else 0 for b, n in enumerate(self.counts)))

    def of(self, problem: Problem) -> Problem:
        """A problem in which nothing else is asked; what no plan of it can do, no plan of the whole can.

        It has ground for all: what is needed sooner than the day makes room on a small stack.
        """
        needs = (((self.day, count),) if self.ready and count else () for count in self.counts)
        return replace(self.asking(problem, needs), stack=None)

    def laid_in(self, problem: Problem) -> Problem:
        """The same with a small stack, if there is one: each block is laid on the day for which it is needed."""
        return self.of(problem) if problem.stack is None else self.asking(problem, self.needs(problem))

    def needs(self, problem: Problem) -> list[tuple[tuple[int, int], ...]]:
        """By format, the days on which its blocks are needed and how many, the first ones of the whole order."""
        return [_first_of(block.needs, count) for block, count in zip(problem.formats, self.counts, strict=True)]

    def asking(self, problem: Problem, needs: Iterable[tuple[tuple[int, int], ...]]) -> Problem:
        """A problem in which just these blocks are asked, each format on days with so many."""
        each = zip(problem.formats, self.counts, needs, strict=True)
        return replace(
            problem,
            formats=tuple(replace(block, demand=count, needs=of_block) for block, count, of_block in each),
        )


def needed_for(problem: Problem, goals: Sequence[Goal]) -> Problem:
    """A problem in which just what some goals ask together is needed, each block by the first day that asks for it.

    They are goals to be ready.

    With a small stack each is laid on the day for which it is needed in the whole order.
    """
    in_order = sorted(goals, key=lambda goal: goal.day)
    most = tuple(max(counts) for counts in zip(*(goal.counts for goal in goals), strict=True))
    last = replace(in_order[-1], counts=most)
    if len(goals) == 1 or problem.stack is not None:
        return last.laid_in(problem)
    needs: list[list[tuple[int, int]]] = [[] for _ in most]
    for goal in in_order:
        for block, count in enumerate(goal.counts):
            more = count - sum(number for _, number in needs[block])
            if more > 0:
                needs[block].append((goal.day, more))
    return last.asking(problem, map(tuple, needs))


def _first_of(needs: Iterable[tuple[int, int]], blocks: int) -> tuple[tuple[int, int], ...]:
    found = []
    for day, count in needs:
        found.append((day, min(count, blocks)))
        blocks -= found[-1][1]
    return tuple((day, count) for day, count in found if count)


def dated_goals(problem: Problem) -> Iterator[Goal]:
    """All that is needed by each day on which something is, the first day first."""
    for day in sorted({day for block in problem.formats for day, _ in block.needs}):
        yield Goal(day, tuple(sum(n for due, n in block.needs if due <= day) for block in problem.formats))


def whole_goal(problem: Problem, day: int) -> Goal:
    """Everything, spares included, poured by a day."""
    return Goal(day, tuple(block.demand for block in problem.formats), ready=False)


def parts_of(problem: Problem, goal: Goal) -> list[Goal]:
    """A goal, then of it what each kind of mould can cast; each but once."""
    asked = goal.formats
    of_moulds = (asked & cast_in(problem, kind) for kind in range(len(problem.moulds)))
    return [goal.only(formats) for formats in dict.fromkeys([asked, *of_moulds]) if formats]


def cast_in(problem: Problem, kind: int) -> frozenset[int]:
    """Formats that a kind of mould casts, by the block or by the slab."""
    return frozenset(block for number in problem.moulds[kind].casts for block, _ in problem.castings[number].gives)
