"""A plan that is audited and there in time, whatever becomes of the search."""

from __future__ import annotations

import contextlib
import math
from collections import deque
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from importlib import import_module
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadPlan, NoPlanInTime
from blockrun.planner.beside import PATIENCE_S, Beside
from blockrun.planner.make import searched
from blockrun.planner.plan import Plan, Report, Stop, ignore, never
from blockrun.planner.solvers import SEARCH, Apart
from blockrun.planner.wanted import wanted

if TYPE_CHECKING:
    from datetime import date

    from blockrun.optimiser.best import Found, Known
    from blockrun.order import Order
    from blockrun.planner.begun.old import GoingOn
    from blockrun.planner.brief import Brief
    from blockrun.site import Site

OVERRUN_S: Final = 2.0
"""So much longer than it was given may a run take, all in all."""

_MARGIN_S: Final = 0.3
_INSTEAD_S: Final = PATIENCE_S - _MARGIN_S
_LIKELY: Final = 0.75
"""The share of what is reserved for finishing a plan that it takes (measured)."""
_KEPT: Final = 4
_S_AT_LEAST: Final = 0.2
_S_A_BLOCK: Final = 0.3e-3
_SAVED_TOO: Final = 2.0
"""A plan is written out and audited in half the time that it takes to have it saved as well (measured: in 0.65)."""


@dataclass
class TimeAllowed:
    """Until when to search, so that the plan is saved in time.

    Parameters
    ----------
    now : reads a clock, in seconds.
    until : what it reads when the time is over that was given; the plan may be there two seconds later.
    """

    now: Callable[[], float] = lambda: 0.0
    until: float = math.inf
    _to_finish_s: float = 0.0

    def expect(self, blocks: int) -> None:
        """A guess until it is measured."""
        self._to_finish_s = _S_AT_LEAST + blocks * _S_A_BLOCK

    @contextlib.contextmanager
    def finishing(self) -> Iterator[None]:
        """What is done in here, and the saving, has to be done once more at the end."""
        began = self.now()
        yield
        self._to_finish_s = _SAVED_TOO * (self.now() - began)

    def over(self, *, without: bool = False) -> bool:
        """Whether the search had better stop now; ``without`` a plan it may look for one as long as it can be saved."""
        if without:
            longest = min(_INSTEAD_S, OVERRUN_S - _MARGIN_S - _LIKELY * self._to_finish_s)
            return self.now() >= max(self._last, self.until + longest)
        return self.now() >= self._last

    def room(self) -> bool:
        """Whether a plan may be finished only to see how long that takes."""
        return self.now() + self._to_finish_s < self._last

    @property
    def _last(self) -> float:
        return self.until - max(0.0, PATIENCE_S + self._to_finish_s + _MARGIN_S - OVERRUN_S)


_BROKE: Final = "The search broke down: {}. This is the best plan it had found, and what it had proven by then."
_REFUSED: Final = (
    "Our own audit refused the best plan ({}). This is the best one that passes; please send us the site and order."
)


class _EnoughError(Exception):
    """There is a plan, and no time for a better one."""


class _RefusedError(Exception):
    """A plan that is wrong, and what is."""

    def __init__(self, findings: list[str]) -> None:
        super().__init__("\n".join(findings))
        self.findings = findings


@dataclass
class Guard:
    """Keeps the plans that a search tells of, and hands over the best that passes the audit.

    Attributes
    ----------
    time : that is allowed; ``stop`` ends it sooner.
    repeatable : a plan that ran out of time is none.
    on : what the plan goes on from, where the job has begun; the site is then as it is by now.
    carried_on : what the plan before would reach, carried on as it is, by stage; None where that is not known.
    """

    time: TimeAllowed
    stop: Stop = never
    progress: Report = ignore
    seed: int = 0
    rounds: int = 3
    repeatable: bool = False
    on: GoingOn | None = None
    carried_on: Mapping[str, int | float | date] | None = field(default=None, init=False)
    _kept: deque[Known] = field(default_factory=lambda: deque(maxlen=_KEPT))
    _passed: Plan | None = None
    _ran_out: bool = False

    def plan(self, site: Site, order: Order, beside: Beside, work: str = SEARCH) -> Plan:
        """The best plan found that passes the audit.

        Parameters
        ----------
        beside : searches; it need not live to the end.
        work : what it does, ``module:function``.

        Raises
        ------
        As ``make_plan``, and besides
        DiedError : the search broke down before there was a plan.
        BadPlan : all plans failed the audit.
        """
        self.time.expect(sum(line.count for line in wanted(site, order, self.on.begun if self.on else None)))
        solver = Apart(self.stopped, beside, work, _make_ready)
        try:
            asked, outcome = searched(site, order, solver, self._heard, self.seed, self.rounds, self.on)
        except _EnoughError:
            assert self._passed is not None
            plan = self._passed
        else:
            assert outcome.found is not None
            plan = self._best(asked, outcome.found, outcome.broke)
            if outcome.carried_on is not None:
                from blockrun.planner.finished import reached

                self.carried_on = reached(asked, outcome.carried_on)
        if self.repeatable and self._ran_out:
            todo = "Give it longer, or leave --seconds out."
            raise NoPlanInTime("planning took longer than --seconds, so not repeatable; nothing was saved", todo)
        return plan

    def stopped(self) -> bool:
        """Whether the search is to hand over what it has."""
        self._ran_out = self._ran_out or self.time.over(without=not self._kept)
        return self._ran_out or self.stop()

    def _heard(self, asked: Brief, known: Known) -> None:
        from blockrun.planner.finished import report

        report(self.progress, asked, known)
        if self._kept and self._kept[-1].best == known.best:
            self._kept.pop()
        self._kept.append(known)
        if self._passed is None and self.time.room():
            self._try(asked, known)

    def _try(self, asked: Brief, known: Known) -> None:
        """Finish a first plan beside the search: there is one then, and it is known how long that takes."""
        _make_ready()
        with self.time.finishing(), contextlib.suppress(_RefusedError):
            self._passed = self._audited(asked, known.found())
        if self._passed and self.stopped():
            raise _EnoughError

    def _best(self, asked: Brief, last: Found, broke: str | None) -> Plan:
        said = [_BROKE.format(broke)] if broke else []
        earlier = (known.found() for known in reversed(self._kept) if known.best != last.score)
        refused: list[_RefusedError] = []
        for found in (last, *earlier):
            try:
                plan = self._audited(asked, found)
            except _RefusedError as why:
                refused.append(why)
            else:
                said += [_REFUSED.format(refused[0].findings[0])] if refused else []
                return replace(plan, warnings=(*said, *plan.warnings))
        raise BadPlan("\n".join(["its own audit refuses the plan", *refused[0].findings])) from refused[0]

    def _audited(self, asked: Brief, found: Found) -> Plan:
        """The whole plan, if it passes."""
        from blockrun.planner.audited import findings_in
        from blockrun.planner.finished import finished

        try:
            plan = finished(asked, found, self.seed)
            findings = findings_in(plan)
        except Exception as error:  # an answer may be wrong in such a way that it cannot even be written down
            raise _RefusedError([f"it cannot be written down: {type(error).__name__}: {error}"]) from error
        if findings:
            raise _RefusedError([str(finding) for finding in findings])
        return plan


def _make_ready() -> None:
    """Import what finishes a plan, which takes longer than to finish a small one, while there is nothing else to do."""
    for module in ("finished", "audited", "saved"):
        import_module(f"blockrun.planner.{module}")
