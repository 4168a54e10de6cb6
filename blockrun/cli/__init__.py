"""The command line: reads what is typed, calls the rooms, prints what they say.

``making`` plans, ``saved`` shows a saved plan, ``paper`` prints it and ``elsewhere`` writes it for other programs;
``order`` counts blocks, ``yard`` serves those who mix and strip, ``explaining`` says why, and what if; ``risk`` plays a
plan with things going wrong, ``recording`` keeps what really happened, ``progress`` says how it stands. ``heard`` is
round them all, where nobody can hear.
Each command imports its own work, so that ``--help`` is quick.
"""

from __future__ import annotations

import inspect
import os
import sys
from collections.abc import Callable
from typing import Annotated, Final

import typer
from typer.main import get_command_name

from blockrun import __version__
from blockrun.cli.elsewhere import calendar, workbook
from blockrun.cli.explaining import whatif, why
from blockrun.cli.heard import heard, open_what_is_closed
from blockrun.cli.learning import learn
from blockrun.cli.making import demo, plan
from blockrun.cli.order import schema, takeoff
from blockrun.cli.paper import paper
from blockrun.cli.progress import status
from blockrun.cli.recording import backup, export, ready, record, verify
from blockrun.cli.replanning import replan
from blockrun.cli.report import report
from blockrun.cli.risk import risk
from blockrun.cli.saved import audit, days, materials
from blockrun.cli.yard import chart, check, cure, mix, thumb, trial
from blockrun.terminal import help_width, in_words, tidy_seldom

__all__ = ["app", "main"]

COMMANDS: Final[dict[Callable[..., None], str]] = {
    plan: "blockrun plan site.yaml order.yaml --out plan",
    days: "blockrun days plan --from 2027-04-06 --to 2027-04-08",
    paper: "blockrun paper plan --out week.pdf --from 2027-04-05 --to 2027-04-10",
    report: "blockrun report plan --out report.html",
    calendar: "blockrun calendar plan --out pours.ics",
    workbook: "blockrun workbook plan --out plan.xlsx",
    why: "blockrun why site.yaml order.yaml",
    whatif: "blockrun whatif site.yaml order.yaml --workers 2",
    risk: "blockrun risk plan --runs 200",
    cure: "blockrun cure site.yaml --from 2027-04-06",
    materials: "blockrun materials plan",
    audit: "blockrun audit plan",
    takeoff: "blockrun takeoff order.yaml",
    mix: "blockrun mix site.yaml order.yaml",
    check: "blockrun check plan --batch 7 --foam 102g/L --weight 8.6kg",
    trial: "blockrun trial site.yaml order.yaml --mix wall --bucket 10L",
    chart: "blockrun chart batches.csv --picture chart.svg",
    thumb: 'blockrun thumb plan gang-4/03 dents --at "2027-04-07 07:50"',
    record: "blockrun record plan stripped gang-4/03 1 broken --at 10:40",
    ready: 'blockrun ready plan --at "2027-04-07 07:30"',
    replan: 'blockrun replan plan --at "2027-04-09 18:00"',
    learn: "blockrun learn plan --write site.yaml --only strip_time",
    status: 'blockrun status plan --at "2027-04-09 18:00"',
    verify: "blockrun verify plan",
    backup: "blockrun backup plan --out copy.sqlite",
    export: "blockrun export plan --out recorded",
    schema: "blockrun schema site > site.schema.json",
    demo: "blockrun demo",
}
"""All commands in the order of ``--help``, each with the example under its own help."""

LEFT_TO_THE_COMMAND: Final[dict[Callable[..., None], dict[str, bool]]] = {
    record: {"ignore_unknown_options": True},
    plan: {"allow_extra_args": True},
}
"""Words that may look like options, for the air of a cold night is -3; orders beyond one, refused in words."""

app = typer.Typer(
    name="blockrun",
    help="Plan the casting of foamed-concrete blocks: what to pour, strip, move and stack, day by day.",
    epilog="Start with: blockrun demo",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


def _show_version(asked: bool) -> None:
    if asked:
        typer.echo(f"blockrun {__version__}")
        raise typer.Exit


@app.callback()
def _of_all_commands(
    version: Annotated[
        bool, typer.Option("--version", callback=_show_version, is_eager=True, help="Print the version and stop.")
    ] = False,
) -> None:
    """Plan the casting of foamed-concrete blocks: what to pour, strip, move and stack, day by day."""


def _in_short(command: Callable[..., None]) -> str:
    """The first sentence a command says of itself: given so, a narrow screen wraps it and cuts nothing off."""
    return inspect.cleandoc(command.__doc__ or "").partition("\n\n")[0].partition(". ")[0].removesuffix(".")


for command, example in COMMANDS.items():
    app.command(
        epilog=f"Example: {example}",
        short_help=_in_short(command),
        context_settings=LEFT_TO_THE_COMMAND.get(command),
    )(in_words(command))


def main() -> None:
    """Run the command line."""
    # we have no plugins of pydantic, and looking for some is a seventh of what a short command takes
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")
    # nor have we matrices that want many threads, and starting these is half of what loading numpy takes
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    tidy_seldom()
    open_what_is_closed()
    _ready_only(sys.argv[1:2])
    with heard():
        app(terminal_width=help_width())


def _ready_only(asked: list[str]) -> None:
    """Leave out all commands but the one that is asked for: to make them all ready takes a fifth of a short command."""
    named = [
        one for one in app.registered_commands if one.callback and asked == [get_command_name(one.callback.__name__)]
    ]
    if named:
        app.registered_commands = named
