"""Commands for those who mix, pour and strip: cards, checks, trials, charts, and when what is poured can come out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blockrun.cli.clock import stamp, this_minute, today
from blockrun.cli.options import Days, FirstDay, OrderFile, PlanDirectory, SiteFile, Units
from blockrun.cli.written import write
from blockrun.errors import BadInput
from blockrun.terminal import say, screen

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.planner.thumbs.turns import Thumbs
    from blockrun.yard.journal import Entry

# what is measured of a batch, a trial or one in the mixer
MixName = Annotated[str | None, typer.Option("--mix", metavar="NAME", help="Its mix, where the order has several.")]
Foam = Annotated[str | None, typer.Option(metavar="W", help="Foam: 102g/L, 6.4lb/ft3 or 1.02kg.")]
Slurry = Annotated[str | None, typer.Option(metavar="W", help="Slurry before the foam, such as 18.3kg.")]
Weight = Annotated[str | None, typer.Option(metavar="W", help="Wet mix: 8.6kg, 860kg/m3 or 54lb/ft3.")]
Held = Annotated[str | None, typer.Option(metavar="V", help="What was weighed in, else the site's bucket, or 10L.")]
Empty = Annotated[
    str | None, typer.Option(metavar="W", help="What that weighs empty, else as the site's buckets, else nothing.")
]
Temperature = Annotated[str | None, typer.Option(metavar="T", help="Of the slurry: 18degC or 64degF.")]
Sank = Annotated[str | None, typer.Option(metavar="L", help="How far it sank in an hour, such as 12mm.")]
Of = Annotated[str | None, typer.Option("--of", metavar="L", help="Height it was filled to, such as 200mm.")]


def mix(site: SiteFile, order: OrderFile) -> None:
    """Print the batch cards: what to weigh, draw and time for each mix and size of batch.

    SITE is a YAML file of what the yard has, ORDER one of what is to be built.
    """
    from blockrun.order.mixes_alone import load_mixes
    from blockrun.show.batch.card import cards_text
    from blockrun.site import load_site

    say(cards_text(load_site(site), load_mixes(order), screen().width))


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
    temperature: Temperature = None,
    mixed: Annotated[str | None, typer.Option(metavar="TIME", help="Mixing with the foam in, such as 6min.")] = None,
    since: Annotated[str | None, typer.Option(metavar="TIME", help="Since the foam went in, such as 9min.")] = None,
    ran: Annotated[str | None, typer.Option(metavar="TIME", help="The generator for it, such as 90s.")] = None,
    sank: Sank = None,
    of: Of = None,
    within: Annotated[
        str | None, typer.Option(metavar="P", help="Wet density let pass, else the site's, or 5%.")
    ] = None,
    foam_within: Annotated[str | None, typer.Option(metavar="P", help="Foam let pass, else the site's, or 6%.")] = None,
    sinks: Annotated[str | None, typer.Option(metavar="P", help="Sinking let pass, else 3%.")] = None,
) -> None:
    """Check a batch in the yard: pass, correct (what to add, and whether there is room and time) or reject, and why.

    DIR is where a plan was saved; else SITE and ORDER are its two files. Give what you measured, a unit with each
    number, no blank between: a foam or a mix as a density, or as what the full container weighs.
    """
    from blockrun.show.batch.check import check_text

    # a rejected batch is an answer: it ends with 0, and 2 stays for what was mistyped
    say(check_text(places, _typed(locals()), screen().width))


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
    temperature: Temperature = None,
    sank: Sank = None,
    of: Of = None,
) -> None:
    """Scale a card to a trial batch; with what you measured, say what it was, and what to change next and by how much.

    SITE is a YAML file of what the yard has, ORDER one of what is to be built. Make one when the cement or the agent
    comes from another lot. A unit goes with each number, no blank between.
    """
    from blockrun.show.batch.trial import trial_text

    say(trial_text(site, order, _typed(locals()), screen().width))


def _typed(given: dict[str, object]) -> dict[str, str | None]:
    """Options by the name they are typed with, those that are words."""
    return {name.replace("_", "-"): value for name, value in given.items() if value is None or isinstance(value, str)}


def chart(
    file: Annotated[Path, typer.Argument(metavar="FILE", hidden=True)],
    units: Annotated[Units, typer.Option(metavar="SI|US", help="Units to print in.")] = Units.SI,
    picture: Annotated[Path | None, typer.Option(metavar="FILE", help="Draw it too, as SVG.")] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Replace a picture that is there.")] = False,
) -> None:
    """Chart foam and wet weights batch by batch: what is usual, and signs in words that something has changed.

    FILE is a CSV or XLSX file with the columns batch, foam_g_l, wet_density_kg_m3 and, if you like, when, mix,
    cement_lot, agent_lot, and trial (yes in a row that is one).
    """
    from blockrun.cli.written import check_svg
    from blockrun.files.writing import write_file
    from blockrun.show.batch.chart import charted

    check_svg(picture)
    found = charted(file, units.value)
    if picture is not None:
        write_file(picture, found.picture(), replace=replace)
    say(found.text(screen().width))
    if picture is not None:
        typer.echo(f"drawn in {picture}")


def cure(
    site: SiteFile,
    order: Annotated[
        Path | None,
        typer.Option(metavar="ORDER", help="Whose mixes to reckon with, for strengths and for heat that is modelled."),
    ] = None,
    first: FirstDay = None,
    last: Annotated[str | None, typer.Option("--to", metavar="DAY", help="Last day; a week unless told.")] = None,
    picture: Annotated[Path | None, typer.Option(metavar="FILE", help="Draw them as an SVG file instead.")] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Replace a picture that is there.")] = False,
) -> None:
    """Print when what is poured at each hour of a day may be stripped, moved and laid, and until when to pour for that.

    SITE is a YAML file of what the yard has.
    """
    from blockrun.cli.written import check_svg
    from blockrun.planner.times import times_of
    from blockrun.show.times import times_text
    from blockrun.site import load_site

    check_svg(picture)
    yard = load_site(site)
    kinds = times_of(yard, _order(order), *Days(first, last, today()).of_site(yard))
    if picture is None:
        say(times_text(yard, kinds, screen().width))
        return
    from blockrun.show.pictures.times import times_picture

    write(picture, times_picture(yard, kinds), replace=replace)


def thumb(
    directory: PlanDirectory,
    mould: Annotated[str | None, typer.Argument(metavar="MOULD", hidden=True)] = None,
    shows: Annotated[str | None, typer.Argument(metavar="firm|dents|soft", hidden=True)] = None,
    at: Annotated[
        str | None, typer.Option(metavar="WHEN", help='Else now: "2027-04-13 14:00", 10:40 or "yesterday 16:00".')
    ] = None,
    note: Annotated[str, typer.Option(metavar="WORDS", help="Kept with the test.")] = "",
    who: Annotated[str, typer.Option(metavar="NAME", help="Who pressed.")] = "",
) -> None:
    """Say what a thumb pressed into a mould tells: from when to strip it now, and what that does to the plan.

    DIR is where a plan was saved, MOULD a mould or a base as the days name it. Soft sinks in, dents leaves a mark, firm
    leaves none. The test is kept in the journal; without a mould all that are kept are listed, with the pace they tell.
    """
    from blockrun.cli.saved import changed_said
    from blockrun.cli.thumbs import entries_of, thumbs_of
    from blockrun.planner.saved import load_plan

    saved = load_plan(directory)
    _say_changed(changed_said(saved, directory))
    entries = entries_of(directory)
    if mould is not None:
        _press(thumbs_of(saved, entries), entries, directory, (mould, shows, at, note, who))
        return
    from blockrun.show.thumbs import thumbs_text

    say(thumbs_text(thumbs_of(saved, entries), screen().width, directory))


def _press(
    thumbs: Thumbs, entries: list[Entry], directory: Path, typed: tuple[str, str | None, str | None, str, str]
) -> None:
    """Keep a thumb test, and say what it tells."""
    from blockrun.planner.as_planned import load_as_planned
    from blockrun.planner.thumbs.pressed import read_thumb
    from blockrun.show.thumb import thumb_text
    from blockrun.yard.record.when import moment_told
    from blockrun.yard.thumbs import entry_of, keep, went

    mould, shows, at, note, who = typed
    if shows is None:
        raise BadInput(f"what did the thumb show in {mould}?", "Add firm, dents or soft.", name="thumb")
    now = this_minute()
    moment = now if at is None else moment_told(at, now, load_as_planned(directory))
    so_far = went(entries, thumbs.number_of, moment)
    pressed, test = thumbs.press(mould, moment, read_thumb(shows), " ".join(note.split()), so_far)
    known = pressed is thumbs
    if not known:
        keep(entry_of(test, entries, stamp(), " ".join(who.split())), directory)
    say(thumb_text(pressed, test, screen().width, directory, known=known))


def _say_changed(changed: list[str]) -> None:
    """Warn first of tables that were changed by hand, as the days do."""
    if changed:
        from blockrun.show.page import ALARM, Page

        page = Page(screen().width)
        for line in changed:
            page.line((line, ALARM))
        say(page.text())


def _order(path: Path | None) -> Order | None:
    """Read the order where one is named; what lays out walls is imported only then."""
    if path is None:
        return None
    from blockrun.order import load_order

    return load_order(path)
