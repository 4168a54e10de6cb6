"""The command line: reads what is typed, calls the rooms, prints what they say.

Each command imports its own work, so that ``--help`` is quick.
"""

from __future__ import annotations

import math
import platform
import shlex
import time
from collections.abc import Callable, Mapping
from datetime import date, datetime
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Final, ParamSpec, TypeVar

import typer

from blockrun import __version__
from blockrun.errors import BadInput, BadPlan
from blockrun.terminal import (
    BugError,
    help_width,
    in_words,
    most_memory_mb,
    print_what_can_be_printed,
    say,
    screen,
    wait_for,
)

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.planner.audit import Finding
    from blockrun.planner.plan import Plan
    from blockrun.planner.sawing import Sawing
    from blockrun.site import Site

P = ParamSpec("P")
T = TypeVar("T")

FOUND_SOMETHING: Final = 2
DEMO_SECONDS: Final = 24
PLAN_SECONDS: Final = 60

app = typer.Typer(
    name="blockrun",
    help="Plan the casting of foamed-concrete blocks: what to pour, strip, move and stack, day by day.",
    epilog="Start with: blockrun demo",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

# what stands in each place is said in the words of the command; a list of places would show types, as "<path>"
SiteFile = Annotated[Path, typer.Argument(metavar="SITE", hidden=True)]
OrderFile = Annotated[Path, typer.Argument(metavar="ORDER", hidden=True)]
PlanDirectory = Annotated[Path, typer.Argument(metavar="DIR", hidden=True)]

# what is measured of a batch, a trial or one in the mixer
MixName = Annotated[str | None, typer.Option("--mix", metavar="NAME", help="Its mix, where the order has several.")]
Foam = Annotated[str | None, typer.Option(metavar="W", help="Foam, such as 102g/L or 1.02kg.")]
Slurry = Annotated[str | None, typer.Option(metavar="W", help="Slurry before the foam, such as 18.3kg.")]
Weight = Annotated[str | None, typer.Option(metavar="W", help="Wet mix, such as 8.6kg or 860kg/m3.")]
Held = Annotated[str | None, typer.Option(metavar="V", help="What was weighed in, else 10L (US: 2gal).")]
Empty = Annotated[str | None, typer.Option(metavar="W", help="What that weighs empty, else nothing.")]
Sank = Annotated[str | None, typer.Option(metavar="L", help="How far it sank in an hour, such as 12mm.")]
Of = Annotated[str | None, typer.Option("--of", metavar="L", help="Height it was filled to, such as 200mm.")]


class Units(StrEnum):
    """Systems of units results print in."""

    SI = "SI"
    US = "US"


class Input(StrEnum):
    """Files a user writes."""

    site = "site"
    order = "order"


def command(example: str) -> Callable[[Callable[P, T]], Callable[P, T]]:
    """Make a function a command, with an example under its help."""
    return lambda function: app.command(epilog=f"Example: {example}")(in_words(function))


def _show_version(asked: bool) -> None:
    if asked:
        typer.echo(f"blockrun {__version__}")
        raise typer.Exit


@app.callback()
def options(
    version: Annotated[
        bool, typer.Option("--version", callback=_show_version, is_eager=True, help="Print the version and stop.")
    ] = False,
) -> None:
    """Plan the casting of foamed-concrete blocks: what to pour, strip, move and stack, day by day."""


@command("blockrun plan site.yaml order.yaml --out plan")
def plan(
    site: SiteFile,
    order: OrderFile,
    out: Annotated[Path, typer.Option(metavar="DIR", help="Where to save the plan.")],
    seconds: Annotated[
        str | None, typer.Option(metavar="S", help="Time to plan in, else 60; the best plan found by then is kept.")
    ] = None,
    repeatable: Annotated[
        bool, typer.Option("--repeatable", help="No time limit, and the same plan on every run.")
    ] = False,
    replace: Annotated[bool, typer.Option("--replace", help="Replace the plan that is there.")] = False,
) -> None:
    """Make a plan for an order and save it: every pour, strip, move and batch, and how near the best possible it is.

    SITE is a YAML file of what the yard has, ORDER one of what is to be built.
    """
    if repeatable and seconds is not None:
        raise BadInput("--seconds cannot go with --repeatable", "Leave one of them out: a time limit does not repeat.")
    _plan_and_save(site, order, out, None if repeatable else _seconds(seconds), replace)


@command("blockrun days plan --from 2027-04-06 --to 2027-04-08")
def days(
    directory: PlanDirectory,
    first: Annotated[str | None, typer.Option("--from", metavar="DAY", help="First day, such as 2027-04-06.")] = None,
    last: Annotated[str | None, typer.Option("--to", metavar="DAY", help="Last day.")] = None,
    picture: Annotated[
        Path | None, typer.Option(metavar="FOLDER", help="Draw how slabs are sawn instead, to look at and to print.")
    ] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Replace pictures that are there.")] = False,
) -> None:
    """Print the work of each day of a saved plan, in the order of the clock, as wide as the terminal.

    DIR is where the plan was saved.
    """
    from blockrun.planner.saved import load_plan
    from blockrun.show.days import days_text, saw_plans_shown

    saved = load_plan(directory)
    if picture is not None:
        from blockrun.show.pictures.saw_plans import saw_pictures

        shown = saw_plans_shown(saved, _day(first, "--from"), _day(last, "--to"))
        if not shown:
            raise BadInput("no slab is poured or sawn on these days", "Pictures of walls and domes: blockrun takeoff.")
        _write_pictures(saw_pictures(shown, saved.site, saved.order.name), picture, replace=replace)
        return
    say(days_text(saved, screen().width, _day(first, "--from"), _day(last, "--to"), _changed(saved, directory)))


@command("blockrun cure site.yaml --from 2027-04-06")
def cure(
    site: SiteFile,
    order: Annotated[
        Path | None,
        typer.Option(metavar="ORDER", help="Whose mixes to reckon with, for strengths and for heat that is modelled."),
    ] = None,
    first: Annotated[str | None, typer.Option("--from", metavar="DAY", help="First day, such as 2027-04-06.")] = None,
    last: Annotated[str | None, typer.Option("--to", metavar="DAY", help="Last day; a week unless told.")] = None,
    picture: Annotated[Path | None, typer.Option(metavar="FILE", help="Draw them as an SVG file instead.")] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Replace a picture that is there.")] = False,
) -> None:
    """Print when what is poured at each hour of a day may be stripped, moved and laid, and until when to pour for that.

    SITE is a YAML file of what the yard has.
    """
    from blockrun.planner.times import times_of
    from blockrun.show.times import times_text
    from blockrun.site import load_site

    yard = load_site(site)
    kinds = times_of(yard, _order(order), _day(first, "--from"), _day(last, "--to"))
    if picture is None:
        say(times_text(yard, kinds, screen().width))
        return
    from blockrun.files.writing import write_file
    from blockrun.show.pictures.times import times_picture

    write_file(picture, times_picture(yard, kinds), replace=replace)
    typer.echo(f"written to {picture}")


@command("blockrun materials plan")
def materials(
    directory: PlanDirectory,
    out: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write the days as a CSV file instead, in bags, litres and kg.")
    ] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Replace the file that is there.")] = False,
) -> None:
    """Print what a saved plan uses up by day and in all, until when the stock lasts, what to order when, and the cost.

    DIR is where the plan was saved.
    """
    from blockrun.files.writing import write_file
    from blockrun.planner.saved import load_plan
    from blockrun.show.materials import materials_list, materials_text

    saved = load_plan(directory)
    if out is None:
        say(materials_text(saved, screen().width, _changed(saved, directory)))
    else:
        write_file(out, materials_list(saved), replace=replace)
        typer.echo(f"written to {out}")


@command("blockrun audit plan")
def audit(directory: PlanDirectory) -> None:
    """Check a saved plan against the yard and the order it was made for, trusting none of its own figures.

    DIR is where the plan was saved.
    """
    from blockrun.planner.audit.rules import NAMES, RULES
    from blockrun.planner.saved import load_plan
    from blockrun.show.findings import findings_text

    findings = _audited(load_plan(directory))
    say(findings_text(findings, len(NAMES) + len(RULES), screen().width))
    if findings:
        raise typer.Exit(FOUND_SOMETHING)


@command("blockrun takeoff order.yaml")
def takeoff(
    order: OrderFile,
    units: Annotated[Units, typer.Option(metavar="SI|US", help="Units to print in.")] = Units.SI,
    out: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write a list instead, CSV or XLSX, which an order may name.")
    ] = None,
    site: Annotated[
        Path | None,
        typer.Option(metavar="SITE", help="Its moulds, and slabs it takes; in a list, dates and masses as poured."),
    ] = None,
    picture: Annotated[
        Path | None, typer.Option(metavar="DIR", help="Draw the walls and domes, to look at and to print.")
    ] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Replace a list or pictures that are there.")] = False,
) -> None:
    """Count the blocks of an order by part, course and mark, with volumes and dry masses.

    ORDER is a YAML file of what is to be built.
    """
    from blockrun.files.writing import write_file
    from blockrun.order import load_order
    from blockrun.show.takeoff import takeoff_list, takeoff_sheet, takeoff_text
    from blockrun.site import load_site

    asked, yard = load_order(order), load_site(site) if site else None
    if out is None and picture is None:
        say(takeoff_text(asked, screen().width, units.value, yard, _sawing(yard, asked) if yard else None))
    if picture is not None:
        _draw(asked, yard, picture, units.value, replace=replace)
    if out is not None:
        written = takeoff_sheet if out.suffix.lower() == ".xlsx" else takeoff_list
        write_file(out, written(asked, yard), replace=replace)
        typer.echo(f"written to {out}")


def _sawing(site: Site, order: Order) -> Sawing | None:
    """Saw plans for an order, on a site that saws slabs."""
    if not any(kind.saw for kind in site.moulds):
        return None
    from blockrun.show.saw_settled import settled

    return settled(site, order)


def _draw(order: Order, site: Site | None, folder: Path, units: str, *, replace: bool) -> None:
    """Write the pictures of an order."""
    from blockrun.show.pictures.of_order import order_pictures

    pictures = order_pictures(order, site.moulds if site else (), show_in=units)
    if not pictures:
        raise BadInput("this order has no wall and no dome to draw", "Write one as a part of the order.")
    _write_pictures(pictures, folder, replace=replace)


def _write_pictures(pictures: Mapping[str, str], folder: Path, *, replace: bool) -> None:
    """Write pictures and the page that shows them, all of them or none."""
    from blockrun.files.writing import whole_folder
    from blockrun.show.pictures.paper import INDEX
    from blockrun.show.words import counted

    with whole_folder(folder, replace=replace, mark=INDEX) as new:
        for name, text in pictures.items():
            (new / name).write_text(text, encoding="utf-8")
    typer.echo(f"{counted(len(pictures) - 1, 'picture')} in {folder}; open {INDEX} to see and print")


@command("blockrun mix site.yaml order.yaml")
def mix(site: SiteFile, order: OrderFile) -> None:
    """Print the batch cards: what to weigh, draw and time for each mix and size of batch.

    SITE is a YAML file of what the yard has, ORDER one of what is to be built.
    """
    from blockrun.order.mixes_alone import load_mixes
    from blockrun.show.card import cards_text
    from blockrun.site import load_site

    say(cards_text(load_site(site), load_mixes(order), screen().width))


@command("blockrun check plan --batch 7 --foam 102g/L --weight 8.6kg")
def check(
    places: Annotated[list[Path], typer.Argument(metavar="DIR | SITE ORDER", hidden=True)],
    batch: Annotated[str | None, typer.Option(metavar="N", help="Of a saved plan: the number of the batch.")] = None,
    mix: MixName = None,
    bags: Annotated[str | None, typer.Option(metavar="N", help="Else: bags of cement in it, such as 2.5.")] = None,
    mixer: Annotated[str | None, typer.Option(metavar="NAME", help="Its mixer, where there are several.")] = None,
    foam: Foam = None,
    slurry: Slurry = None,
    weight: Weight = None,
    container: Held = None,
    empty: Empty = None,
    temperature: Annotated[str | None, typer.Option(metavar="T", help="Of the slurry, such as 18degC.")] = None,
    mixed: Annotated[str | None, typer.Option(metavar="TIME", help="Mixing with the foam in, such as 6min.")] = None,
    since: Annotated[str | None, typer.Option(metavar="TIME", help="Since the foam went in, such as 9min.")] = None,
    sank: Sank = None,
    of: Of = None,
    within: Annotated[str | None, typer.Option(metavar="P", help="Wet density let pass, else 5%.")] = None,
    foam_within: Annotated[str | None, typer.Option(metavar="P", help="Foam let pass, else 6%.")] = None,
    sinks: Annotated[str | None, typer.Option(metavar="P", help="Sinking let pass, else 3%.")] = None,
) -> None:
    """Check a batch in the yard: pass, correct (what to add, and whether there is room and time) or reject, and why.

    DIR is where a plan was saved; else SITE and ORDER are its two files. Give what you measured, a unit with each
    number, no blank between: a foam or a mix as a density, or as what the full container weighs.
    """
    from blockrun.show.check import check_text

    # a rejected batch is an answer: it ends with 0, and 2 stays for what was mistyped
    say(check_text(places, _typed(locals()), screen().width))


@command("blockrun trial site.yaml order.yaml --mix wall --bucket 10L")
def trial(
    site: SiteFile,
    order: OrderFile,
    mix: MixName = None,
    bucket: Annotated[str | None, typer.Option(metavar="V", help="Mix to make, else 10L (US: 2gal).")] = None,
    bags: Annotated[str | None, typer.Option(metavar="N", help="Or so many bags of cement.")] = None,
    foam: Foam = None,
    slurry: Slurry = None,
    weight: Weight = None,
    container: Held = None,
    empty: Empty = None,
    sank: Sank = None,
    of: Of = None,
) -> None:
    """Scale a card to a trial batch; with what you measured, say what it was, and what to change next and by how much.

    SITE is a YAML file of what the yard has, ORDER one of what is to be built. Make one when the cement or the agent
    comes from another lot. A unit goes with each number, no blank between.
    """
    from blockrun.show.trial import trial_text

    say(trial_text(site, order, _typed(locals()), screen().width))


@command("blockrun chart batches.csv --picture chart.svg")
def chart(
    file: Annotated[Path, typer.Argument(metavar="FILE", hidden=True)],
    units: Annotated[Units, typer.Option(metavar="SI|US", help="Units to print in.")] = Units.SI,
    picture: Annotated[Path | None, typer.Option(metavar="FILE", help="Draw it too, as SVG.")] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Replace a picture that is there.")] = False,
) -> None:
    """Chart foam and wet weights batch by batch: what is usual, and signs in words that something has changed.

    FILE is a CSV or XLSX file with the columns batch, foam_g_l, wet_density_kg_m3 and, if you like, when.
    """
    from blockrun.files.writing import write_file
    from blockrun.show.chart import charted

    found = charted(file, units.value)
    if picture is not None:
        write_file(picture, found.picture(), replace=replace)
    say(found.text(screen().width))
    if picture is not None:
        typer.echo(f"drawn in {picture}")


@command("blockrun schema site > site.schema.json")
def schema(file: Annotated[Input, typer.Argument(metavar="FILE", hidden=True)]) -> None:
    """Print the JSON Schema of a file, for editors that check while you type.

    FILE is the word site or order.
    """
    import json

    from blockrun.order import order_schema
    from blockrun.site import site_schema

    typer.echo(json.dumps(site_schema() if file is Input.site else order_schema(), indent=2))


@command("blockrun demo")
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


def _plan_and_save(site: Path, order: Path, out: Path, seconds: float | None, replace: bool) -> Plan:
    """Plan, audit, save, and print the summary; nothing is written unless the audit finds nothing."""
    began = time.monotonic()
    from blockrun.order import load_order
    from blockrun.planner import make_plan
    from blockrun.planner.saved import check_free, save_plan
    from blockrun.show.summary import progress_said, summary_text
    from blockrun.site import load_site

    check_free(out, replace=replace)
    yard, wanted = load_site(site), load_order(order)
    try:
        made = wait_for(
            lambda stop, tell: make_plan(
                yard, wanted, stop=stop, progress=lambda known: tell(progress_said(known, yard.units))
            ),
            until=None if seconds is None else began + seconds,
        )
        findings = _audited(made)
        if findings:
            raise BadPlan("its own audit refuses the plan\n" + "\n".join(map(str, findings)))
        save_plan(made, out, replace=replace, run=_run(time.monotonic() - began, seconds))
    except BadPlan as fault:
        raise BugError(f"{fault}\n  Nothing was saved.") from fault
    takeoff_it = shlex.join(["blockrun", "takeoff", str(order), "--site", str(site)])
    say(summary_text(made, screen().width, str(out), takeoff_it))
    return made


def _typed(given: dict[str, object]) -> dict[str, str | None]:
    """Options by the name they are typed with, those that are words."""
    return {name.replace("_", "-"): value for name, value in given.items() if value is None or isinstance(value, str)}


def _changed(saved: Plan, directory: Path) -> list[str]:
    """Say which tables of a plan were changed by hand, and what to do then."""
    audit_it = shlex.join(["blockrun", "audit", str(directory)])
    return [f"{name} was changed since it was saved; run: {audit_it}" for name in saved.changed]


def _audited(made: Plan) -> list[Finding]:
    from blockrun.planner.audit import audit

    return audit(made.site, made.order, made.tables, list(made.stages), made.totals)


def _order(path: Path | None) -> Order | None:
    """Read the order where one is named; what lays out walls is imported only then."""
    if path is None:
        return None
    from blockrun.order import load_order

    return load_order(path)


def _day(written: str | None, option: str) -> date | None:
    if written is None:
        return None
    try:
        return date.fromisoformat(written)
    except ValueError:
        todo = "Write the day as year-month-day, for example 2027-04-06."
        raise BadInput(f"{option} {written} is not a day", todo, name=option, value=written) from None


def _seconds(written: str | None) -> float:
    if written is None:
        return PLAN_SECONDS
    todo = "Write how many seconds to plan, 1 or more, for example --seconds 300."
    try:
        seconds = float(written)
    except ValueError:
        raise BadInput(f"--seconds {written} is not a number", todo, name="--seconds", value=written) from None
    if not 1 <= seconds < math.inf:
        raise BadInput(f"--seconds {written} cannot be kept", todo, name="--seconds", value=written, limit=1)
    return seconds


def _examples() -> Path:
    """Find the examples, inside an installed package or beside it in a working copy."""
    package = Path(__file__).parent
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


def main() -> None:
    """Run the command line."""
    print_what_can_be_printed()
    app(terminal_width=help_width())
