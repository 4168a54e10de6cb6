"""Commands that keep what really happened: record it, look through it, copy it, hand it out."""

from __future__ import annotations

import re
import shlex
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING, Annotated, Final

import typer

from blockrun.cli.clock import stamp, this_minute
from blockrun.cli.options import PlanDirectory
from blockrun.errors import FOUND_SOMETHING, BadInput, BlockrunError
from blockrun.files.day_names import short_day_name
from blockrun.terminal import say, screen

if TYPE_CHECKING:
    from blockrun.yard.called import Called
    from blockrun.yard.record.planned import Item
    from blockrun.yard.record.recorder import Recorded, Recorder

DAY: Final = "day"
STOP: Final = ("q", "quit", "stop")
_OF_A_PLAN: Final = re.compile(r"(blockrun [a-z]+) DIR\b")


def record(
    directory: PlanDirectory,
    words: Annotated[list[str] | None, typer.Argument(metavar="WHAT", hidden=True)] = None,
    at: Annotated[
        str | None, typer.Option(metavar="WHEN", help='Else now: 10:40, "yesterday 16:00" or "13 Apr 14:00".')
    ] = None,
    on: Annotated[
        str | None, typer.Option(metavar="DAY", help="With day: which, else today. With --from: of bare times.")
    ] = None,
    sheet: Annotated[
        Path | None,
        typer.Option("--from", metavar="FILE", help="All rows of a CSV or XLSX file, or none: at,what and who,remark."),
    ] = None,
    who: Annotated[str, typer.Option(metavar="NAME", help="Who did it.")] = "",
    remark: Annotated[str, typer.Option(metavar="WORDS", help="Kept with it.")] = "",
    foam: Annotated[str | None, typer.Option(metavar="W", help="Of a batch: 98g/L, 6.1lb/ft3 or 0.98kg.")] = None,
    weight: Annotated[str | None, typer.Option(metavar="W", help="Of its mix: 806kg/m3, 50lb/ft3 or 8.06kg.")] = None,
    temperature: Annotated[str | None, typer.Option(metavar="T", help="Of that: 18degC or 64degF.")] = None,
    key: Annotated[
        str | None, typer.Option(metavar="KEY", help="Of whoever sends it: the same key twice counts once.")
    ] = None,
) -> None:
    """Record what happened in the yard: poured 7, stripped gang-4/3 1 broken, laid north 4, note WORDS, undo 12.

    DIR is where a plan was saved; what you leave out is as the plan has it. With nothing behind DIR all that may be
    recorded is listed; day asks about each thing of a day: as planned? Enter for yes, or n, a time, 1 broken; q stops.
    """
    from blockrun.show.recorded import forms_text
    from blockrun.yard.record.grammar import FORMS
    from blockrun.yard.record.known import Measured
    from blockrun.yard.record.recorder import Typed

    typed = list(words or ())
    if unknown := next((word for word in typed if word.startswith("--")), None):
        raise BadInput(f"there is no option {unknown}", "See: blockrun record --help", value=unknown)
    if sheet is None and not typed:
        say(forms_text((form.written for form in FORMS.values()), screen().width))
        return
    recorder = _recorder(directory)
    with _in_folder(directory):
        if sheet is not None:
            _record_sheet(recorder, sheet, on, typed)
        elif [word.lower() for word in typed] == [DAY]:
            _ask(recorder, on, who)
        else:
            measured = Measured(foam, weight, temperature)
            told = Typed(
                tuple(typed), key or uuid.uuid4().hex, at, " ".join(who.split()), " ".join(remark.split()), measured
            )
            _say(recorder, recorder.record(told))


@contextmanager
def _in_folder(directory: Path) -> Iterator[None]:
    """Name the folder of the plan in what a fault says to type, so that it can be typed as it stands."""
    try:
        yield
    except BlockrunError as fault:
        for one in fault.all() if isinstance(fault, BadInput) else [fault]:
            one.todo = one.todo and _OF_A_PLAN.sub(lambda found: f"{found[1]} {shlex.quote(str(directory))}", one.todo)
        raise


def ready(
    directory: PlanDirectory,
    at: Annotated[
        str | None, typer.Option(metavar="WHEN", help='Else now: 10:40, "yesterday 16:00" or "13 Apr 07:30".')
    ] = None,
) -> None:
    """List what can be stripped, taken off the rack, stacked and laid, by what was recorded: by part and course.

    DIR is where the plan was saved. Ages come from the air that was told with record, else from the forecast.
    """
    from blockrun.files.moments import moment_meant
    from blockrun.planner.as_planned import load_as_planned
    from blockrun.show.morning import morning_text
    from blockrun.yard.journal import entries_in
    from blockrun.yard.ready.morning import morning_of
    from blockrun.yard.record.known import span_of

    now = this_minute()
    plan = load_as_planned(directory)
    moment = now if at is None else moment_meant(at, now, span_of(plan, now.date()))
    say(morning_text(morning_of(plan, entries_in(directory), moment), screen().width))


def verify(
    directory: PlanDirectory,
    save: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write what can be saved of a damaged one into a new journal.")
    ] = None,
) -> None:
    """Look through the whole journal of a plan: is the file sound, is every entry what was written.

    DIR is where the plan was saved. Of a damaged journal it says how much can be saved.
    """
    from blockrun.show.verdict import verdict_text
    from blockrun.yard.journal import FILE
    from blockrun.yard.journal.verify import verify as looked_through

    found = looked_through(directory / FILE)
    say(verdict_text(directory / FILE, found.entries, found.faults, found.notes, screen().width))
    if save is not None:
        _save(directory / FILE, save)
    if found.faults:
        raise typer.Exit(FOUND_SOMETHING)


def _save(path: Path, place: Path) -> None:
    from blockrun.show.verdict import saved_said
    from blockrun.yard.journal.salvage import salvage

    saved = salvage(path, place)
    typer.echo(saved_said(len(saved.entries), saved.missing, place))


def backup(
    directory: PlanDirectory,
    out: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Else in DIR, named after the moment; better on another disk.")
    ] = None,
) -> None:
    """Copy the whole journal of a plan into a new file; others may go on recording meanwhile.

    DIR is where the plan was saved.
    """
    from blockrun.units import counted
    from blockrun.yard.journal import FILE, open_journal

    place = out or directory / f"journal-{stamp():%Y-%m-%d-%H%M%S}.sqlite"
    with open_journal(directory / FILE, read_only=True) as journal:
        journal.backup(place)
    with open_journal(place, read_only=True) as copy:
        typer.echo(f"{counted(len(copy), 'entry', 'entries')} copied to {place}")


def export(
    directory: PlanDirectory,
    out: Annotated[Path | None, typer.Option(metavar="FOLDER", help="Else journal-csv in DIR.")] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Replace one that is there.")] = False,
) -> None:
    """Write everything that was recorded as CSV: a table for each kind of thing, and where every block is now.

    DIR is where the plan was saved. Of a plan that cannot be read the tables have batches only as they were recorded.
    """
    from blockrun.planner.as_planned import load_as_planned
    from blockrun.yard.called import as_recorded, called_in
    from blockrun.yard.exported import export as exported
    from blockrun.yard.journal import entries_in

    entries = entries_in(directory)
    place = out or directory / "journal-csv"
    called: Called = as_recorded
    fault: BlockrunError | None = None
    try:
        called = called_in(load_as_planned(directory))
    except BlockrunError as error:  # this is the way to save what was recorded out of a folder that is broken, too
        fault = error
    n_tables = exported(entries, place, called, replace=replace)
    typer.echo(f"{n_tables} tables written to {place}")
    if fault is not None:
        where = f"{fault.file}: " * (fault.file is not None)
        typer.echo(f"The plan cannot be read, so blocks.csv has batches by the numbers recorded: {where}{fault.what}")


def _recorder(directory: Path) -> Recorder:
    from blockrun.planner.as_planned import load_as_planned
    from blockrun.yard.journal import FILE
    from blockrun.yard.record.recorder import Recorder

    plan = load_as_planned(directory)
    return Recorder(plan, directory / FILE, this_minute(), stamp())


def _record_sheet(recorder: Recorder, sheet: Path, on: str | None, typed: list[str]) -> None:
    from blockrun.yard.record.sheet import record_sheet

    if typed:
        raise BadInput("a sheet is recorded alone", f"Take out: {' '.join(typed)}")
    _say(recorder, record_sheet(recorder, sheet, _day(recorder, on)))


def _day(recorder: Recorder, on: str | None) -> date | None:
    """The day that ``--on`` names, if it names one."""
    from blockrun.files.days import day_meant

    if on is None:
        return None
    day = day_meant(on, recorder.now.date(), recorder.span)
    if day is None:
        todo = f'Write it such as 2027-04-06, "{short_day_name(recorder.now)}" or yesterday.'
        raise BadInput(f"--on {on} is not a day", todo, name="--on", value=on)
    return day


def _ask(recorder: Recorder, on: str | None, who: str) -> None:
    """Ask about each thing that the plan has for a day; what is answered is kept at once."""
    from blockrun.files.day_names import day_name
    from blockrun.yard.record.planned import items, open_now, to_crush

    plan, chosen = recorder.plan, _day(recorder, on) or recorder.now.date()
    tried_out = recorder.now.date() < plan.site.calendar.start
    over = [item for item in items(plan, chosen) if tried_out or item.at <= recorder.now]
    asked = False
    for item in over:
        now = open_now(item, recorder.state, plan)  # by what was answered just now, too
        if now is not None and (tried_out or now.at <= recorder.now):
            asked = True
            if not _answered(recorder, now, who):
                return
    cubes = list(to_crush(plan, chosen, recorder.entries))
    for said in cubes:
        said = _OF_A_PLAN.sub(lambda found: f"{found[1]} {shlex.quote(str(plan.directory))}", said)
        typer.echo(_fitted(said, plan.site.units))
    if not asked and not cubes:
        nothing = f"Nothing is open of what the plan has until now for {day_name(chosen)}."
        typer.echo(_fitted(nothing, plan.site.units))


def _fitted(said: str, units: str) -> str:
    """Words within the screen, with room for the mark and the blank behind a question."""
    from blockrun.show.site_words import on_screen

    said = on_screen(said, units)
    return fill(
        said, max(1, screen().width - 2), subsequent_indent="  ", break_on_hyphens=False, break_long_words=False
    )


def _answered(recorder: Recorder, item: Item, who: str) -> bool:
    """Ask about one thing until the answer can be kept; whether to go on."""
    from blockrun.yard.record.planned import answered

    while True:
        asked = _fitted(f"{item.asked}, as planned?", recorder.plan.site.units)
        answer = typer.prompt(asked, default="", show_default=False).strip()
        if answer.lower() in STOP:
            return False
        try:
            told = answered(item, answer, uuid.uuid4().hex, who)
            if told is not None:
                with _in_folder(recorder.plan.directory):
                    _say(recorder, recorder.record(told))
            return True
        except BadInput as fault:
            typer.echo(fault.told(screen().width))


def _say(recorder: Recorder, recorded: Recorded) -> None:
    from blockrun.show.recorded import recorded_text

    said = [(entry.number, sentence) for entry, sentence in zip(recorded.entries, recorded.said, strict=True)]
    say(recorded_text(said, recorded.warnings, screen().width, recorder.plan.site.units, known=recorded.known))
