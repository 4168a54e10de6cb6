"""Commands that make a plan: of one's own files, or of the example."""

from __future__ import annotations

import contextlib
import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

import typer

from blockrun.cli.guarded import ON_AND_ON, ROUNDS, planned
from blockrun.cli.options import PLAN_SECONDS, OrderFile, SiteFile, time_allowed
from blockrun.errors import BlockrunError
from blockrun.terminal import say, screen

if TYPE_CHECKING:
    from blockrun.cli.guarded import Asked
    from blockrun.planner.guard import Guard
    from blockrun.planner.plan import Plan

DEMO_SECONDS: Final = 24


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
    rounds = ON_AND_ON if seconds and not repeatable else ROUNDS
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
    rounds: int = ROUNDS,
) -> Plan:
    """Plan, save, and print the summary; nothing is written unless the audit finds nothing."""

    def read() -> Asked:
        from blockrun.order import load_order
        from blockrun.planner.folder import check_free
        from blockrun.site import load_site

        check_free(out, replace=replace)
        return load_site(site), load_order(order), None

    def save(made: Plan, guard: Guard, run: dict[str, object]) -> None:
        from blockrun.planner.saved import save_plan

        _keep_recorded(out)
        save_plan(made, out, replace=replace, run=run)

    made = planned(read, save, seconds, repeatable=repeatable, rounds=rounds)
    assert made is not None
    from blockrun.show.summary import summary_text

    takeoff_it = shlex.join(["blockrun", "takeoff", str(order), "--site", str(site)])
    say(summary_text(made, screen().width, str(out), takeoff_it))
    return made


def _keep_recorded(out: Path) -> None:
    """Keep a plan that is replaced by number, where a journal tells of its batches."""
    from blockrun.yard.journal import FILE

    if (out / FILE).exists():
        from blockrun.planner.earlier import set_aside

        with contextlib.suppress(BlockrunError):  # what cannot be read is replaced all the same
            set_aside(out)


def _examples() -> Path:
    """Find the examples, inside an installed package or beside it in a working copy."""
    package = Path(__file__).parent.parent
    return next(place for place in (package / "examples", package.parent / "examples") if place.is_dir())
