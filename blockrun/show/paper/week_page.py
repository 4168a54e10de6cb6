"""The page of a week: its days side by side, with what is poured, stripped and moved, and how full everything is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import asdict, dataclass
from datetime import date, timedelta
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import clock, day_name, full_day_name
from blockrun.show.apart import DO_NOT_LAY
from blockrun.show.cautions import SHORT
from blockrun.show.day import names_of, onto_racks
from blockrun.show.days import delivery_said
from blockrun.show.hazards import hazards_of
from blockrun.show.head import air_said
from blockrun.show.page import glued
from blockrun.show.paper.press import Sheet
from blockrun.show.words import capital, named_together
from blockrun.site.calendar import moment_at
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from blockrun.show.day import Day
    from blockrun.show.paper.asked import Asked
    from blockrun.site import Mixer, Site

DAYS: Final = 7


@dataclass(frozen=True)
class Cell:
    """What is said of one thing on one day, a line each; ``full`` is drawn as a bar, from 0 to 1."""

    lines: tuple[str, ...] = ()
    full: float | None = None


@dataclass(frozen=True)
class Row:
    """One thing through the days of a week."""

    name: str
    cells: tuple[Cell, ...]

    @property
    def is_empty(self) -> bool:
        """Nothing is said of any day."""
        return not any(cell.lines for cell in self.cells)


_OVER: Final = Cell(("over: see the plan before",))
"""Of a day before a plan was made anew: an empty one would read as if nothing had been done."""


def week_pages(asked: Asked) -> Iterator[Sheet]:
    """A page for each week, Monday to Sunday, of which any day is printed; two quiet ones share one."""
    weeks: list[dict[str, object]] = []
    for monday, days in asked.weeks.items():
        if any(not day.is_quiet for day in days.values()):
            dates = [monday + timedelta(days=n) for n in range(DAYS)]
            weeks.append(_week(asked, dates, [days.get(day) for day in dates]))
    if weeks:
        yield Sheet("week_page", {"weeks": weeks, "cautions": SHORT})


def _week(asked: Asked, dates: Sequence[date], days: Sequence[Day | None]) -> dict[str, object]:
    rows = [row for row in _rows(asked, dates, days) if not row.is_empty]
    return {
        "title": f"Week of {full_day_name(dates[0])}",
        "days": [day_name(day) for day in dates],
        "free": [not asked.plan.site.calendar.is_working(day) for day in dates],
        "rows": [asdict(row) for row in rows],
    }


def _rows(asked: Asked, dates: Sequence[date], days: Sequence[Day | None]) -> Iterator[Row]:
    site = asked.plan.site

    def row(name: str, say: Callable[[Day], Iterable[str]]) -> Row:
        return Row(name, tuple(Cell(tuple(say(day)) if day else ()) for day in days))

    over = asked.plan.begun.since.date() if asked.plan.begun else date.min
    here = row("Here", lambda day: _here(day, site)).cells
    yield Row("Here", tuple(_OVER if day < over else cell for day, cell in zip(dates, here, strict=True)))
    yield row("Delivered", lambda day: (delivery_said(one, site.units) for one in day.delivered))
    yield row("Strip", lambda day: _done(day, "strip"))
    yield row("Sides off", lambda day: _done(day, "sides"))
    for mixer in site.mixers:
        yield Row(capital(mixer.name), tuple(_mixer(day, mixer, site) if day else Cell() for day in days))
    yield row("Pour", _poured)
    yield from _moulds(asked, dates)
    yield row("Move", _moved)
    yield from _racks(asked, dates)
    yield row("Crush", lambda day: (f"{counted(one.cubes, 'cube')} of set {one.number}" for one in day.crushed))
    yield row("Ready", _ready)


def _here(day: Day, site: Site) -> Iterator[str]:
    if day.people:
        yield counted(day.people, "person", "people")
    yield air_said(day.weather, site.units).removeprefix("air\u00a0")
    yield from (said.partition(":")[0] for said in hazards_of(day, site))


def _done(day: Day, task: str) -> Iterator[str]:
    if names := names_of(day.at(task)):
        yield named_together(names)


def _mixer(day: Day, mixer: Mixer, site: Site) -> Cell:
    """Batches of a mixer, from when to when, and how much of the working day it runs."""
    batches = [pour.batch for pour in day.pours if pour.batch.mixer == mixer.name]
    if not batches:
        return Cell()
    runs_min = sum((batch.end - batch.start).total_seconds() / 60 for batch in batches)
    there_min = sum(end - start for start, end in site.calendar.windows)
    numbers = sorted(int(batch.batch) for batch in batches)
    of = f"batch {numbers[0]}" if len(numbers) == 1 else f"{len(numbers)} batches, {_run(numbers)}"
    until = f"{clock(batches[0].start)}\u2013{clock(max(batch.end for batch in batches))}"
    return Cell((of, until), min(1.0, runs_min / there_min))


def _run(numbers: Sequence[int]) -> str:
    """``11-21``, or each of them where some between are of another mixer."""
    if numbers[-1] - numbers[0] == len(numbers) - 1:
        return f"{numbers[0]}\u2013{numbers[-1]}"
    return listed([str(number) for number in numbers])


def _poured(day: Day) -> Iterator[str]:
    """``24 full and 12 half``, a mix a line where a day has several; or why nothing is poured."""
    if day.no_pour:
        yield f"none: {day.no_pour}"
    mixes = {pour.batch.mix for pour in day.pours}
    marks = Counter((pour.batch.mix, one.mark) for pour in day.pours for fill in pour.fills for one in fill.cavities)
    for mix in sorted(mixes):
        blocks = listed([glued(f"{n} {mark}") for (of, mark), n in sorted(marks.items()) if of == mix])
        yield f"{mix}: {blocks}" if len(mixes) > 1 else blocks


def _moulds(asked: Asked, dates: Sequence[date]) -> Iterator[Row]:
    """How many moulds, sides and bases are full when the yard closes."""
    closes = [moment_at(day, asked.plan.site.calendar.ends_min) for day in dates]
    for kind in asked.plan.site.moulds:
        for what, names in (("sides" if kind.bases else "moulds", kind.mould_names), ("bases", kind.base_names)):
            full = [asked.full_at(names, at) for at in closes]
            yield Row(f"{kind.kind} {what}", tuple(_share(n, len(names)) for n in full))


def _racks(asked: Asked, dates: Sequence[date]) -> Iterator[Row]:
    for rack in asked.plan.site.racks:
        nights = [next((one.at_night for one in asked.racks.on(day) if one.rack == rack.name), 0) for day in dates]
        yield Row(f"Rack {rack.name}", tuple(_share(night, rack.places) for night in nights))


def _share(taken: int, there: int) -> Cell:
    return Cell((f"{taken} of {there}",), min(1.0, taken / there)) if taken and there else Cell()


def _moved(day: Day) -> Iterator[str]:
    yield from (f"{n} to rack {rack}" for rack, n in onto_racks(day.at("strip")))
    yield from (f"{leaving.count} off rack {leaving.rack}" for leaving in day.off_rack)


def _ready(day: Day) -> Iterator[str]:
    """How many blocks are ready in all, and then for each part; how many would be, outside their cards."""
    parts: Counter[str] = Counter()
    for one in day.ready:
        parts[one.part] += one.count
    if parts:
        yield f"{parts.total()} in all"
    yield from (f"{n} for {part}" if part else f"{n} spare" for part, n in parts.items())
    if day.apart:
        yield f"{DO_NOT_LAY}: {sum(apart.count for apart in day.apart)}"
