"""The search: a first plan soon, better ones as long as they come, and how good a plan can be.

Quick plays make the plans, whatever the size, while bounds are worked out beside them. Both are the same however fast
the machine is; only ``stop``, which is asked all the time, can make an answer differ.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, replace
from itertools import count

from blockrun.optimiser.best import Best, Found, Known
from blockrun.optimiser.bounding import Bounding
from blockrun.optimiser.bounds import Bounds
from blockrun.optimiser.changed import Last, kept
from blockrun.optimiser.engine import Effort
from blockrun.optimiser.exact.exact import Exact
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.otherwise import DAYS, Otherwise
from blockrun.optimiser.plays import LATEST, Play, Plays
from blockrun.optimiser.problem import MINUTES_A_DAY, Problem
from blockrun.optimiser.quick.fewer import with_fewer
from blockrun.optimiser.quick.follow import followed
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.quick.laps import Laps
from blockrun.optimiser.quick.second import Second, Task
from blockrun.optimiser.quick.tries import NEVER_MIND, Pool, Tried, Tries
from blockrun.optimiser.rounds import Length, Round
from blockrun.optimiser.score import BATCHES, CEMENT, FINISH, Score, score
from blockrun.optimiser.state import State

_SOON = 120
_SHORTER = 3
_PLAYS_FOR_A_FIRST = 40
_BESIDE_BOUNDS = 0.6
"""Share of the second player while the first one's process works out bounds too."""
_FOR_LAPS, _NEARLY = 4, 5
"""Times as many plays where they are put together lap by lap and rounds are few: one that is too short wins nothing.
Where so few blocks are left on the last day of the nearest plan, that is worth it more than once."""
_SLOW: tuple[Callable[[Plays], list[Play]], ...] = (
    # by the day and the minute, where no quick play comes to anything
    lambda plays: [plays.foreman(LATEST, patient=False)],
    lambda plays: [plays.foreman(_SOON), plays.foreman(_SOON, thrifty=True)],
)


@dataclass(eq=False)
class Way:
    """Plays that go on from one yard, and the best plans that do."""

    tries: Tries
    known: Pool


@dataclass
class Search:
    """One search; ``report`` hears of each better plan and each bound. ``rounds`` of playing on at the most.

    ``alone`` keeps it to one process; the plan is the same. ``last`` is the answer to a problem that differs little:
    where its first days can stay, they do, and the search is a short one. ``old`` is what a plan that some follow
    still had: plans that follow it to its end, for two days, for one and not at all are sought side by side.
    """

    problem: Problem
    limits: Limits
    effort: Effort
    report: Callable[[Known], None]
    rounds: int = 3
    alone: bool = True
    last: Last | None = None
    old: State | None = None

    def __post_init__(self) -> None:
        """Nothing is known yet."""
        self.tries = Tries(Ground(self.problem, self.limits), self.effort.seed, self.effort.stop)
        self.plays = Plays(self.problem, self.limits, self.effort)
        self.bounds = Bounds(self.problem, self.limits, self.effort)
        changes = Otherwise(self.problem, self.old) if self.old else lambda _: 0
        self.best = Best(self.report, changes)
        self.ways = [Way(self.tries, Pool([]))]
        self.carried_on: Score | None = None
        self._sooner = 0
        self._fewest: Tried | None = None
        self._lapped = False

    def run(self) -> Found | None:
        """The best plan found; ``None`` when there is none, or no time for one."""
        second = Second(self.problem, self.tries)
        if not self.alone and self.tries.for_two:
            second.come()
        self._bound_at_once()
        try:
            self._open(second)
            if self.best.state is not None:
                self.best.raise_bound(BATCHES, self.limits.weighing.fewest_batches)
                self.best.raise_bound(CEMENT, self.limits.weighing.least_cement)
                self._rounds(second)
        finally:
            second.close()
        return self.best.found()

    def _bound_at_once(self) -> None:
        """What is done is done, and what is left is poured from the first day on: known of a search ended soon, too."""
        begun = self.limits.begun
        last = [batch.start // MINUTES_A_DAY for batch in begun.batches]
        to_come = [self.problem.days[0].number] if any(begun.left_to_pour(self.problem)) else []
        self.best.raise_bound(FINISH, max(last + to_come, default=0))
        self.best.raise_bound(BATCHES, len(begun.batches))
        self.best.raise_bound(CEMENT, begun.cement())

    def _rounds(self, second: Second) -> None:
        """Rounds of playing on, until all is proven or there have been enough."""
        bounding = Bounding(self.best, self.bounds)
        try:
            for number in count():
                # plans as good that change less are looked for once
                done = self.best.reached() and (number > 0 or not self.best.changed)
                now = self._round(number)
                if done or number > now.last:
                    break
                if number > 0 and not self.alone:
                    second.come()
                before = self.best.score.finish
                bounding.ask(number, last_day_stands=now.last_day_stands)
                self._play_on(second, now, _BESIDE_BOUNDS if bounding.is_asked else 0.5)
                if not now.chases and now.length < Length.LONG:
                    self._with_fewer()
                if now.is_due(bounding.asked_in, leads_on=bounding.leads_on):
                    bounding.wait()
                if self.best.score.finish < before:
                    self._sooner = number
                if self.effort.stop():
                    break
        finally:
            bounding.wait()
            bounding.close()

    def _round(self, number: int) -> Round:
        """A round as things stand."""
        return Round(
            number,
            self.rounds,
            self.tries.length(self._days),
            in_time=self.best.score.late == 0 or self.best.reached(FINISH),
            proven=self.best.reached(BATCHES),
            sooner=self._sooner,
            shortened=self._shortened,
            fewest=self.best.score.batches <= self.limits.weighing.fewest_batches,
        )

    # plans

    def _open(self, second: Second) -> None:
        if self.old:
            self._follow(self.old)
        begun = kept(self.last, self.problem) if self.last else None
        if begun:
            for tried in self.tries.openings(begun):
                self._keep(tried)
        self._shortened = begun is not None and self.best.state is not None
        if self._shortened:
            self.ways[0].tries = self.tries.going_on(begun)
        if not self._shortened:
            self._play_openings(second)
        self._solve_small()
        if self.best.state is None:
            self.tries.improved((), _PLAYS_FOR_A_FIRST, "open", self._keep)
        for slow in _SLOW:
            if self.best.state is None:
                self._play(*slow(self.plays))
        if self.best.state is None and not self.bounds.stock_is_short:
            # where cement or agent is scarce, only counting ahead makes it last
            self._play(self.plays.saving(4), self.plays.saving(2))

    def _play_openings(self, second: Second) -> None:
        """Set policies: the first, so that there is a plan soon, then half of the others by the second player."""
        first, *rest = range(self.tries.n_openings)
        for tried in self.tries.openings(numbers=(first,)):
            self._keep(tried)
        half = (len(rest) + 1) // 2
        ours, theirs = Task(openings=tuple(rest[:half])), Task(openings=tuple(rest[half:]))
        second.ask(theirs)
        ours.done_by(self.tries, self._keep)
        for tried in second.answer():
            self._keep(tried)

    def _follow(self, old: State) -> None:
        """The old plan to its end, and ways to go on once it was followed for some days, the longest first."""
        found = followed(self.tries.ground, old, DAYS, self.effort.stop)
        for morning in reversed(found.mornings):
            self.ways.append(Way(self.tries.going_on(morning), Pool([])))
        if found.plan is not None:
            self.carried_on = score(self.problem, found.plan)
            for way in self.ways:
                self._keep(Tried(found.plan, self.carried_on), way)
        for way in self.ways[1:]:
            for tried in way.tries.openings():
                self._keep(tried, way)

    def _solve_small(self) -> None:
        """A small order is solved outright, with a bound of each stage come to."""
        exact = Exact(self.problem, self.limits, self.effort)
        proven = exact.solve(self.best.state) if exact.fits else None
        if proven is not None:
            of_state = score(self.problem, proven.state)
            self._keep(Tried(proven.state, of_state))
            for stage, least in enumerate(proven.bounds):
                self.best.raise_bound(stage, least, of_state)

    def _play(self, *plays: Play) -> None:
        with ThreadPoolExecutor(2) as pool:
            for state in pool.map(lambda play: play(), plays):
                if state is not None:
                    self._keep(Tried(state, score(self.problem, state)))

    @property
    def _days(self) -> int:
        """Days of the best plan, from the first to its last pour."""
        return 1 + self.problem.position(self.best.score.finish)

    def _play_on(self, second: Second, now: Round, share: float) -> None:
        """What is known played on, a share by the second player; ways that follow an old plan have a half of all."""
        soonest = (self.best.bound(FINISH) or 0) if now.chases else NEVER_MIND
        plays, name = self.tries.worth_while(self._days), f"round {now.number}"
        plays = plays // _SHORTER if self._shortened else plays
        free, *bound = self.ways
        for place, way in enumerate(bound):
            of_way = plays // 2 // len(bound)
            self._share(
                way, Task(way.known.all, of_way, f"{name} way {place}", soonest, way.tries.begun), second, share
            )
        of_all, begun = plays // 2 if bound else plays, free.tries.begun if self._shortened else None
        laps = self._in_laps(now, soonest)
        if laps and now.length == Length.SOME_SECONDS:
            # they take long, so once they were tried they are worth it only for the last few blocks
            laps = not self._lapped or free.known.near[0].on_last_day <= _NEARLY
            of_all *= _FOR_LAPS if laps else 1
            self._lapped = True
        self._share(free, Task(free.known.all, of_all, name, soonest, begun, laps), second, share)

    def _with_fewer(self) -> None:
        """The best plan with fewer batches; each plan is looked at once."""
        best = self.ways[0].known.best
        if best is not self._fewest and not self.best.reached(BATCHES + 1):
            state = with_fewer(self.tries.ground, best.state, self.effort.stop)
            if state is not best.state:
                self._keep(replace(best, state=state, score=score(self.problem, state)))
            self._fewest = self.ways[0].known.best

    def _in_laps(self, now: Round, soonest: int) -> bool:
        """Whether plans are to be put together lap by lap, for a day sooner than that of the best."""
        if self.best.score.finish <= soonest or not self.tries.for_laps(self._days):
            return False
        laps = Laps(self.ways[0].tries, self.ways[0].known.all)
        return len(laps.all) > 1 and now.may_have_laps(by_day=laps.by_day)

    def _share(self, way: Way, task: Task, second: Second, share: float) -> None:
        """Have a task done by both players."""
        theirs = round(share * task.plays)
        second.ask(replace(task, plays=theirs, name=f"{task.name} second"))
        replace(task, plays=task.plays - theirs).done_by(self.tries, lambda tried: self._keep(tried, way))
        for tried in second.answer():
            self._keep(tried, way)

    def _keep(self, tried: Tried, way: Way | None = None) -> None:
        """A plan of a way is one of the free way too."""
        for of in {self.ways[0], way or self.ways[0]}:
            of.known.keep(tried)
        self.best.keep(tried.state, tried.score)
