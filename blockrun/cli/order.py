"""Commands on what is to be built: its blocks counted, listed and drawn; and the schemas of files."""

from __future__ import annotations

import json
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from blockrun.cli.options import OrderFile, Units
from blockrun.cli.written import write, write_pictures
from blockrun.errors import BadInput
from blockrun.terminal import complain, say, screen

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.planner.sawing import Sawing
    from blockrun.site import Site


class Input(StrEnum):
    """Files a user writes."""

    site = "site"
    order = "order"


def takeoff(
    order: OrderFile,
    units: Annotated[
        Units | None,
        typer.Option(metavar="SI|US", help="Units to print in; those of the site unless told, else of its blocks."),
    ] = None,
    out: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write a list instead, CSV or XLSX, which an order may name.")
    ] = None,
    site: Annotated[
        Path | None,
        typer.Option(
            metavar="SITE", help="Its moulds, which decide the blocks of domes; in a list, dates and wet masses."
        ),
    ] = None,
    picture: Annotated[
        Path | None, typer.Option(metavar="DIR", help="Draw the walls and domes, to look at and to print.")
    ] = None,
    replace: Annotated[bool, typer.Option("--replace", help="Replace a list or pictures that are there.")] = False,
) -> None:
    """Count the blocks of an order by part, course and mark, with volumes and dry masses.

    With a site it also says what to mend before planning, such as blocks that no mould casts. Name it where there is a
    dome: which blocks that is made of, and how many, hangs on your moulds.

    ORDER is a YAML file of what is to be built. A wall may have openings, piers, gables and slopes, a dome a profile
    and several openings, each at its angle: see examples/demo/order.yaml, and all keys with: blockrun schema order
    """
    from blockrun.order import load_order
    from blockrun.show.takeoff import takeoff_list, takeoff_sheet, takeoff_text
    from blockrun.site import load_site

    asked, yard = load_order(order), load_site(site) if site else None
    if out is not None and out.resolve() in {read.resolve() for read in asked.sources.values()}:
        raise BadInput("is read by this order, which would then be of itself", "Give another name.", file=out)
    show_in = units or (yard.units if yard else asked.system)
    if out is None and picture is None:
        say(takeoff_text(asked, screen().width, show_in, yard, _sawing(yard, asked) if yard else None))
    if out is not None or picture is not None:
        _note(asked, yard)
    if picture is not None:
        _draw(asked, yard, picture, show_in, replace=replace)
    if out is not None:
        written = takeoff_sheet if out.suffix.lower() == ".xlsx" else takeoff_list
        write(out, written(asked, yard), replace=replace)


def _note(order: Order, site: Site | None) -> None:
    """Say beside a list or pictures what hangs on moulds."""
    from blockrun.show.takeoff import moulds_decide

    if note := moulds_decide(order, site):
        complain(note)


def _sawing(site: Site, order: Order) -> Sawing | None:
    """Saw plans for an order, on a site that saws slabs."""
    if not any(kind.saw for kind in site.moulds):
        return None
    from blockrun.planner.sawing import settle_sawing
    from blockrun.planner.wanted import wanted

    return settle_sawing(site, order, wanted(site, order))


def _draw(order: Order, site: Site | None, folder: Path, units: str, *, replace: bool) -> None:
    """Write the pictures of an order."""
    from blockrun.show.pictures.of_order import order_pictures

    pictures = order_pictures(order, site.moulds if site else (), units=units)
    if not pictures:
        raise BadInput("this order has no wall and no dome to draw", "Write one as a part of the order.")
    write_pictures(pictures, folder, replace=replace)


def schema(file: Annotated[Input, typer.Argument(metavar="FILE", hidden=True)]) -> None:
    """Print the JSON Schema of a file, for editors that check while you type.

    FILE is the word site or order.
    """
    from blockrun.order import order_schema
    from blockrun.site import site_schema

    typer.echo(json.dumps(site_schema() if file is Input.site else order_schema(), indent=2))
