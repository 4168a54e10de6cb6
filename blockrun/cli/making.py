"""Commands that make a plan: of one's own files, or of the example."""

from __future__ import annotations

import math
import os
import platform
import shlex
import sys
import time
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

import typer

from blockrun import __version__
from blockrun.cli.options import PLAN_SECONDS, OrderFile, SiteFile, time_allowed
from blockrun.errors import BadPlan
from blockrun.terminal import BugError, most_memory_mb, say, screen, wait_for

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan, Progress

DEMO_SECONDS: Final = 24
_ROUNDS: Final = 3
_ON_AND_ON: Final = sys.maxsize


def plan(
    site: SiteFile,
    order: OrderFile,
    out: Annotated[Path, typer.Option(metavar="DIR", help="Where to save the plan.")],
    seconds: Annotated[
        str | None,
        typer.Option(metavar="S", help="Go on for so long, or until all is proven; else until it seldom gets better."),
    ] = None,
    repeatable: Annotated[
        bool,
        typer.Option(
            "--repeatable", help="The same plan on every run, however long it takes; if over --seconds, none."
        ),
    ] = False,
    replace: Annotated[bool, typer.Option("--replace", help="Replace the plan that is there.")] = False,
) -> None:
    """Make a plan for an order and save it: every pour, strip, move and batch, and how near the best possible it is.

    SITE is a YAML file of what the yard has, ORDER one of what is to be built.
    """
    allowed = time_allowed(seconds) or (None if repeatable else PLAN_SECONDS)
    rounds = _ON_AND_ON if seconds and not repeatable else _ROUNDS
    _plan_and_save(site, order, out, allowed, replace=replace, repeatable=repeatable, rounds=rounds)


def demo(
    out: Annotated[Path, typer.Option(metavar="DIR", help="Where to save the plan; replaced on each run.")] = Path(
        "demo-plan"
    ),
) -> None:
    """Plan the bundled example, an invented yard, and print its days."""
    from blockrun.show.days import days_text

    example = _examples() / "demo"
    made = _plan_and_save(example / "site.yaml", example / "order.yaml", out, DEMO_SECONDS, replace=True)
    say("")
    say(days_text(made, screen().width))
    say(f"\nThe example lies in {example}, its plan in {out}.")


def _plan_and_save(
    site: Path,
    order: Path,
    out: Path,
    seconds: float | None,
    *,
    replace: bool,
    repeatable: bool = False,
    rounds: int = _ROUNDS,
) -> Plan:
    """Plan, save, and print the summary; nothing is written unless the audit finds nothing."""
    began = time.monotonic()
    from blockrun.planner.beside import SOLVES, Beside, DiedError

    try:
        with Beside(
            SOLVES, loud=bool(os.environ.get("BLOCKRUN_DEBUG"))
        ) as beside:  # begun first of all: it makes ready while this process reads the files
            from blockrun.order import load_order
            from blockrun.planner.folder import check_free
            from blockrun.planner.guard import Guard, TimeAllowed
            from blockrun.site import load_site

            check_free(out, replace=replace)
            yard, wanted = load_site(site), load_order(order)
            allowed = TimeAllowed(time.monotonic, math.inf if seconds is None else began + seconds)
            made = wait_for(
                lambda stop, tell: Guard(
                    allowed,
                    stop,
                    lambda known: tell(_progress_said(known, yard.units)),
                    rounds=rounds,
                    repeatable=repeatable,
                ).plan(yard, wanted, beside),
                until=None,
            )
        from blockrun.planner.saved import save_plan

        save_plan(made, out, replace=replace, run=_run(time.monotonic() - began, seconds))
    except (BadPlan, DiedError) as fault:
        raise BugError(f"{fault}\n  Nothing was saved.") from fault
    from blockrun.show.summary import summary_text

    takeoff_it = shlex.join(["blockrun", "takeoff", str(order), "--site", str(site)])
    say(summary_text(made, screen().width, str(out), takeoff_it))
    return made


def _progress_said(known: Progress, units: str) -> str:
    from blockrun.show.summary import progress_said

    return progress_said(known, units)


def _examples() -> Path:
    """Find the examples, inside an installed package or beside it in a working copy."""
    package = Path(__file__).parent.parent
    return next(place for place in (package / "examples", package.parent / "examples") if place.is_dir())


def _run(took_s: float, limit_s: float | None) -> dict[str, object]:
    """Note what may differ between two runs that make the same plan."""
    from importlib.metadata import version

    return {
        "when": datetime.now().astimezone().isoformat(timespec="seconds"),
        "seconds": round(took_s, 3),
        "seconds_allowed": limit_s,
        "memory_mb": most_memory_mb(),
        "versions": {
            "blockrun": __version__,
            "python": platform.python_version(),
            **{name: version(name) for name in ("numpy", "ortools", "pandas")},
        },
        "platform": platform.platform(),
    }
