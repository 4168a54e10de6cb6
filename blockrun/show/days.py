"""The days of a plan as text for a screen of any width, a phone's included."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Sequence
from datetime import date
from itertools import groupby
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.files.day_names import clock, day_name, full_day_name
from blockrun.planner.folder import EARLIER
from blockrun.show.care import care_said
from blockrun.show.cautions import SHORT
from blockrun.show.covering import covered, covering
from blockrun.show.crew import people_said
from blockrun.show.day import Day, Pour
from blockrun.show.diary import Diary
from blockrun.show.hazards import hazards_of
from blockrun.show.head import day_head, sheet_names
from blockrun.show.jobs import (
    Entry,
    chore_entries,
    covering_entries,
    fillers_entry,
    job_entry,
    off_rack_entry,
    pour_entries,
)
from blockrun.show.kept_full import kept_full_said
from blockrun.show.page import ALARM, HEADING, QUIET, Page, glued
from blockrun.show.ready import ready_said
from blockrun.show.saw_sheet import used_on, write_saw_plans
from blockrun.units import digits, listed, show

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.begun import Begun
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumbs.turns import Thumbs
    from blockrun.show.saw_plans import SawPlan
    from blockrun.site import Site

CLOCK: Final = 6
"""Characters of ``07:30 ``, the hanging indent of a job."""

BULLET: Final = f"{'':{CLOCK}}-"
INNER: Final = 8
"""A bullet under the words of a job, and the hanging indent of what it marks."""


ON_FILLERS: Final = (
    "Filler moulds take what is left of a batch and give spares. Nobody's time is set aside for them, no place on a "
    "rack is counted, and nothing of them is recorded until their blocks are counted on a rack."
)


def days_text(
    plan: Plan,
    width: int,
    first: date | None = None,
    last: date | None = None,
    warnings: Sequence[str] = (),
    thumbs: Thumbs | None = None,
    apart: Container[int] = (),
) -> Text:
    """Write the schedule of some days of a plan.

    Parameters
    ----------
    first, last : days, both included; the whole plan when left out.
    warnings : said before all else.
    thumbs : what thumbs pressed into its moulds make later is told, too.

    Returns
    -------
    Text of lines no wider than ``width`` (or 30).

    Raises
    ------
    BadInput : the days lie outside the plan, or the wrong way round.
    """
    diary = Diary(plan, thumbs, apart)
    from_day, to_day = span_of(diary, first, last)
    page = Page(width, plan.site.units)
    for warning in warnings:
        page.line((warning, ALARM))
    page.line((f"{plan.site.name}: {plan.order.name}", HEADING))
    page.line((sheet_names(plan.site), QUIET))
    for reckoned in diary.reckoned:
        page.line((reckoned, QUIET))
    if plan.begun and from_day == diary.first:
        page.line((_left_out(plan.begun), QUIET))
    days = list(diary.days(from_day, to_day))
    for alike in _alike(days, plan.site):
        page.blank()
        _write_days(page, alike, plan.site)
    if not days:
        page.blank()
        page.line(f"Nothing to do {_from_to(from_day, to_day)}.")
    if saw_plans := used_on(days, diary.saw_plans):
        page.blank()
        write_saw_plans(page, saw_plans, plan.site)
    if any(day.fillers or any(pour.left.fills for pour in day.pours) for day in days):
        page.blank()
        page.line((ON_FILLERS, QUIET))
    page.blank()
    page.line((SHORT, QUIET))
    return page.text()


def saw_plans_shown(plan: Plan, first: date | None = None, last: date | None = None) -> list[SawPlan]:
    """Saw plans of slabs that are poured or sawn on some days of a plan, on all of them unless told.

    Raises
    ------
    BadInput : as for :func:`days_text`.
    """
    diary = Diary(plan)
    return used_on(diary.days(*span_of(diary, first, last)), diary.saw_plans)


def span_of(diary: Diary, first: date | None, last: date | None) -> tuple[date, date]:
    """Days asked for, once they are known to lie in the plan.

    Raises
    ------
    BadInput : they lie outside the plan, or the wrong way round.
    """
    runs = f"The plan runs from {diary.first} to {diary.last} ({day_name(diary.first)} to {day_name(diary.last)})."
    if diary.begun:
        runs = f"{runs} {_left_out(diary.begun)}"
    if first and last and last < first:
        raise BadInput(f"--to {last} comes before --from {first}", runs, name="to", value=last, limit=first)
    if first and first > diary.last:
        raise BadInput(f"nothing is planned from {first} on", runs, name="from", value=first, limit=diary.last)
    if last and last < diary.first:
        raise BadInput(f"nothing is planned up to {last}", runs, name="to", value=last, limit=diary.first)
    return max(first or diary.first, diary.first), min(last or diary.last, diary.last)


def _left_out(begun: Begun) -> str:
    """Say that what happened before a plan was made anew is not among its days, and where it was planned."""
    since = f"{full_day_name(begun.since.date())}, {clock(begun.since)}"
    return (
        f"What was before {since} has happened and is left out: {EARLIER}/{begun.after} in the folder of this plan has "
        "it as it was planned, and blockrun export what was recorded."
    )


def _from_to(first: date, last: date) -> str:
    if first == last:
        return f"on {full_day_name(first)}"
    return f"from {full_day_name(first)} to {full_day_name(last)}"


def _alike(days: Iterable[Day], site: Site) -> Iterator[list[Day]]:
    """Days one by one, but those together on which nothing happens, with the same to be said of each."""

    def said(day: Day) -> tuple[object, ...] | None:
        if not day.is_quiet:
            return None
        return (day.no_pour, day.kept_full, care_said(day, site), hazards_of(day, site), covering(day, site))

    for quiet, group in groupby(days, key=said):
        if quiet is None:
            yield from ([day] for day in group)
        else:
            yield list(group)


def _write_days(page: Page, days: list[Day], site: Site) -> None:
    first, last = days[0], days[-1]
    if first is last:
        page.rule(full_day_name(first.day))
        for line in day_head(first, site):
            page.line(*line)
    else:
        page.rule(f"{day_name(first.day)} to {full_day_name(last.day)}")
        for warning in hazards_of(first, site):
            page.line((warning, ALARM))
    if first.no_pour:
        page.line(f"No pour: {first.no_pour}.")
    elif first.is_quiet and not covered(first, site):
        page.line("Nothing to do.")
    for said in filter(None, (kept_full_said(first.kept_full), care_said(first, site))):
        page.line(said)
    _write_events(page, first, site)


def _write_events(page: Page, day: Day, site: Site) -> None:
    if day.delivered:
        when = "by opening" if site.calendar.is_working(day.day) else "while nobody works"
        page.line(f"Delivered {when}: {listed([delivery_said(one, site.units) for one in day.delivered])}")
    for cubes in day.crushed:
        page.line(f"To crush: {cubes.said}")
    for entry in sorted(_entries(day, site), key=lambda entry: entry.at):
        page.line(*entry.words, label=clock(entry.at), indent=CLOCK)
        for words in entry.under:
            page.line(*words, indent=CLOCK)
        for line in entry.set_in:
            page.line(line, label=BULLET, indent=INNER)
    for said in ready_said(day.ready):
        page.line("Ready to lay: ", *said)
    for apart in day.apart:
        page.line(*apart.not_to_lay)


def _entries(day: Day, site: Site) -> Iterator[Entry]:
    """All that has a time, one kind after the other; what goes before a job comes first."""
    yield from (Entry(note.at, note.words) for note in day.notes)
    yield from (off_rack_entry(leaving, site) for leaving in day.off_rack)
    yield from (fillers_entry(list(ripe)) for _, ripe in groupby(day.fillers, key=lambda one: one.at))
    for job, people in zip(day.jobs, people_said(day.jobs, day.people), strict=True):
        if isinstance(job, Pour):
            yield from pour_entries(job, people, site)
        elif job.task == "chore":
            yield from chore_entries(job, people, site.weather)
        else:
            yield job_entry(job, people)
    yield from covering_entries(day, site)


def delivery_said(delivery: tuple[str, float], units: str) -> str:
    """``80 bags of cement``."""
    what, amount = delivery
    if what == "cement":
        return f"{glued(f'{digits(amount)} bags')} of cement"
    return f"{glued(show(amount, 'volume', units))} of foaming agent"
