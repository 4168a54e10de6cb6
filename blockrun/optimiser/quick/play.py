"""A play: day after day by one policy, until all is poured, stripped and cleaned."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from blockrun.optimiser.needless import without_needless
from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.quick.emptying import Emptying
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.policy import Manner
from blockrun.optimiser.quick.pouring import Pouring
from blockrun.optimiser.quick.promise import promise_all
from blockrun.optimiser.quick.urgency import Urgency
from blockrun.optimiser.quick.yard import Yard
from blockrun.optimiser.state import State, in_order

_ALL = 1 << 62


@dataclass
class Play:
    """One way to play a yard: each day, by its position, in a manner of its own, and those after in the last of them.

    ``pace`` is how many blocks may be left to pour in the evening of each working day at the most, as far as it goes: a
    play that falls behind is given up.
    """

    ground: Ground
    manners: Sequence[Manner]
    stop: Callable[[], bool]
    pace: Sequence[int] = ()
    _held: dict[int, int] = field(default_factory=dict, init=False)

    def run(self, state: State | None = None) -> State | None:
        """The yard at the end of the plan that begins as a state does; ``None`` where the play comes to nothing."""
        yard = self.until(len(self.ground.problem.days), state)
        return None if yard is None or yard.standing or not yard.poured else self._whole(yard)

    def until(self, position: int, state: State | None = None) -> Yard | None:
        """The yard on the morning of a day, or once all is done; ``None`` where the play is given up before."""
        yard = Yard(self.ground, state)
        self._manner: Manner | None = None
        self._batch = max(load.room for load in self.ground.problem.loads)
        while yard.position < position and not (yard.poured and not yard.standing):
            if self.stop() or not self.day(yard) or self._behind(yard):
                return None
        return yard

    def _behind(self, yard: Yard) -> bool:
        evening = yard.position - 1
        return evening < len(self.pace) and sum(yard.left) > self.pace[evening]

    def _whole(self, yard: Yard) -> State:
        """The plan, its batches in the order of the clock, without those it can do without."""
        state = State(yard.position, yard.turns, in_order(yard.batches, len(self.ground.begun.batches)))
        return without_needless(self.ground.problem, state)

    def day(self, yard: Yard) -> bool:
        """Play a day; whether it could be."""
        if not yard.standing and not any(yard.left):
            yard.close()
            return True
        manner = self._take_up(self.manners[min(yard.position, len(self.manners) - 1)])
        shift, policy, dice = yard.open(), manner.policy, manner.dice(yard.position)
        if not shift.possible or not promise_all(yard, policy.wary):
            return False
        emptying = Emptying(yard, shift, policy, dice)
        emptying.promises()
        if yard.poured:
            emptying.some(_ALL)
        else:
            self._pour(Pouring(yard, shift, policy, self._urgency, dice, self._held), emptying, policy.strips)
        kept = not self._in_frost(yard)
        yard.close()
        return kept

    def _take_up(self, manner: Manner) -> Manner:
        """The manner of a day; one unlike that of the day before sees anew what is urgent."""
        if manner is not self._manner:
            self._manner = manner
            self._urgency = Urgency(self.ground, manner.policy, manner.dice())
        return manner

    def _pour(self, pouring: Pouring, emptying: Emptying, strips: str) -> None:
        """Batches and strips by turns, until neither can be done any more."""
        at_once = {"all": _ALL, "batch": self._batch, "one": 1}[strips]
        if strips == "all":
            emptying.some(at_once)
        while True:
            poured = pouring.batches()
            emptying.promises(pouring.slots.filling)
            emptied = emptying.some(at_once, pouring.slots.filling)
            if not poured and not emptied:
                if pouring.last_call():
                    continue
                if not pouring.slots.filling:
                    break
                # what could not be filled up today may be ripe today
                pouring.slots.filling.clear()
                emptying.promises()
        self._held = {mix: self._held.get(mix, 0) + 1 for mix in pouring.held}

    def _in_frost(self, yard: Yard) -> bool:
        """Whether something stands that should have been stripped by tonight."""
        if not self.ground.frosty:
            return False
        days, after = self.ground.problem.days, yard.position + 1
        morning = days[after].number if after < len(days) else 1 << 30
        for turn in yard.standing:
            if turn.strip is None and not turn.caught:
                by = self.ground.must_strip_by(turn.start // MINUTES_A_DAY)
                if by is not None and by < morning:
                    return True
        return False
