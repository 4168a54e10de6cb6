"""The fewest rules that keep a goal from being reached: each is relaxed in turn, and what has to stay is the clash.

A solver's own reasons are not the fewest, so the filter is ours: with plenty of everything relaxed so far, is the goal
still out of reach? Then that rule is none of the reasons. Each rule that is left frees the goal when it is relaxed.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import reduce

from blockrun.optimiser.engine import Effort
from blockrun.optimiser.problem import Problem
from blockrun.planner.brief import Brief
from blockrun.planner.why.goals import Goal
from blockrun.planner.why.rules import Rule, Thing, rules_of
from blockrun.planner.why.shortage import Shortage

_SUSPECTS: dict[str, frozenset[Thing]] = {
    "moulds": frozenset({Thing.moulds, Thing.sides, Thing.bases, Thing.cold, Thing.frost}),
    "cement": frozenset({Thing.cement}),
    "racks": frozenset({Thing.racks, Thing.moulds, Thing.bases}),
    "stack": frozenset({Thing.stack}),
    "mixers": frozenset({Thing.mixers}),
    "agent": frozenset({Thing.agent}),
}
"""What one limit that is too low by itself may be made of; of two that are as low, the first explains more."""

_AIR = (Thing.age, Thing.cold, Thing.frost)
"""What may keep every day from being of use."""


@dataclass(frozen=True)
class Clash:
    """A goal that cannot be reached, and the fewest rules that keep it from being.

    Attributes
    ----------
    rules : none where the days of the calendar alone are too few.
    at_most : blocks of the goal that can be had, by these rules alone.
    last_pour : position of the last working day on which pouring is of use; ``None`` where there is none.
    """

    goal: Goal
    rules: tuple[Rule, ...]
    at_most: int
    last_pour: int | None

    @property
    def of_age_alone(self) -> bool:
        """Whether nothing that the yard could have more of is among its rules."""
        return all(rule.thing is Thing.age for rule in self.rules)

    @property
    def blamed(self) -> tuple[Rule, ...]:
        """Of the rules what the yard could have more of; the air only where there is nothing else, never the age."""
        had = [rule for rule in self.rules if rule.thing not in (*_AIR, Thing.weather)]
        return tuple(had or (rule for rule in self.rules if rule.thing is not Thing.age))


@dataclass(frozen=True)
class Filter:
    """Finds clashes in one yard.

    Attributes
    ----------
    effort : work a count may take, and when to stop.
    """

    asked: Brief
    effort: Effort
    tell: Callable[[str], None]
    _relaxed: dict[frozenset[Rule], Shortage] = field(default_factory=dict, compare=False, repr=False)

    def clash(self, goal: Goal, plenty: Iterable[Rule] = ()) -> Clash | None:
        """Why a goal cannot be reached even with ``plenty`` of some things; ``None`` where that is not proved."""
        relaxed = list(plenty)
        if not self.short(goal, relaxed):
            return None
        goal = self._fewer_formats(goal, self.relaxed(relaxed))
        rules = rules_of(self.asked, goal)
        relaxed += self._at_once(goal, rules, relaxed)
        for rule in self._in_turn(goal, rules, relaxed):
            self.tell(f"trying with plenty of {rule.thing.value}")
            if rule not in relaxed and self.short(goal, (*relaxed, rule)):
                relaxed.append(rule)
        kept = self._kept(goal, rules, relaxed)
        left = self.alone(kept, goal)
        return Clash(goal, kept, left.at_most(goal), left.last_pour(goal))

    def _in_turn(self, goal: Goal, rules: tuple[Rule, ...], relaxed: list[Rule]) -> Iterator[Rule]:
        """Rules but the age, in their order; of sides and bases of one kind the one first that is less to blame.

        That blocks have an age to be laid at is what a day is asked for: it stays, so that numbers are those of days
        on which pouring is of use.
        """
        bases = {rule.kind: rule for rule in rules if rule.thing is Thing.bases}
        for rule in rules:
            if rule.thing is Thing.sides:
                yield from self._less_to_blame_first(goal, relaxed, bases[rule.kind], rule)
            elif rule.thing not in (Thing.age, Thing.bases):
                yield rule

    def _less_to_blame_first(self, goal: Goal, relaxed: list[Rule], *two: Rule) -> list[Rule]:
        """Two rules, that one first which, relaxed, leaves more short."""
        if any(rule in relaxed for rule in two):
            return list(two)
        return sorted(two, key=lambda rule: -self.short(goal, (*relaxed, rule)))

    def _kept(self, goal: Goal, rules: tuple[Rule, ...], relaxed: Iterable[Rule]) -> tuple[Rule, ...]:
        """What was not relaxed; nothing, where even with that the days are too few.

        A stack that is too small for one day's blocks is so however soon they may be laid.
        """
        kept = tuple(rule for rule in rules if rule not in relaxed)
        ground = tuple(rule for rule in kept if rule.thing is Thing.stack)
        if ground and self.short(goal, (rule for rule in rules if rule not in ground)):
            return ground
        return () if all(rule.thing is Thing.age for rule in kept) and self.short(goal, rules) else kept

    def explains(self, clash: Clash, goal: Goal) -> bool:
        """Whether the rules of one clash keep another goal from being reached, too."""
        rules = {(rule.thing, rule.kind) for rule in clash.rules}
        others = [rule for rule in rules_of(self.asked, goal) if (rule.thing, rule.kind) not in rules]
        return self.relaxed(others).by_arithmetic(goal) > 0

    def short(self, goal: Goal, relaxed: Iterable[Rule]) -> int:
        """Blocks of a goal that are short with some rules relaxed; 0 also where nothing is proved, or on a stop."""
        return 0 if self.effort.stop() else self.relaxed(relaxed).of(goal)

    def relaxed(self, rules: Iterable[Rule]) -> Shortage:
        """What is short with some rules relaxed."""
        key = frozenset(rules)
        if key not in self._relaxed:
            start: Problem = self.asked.problem
            in_order = sorted(key, key=lambda rule: (rule.thing, rule.kind or 0))
            self._relaxed[key] = Shortage(reduce(lambda p, rule: rule.relax(p), in_order, start), self.effort)
        return self._relaxed[key]

    def alone(self, kept: Iterable[Rule], goal: Goal) -> Shortage:
        """What is short with plenty of all but some of the rules of a goal."""
        kept = tuple(kept)
        return self.relaxed(rule for rule in rules_of(self.asked, goal) if rule not in kept)

    def _fewer_formats(self, goal: Goal, yard: Shortage) -> Goal:
        """Of a goal only the blocks that are needed for it to be out of reach, as far as arithmetic sees."""
        if not yard.by_arithmetic(goal):
            return goal
        for block in sorted((b for b, n in enumerate(goal.counts) if n), key=lambda b: goal.counts[b]):
            fewer = goal.only(b for b in range(len(goal.counts)) if b != block)
            if fewer.blocks and yard.by_arithmetic(fewer):
                goal = fewer
        return goal

    def _at_once(self, goal: Goal, rules: tuple[Rule, ...], plenty: Iterable[Rule]) -> list[Rule]:
        """All rules that have nothing to do with the limit that is too low by itself, if there is one: the lowest."""
        plenty = tuple(plenty)
        if self.relaxed(plenty).last_pour(goal) is None:
            return [rule for rule in rules if rule.thing not in _AIR]
        if not goal.ready:
            return []
        alone = self.relaxed(plenty).alone(goal)
        for limit in sorted(_SUSPECTS, key=lambda limit: -alone[limit]):
            others = [rule for rule in rules if rule.thing not in (Thing.age, *_SUSPECTS[limit])]
            if alone[limit] and self.relaxed({*others, *plenty}).by_arithmetic(goal):
                return others
        return []
