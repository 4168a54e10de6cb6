"""Commands that make a plan: of one's own files, or of the example."""

from __future__ import annotations

import contextlib
import shlex
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final

import typer

from blockrun.cli.guarded import ON_AND_ON, ROUNDS, planned
from blockrun.cli.options import PLAN_SECONDS, OrderFile, SiteFile, time_allowed
from blockrun.cli.written import changed_since
from blockrun.errors import BadInput, BlockrunError
from blockrun.terminal import say, screen

if TYPE_CHECKING:
    from blockrun.cli.guarded import Asked
    from blockrun.planner.as_read import AsRead
    from blockrun.planner.guard import Guard
    from blockrun.planner.plan import Plan

DEMO_SECONDS: Final = 24


@dataclass(frozen=True)
class _Place:
    """Where a plan is saved, and whether what lies there may go."""

    out: Path
    replace: bool
    although_recorded: bool = False

    def check(self) -> None:
        """Refuse, before any long work, a place that is taken.

        Raises
        ------
        BadInput : there is a plan that is not to be replaced, or a job under way.
        """
        from blockrun.planner.folder import check_free

        check_free(self.out, replace=self.replace)
        if self.although_recorded:
            return
        if recorded := self._recorded():
            again = shlex.join(["blockrun", "replan", str(self.out)])
            todo = (
                f"Plan the rest with: {again} (add --site, --order or --weather where these changed). For another job "
                "give another folder; or add --although-recorded, if the journal is of no use any more."
            )
            what = (
                f"holds a job under way ({recorded} recorded): the batches and moulds that its journal names would be "
                "others in a new plan"
            )
            raise BadInput(what, todo, file=self.out)

    def keep_recorded(self) -> Iterator[str]:
        """Keep a plan that is replaced by number, where a journal tells of its batches; say so."""
        recorded = self._recorded()
        if recorded:
            from blockrun.planner.earlier import set_aside
            from blockrun.planner.folder import EARLIER

            with contextlib.suppress(BlockrunError):  # what cannot be read is replaced all the same
                number = set_aside(self.out)
                yield (
                    f"The plan before is kept in {self.out / EARLIER / str(number)}. The journal ({recorded} recorded) "
                    "stays, and is read as of this plan from now on."
                )

    def _recorded(self) -> int:
        """How much is recorded of the plan that is there; of a journal that cannot be read, one thing."""
        from blockrun.yard.journal import entries_kept, standing

        try:
            return len(standing(entries_kept(self.out)))
        except BlockrunError:
            return 1


def plan(
    more: typer.Context,
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
    although_recorded: Annotated[
        bool,
        typer.Option(
            "--although-recorded", help="With --replace: also that of a job under way; it is kept in earlier/."
        ),
    ] = False,
) -> None:
    """Make a plan for an order and save it: every pour, strip, move and batch, and how near the best possible it is.

    SITE is a YAML file of what the yard has, ORDER one of what is to be built. Of a job that has begun the rest is
    planned with blockrun replan.
    """
    if more.args:
        todo = "Write them as parts of one: the parts: of both in one file, each mix named once."
        raise BadInput(f"a plan is of one order, and {1 + len(more.args)} are given", todo, file=more.args[0])
    allowed = time_allowed(seconds) or (None if repeatable else PLAN_SECONDS)
    rounds = ON_AND_ON if seconds and not repeatable else ROUNDS
    place = _Place(out, replace=replace, although_recorded=although_recorded)
    _plan_and_save(site, order, place, allowed, repeatable=repeatable, rounds=rounds)


def demo(
    out: Annotated[Path, typer.Option(metavar="DIR", help="Where to save the plan; replaced on each run.")] = Path(
        "demo-plan"
    ),
) -> None:
    """Plan the bundled example, an invented yard, and print its days."""
    from blockrun.show.days import days_text

    example = _examples() / "demo"
    place = _Place(out, replace=True, although_recorded=True)
    made = _plan_and_save(example / "site.yaml", example / "order.yaml", place, DEMO_SECONDS)
    say("")
    say(days_text(made, screen().width))
    say(f"\nThe example lies in {example}, its plan in {out}.")


def _plan_and_save(
    site: Path,
    order: Path,
    place: _Place,
    seconds: float | None,
    *,
    repeatable: bool = False,
    rounds: int = ROUNDS,
) -> Plan:
    """Plan, save, and print the summary; nothing is written unless the audit finds nothing."""

    def read() -> Asked:
        from blockrun.order import load_order
        from blockrun.site import load_site

        place.check()
        return load_site(site), load_order(order), None

    def save(made: Plan, guard: Guard, run: dict[str, object], files: AsRead) -> None:
        from blockrun.planner.saved import save_plan

        told.extend(changed_since(files))
        told.extend(place.keep_recorded())
        save_plan(made, place.out, replace=place.replace, run=run, files=files)

    told: list[str] = []
    made = planned(read, save, seconds, repeatable=repeatable, rounds=rounds)
    assert made is not None
    from blockrun.show.page import Page
    from blockrun.show.summary import summary_text

    takeoff_it = shlex.join(["blockrun", "takeoff", str(order), "--site", str(site)])
    say(summary_text(made, screen().width, str(place.out), takeoff_it))
    for line in told:
        page = Page(screen().width)
        page.line(line)
        say(page.text())
    return made


def _examples() -> Path:
    """Find the examples, inside an installed package or beside it in a working copy."""
    package = Path(__file__).parent.parent
    return next(place for place in (package / "examples", package.parent / "examples") if place.is_dir())
