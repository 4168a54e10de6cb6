"""A plan by the minute, day after day: what a day is to pour comes from counting ahead, or from the foreman's rule."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field, replace
from functools import cached_property

from blockrun.optimiser.asked import Asked
from blockrun.optimiser.cubes import due
from blockrun.optimiser.day import DayModel
from blockrun.optimiser.day_counts import DayCounts
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.mixing import Ceiling
from blockrun.optimiser.needless import without_needless
from blockrun.optimiser.pack import Filling, pack
from blockrun.optimiser.problem import Problem
from blockrun.optimiser.state import State

Guide = Callable[[State], dict[int, DayCounts]]
Worth = Callable[[State], dict[int, int]]

_PACK_WORK = 0.3
_DAY_WORK = 0.05
_HARD_DAY_WORK = 0.2
_MANY_BLOCKS = 1500


@dataclass
class Roll:
    """Plays a yard forward.

    ``guide`` says what the coming days are to do, and is asked anew when one falls short; ``worth``
    weighs the blocks of a day. Where a frost comes that the moulds cannot be stripped before, the day
    poured last is played again with less. Only a ``patient`` play tries harder where a day has not
    poured all it was to. A ``thrifty`` play would rather make one more batch than use more cement.
    """

    problem: Problem
    limits: Limits
    guide: Guide
    effort: Effort
    worth: Worth = lambda _: {}
    patient: bool = True
    thrifty: bool = False
    _most: dict[int, int] = field(default_factory=dict, init=False)

    def play(self) -> State | None:
        """The yard at the end of the plan; ``None`` when a day cannot be done, or there is no time left."""
        self._most.clear()
        state, counts = self.limits.begun, dict[int, DayCounts]()
        states = [state]
        while not self._finished(state):
            if state.day >= len(self.problem.days) or self.effort.stop():
                return None
            today = None
            if any(state.left_to_pour(self.problem)):
                if state.day not in counts:
                    counts = self.guide(state)
                today = counts.pop(state.day, DayCounts())
            after = self.day(state, today)
            if after is None:
                if not self._step_back(states):
                    return None
                state, counts = states[-1], {}
                continue
            if today is not None and not _as_asked(state, after, today):
                counts = {}
            state = after
            states.append(state)
        return without_needless(self.problem, state)

    def _step_back(self, states: list[State]) -> bool:
        """Back to the day poured last, to pour half as much on it."""
        while len(states) > 1:
            after = states.pop()
            poured = sum(sum(batch.content.values()) for batch in after.batches[len(states[-1].batches) :])
            if poured:
                self._most[states[-1].day] = poured // 2
                return True
        return False

    def _finished(self, state: State) -> bool:
        return not state.open_turns and not any(state.left_to_pour(self.problem))

    def day(self, state: State, today: DayCounts | None) -> State | None:
        """Play one day; with ``None`` all that is ripe is stripped and nothing poured.

        Batches are made up over moulds that stand free and moulds stripped first together; where that
        does not come off, wave by wave.
        """
        if not state.open_turns and not (today and today.castings):
            return replace(state, day=state.day + 1)
        if today is None:
            return self._solved(state, Asked(chores=False))
        best: State | None = None
        for counts in self._ways(state, today):
            after = self._solved(state, self._asked(state, counts))
            if after is not None and (best is None or _poured(after) > _poured(best)):
                best = after
            if best is not None and not _fell_short(state, best, today):
                break
        return best

    def _ways(self, state: State, today: DayCounts) -> Iterator[DayCounts]:
        first, *later = today.waves
        if later and later[0]:
            yield replace(today, waves=(_sum(first, later[0]), *later[1:]))
        yield today

    def _asked(self, state: State, today: DayCounts) -> Asked:
        blocks, batches = self._packed(state, today)
        worth = self.worth(state)
        return Asked(blocks, self._turns(blocks), tuple(batches), today.strips, today.early, worth=worth)

    def _solved(self, state: State, asked: Asked) -> State | None:
        """Try a little, and harder where not all was poured; ``None`` when not even stripping can be done."""
        model = DayModel(self.problem, self.limits, state, asked)
        # a hurried play of a big order must come to an end: what it does not place today it pours tomorrow
        work = _DAY_WORK if self.patient else _DAY_WORK * min(1.0, _MANY_BLOCKS / self._ordered_blocks)
        after = model.solve(self.effort.of(work))
        short = after is None or len(after.batches) < len(state.batches) + len(asked.batches)
        if short and (self.patient or after is None):
            after = model.solve(self.effort.of(_HARD_DAY_WORK)) or after
        if after is None and not model.impossible and asked.batches:
            return self._solved(state, replace(asked, blocks={}, turns={}, batches=(), early=()))
        return after

    @cached_property
    def _ordered_blocks(self) -> int:
        return max(1, sum(block.demand for block in self.problem.formats))

    def _packed(self, state: State, today: DayCounts) -> tuple[dict[tuple[int, int], int], list[Filling]]:
        """The blocks of a day and their batches; what no batch has room for is left out, last waves first."""
        most = self._most.get(state.day, 1 << 30)
        chosen: dict[tuple[int, int], int] = {}
        batches: list[Filling] = []
        for wave in today.waves:
            blocks = dict(wave)
            while blocks:
                packed = self._pack(state, blocks, batches) if sum(blocks.values()) <= most else None
                if packed is not None and self._possible(state, batches + packed):
                    batches += packed
                    chosen = _sum(chosen, blocks)
                    most -= sum(blocks.values())
                    break
                blocks = _fewer(blocks)
        return chosen, batches

    def _pack(self, state: State, blocks: dict[tuple[int, int], int], batches: list[Filling]) -> list[Filling] | None:
        """Batches beside those of the day so far, with the test cubes that are due."""
        wanted: dict[int, int] = {}
        for (_, block), count in blocks.items():
            wanted[block] = wanted.get(block, 0) + count
        cubes = due(self.problem, state)
        for filling in batches if cubes else ():
            load = self.problem.loads[filling.load]
            cubes[load.mix] = cubes[load.mix].after(load.cement, filling.cubes)
        effort = self.effort.of(_PACK_WORK)
        return pack(self.problem, wanted, self._ceilings(state), effort, thrifty=self.thrifty, cubes=cubes)

    def _ceilings(self, state: State) -> tuple[Ceiling, ...]:
        return self.limits.mixing.ceilings(self.limits.slots.day(state.day))

    def _possible(self, state: State, batches: list[Filling]) -> bool:
        """Whether the mixers have time for all these batches of the day, and the yard has the cement and agent."""
        mixed = all(ceiling.holds(filling.load for filling in batches) for ceiling in self._ceilings(state))
        return mixed and self._in_stock(state, batches)

    def _turns(self, blocks: dict[tuple[int, int], int]) -> dict[int, int]:
        cast: dict[int, int] = {}
        for (kind, _), count in blocks.items():
            cast[kind] = cast.get(kind, 0) + count
        return {kind: -(-count // self.problem.fillable[kind]) for kind, count in cast.items()}

    def _in_stock(self, state: State, packed: list[Filling]) -> bool:
        number, loads = self.problem.days[state.day].number, self.problem.loads
        cement = state.cement() + sum(loads[filling.load].cement for filling in packed)
        agent = state.agent() + sum(loads[filling.load].agent for filling in packed)
        return cement <= self.problem.cement.by(number) and agent <= self.problem.agent.by(number)


def _fewer(blocks: dict[tuple[int, int], int]) -> dict[tuple[int, int], int]:
    """A tenth less of everything, and at least one block less."""
    total = sum(blocks.values())
    goal = min(total - 1, total * 9 // 10)
    kept = {key: count * goal // total for key, count in blocks.items()}
    return {key: count for key, count in kept.items() if count}


def _sum(one: dict[tuple[int, int], int], other: dict[tuple[int, int], int]) -> dict[tuple[int, int], int]:
    return {key: one.get(key, 0) + other.get(key, 0) for key in one | other}


def _poured(state: State) -> int:
    return sum(sum(batch.content.values()) for batch in state.batches)


def _as_asked(before: State, after: State, today: DayCounts) -> bool:
    """Whether just these formats were poured, so that what was counted for the coming days still fits."""
    asked: Counter[int] = Counter()
    for wave in today.waves:
        for (_, block), count in wave.items():
            asked[block] += count
    poured: Counter[int] = Counter()
    for batch in after.batches[len(before.batches) :]:
        poured.update(batch.content)
    return asked == poured


def _fell_short(before: State, after: State, today: DayCounts) -> bool:
    return _poured(after) - _poured(before) < today.castings
