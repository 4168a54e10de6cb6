"""All changes of a yard tried one by one, the best first, and then pairs of the best."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import reduce
from itertools import combinations
from typing import TYPE_CHECKING, Final

from blockrun.errors import NoPlanInTime, OutOfRange
from blockrun.planner.inputs import check_inputs
from blockrun.planner.plan import Stop, never
from blockrun.planner.wanted import wanted
from blockrun.planner.whatif.changes import Change, changes
from blockrun.planner.whatif.gains import Saved, days_saved, late_saved
from blockrun.planner.whatif.side_by_side import SideBySide
from blockrun.planner.whatif.solved import Answer, Job, Promise, Refused, Solved

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.site import Site

_PAIRED: Final = 3
"""So many of the best changes are tried two by two."""


@dataclass(frozen=True)
class Trial:
    """One change, or two at once, and what came of them."""

    changes: tuple[Change, ...]
    answer: Answer

    @property
    def said(self) -> str:
        """The changes in words."""
        return " and ".join(change.said for change in self.changes)


@dataclass(frozen=True)
class Tried:
    """What came of all changes.

    Attributes
    ----------
    now : the yard as it is.
    single, pairs : best first.
    unsolved : changes there was no time for.
    cut_short : whether there was no time for all of the work on the yard as it is.
    is_quick : whether there was time for little work on each alone.
    """

    now: Answer
    single: tuple[Trial, ...]
    pairs: tuple[Trial, ...]
    unsolved: tuple[str, ...]
    cut_short: bool = False
    is_quick: bool = False

    @property
    def is_whole(self) -> bool:
        """Whether there was time for all of it."""
        return not self.unsolved and not self.cut_short

    def late_saved(self, trial: Trial) -> Saved | None:
        """Block-days late saved; ``None`` where there is no plan before or after."""
        return self._saved(late_saved, trial)

    def days_saved(self, trial: Trial) -> Saved | None:
        """Days by which the last pour comes sooner; ``None`` where there is no plan before or after."""
        return self._saved(days_saved, trial)

    def _saved(self, of: Callable[..., Saved], trial: Trial) -> Saved | None:
        both = isinstance(self.now, Solved) and isinstance(trial.answer, Solved)
        allows_more = all(change.allows_more for change in trial.changes)
        return of(self.now, trial.answer, allows_more=allows_more) if both else None

    def worth_pairing(self, trial: Trial) -> bool:
        """Whether there is a plan, and it is not proved that nothing is saved."""
        saved = self.late_saved(trial), self.days_saved(trial)
        return isinstance(trial.answer, Solved) and not all(each and each.none_possible for each in saved)


def try_changes(
    site: Site,
    order: Order,
    *,
    rounds: int = 0,
    workers: int = 1,
    stop: Stop = never,
    tell: Callable[[str], None] = lambda _: None,
    offered: Sequence[Change] | None = None,
) -> Tried:
    """Solve the order on the yard as it is and with each change, then with pairs of the best three.

    The changes of which arithmetic says at once that they gain nothing are told first, then those are solved that may
    gain most; the former are in no pair.

    Parameters
    ----------
    site, order : as loaded.
    rounds : of playing on for each, >= 0, as for a plan.
    workers : processes, >= 1; the answers are the same with any number.
    stop : asked all the time; what is solved by then is returned.
    tell : hears in words how far it is.
    offered : changes to try, else all that make sense.

    Raises
    ------
    BadInput : the site or the order cannot be right; OutOfRange : no worker.
    NoPlanInTime : it was stopped before the yard as it is was solved.
    """
    if workers < 1:
        raise OutOfRange("workers is under 1", name="workers", value=workers, limit=1)
    lines = wanted(site, order)
    check_inputs(site, order, lines)
    single = [(change,) for change in (changes(site, order, lines) if offered is None else offered)]
    known: Known = {}

    def look(of: Sequence[tuple[Change, ...]], words: str) -> tuple[Trial, ...]:
        jobs = {each: Job(_changed(site, each), _to_beat(known, each), cut_short=not each) for each in of}
        if len(of) > 1:
            jobs = _in_order(jobs, solver.promised([*jobs.values()]))
        answers = solver.solve([*jobs.values()], lambda n: tell(f"{words}: {n} of {len(of)}"))
        known.update(zip(jobs, answers, strict=True))
        return _best_first(known, of)

    with SideBySide(order, rounds, workers, stop) as solver:
        look([()], "the yard as it is")
        now, cut_short = known[()], stop()
        if now is None:
            raise NoPlanInTime("there was no time to solve the yard as it is", "Give it longer with --seconds.")
        tried = Tried(now, look(single, "changes solved"), (), (), cut_short)
        best = [trial for trial in tried.single if tried.worth_pairing(trial)][:_PAIRED]
        pairs = look([(*one.changes, *two.changes) for one, two in combinations(best, 2)], "pairs solved")
    return replace(tried, pairs=pairs, unsolved=tuple(_said(each) for each, answer in known.items() if answer is None))


def _in_order(jobs: Jobs, promises: Sequence[Promise | None]) -> Jobs:
    """Those that arithmetic rules out, which takes a glance; those that it allows most; those of which it says nothing.

    A search takes fifty times as long as that (measured): where time is short, most would be left without an answer.
    """

    def rank(of: tuple[tuple[tuple[Change, ...], Job], Promise | None]) -> tuple[int, Promise]:
        (_, job), promise = of
        if promise is None:
            return 2, Promise(0, 0)
        return int(not job.rules_out(promise)), promise

    return dict(job for job, _ in sorted(zip(jobs.items(), promises, strict=True), key=rank))


def _changed(site: Site, of: tuple[Change, ...]) -> Site:
    return reduce(lambda changed, change: change.make(changed), of, site)


Known = dict[tuple[Change, ...], Answer | None]
Jobs = dict[tuple[Change, ...], Job]


def _best_first(known: Known, of: Sequence[tuple[Change, ...]]) -> tuple[Trial, ...]:
    trials = [Trial(each, _no_worse(known, each, answer)) for each in of if (answer := known[each]) is not None]
    return tuple(sorted(trials, key=_worth))


def _to_beat(known: Known, of: tuple[Change, ...]) -> Solved | None:
    """The best that is known without one of the changes, where its plan is one with the change, too."""
    without = [known.get(tuple(each for each in of if each != change)) for change in of if change.allows_more]
    return min((each for each in without if isinstance(each, Solved)), key=lambda each: each.stages, default=None)


def _no_worse(known: Known, of: tuple[Change, ...], answer: Answer) -> Answer:
    """Where a change only allows more, a plan without it is a plan with it, too; bounds stay its own."""
    beat = _to_beat(known, of)
    if beat is None or (answer.by_audit if isinstance(answer, Refused) else answer.stages <= beat.stages):
        return answer
    if isinstance(answer, Refused):
        return beat
    return replace(beat, least_late=answer.least_late, soonest_finish=answer.soonest_finish)


def _worth(trial: Trial) -> tuple[object, ...]:
    """Smaller is better: what is reached, then what may be."""
    answer = trial.answer
    if isinstance(answer, Refused):
        return (1,)
    return (0, *answer.stages, answer.least_late, answer.soonest_finish)


def _said(of: tuple[Change, ...]) -> str:
    return " and ".join(change.said for change in of)
