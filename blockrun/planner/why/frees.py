"""The least change of a yard that frees a clash: more of one thing, or of several where none alone is enough.

Less than is said is proved to be too little. Whether it is enough is tried out: a plan is looked for.
"""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cached_property, reduce

from blockrun.planner.brief import Brief, brief
from blockrun.planner.sawing import Sawing
from blockrun.planner.whatif.changes import Change
from blockrun.planner.why.clash import Clash, Filter
from blockrun.planner.why.goals import Goal
from blockrun.planner.why.kinds import Kind, first, kinds_of_change
from blockrun.planner.why.reached import least_late, reached_of
from blockrun.planner.why.rules import Rule
from blockrun.planner.why.shortage import Shortage

_MOST_TOGETHER = 6
"""Clashes that are freed one after the other before it is given up."""

_MORE_TRIED = (1, 3)
"""Steps over the least, each a tenth of it, with which a change is tried out where there is no plan with the least."""


@dataclass(frozen=True)
class Way:
    """A change, or some that have to go together, at the least.

    Attributes
    ----------
    least : less of it is proved to be too little; of some together, less of each while the others are as they are.
    enough : with this a plan was found that does it, the same as ``least`` or more; ``None`` where none was found.
    until : the last day for which that plan does; ``None`` where it does for all days on which the same is short.
    """

    least: tuple[Change, ...]
    enough: tuple[Change, ...] | None
    until: date | None = None

    @property
    def said(self) -> str:
        """In words, what is enough if it is known."""
        return " and ".join(change.said for change in self.enough or self.least)


@dataclass
class WaysOut:
    """Looks for what frees one clash.

    Attributes
    ----------
    sawing : its saw plans.
    goals : that of the clash, and others of later days that it keeps from being reached, to be freed with it.
    further : whether another clash keeps the goal from being reached, too; what frees both is not looked for then.
    """

    finder: Filter
    sawing: Sawing
    clash: Clash
    goals: tuple[Goal, ...]
    further: bool = False

    def found(self) -> Iterator[Way]:
        """Each kind of change that frees it by itself, at its least; where there is none, some together."""
        alone = False
        for kind in kinds_of_change(self.finder.asked, self.clash):
            self.finder.tell(f"trying {kind.name}")
            amount = self._least(self.finder.asked, kind, self.goals)
            if amount is not None:
                alone = True
                yield from self._tried_out({kind: amount}, self.goals)
        stopped = self.finder.effort.stop()
        if not (alone or stopped or self.further or self.clash.of_age_alone):
            yield from self._together()

    def _together(self) -> Iterator[Way]:
        """Free the clash of its day, then the next that shows until there is none; then of each as little as can be."""
        amounts: dict[Kind, int] = {}
        goal = self.clash.goal
        for _ in range(_MOST_TOGETHER):
            yard = self._with(amounts)
            clash = Filter(yard, self.finder.effort, self.finder.tell).clash(goal)
            if clash is None:
                break
            lifted = self._lifted(yard, clash, amounts)
            if lifted is None:
                return
            kind, more = lifted
            amounts[kind] = amounts.get(kind, 0) + more
        else:
            return
        for kind in amounts:
            others = {other: amount for other, amount in amounts.items() if other != kind}
            amounts[kind] = self._least(self._with(others), kind, (goal,)) or amounts[kind]
        yield from self._tried_out(amounts, (goal,))

    def _lifted(self, asked: Brief, clash: Clash, more_of: Container[Kind]) -> tuple[Kind, int] | None:
        """A change after which the rules of a clash, all others relaxed, no longer keep the goal from being reached.

        Of two, what there is to be ``more_of`` anyway; then what is bought.
        """
        for kind in sorted(kinds_of_change(asked, clash), key=lambda kind: (kind not in more_of, not kind.bought)):
            amount = self._least(asked, kind, (clash.goal,), clash.rules)
            if amount is not None:
                return kind, amount
        return None

    def _tried_out(self, amounts: dict[Kind, int], goals: tuple[Goal, ...]) -> Iterator[Way]:
        """Look for a plan with the least, then with somewhat more; on a stop nothing is said of it.

        Where none has all that is within reach, that one counts which has what is asked by the most days.
        """
        least, found = _changes(amounts), list[tuple[int, Way]]()
        for tried in _and_more(amounts):
            changes = _changes(tried)
            self.finder.tell(f"planning with {' and '.join(change.said for change in changes)}")
            asked = self._changed(self.finder.asked, changes)
            within_reach = self._within_reach(asked, goals)
            reached = reached_of(asked.problem, within_reach, self.finder.effort.stop, self._most_late)
            if reached:
                found.append((reached, Way(least, changes, self._until(within_reach[:reached], goals))))
            if reached == len(within_reach):
                break
        if found:
            yield max(found, key=lambda one: one[0])[1]
        elif not self.finder.effort.stop():
            yield Way(least, None)

    @cached_property
    def _most_late(self) -> int:
        """Block-days late of the yard as it is: what frees its last pour is not to make more blocks late."""
        return 0 if self.clash.goal.ready else least_late(self.finder.asked.problem, self.finder.effort.stop)

    def _within_reach(self, asked: Brief, goals: tuple[Goal, ...]) -> list[Goal]:
        """The first goal, and others of which arithmetic does not say that they are out of reach."""
        yard = Shortage(asked.problem, self.finder.effort)
        return [goals[0], *(goal for goal in goals[1:] if not yard.by_arithmetic(goal))]

    def _until(self, reached: list[Goal], goals: tuple[Goal, ...]) -> date | None:
        """The last day before the first of the goals that are not reached, that of the clash at the soonest."""
        missed = [goal.day for goal in goals if goal not in reached]
        if not missed:
            return None
        before = [goal.day for goal in goals if goal.day < min(missed)]
        return self.finder.asked.site.calendar.start + timedelta(days=max([goals[0].day, *before]))

    def _with(self, amounts: dict[Kind, int]) -> Brief:
        return self._changed(self.finder.asked, _changes(amounts))

    def _changed(self, asked: Brief, changes: Iterable[Change]) -> Brief:
        site = reduce(lambda changed, change: change.make(changed), changes, asked.site)
        return brief(site, asked.order, asked.problem.horizon, self.sawing)

    def _least(
        self, asked: Brief, kind: Kind, goals: tuple[Goal, ...], rules: tuple[Rule, ...] | None = None
    ) -> int | None:
        """Smallest amount with which no goal is proved to be out of reach any more; ``None`` where none is found.

        Parameters
        ----------
        goals : the one that has to be freed, and others to be freed as far as this kind can. What something else
            keeps from being reached, too, is at least no more kept by the clash.
        rules : that are kept, all others relaxed; ``None`` for all.
        """
        goal, stop = goals[0], self.finder.effort.stop

        def here(amount: int) -> Filter:
            return Filter(self._changed(asked, [kind.of(amount)]), self.finder.effort, self.finder.tell)

        def yard(amount: int) -> Shortage:
            return here(amount).relaxed(()) if rules is None else here(amount).alone(rules, goal)

        def of_clash(amount: int, kept: Goal) -> int:
            return here(amount).alone(self.clash.rules, kept).by_arithmetic(kept)

        most = yard(kind.most)
        freed = [each for each in reversed(goals) if not most.by_arithmetic(each)]
        if goal not in freed or stop():
            return None
        kept = [each for each in goals if each not in freed and not of_clash(kind.most, each)]

        def frees(amount: int) -> bool:
            with_it = yard(amount)
            return not any(with_it.by_arithmetic(each) for each in freed) and not any(
                of_clash(amount, each) for each in kept
            )

        by_arithmetic = first(frees, 1, kind.most)
        if by_arithmetic is None or stop():
            return None
        amount = first(lambda amount: not yard(amount).of(goal), by_arithmetic, kind.most)
        return None if stop() else amount


def _changes(amounts: dict[Kind, int]) -> tuple[Change, ...]:
    return tuple(kind.of(amount) for kind, amount in amounts.items())


def _and_more(amounts: dict[Kind, int]) -> Iterator[dict[Kind, int]]:
    """So much of each, then somewhat more of one of them, then of all."""
    yield amounts
    for steps in _MORE_TRIED:
        more = {kind: min(kind.most, n + steps * max(1, n // 10)) for kind, n in amounts.items()}
        yield from [{**amounts, kind: more[kind]} for kind in amounts] if len(amounts) > 1 else []
        yield more
