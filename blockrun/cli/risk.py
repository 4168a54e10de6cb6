"""The command that plays a saved plan many times over, with things going wrong."""

from __future__ import annotations

import os
import shlex
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blockrun.cli.options import PlanDirectory
from blockrun.terminal import say, screen, wait_for

if TYPE_CHECKING:
    from collections.abc import Callable

    from blockrun.planner.begun import Begun
    from blockrun.planner.plan import Stop
    from blockrun.planner.risk.counted import Risk


def risk(
    directory: PlanDirectory,
    runs: Annotated[
        int | None, typer.Option(metavar="N", min=1, help="How often the plan is played, else 1000 times.")
    ] = None,
    seed: Annotated[int, typer.Option(metavar="N", min=0, help="Of chance: the same seed, the same answer.")] = 0,
    workers: Annotated[
        int | None, typer.Option(metavar="N", min=1, help="Processes at work at once, else as many as there are cores.")
    ] = None,
    cluster: Annotated[
        str | None,
        typer.Option(metavar="ADDRESS", help="A dask scheduler whose workers play instead: tcp://127.0.0.1:8786."),
    ] = None,
    rates: Annotated[
        Path | None, typer.Option(metavar="FILE", help="How often things go wrong; see configs/risk.yaml.")
    ] = None,
    broken: Annotated[
        str | None, typer.Option(metavar="SHARE", help="Of blocks break, all at the strip, as 1%.")
    ] = None,
    flat: Annotated[str | None, typer.Option(metavar="SHARE", help="Of batches go flat.")] = None,
    cold: Annotated[str | None, typer.Option(metavar="SHARE", help="Of days begin a cold snap.")] = None,
    away: Annotated[str | None, typer.Option(metavar="SHARE", help="Of working days a person is missing.")] = None,
    lost: Annotated[str | None, typer.Option(metavar="SHARE", help="Of working days are lost.")] = None,
) -> None:
    """Play a saved plan many times, things going wrong by chance, and tell the chance of each need date.

    DIR is where the plan was saved. Blocks break, batches go flat, it turns cold, people or days are missing, and
    the yard carries on, from where the job stood when the plan was made anew. Ctrl-C counts what is played.
    """
    from blockrun.planner.risk.rates import Rates, load_rates, with_shares
    from blockrun.planner.sound import load_sound_plan
    from blockrun.show.page import Page
    from blockrun.show.risk import risk_text
    from blockrun.units import counted
    from blockrun.yard.answers import USUAL_RUNS, count_risk
    from blockrun.yard.workers import workers as at_work

    told = {"--broken": broken, "--flat": flat, "--cold": cold, "--away": away, "--lost": lost}
    taken = with_shares(Rates() if rates is None else load_rates(rates), told)
    plan = load_sound_plan(directory)
    at_once = workers or os.cpu_count() or 1

    def play(stop: Stop, tell: Callable[[str], None]) -> Risk | None:
        # in here, so that a second Ctrl-C is felt while workers end
        with at_work(at_once, cluster) as executor:
            return count_risk(plan, taken, runs=runs or USUAL_RUNS, seed=seed, executor=executor, stop=stop, tell=tell)

    found = wait_for(play, until=None, doing="playing", kept="the runs played so far count")
    if found is None:
        raise KeyboardInterrupt("Stopped before anything was played.")
    say(risk_text(found, screen().width))
    later = _recorded_since(directory, plan.begun)
    if later:
        page = Page(screen().width)
        count = counted(later, "entry", "entries")
        page.line(f"Recorded since, and not in it: {count}. To play what is left by them, plan anew first:")
        page.verbatim(shlex.join(["blockrun", "replan", str(directory)]), "", 2)
        say(page.text())


def _recorded_since(directory: Path, begun: Begun | None) -> int:
    """How many entries of the journal, but for notes, count and are not in a plan, or are in it and were undone."""
    from blockrun.yard.journal import entries_kept, standing
    from blockrun.yard.journal.events import Note

    entries = entries_kept(directory)
    known = set[str]()
    if begun is not None:
        heard = [one for one in entries if one.number <= begun.last_entry]
        known = {one.key for one in standing(heard) if one.happened <= begun.since}
    otherwise = known ^ {one.key for one in standing(entries)}
    return sum(one.key in otherwise and not isinstance(one.event, Note) for one in entries)
