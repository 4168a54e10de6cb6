"""When what is poured at each hour may be stripped, moved and laid, drawn: day after day, on sheets of paper."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from blockrun.cure.hazards import FREEZING_C
from blockrun.errors import BadInput
from blockrun.files.day_names import full_day_name
from blockrun.show.hazards import hazards_said
from blockrun.show.head import air_said
from blockrun.show.page import GLUE
from blockrun.show.pictures.axis import AIR_MM, LEFT, Axis, DayOnPaper, Join, Span, Tick
from blockrun.show.pictures.paper import render, wrapped
from blockrun.show.pictures.times_rows import HEAD, LINE, ROW, Group, group_of, right_of, row_said, wrapped_all
from blockrun.show.times import how_said, kinds_said, last_said
from blockrun.units import listed

if TYPE_CHECKING:
    from blockrun.planner.times import DayTimes, YardTimes
    from blockrun.site import Site

WIDTH: Final = 186.0
SHEETS: Final = {"SI": ("A4", 273.0), "US": ("letter", 255.0)}
"""Paper, and its height less margins of 12 mm; both are wide enough."""
LETTERS: Final = 108
"""Letters that fit on a line, whatever font is there."""
_TITLE: Final = 9.0
_LEGEND: Final = 27.0
_NAMES: Final = 9.0
_GAP: Final = 2.0
_MOST_ROWS: Final = 1200


@dataclass(frozen=True)
class Head:
    """A day of pouring: its name and air, what the weather asks for, and the days across."""

    heading: str
    hazards: tuple[tuple[str, ...], ...]
    drawn: bool
    spans: tuple[Span, ...]
    ticks: tuple[Tick, ...]
    days: tuple[DayOnPaper, ...]
    join: Join | None
    least: float | None
    freezing: float | None

    @property
    def height(self) -> float:
        """From its name to the first group below."""
        lines = sum(map(len, self.hazards))
        return 5.0 + LINE * lines + (_NAMES + AIR_MM + 1.0 if self.drawn else 0.0)


@dataclass
class Sheet:
    """What stands on one sheet of paper, each with how far down."""

    says: tuple[str, ...] = ()
    heads: list[tuple[float, Head, bool]] = field(default_factory=list)
    groups: list[tuple[float, Group, Head]] = field(default_factory=list)


def times_picture(site: Site, times: YardTimes) -> str:
    """Draw the times of some days as one SVG picture, sheet below sheet; a browser prints each on a page of its own.

    Raises
    ------
    BadInput : there are more hours than a picture can show.
    """
    if sum(len(day.hours) for of_kind in times.kinds for day in of_kind.days) > _MOST_ROWS:
        raise BadInput(f"there are more than {_MOST_ROWS} hours of pouring to draw", "Ask for fewer days.")
    paper, height = SHEETS[site.units]
    says = [said.replace(GLUE, " ") for said in how_said(site, times)]
    sheets = list(_sheets(_of_days(site, times), tuple(wrapped_all(says, LETTERS)), height))
    based = _is_based(times)
    return render(
        "times.svg.jinja",
        title=f"{site.name}: from pour to sides, strip, move and laying",
        said=" ".join((*says, *_all_said(times))),
        sheets=sheets, paper=paper, width=WIDTH, height=height, legend=height - _LEGEND,
        left=LEFT, right=right_of(based), row=ROW, head=HEAD, line=LINE, air=AIR_MM, names=_NAMES,
        based=based,
    ) + "\n"  # fmt: skip


def _is_based(times: YardTimes) -> bool:
    """Whether sides of any mould come off first."""
    return any(one.sides is not None for of_kind in times.kinds for day in of_kind.days for one in day.hours)


def _all_said(times: YardTimes) -> Iterator[str]:
    """All that is drawn, for those who hear the picture."""
    for of_kind in times.kinds:
        for day in of_kind.days:
            pours = f"no pour, {day.stopped}" if day.stopped else "; ".join(map(row_said, day.hours))
            yield f"{kinds_said(of_kind)}, {full_day_name(day.day)}: {pours}."
            yield from (last_said(times, day.hours) for times in day.last)


def _of_days(site: Site, times: YardTimes) -> Iterator[tuple[Head, list[Group]]]:
    """Each day with the moulds that are told of it."""
    every = [(kinds_said(of_kind), of_kind.days) for of_kind in times.kinds]
    across = max((_days_of(day) for _, days in every for day in days), default=1)
    for of_day in zip(*(days for _, days in every), strict=True):
        axis = Axis(site, of_day[0].day, across, right_of(_is_based(times)))
        named = {name: day for (name, _), day in zip(every, of_day, strict=True)}
        yield _head(site, of_day, axis), [group_of(day, name, axis) for name, day in _stopped_alike(named)]


def _stopped_alike(named: Mapping[str, DayTimes]) -> Iterator[tuple[str, DayTimes]]:
    """Moulds on a day; those into which nothing is poured for the same reason together."""
    together: dict[str, list[str]] = {}
    for name, day in named.items():
        together.setdefault(day.stopped or name, []).append(name)
    yield from ((listed(names), named[names[0]]) for names in together.values())


def _days_of(day: DayTimes) -> int:
    return max(((times.strip.date() - day.day).days + 1 for times in (*day.hours, *day.last)), default=1)


def _head(site: Site, of_day: Sequence[DayTimes], axis: Axis) -> Head:
    day, air = of_day[0].day, site.weather.day(of_day[0].day)
    pours = any(one.hours for one in of_day)
    hazards = hazards_said(air, site, pours=pours)
    return Head(
        heading=f"{full_day_name(day)}, {air_said(air, site.units)}".replace(GLUE, " "),
        hazards=tuple(tuple(wrapped(said, LETTERS - 8)) for said in hazards),
        drawn=pours,
        spans=tuple(axis.spans()),
        ticks=tuple(axis.ticks()),
        days=tuple(axis.days()),
        join=axis.join(),
        least=axis.level(site.curing.least_air_c),
        freezing=axis.level(FREEZING_C),
    )


def _sheets(days: Iterator[tuple[Head, list[Group]]], says: tuple[str, ...], height: float) -> Iterator[Sheet]:
    """Fill sheet after sheet; a day that goes on is named again on the next."""
    sheet, y = Sheet(says), _TITLE + LINE * len(says) + _GAP
    for head, groups in days:
        for number, group in enumerate(groups):
            new = not number
            if y + group.height + (head.height if new else 0.0) > height - _LEGEND and (sheet.heads or says):
                yield sheet
                sheet, y, new = Sheet(), _TITLE, True
            if new:
                sheet.heads.append((y, head, number > 0))
                y += head.height
            sheet.groups.append((y, group, head))
            y += group.height
        y += _GAP
    yield sheet
