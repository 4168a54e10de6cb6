"""Planning as commands do it: beside this process, with progress, audited, and there in time."""

from __future__ import annotations

import contextlib
import math
import os
import platform
import sys
import time
from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, Final

from blockrun import __version__
from blockrun.cli.clock import stamp
from blockrun.errors import BadPlan
from blockrun.terminal import BugError, most_memory_mb, wait_for

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.planner.as_read import AsRead
    from blockrun.planner.begun.old import GoingOn
    from blockrun.planner.guard import Guard
    from blockrun.planner.plan import Plan, Progress
    from blockrun.site import Site

ROUNDS: Final = 3
ON_AND_ON: Final = sys.maxsize

Asked = tuple["Site", "Order", "GoingOn | None"]
"""What is to be planned, and what it goes on from, where the job has begun."""


def planned(
    read: Callable[[], Asked | None],
    save: Callable[[Plan, Guard, dict[str, object], AsRead], None],
    seconds: float | None,
    *,
    repeatable: bool = False,
    rounds: int = ROUNDS,
) -> Plan | None:
    """Plan and save; nothing is saved unless the audit finds nothing.

    Parameters
    ----------
    read : the files, while what solves makes itself ready beside; None where there is nothing to plan.
    save : what came of it, with what may differ between two runs that make the same plan, and the files it is of.
    seconds : allowed from now on; None for as long as it takes.

    Raises
    ------
    BugError : our own audit refused all plans, or what solves died.
    """
    began = time.monotonic()
    from blockrun.planner.beside import SOLVES, Beside, DiedError

    with Beside(SOLVES, loud=bool(os.environ.get("BLOCKRUN_DEBUG"))) as beside:
        from blockrun.planner.as_read import AsRead
        from blockrun.planner.guard import Guard, TimeAllowed

        asked = read()
        if asked is None:
            return None
        site, order, on = asked
        files = AsRead.of(site.sources, order.sources)
        allowed = TimeAllowed(time.monotonic, math.inf if seconds is None else began + seconds)
        guards: list[Guard] = []

        def work(stop: Callable[[], bool], tell: Callable[[str], None]) -> Plan:
            guard = Guard(
                allowed,
                stop,
                lambda known: tell(_progress_said(known, site.units)),
                rounds=rounds,
                repeatable=repeatable,
                on=on,
            )
            guards.append(guard)
            return guard.plan(site, order, beside)

        with _ours_to_mend(DiedError):
            made = wait_for(work, until=None, doing="planning", kept="a plan found so far is kept")
    with _ours_to_mend():
        save(made, guards[-1], _run(time.monotonic() - began, seconds), files)
    return made


@contextlib.contextmanager
def _ours_to_mend(*more: type[Exception]) -> Iterator[None]:
    """A plan that is refused once it is made is a fault of ours, not of what was read."""
    faults: tuple[type[Exception], ...] = (BadPlan, *more)
    try:
        yield
    except faults as fault:
        raise BugError(f"{fault}\n  Nothing was saved.") from fault


def _progress_said(known: Progress, units: str) -> str:
    from blockrun.show.summary import progress_said

    return progress_said(known, units)


def _run(took_s: float, limit_s: float | None) -> dict[str, object]:
    """Note what may differ between two runs that make the same plan."""
    from importlib.metadata import version

    return {
        "when": stamp().isoformat(timespec="seconds"),
        "seconds": round(took_s, 3),
        "seconds_allowed": limit_s,
        "memory_mb": most_memory_mb(),
        "versions": {
            "blockrun": __version__,
            "python": platform.python_version(),
            **{name: version(name) for name in ("numpy", "ortools", "pandas")},
        },
        "platform": platform.platform(),
        "compiled": _is_compiled(),
    }


def _is_compiled() -> bool:
    """Whether plays were compiled when blockrun was installed, and so take half as long."""
    from importlib.util import find_spec

    found = find_spec("blockrun.optimiser.quick.play")
    return found is not None and not (found.origin or "").endswith(".py")
