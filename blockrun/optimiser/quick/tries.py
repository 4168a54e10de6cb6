"""Many plays: by set policies, by drawn ones, and from the middle of good plans on with something done differently."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from random import Random

from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.play import Play
from blockrun.optimiser.quick.policy import OPENINGS, Policy, drawn, near
from blockrun.optimiser.score import Score, score
from blockrun.optimiser.state import Span, State

_MEMORY = 12
_OVERHEAD_BLOCKS = 20
"""What a play takes beside its blocks, in blocks: about 45 microseconds each."""


@dataclass(frozen=True)
class Tried:
    """A plan, how good it is, and the policy of its last days."""

    state: State
    score: Score
    policy: Policy = OPENINGS[0]


class Tries:
    """Plays of one problem; the same seed, the same plays. How many depends on the problem alone, not on the clock."""

    def __init__(self, ground: Ground, seed: int, stop: Callable[[], bool]) -> None:
        self.ground, self.seed, self.stop = ground, seed, stop

    def plays_of(self, blocks: int) -> int:
        """How many plays come to so many blocks in all."""
        of_a_play = sum(block.demand for block in self.ground.problem.formats)
        return blocks // (of_a_play + _OVERHEAD_BLOCKS)

    def openings(self) -> Iterator[Tried]:
        """Plays by set policies."""
        for number, policy in enumerate(OPENINGS):
            yield from self._play(policy, Random(f"{self.seed} {number}"))

    def drawn(self, plays: int) -> Iterator[Tried]:
        """Plays by policies of the dice."""
        for number in range(plays):
            dice = Random(f"{self.seed} drawn {number}")
            yield from self._play(drawn(dice), dice)

    def improved(self, best: Tried, plays: int, name: str) -> Iterator[Tried]:
        """Plays that each begin like a good plan and go on differently from some day: the better ones, as they come.

        A plan a little worse is played on from as well, if it is better than some plays ago.
        """
        dice = Random(f"{self.seed} {name}")
        now, before = best, [best.score] * _MEMORY
        for number in range(plays):
            for tried in self._changed(now if dice.random() < 0.7 else best, dice):
                if tried.score <= max(now.score, before[number % _MEMORY]):
                    now = tried
                if tried.score < best.score:
                    best = tried
                    yield best
            before[number % _MEMORY] = now.score

    def _changed(self, tried: Tried, dice: Random) -> Iterator[Tried]:
        """A plan played on from some morning by another policy, or by the same with other dice."""
        policy = tried.policy if dice.random() < 0.2 else near(tried.policy, dice)
        if dice.random() < 0.15:
            policy = drawn(dice)
        if not policy.fog and dice.random() < 0.5:
            policy = replace(policy, fog=dice.choice((0.2, 0.6)))
        last = self.ground.problem.day_index[tried.score.finish]
        return self._play(policy, dice, morning(self.ground.problem, tried.state, dice.randint(0, last)))

    def _play(self, policy: Policy, dice: Random, state: State | None = None) -> Iterator[Tried]:
        played = None if self.stop() else Play(self.ground, policy, dice, self.stop).run(state)
        if played is not None:
            yield Tried(played, score(self.ground.problem, played), policy)


def morning(problem: Problem, state: State, position: int) -> State:
    """The yard as it stood in a plan on the morning of the day at a position."""
    opens = problem.days[position].number * MINUTES_A_DAY

    def done(span: Span | None) -> Span | None:
        return span if span is not None and span.end <= opens else None

    turns = [
        turn
        if turn.clean is not None and turn.clean.end <= opens
        else replace(turn, sides=done(turn.sides), strip=done(turn.strip), clean=done(turn.clean))
        for turn in state.turns
        if turn.start < opens
    ]
    return State(position, turns, [batch for batch in state.batches if batch.start < opens])
