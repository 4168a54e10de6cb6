"""Which sheets a plan can be printed on, and in which order they lie."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from datetime import timedelta
from importlib import import_module
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.files.text import did_you_mean

if TYPE_CHECKING:
    from blockrun.show.day import Day
    from blockrun.show.paper.asked import Asked
    from blockrun.show.paper.press import Sheet

OF_A_PLAN: Final[Mapping[str, str]] = {
    "cautions": "cautions:cautions_page",
    "weeks": "week_page:week_pages",
    "saws": "saw_pages:saw_pages",
    "cuts": "cut_list:cut_list",
    "materials": "materials:materials_page",
    "blocks": "block_list:block_list",
    "domes": "dome_courses:dome_courses",
    "templates": "templates:templates",
}
"""Sheets on all of a plan, or on all the days asked for, by what ``--only`` calls them.

By module and function, so that day pages do not wait for what draws domes.
"""

OF_A_DAY: Final[Mapping[str, str]] = {"days": "day_page:day_pages", "cards": "cards:batch_cards"}
"""Sheets of single days: all of one day lie together, so that they can be hung up together."""

NAMES: Final = (*OF_A_PLAN, *OF_A_DAY)
BY_NAME_ALONE: Final = frozenset({"templates"})
"""Sheets that are printed only where they are named: a dome has a hundred pages of templates."""
SOON_PRINTED: Final = 40
"""Days of pouring: each takes half a second and a tenth of a gigabyte of memory (measured on a house)."""
USUAL: Final = tuple(name for name in NAMES if name not in BY_NAME_ALONE)


def sheets_of(asked: Asked, only: Collection[str] = USUAL) -> Iterator[Sheet]:
    """Sheets of a plan: those on all of it first, then day by day."""
    for name, place in OF_A_PLAN.items():
        if name in only:
            yield from _maker(place)(asked)
    of_day: list[Callable[[Asked, Day], Iterator[Sheet]]] = [
        _maker(place) for name, place in OF_A_DAY.items() if name in only
    ]
    for day in asked.days if of_day else ():
        for made in of_day:
            yield from made(asked, day)


def long_said(asked: Asked, only: Collection[str] = USUAL) -> str:
    """Say how to print less where the days asked for take long and much memory; empty where they do not."""
    pouring = [day.day for day in asked.days if day.pours] if not OF_A_DAY.keys().isdisjoint(only) else []
    if len(pouring) <= SOON_PRINTED:
        return ""
    week = f"--from {pouring[0]} --to {pouring[0] + timedelta(days=6)}"
    return (
        f"Pages of {len(pouring)} days of pouring at once take minutes and some {len(pouring) // 10} GB of memory; "
        f"those of a week take seconds: add {week}"
    )


def _maker(place: str) -> Callable[..., Iterator[Sheet]]:
    """The function that makes a kind of sheet."""
    module, name = place.split(":")
    maker: Callable[..., Iterator[Sheet]] = getattr(import_module(f"blockrun.show.paper.{module}"), name)
    return maker


def read_names(written: str | None) -> tuple[str, ...]:
    """Names of sheets with commas between, such as ``days,cards``; the usual ones where nothing is written.

    Raises
    ------
    BadInput : there is no such sheet.
    """
    return named(written, NAMES, USUAL)


def named(written: str | None, known: Sequence[str], usual: Sequence[str]) -> tuple[str, ...]:
    """Names with commas between, of those that are known; the usual ones where nothing is written.

    Raises
    ------
    BadInput : one is not known, or what is written names none.
    """
    names = tuple(name.strip() for name in (written or "").split(",") if name.strip())
    if written is not None and not names:
        raise BadInput("--only names nothing", f"Leave it out, or name some of {', '.join(known)}.", name="--only")
    for name in names:
        if name not in known:
            raise BadInput(f"there is no sheet {name}", did_you_mean(name, known), name="--only", value=name)
    return names or tuple(usual)
