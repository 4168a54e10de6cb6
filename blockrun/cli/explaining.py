"""Commands that explain: why a plan is late, impossible or no sooner, and what a change of the yard would save."""

from __future__ import annotations

import os
import time
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

import typer

from blockrun.cli.guarded import ROUNDS
from blockrun.cli.options import PLAN_SECONDS, OrderFile, SiteFile, time_allowed
from blockrun.errors import BadInput, NoPlanInTime
from blockrun.terminal import say, screen, wait_for

if TYPE_CHECKING:
    from collections.abc import Container

    from blockrun.planner.plan import Plan
    from blockrun.show.held import Course

_YAML: Final = (".yaml", ".yml")


def why(
    site: Annotated[Path, typer.Argument(metavar="SITE", hidden=True)],
    order: Annotated[Path | None, typer.Argument(metavar="ORDER", hidden=True)] = None,
    seconds: Annotated[
        str | None, typer.Option(metavar="S", help="Time for the quick plan that its days are told of, else 60.")
    ] = None,
) -> None:
    """Explain what clashes when an order cannot be on time, what frees it, and what holds back each day.

    SITE is a YAML file of what the yard has, ORDER one of what is to be built; or SITE alone is where a plan was saved.
    """
    limit = time_allowed(seconds) or PLAN_SECONDS
    if order is None:
        _say_held(_saved(site))
        return
    from blockrun.order import load_order
    from blockrun.planner import make_plan
    from blockrun.planner.why.explain import explain
    from blockrun.show.why import why_text
    from blockrun.site import load_site

    yard, asked = load_site(site), load_order(order)
    said = wait_for(
        lambda stop, tell: explain(yard, asked, stop=stop, tell=tell),
        until=None,
        doing="looking for what clashes",
        kept="what is found by then is told",
    )
    say(why_text(said, yard, screen().width))
    if said.stopped:
        return
    told = {(late.part, late.course, late.needed) for late in said.courses}
    say("\nA quick plan, day by day:\n")
    until = time.monotonic() + limit
    try:
        made = wait_for(lambda stop, _: make_plan(yard, asked, stop=stop, rounds=0), until=until, doing="planning")
        _say_held(made, told)
    except NoPlanInTime as fault:
        say(fault.what)


def whatif(
    site: SiteFile,
    order: OrderFile,
    seconds: Annotated[
        str | None,
        typer.Option(
            metavar="S",
            help="Time for all of it, with less work on each yard where it is short. Else no limit.",
        ),
    ] = None,
    workers: Annotated[
        int | None, typer.Option(metavar="N", min=1, help="Yards solved at once, else as many as there are cores.")
    ] = None,
) -> None:
    """Plan again with one more mould, person, hour and so on, and tell what each saves, best first.

    SITE is a YAML file of what the yard has, ORDER one of what is to be built. Ctrl-C keeps what is solved.
    """
    allowed = time_allowed(seconds)
    until = None if allowed is None else time.monotonic() + allowed
    from blockrun.order import load_order
    from blockrun.planner.whatif.tried import try_changes
    from blockrun.planner.whatif.within import try_changes_within
    from blockrun.show.whatif import whatif_text
    from blockrun.site import load_site

    yard, asked = load_site(site), load_order(order)
    at_once = workers or os.cpu_count() or 1
    try_all = try_changes if until is None else try_changes_within
    tried = wait_for(
        lambda stop, tell: try_all(yard, asked, rounds=ROUNDS, workers=at_once, stop=stop, tell=tell),
        until=until,
        doing="solving",
        kept="what is solved is told",
    )
    say(whatif_text(tried, screen().width, yard.units))


def _saved(folder: Path) -> Plan:
    """A plan that its audit passes; of others nothing is said that may be wrong."""
    from blockrun.planner.sound import load_sound_plan

    if folder.suffix.lower() in _YAML and folder.is_file():
        todo = "Name it after the site: blockrun why SITE ORDER. Or name the folder of a saved plan alone."
        raise BadInput("is a site without its order", todo, file=folder)
    return load_sound_plan(folder)


def _say_held(made: Plan, told: Container[Course] = ()) -> None:
    from blockrun.planner.why.held import held
    from blockrun.show.held import held_text

    late = next(stage.value for stage in made.stages if stage.stage == "block_days_late")
    assert isinstance(late, int)
    say(held_text(held(made), late, screen().width, told, made.site.units))
