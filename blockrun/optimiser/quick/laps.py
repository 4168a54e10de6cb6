"""Plans put together lap by lap: a lap is the time a block stays on the rack.

What is stripped by a minute of one lap makes room for as much by the same minute of the next, so the first lap, in
which the rack fills, decides on all that follow: where a few blocks are too many for a day, it is of no use to change
that day alone. Laps end at the minute by which moulds must be stripped to be filled once more on the last day. Of many
plays of a lap those are gone on with that have stripped most by then, and soonest, and have left each kind of mould its
share: on the last day all moulds are to be full, and one whose blocks are all poured stays empty.

Where the rack is not filled twice it decides on nothing, and each day is a lap: those plays are gone on with that have
poured most by the evening, and soonest, for what is poured soon is stripped soon on the day after.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

from blockrun.optimiser.problem import MINUTES_A_DAY
from blockrun.optimiser.quick.play import Play
from blockrun.optimiser.quick.policy import OPENINGS, Manner, Policy, drawn, near, up_to
from blockrun.optimiser.quick.tries import Pool, Tried, Tries
from blockrun.optimiser.score import score
from blockrun.optimiser.state import State, in_order, morning

_LEAST = 3 * MINUTES_A_DAY
_SHORTER = 30
_GO_ON = 4
_OF_FIRST, _OF_LAST = 0.2, 0.5
"""Shares of all plays that the first and the last lap have; those between have to keep what the first one won."""
_LIKE_A_GOOD_ONE, _FROM_ANOTHER, _ANY, _AS_BEFORE = 0.75, 0.3, 0.3, 0.4
_SOME_DAYS = (1, 1, 2, 7)
_SOON = 300
"""Minutes at the end of a lap in which a strip is worth the more, the sooner it comes."""
_POURED, _VOLUME, _OVERDUE = 0.1, 0.1, 3.0
"""What a block is worth that is poured and not stripped, that much volume too, and one that will be late."""
_STRIPPED = 0.03
"""What one that is stripped is worth where those that are poured count: in the last lap, and where each day is one."""
_SOON_IN_THE_DAY = 0.1
_LONG_DAY = 600
"""What a block poured as a day begins is worth more than one so many minutes after, where each day is a lap."""
_UNEVEN = 0.3
"""What a block is worth less that is left for some moulds beyond their share of all that is left."""
_BATCH = 0.05
"""What a batch less is worth."""
_TO_THE_END = OPENINGS[:3]


@dataclass(frozen=True, eq=False)
class Part:
    """A plan up to the end of a lap: the yard on the morning after, how it came about, and how good that is."""

    state: State
    manners: tuple[Manner, ...] = ()
    before: Part | None = None
    worth: float = 0.0


@dataclass(frozen=True)
class Lap:
    """Days from the end of the lap before to the one at position ``until``, and the minute of it at which it ends."""

    until: int
    minute: int


class Laps:
    """The laps of plans that end a working day sooner than the best of those that are known, and such plans.

    ``all`` are the laps, from the first day to that one, and ``by_day`` says whether each is but a day.
    """

    def __init__(self, tries: Tries, known: Sequence[Tried], name: str = "") -> None:
        self.tries, self.ground, self.problem = tries, tries.ground, tries.ground.problem
        self._dice = Random(f"{tries.seed} {name}")
        self._known = known
        self.last = self.problem.position(known[0].score.finish) - 1
        of_rack = self._laps_of_rack()
        self.by_day = len(of_rack) < 2
        self.all = self._days() if self.by_day else of_rack
        demand = [block.demand for block in self.problem.formats]
        self._blocks = sum(demand)
        self._volume = self._volume_of(demand)
        self._shares = self._shares_of_moulds()

    def _days(self) -> list[Lap]:
        days = self.problem.days
        return [Lap(day, days[day].last_foam) for day in range(self.tries.begun.day, self.last + 1)]

    def _laps_of_rack(self) -> list[Lap]:
        days, first = self.problem.days, self.tries.begun.day
        length = self.problem.rack_for
        if self.last < first or not length:
            return []
        length *= -(-_LEAST // length)
        minute, found = days[self.last].last_foam, list[Lap]()
        until = self.last
        while until >= first and minute > days[first].opens:
            found.append(Lap(until, minute))
            minute -= length
            while until >= first and days[until].opens >= minute:
                until -= 1
        return found[::-1]

    def plans(self, plays: int) -> list[Tried]:
        """Plans that come of so many plays, or of what takes as long; each is better in something than the rest."""
        first = self.tries.begun.day
        going = [Part(self.tries.begun, (Manner(OPENINGS[0]),) * first)]
        cut = going * len(self._known)
        for number, lap in enumerate(self.all):
            cut = [self._cut(lap, tried, before) for tried, before in zip(self._known, cut, strict=True)]
            going = self._best_of(lap, going, cut, self._plays_of(number, plays))
        pool = Pool([])
        for part in going:
            for policy in _TO_THE_END:
                manners = (*part.manners, Manner(policy))
                played = Play(self.ground, manners, self.tries.stop).run(part.state)
                if played is not None:
                    pool.keep(Tried(played, score(self.problem, played), manners))
        return list(pool.all)

    def _plays_of(self, number: int, plays: int) -> int:
        """How often a lap is played, so that all take as long as so many plays from the first day to the last."""
        begins = self.all[number - 1].until if number else self.tries.begun.day - 1
        days = self.last + 1 - self.tries.begun.day
        between = len(self.all) - 2
        if number == 0:
            share = _OF_FIRST
        elif number == len(self.all) - 1:
            share = _OF_LAST
        else:
            share = (1 - _OF_FIRST - _OF_LAST) / between
        return max(2 * _GO_ON, round(share * plays * days / (self.all[number].until - begins)))

    def _best_of(self, lap: Lap, going: list[Part], known: list[Part], plays: int) -> list[Part]:
        """The best ways to play a lap, each unlike the others."""
        found = _best(known)
        for _ in range(plays):
            if self.tries.stop():
                break
            part = self._played(lap, *self._way(lap, going, found))
            if part is not None:
                found = _best([*found, part])
        return found[:_GO_ON]

    def _way(self, lap: Lap, going: list[Part], found: list[Part]) -> tuple[Part, list[Manner]]:
        """What to go on from, and how: much like a good way, or like days before, or anyhow."""
        dice = self._dice
        if found and dice.random() < _LIKE_A_GOOD_ONE:
            like = dice.choice(found[:_GO_ON])
            assert like.before is not None
            before = dice.choice(going) if dice.random() < _FROM_ANOTHER else like.before
            return before, self._otherwise(list(like.manners[len(like.before.manners) :]))
        before = dice.choice(going)
        days = max(1, lap.until + 1 - before.state.day)
        earlier = before.manners[self.tries.begun.day :] or dice.choice(self._known).manners
        if dice.random() < _AS_BEFORE:
            manners = [Manner(each.policy, self._seed) for each in earlier[-days:]]
            return before, manners + manners[-1:] * (days - len(manners))
        return before, [Manner(self._policy(dice.choice(earlier)), self._seed)] * days

    def _cut(self, lap: Lap, tried: Tried, before: Part) -> Part:
        """A plan that is known up to the end of a lap."""
        position = lap.until + 1
        state = morning(tried.state, self.problem.days[position].number, position)
        return Part(state, up_to(tried.manners, position), before, self._worth(lap, state))

    def _otherwise(self, manners: list[Manner]) -> list[Manner]:
        """Some days done otherwise, once or twice."""
        dice = self._dice
        for _ in range(dice.choice((1, 1, 2))):
            day = dice.randrange(len(manners))
            some = min(dice.choice(_SOME_DAYS), len(manners) - day)
            manners[day : day + some] = [Manner(self._policy(manners[day]), self._seed)] * some
        return manners

    def _policy(self, like: Manner) -> Policy:
        """One near to that of a day, or any."""
        dice = self._dice
        return drawn(dice) if dice.random() < _ANY else near(like.policy, dice, self.ground.indifferent)

    @property
    def _seed(self) -> str:
        return f"{self._dice.random()}"

    def _played(self, lap: Lap, before: Part, manners: list[Manner]) -> Part | None:
        """A lap played in some manner from the end of the one before."""
        of_all = (*before.manners, *manners)
        yard = Play(self.ground, of_all, self.tries.stop).until(lap.until + 1, before.state)
        if yard is None or yard.position >= len(self.problem.days):
            return None
        whole = State(yard.position, yard.turns, in_order(yard.batches, len(self.ground.begun.batches)))
        state = morning(whole, self.problem.days[yard.position].number, yard.position)
        return Part(state, of_all, before, self._worth(lap, state))

    def _worth(self, lap: Lap, state: State) -> float:
        """Of the yard at the end of a lap, in blocks."""
        left, number = state.left_to_pour(self.problem), self.problem.days[lap.until].number
        poured = self._blocks - sum(left)
        late = self.ground.overdue(left, number + 1)
        stripped = 0.0
        for turn in state.turns:
            if turn.strip is not None and turn.strip.end <= lap.minute:
                stripped += turn.blocks * (1 + min(1.0, (lap.minute - turn.strip.end) / _SOON))
        last = lap is self.all[-1]
        if last or self.by_day:
            won = poured + _STRIPPED * stripped - (0.0 if last else _SOON_IN_THE_DAY * _after_opening(state, number))
        else:
            volume = self._blocks * (1 - self._volume_of(left) / self._volume)
            won = stripped + _POURED * poured + _VOLUME * volume
        uneven = 0.0 if last else self._uneven(left)
        return won - _OVERDUE * late - _UNEVEN * uneven - _BATCH * len(state.batches)

    def _shares_of_moulds(self) -> list[tuple[float, list[int]]]:
        """Blocks that go into the same kinds of mould, and the share these have of all that stands in full moulds."""
        problem = self.problem
        kinds: dict[int, set[int]] = {}
        for kind, mould in enumerate(problem.moulds):
            for number in mould.casts:
                for block, _ in problem.castings[number].gives:
                    kinds.setdefault(block, set()).add(kind)
        alike: dict[frozenset[int], list[int]] = {}
        for block, of_block in sorted(kinds.items()):
            alike.setdefault(frozenset(of_block), []).append(block)
        room = [(mould.bases or mould.count) * problem.most_blocks(kind) for kind, mould in enumerate(problem.moulds)]
        return [(sum(room[kind] for kind in of) / sum(room), blocks) for of, blocks in alike.items()]

    def _uneven(self, left: Sequence[int]) -> float:
        """Blocks left for some moulds beyond their share of all that is left."""
        in_all = sum(left)
        return sum(max(0.0, sum(left[block] for block in blocks) - share * in_all) for share, blocks in self._shares)

    def _volume_of(self, blocks: Sequence[int]) -> int:
        return sum(count * of.volume for count, of in zip(blocks, self.problem.formats, strict=True))


def _after_opening(state: State, number: int) -> float:
    """How late in a day its blocks are poured: in long days, one for each block."""
    day = number * MINUTES_A_DAY
    return sum(turn.blocks * (turn.start - day) / _LONG_DAY for turn in state.turns if turn.start >= day)


def _best(parts: list[Part]) -> list[Part]:
    """The best ones first, each unlike the others."""
    found: dict[float, Part] = {}
    for part in parts:
        found.setdefault(part.worth, part)
    return sorted(found.values(), key=lambda part: -part.worth)[:_SHORTER]
