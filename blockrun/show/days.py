"""The days of a plan as text for a screen of any width, a phone's included."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from itertools import groupby
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.show.cautions import SHORT
from blockrun.show.diary import Day, Diary, Fill, Job, Lot, Pour
from blockrun.show.measures import measures
from blockrun.show.page import ALARM, HEADING, LIMIT, QUIET, Page, Part, glued
from blockrun.show.words import clock, counted, day_name, full_day_name, listed, named_together
from blockrun.units import digits, show

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.plan import Plan

CLOCK: Final = 6
"""Characters of ``07:30 ``, the hanging indent of a job."""

INNER: Final = 8


def days_text(plan: Plan, width: int, first: date | None = None, last: date | None = None) -> Text:
    """Write the schedule of some days of a plan.

    Parameters
    ----------
    plan : a whole plan.
    width : characters a line.
    first, last : days, both included; the whole plan when left out.

    Returns
    -------
    Text of lines no wider than ``width`` (or 30).

    Raises
    ------
    BadInput : the days lie outside the plan, or the wrong way round.
    """
    diary = Diary(plan)
    from_day, to_day = _span(diary, first, last)
    page = Page(width)
    page.line((f"{plan.site.name}: {plan.order.name}", HEADING))
    days = list(diary.days(from_day, to_day))
    for day in days:
        page.blank()
        _write_day(page, day, diary)
    if not days:
        page.blank()
        page.line(f"Nothing to do from {full_day_name(from_day)} to {full_day_name(to_day)}.")
    page.blank()
    page.line((SHORT, QUIET))
    return page.text()


def _span(diary: Diary, first: date | None, last: date | None) -> tuple[date, date]:
    """Days asked for, once they are known to lie in the plan."""
    runs = f"The plan runs from {diary.first} to {diary.last} ({day_name(diary.first)} to {day_name(diary.last)})."
    if first and last and last < first:
        raise BadInput(f"--to {last} comes before --from {first}", runs, name="to", value=last, limit=first)
    if first and first > diary.last:
        raise BadInput(f"nothing is planned from {first} on", runs, name="from", value=first, limit=diary.last)
    if last and last < diary.first:
        raise BadInput(f"nothing is planned up to {last}", runs, name="to", value=last, limit=diary.first)
    return max(first or diary.first, diary.first), min(last or diary.last, diary.last)


def _write_day(page: Page, day: Day, diary: Diary) -> None:
    page.rule(full_day_name(day.day))
    if day.jobs:
        page.line(*_head(day, diary))
    if day.delivered:
        page.line(f"Delivered by opening: {listed([_delivery(one, diary.site.units) for one in day.delivered])}")
    for job in day.jobs:
        if isinstance(job, Pour):
            _write_pour(page, job, diary)
        else:
            _write_job(page, job)
    for (part, course, needed, days_late), lots in groupby(day.ready, key=_use):
        blocks = listed([glued(f"{lot.count} {lot.block}") for lot in lots])
        page.line("Ready to lay: ", blocks, *_purpose(part, course, needed, days_late))
    for rack, counts in groupby(day.off_rack, key=lambda entry: entry[0]):
        page.line(f"Off rack {rack}: {listed([glued(f'{n} {block}') for _, block, n in counts])}")


def _head(day: Day, diary: Diary) -> list[Part]:
    """Who is here, the weather, and the limit of the day."""
    units = diary.site.units
    low, high = (glued(show(value, "temperature", units)) for value in (day.weather.min_c, day.weather.max_c))
    people = "1 person" if day.people == 1 else f"{day.people} people"
    said: list[Part] = [f"{glued(people)}, air {low} to {high}"]
    if not day.weather.forecast:
        said.append(" (past the forecast: the mean of its last days)")
    given = diary.site.calendar.last_foam_min < diary.site.calendar.windows[-1][1]
    if given and any(isinstance(job, Pour) for job in day.jobs):
        said += [", ", (glued(f"LAST FOAM {clock(diary.site.calendar.last_foam_min)}"), LIMIT)]
    return said


def _delivery(delivery: tuple[str, float], units: str) -> str:
    what, amount = delivery
    if what == "cement":
        return f"{glued(f'{digits(amount)} bags')} of cement"
    return f"{glued(show(amount, 'volume', units))} of foaming agent"


def _write_job(page: Page, job: Job) -> None:
    names = named_together(job.names)
    what = {
        "chore": listed(job.names),
        "sides": f"take the sides off {names}",
        "strip": f"strip {names}",
        "clean": f"clean and oil {names}",
    }[job.task]
    if any(limit.not_before is None for limit in job.limits):
        what += f" ({glued('old enough')})"
    if job.racks:
        moved = [f"{glued(counted(n, 'block'))} to rack {rack}" for rack, n in job.racks]
        what += f", move {listed(moved)}"
    if job.at_once > 1 and job.task != "chore":
        what += f", {glued(f'{job.at_once} at a time')}"
    page.line(f"{what}, {glued(f'done {clock(job.end)}')}", label=clock(job.start), indent=CLOCK)
    for limit in job.limits:
        if limit.not_before is not None:
            which = f" {named_together(limit.names)}" if len(job.limits) > 1 else ""
            page.line((glued(f"NOT BEFORE {clock(limit.not_before)}"), LIMIT), which, indent=CLOCK)


def _write_pour(page: Page, pour: Pour, diary: Diary) -> None:
    batch = pour.batch
    load = measures(batch, _bags(batch.bags), diary.site.foam_generator, diary.site.units)
    page.line(
        (glued(f"BATCH {batch.batch}"), HEADING),
        f" mix {batch.mix}, {batch.mixer}, {glued(f'washed {clock(batch.end)}')}",
        label=clock(pour.start),
        indent=CLOCK,
    )
    page.line(f"{load.bags} of cement ({load.cement}), {load.slurry_water} of water", indent=CLOCK)
    page.line(
        f"foam {load.foam} ({load.foam_mass}): run the generator {load.generator}; "
        f"{load.agent} of agent in {load.dilution_water} of water",
        label=clock(batch.foam_at), indent=CLOCK,
    )  # fmt: skip
    page.line(
        "pour at ", load.wet_density, ", ", (glued(f"POUR BY {clock(pour.pour_by)}"), LIMIT), ", into",
        label=clock(batch.pour_from), indent=CLOCK,
    )  # fmt: skip
    for names, contents in _fills(pour.fills, diary.site.units):
        page.line(f"{names}: {contents}", indent=INNER)


def _bags(bags: float) -> Fraction:
    """Bags as the fraction they were made up in; steps finer than a hundredth of a bag are not weighed."""
    return Fraction(bags).limit_denominator(100)


def _fills(fills: tuple[Fill, ...], units: str) -> Iterator[tuple[str, str]]:
    """Moulds that get the same, one after another, are named together."""
    for (contents, based), same in groupby(fills, key=lambda fill: (_contents(fill, units), bool(fill.base))):
        alike = list(same)
        if based:
            names = ", ".join(f"{fill.mould} on {fill.base.rsplit('/', 1)[-1]}" for fill in alike)
        else:
            names = named_together(fill.mould for fill in alike)
        yield names + (" each" if len(alike) > 1 else ""), contents


def _contents(fill: Fill, units: str) -> str:
    """``3 full, 1 cut``, with the cavities said where they are not simply the first ones."""
    simple = fill.alone and [filled.cavity for filled in fill.cavities] == [*range(1, len(fill.cavities) + 1)]
    said = []
    for (mark, stop_end_mm), run in groupby(fill.cavities, key=lambda filled: (filled.mark, filled.stop_end_mm)):
        cavities = [filled.cavity for filled in run]
        words = f"{len(cavities)} {mark}"
        if stop_end_mm is not None:
            words += f" (stop-end at {show(stop_end_mm, 'length', units)})"
        if not simple:
            words += f" in {'cavity' if len(cavities) == 1 else 'cavities'} {_run(cavities)}"
        said.append(glued(words))
    return ", ".join(said)


def _run(cavities: list[int]) -> str:
    if len(cavities) > 1 and cavities == [*range(cavities[0], cavities[-1] + 1)]:
        return f"{cavities[0]}-{cavities[-1]}"
    return listed([str(cavity) for cavity in cavities])


def _use(lot: Lot) -> tuple[str, int | None, date | None, int]:
    return lot.part, lot.course, lot.needed, lot.days_late


def _purpose(part: str, course: int | None, needed: date | None, days_late: int) -> list[Part]:
    """What blocks are for, when they are needed, and how late they are."""
    if not part:
        return [", spare"]
    said: list[Part] = [f" for {part}" + ("" if course is None else f" {glued(f'course {course}')}")]
    if needed is not None:
        said.append(f", needed {glued(day_name(needed))}")
    if days_late:
        said += [", ", (glued(f"{counted(days_late, 'day')} LATE"), ALARM)]
    return said
