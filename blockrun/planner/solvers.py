"""Where the solver runs: in this process, or in one beside it that cannot take this one along."""

from __future__ import annotations

import threading
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final, Protocol

from blockrun.errors import NoPlanInTime
from blockrun.optimiser.best import Known
from blockrun.optimiser.changed import Last
from blockrun.optimiser.outcome import Outcome
from blockrun.optimiser.sawing.plan import Settled, ToSaw
from blockrun.optimiser.state import State
from blockrun.planner.beside import SOLVES, Beside, DiedError
from blockrun.planner.plan import Stop

if TYPE_CHECKING:
    from blockrun.planner.brief import Brief

Tell = Callable[[Known], None]

SEARCH: Final = f"{SOLVES}:search"
SAW: Final = "blockrun.optimiser.sawing.settle:settle"


class Solver(Protocol):
    """Settles how slabs are sawn, and searches; ``stop`` is asked all the time."""

    @property
    def stop(self) -> Stop:
        """Says when to hand over what there is."""
        ...

    def saw(self, found: Sequence[ToSaw], seed: int) -> tuple[Settled, ...]:
        """Saw plans for blocks that slabs give."""
        ...

    def search(self, asked: Brief, seed: int, rounds: int, tell: Tell) -> Outcome:
        """Look for the best plan; ``tell`` hears of each better one and of each bound."""
        ...


@dataclass(frozen=True)
class Here:
    """In this process; ``last`` is the answer to begin from, if there is one."""

    stop: Stop
    last: Last | None = None

    def saw(self, found: Sequence[ToSaw], seed: int) -> tuple[Settled, ...]:
        """Saw plans for blocks that slabs give."""
        from blockrun.optimiser.sawing.settle import settle

        return settle(found, seed, stop=self.stop)

    def search(self, asked: Brief, seed: int, rounds: int, tell: Tell) -> Outcome:
        """Look for the best plan."""
        from blockrun.optimiser.entry import search

        limits = asked.limits if asked.history is None else None
        return search(
            asked.problem,
            seed,
            rounds,
            *_on(asked),
            stop=self.stop,
            tell=tell,
            limits=limits,
            alone=True,
            last=self.last,
        )


@dataclass(frozen=True)
class Apart:
    """In a process beside this one, which imports nothing that solves.

    Attributes
    ----------
    work, saws : what searches and what settles saw plans there, ``module:function``.
    meanwhile : done in this process as the search begins.
    """

    stop: Stop
    beside: Beside
    work: str = SEARCH
    meanwhile: Callable[[], None] = lambda: None
    saws: str = SAW

    def saw(self, found: Sequence[ToSaw], seed: int) -> tuple[Settled, ...]:
        """Saw plans for blocks that slabs give.

        Raises
        ------
        NoPlanInTime : it was not done in time after it was asked to stop; without saw plans there is no plan.
        """
        try:
            settled = self.beside.do(self.saws, found, seed, stop=self.stop, tell=lambda _: None)
        except DiedError as death:
            if not death.ended:
                raise
            todo = "Give it longer with --seconds, on a machine that is not busy."
            raise NoPlanInTime("no plan was found in the time given", todo) from death
        assert isinstance(settled, tuple)
        return settled

    def search(self, asked: Brief, seed: int, rounds: int, tell: Tell) -> Outcome:
        """Look for the best plan; where the process dies the best one it told of is kept.

        Raises
        ------
        DiedError : it died before it told of one, and another one that does little died too.
        """
        threading.Thread(target=self.meanwhile, daemon=True).start()
        try:
            return self._searched(self.beside, asked, seed, rounds, tell)
        except DiedError as death:
            with Beside() as another:
                outcome = self._searched(another, asked, seed, 0, tell)
            return replace(outcome, broke=outcome.broke or str(death))

    def _searched(self, beside: Beside, asked: Brief, seed: int, rounds: int, tell: Tell) -> Outcome:
        last: list[Known] = []

        def heard(known: Known) -> None:
            last[:] = [known]
            tell(known)

        try:
            outcome = beside.do(self.work, asked.problem, seed, rounds, *_on(asked), stop=self.stop, tell=heard)
        except DiedError as death:
            found = last[0].found() if last else None
            if found is None and not self.stop():
                raise
            return Outcome(found, broke=None if death.ended else str(death))
        assert isinstance(outcome, Outcome)
        return outcome


def _on(asked: Brief) -> tuple[State | None, ...]:
    """What the search goes on from, and what the plan before still had, where the job has begun."""
    return () if asked.history is None else (asked.history.state, asked.old)
