"""A plan made anew: why, what it reaches, what carrying on as before would, and what changes on the next two days."""

from __future__ import annotations

import shlex
from collections.abc import Iterator, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import clock, day_name, moment_name
from blockrun.show.cautions import SHORT
from blockrun.show.measures import by_bags
from blockrun.show.page import ALARM, HEADING, QUIET, Page, Part, glued
from blockrun.show.summary import INDENT, NAMES, blocks_said, stage_said, value_said
from blockrun.show.tape import note_on_tape
from blockrun.show.words import named_together, place_said
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.begun.changes import BatchOfDay, DayChanged
    from blockrun.planner.begun.courses import CourseMoved
    from blockrun.planner.replanned import Replanned

_NAMED: Final = 8
"""Courses that are told one by one."""


def replanned_text(told: Replanned, width: int, saved_in: str, *, tried: bool = False) -> Text:
    """Write what a plan made anew does.

    Parameters
    ----------
    saved_in : its folder, as a user would type it.
    tried : it was not saved.
    """
    plan, units = told.plan, told.plan.site.units
    assert plan.begun is not None
    page = Page(width, units)
    since = moment_name(plan.begun.since)
    page.line((f"{plan.site.name}: {plan.order.name}, planned anew from {since}", HEADING))
    page.line(blocks_said(plan))
    if told.missing:
        page.blank()
        page.line((_missing_said(told, tried=tried), ALARM))
    if told.later:
        page.blank()
        page.line((f"{counted(told.later, 'thing')} recorded as later than that: not heeded.", ALARM))
    if told.blocks_off_card:
        page.blank()
        page.line((_off_card_said(told.blocks_off_card), ALARM))
    page.section("What happened", ([f"{sentence}."] for sentence in told.why))
    page.blank()
    for stage in plan.stages:
        page.line(*stage_said(stage, units), label=NAMES[stage.stage], indent=INDENT)
        page.line((_before_said(told, stage.stage, units), QUIET), indent=INDENT)
    page.section("Courses", _courses(told.courses))
    for day in told.days:
        page.section(day_name(day.day), _day(day))
    if not told.days:
        page.blank()
        page.line("Nothing is poured on the next two working days, as before.")
    page.blank()
    for note in told.notes:
        page.line((note_on_tape(note), ALARM), label="note", indent=INDENT)
    if tried:
        page.line("Nothing was saved: leave out --try to have this plan.")
    else:
        page.verbatim(saved_in, label="saved in", indent=INDENT)
        wall = str(Path(saved_in).parent / "wall.pdf")
        new_pages = shlex.join(["blockrun", "paper", saved_in, "--out", wall, "--replace"])
        page.verbatim(new_pages, label="new pages", indent=INDENT)
        page.verbatim(shlex.join(["blockrun", "replan", saved_in, "--undo"]), label="go back", indent=INDENT)
        page.line(f"this is plan {told.number}; plan {told.after} is kept", label="number", indent=INDENT)
    page.blank()
    page.line((SHORT, QUIET))
    return page.text()


def stays_text(width: int, since: str) -> Text:
    """Say that nothing happened for which the plan would have to be another."""
    page = Page(width)
    page.line(("The plan stays as it is", HEADING), f": nothing was recorded {since}.")
    return page.text()


def _missing_said(told: Replanned, *, tried: bool) -> str:
    names = [str(number) for number in told.missing]
    batches = f"batch {names[0]} is" if len(names) == 1 else f"batches {listed(names)} are"
    it = "it was" if len(names) == 1 else "they were"
    # the plan that is saved has no batch of that number, so nothing can be recorded of it there
    back = "" if tried else f"go back to plan {told.after} as below, "
    return (
        f"By the plan {batches} to be poured by now, and nobody recorded that: taken as not poured. "
        f"If {it}, {back}record that and plan again."
    )


def _off_card_said(blocks: int) -> str:
    are, them = ("is", "it") if blocks == 1 else ("are", "them")
    return (
        f"{counted(blocks, 'block')} of batches outside their cards {are} taken for good, though not to be laid as "
        f"they are. If nobody will answer for {them}, record {them} as rejected and plan again, to have {them} made up."
    )


def _before_said(told: Replanned, stage: str, units: str) -> str:
    said = f"plan {told.after} said {value_said(told.before[stage], units)}"
    if told.kept is not None:
        said += f"; carried on as it is: {value_said(told.kept[stage], units)}"
    return said


def _courses(moved: Sequence[CourseMoved]) -> Iterator[list[Part]]:
    """Those that are late now and later than before, soonest needed first; of the others how many there are."""
    later = [course for course in moved if course.now > course.was]
    late = sorted((course for course in later if course.needed and course.days_late), key=_by_need)
    for course in late[:_NAMED]:
        assert course.needed is not None
        was = f", was {day_name(course.was)}; needed {day_name(course.needed)}"
        yield [(_name(course), HEADING), f": ready {day_name(course.now)}{was}"]
    if len(late) > _NAMED:
        yield [f"{len(late) - _NAMED} more are later than before, and late"]
    in_time, sooner = len(later) - len(late), len(moved) - len(later)
    if in_time:
        yield [f"{in_time} ready later than before, none of them late"]
    if sooner:
        yield [f"{sooner} ready sooner than before"]


def _by_need(course: CourseMoved) -> tuple[date, str, int]:
    return course.needed or date.max, course.part, course.course or 0


def _name(course: CourseMoved) -> str:
    return course.part if course.course is None else glued(place_said(course.part, course.course))


def _day(day: DayChanged) -> Iterator[list[Part]]:
    if not day.is_changed:
        yield [f"{counted(len(day.same), 'batch')}, as before{_renumbered(day)}"]
        return
    if day.same:
        yield [f"{counted(len(day.same), 'batch')} as before{_renumbered(day)}"]
    for old, new in day.moved:
        yield [
            (f"moved to {clock(new.start)}", HEADING),
            f", was {_when(old, day)}: {_batch_said(new)}{_was(old, new)}",
        ]
    for batch in day.gone:
        yield [("no longer", HEADING), f" {_when(batch, day)}: {_batch_said(batch)}"]
    for batch in day.new:
        yield [("new", HEADING), f" {clock(batch.start)}: {_batch_said(batch)}"]


def _renumbered(day: DayChanged) -> str:
    """Batches as before whose cards, if they are printed, have another number; empty where none has."""
    said = [glued(f"batch {new.number}{was}") for old, new in day.same if (was := _was(old, new))]
    return f", now {listed(said)}" * bool(said)


def _when(old: BatchOfDay, day: DayChanged) -> str:
    """The minute of a batch, with its day where that is another one."""
    at = clock(old.start)
    return at if old.start.date() == day.day else f"{day_name(old.start.date())} {at}"


def _was(old: BatchOfDay, new: BatchOfDay) -> str:
    return "" if old.number == new.number else f" (it was batch {old.number})"


def _batch_said(batch: BatchOfDay) -> str:
    marks = listed([f"{count} {mark}" for mark, count in batch.marks]) or "test cubes alone"
    into = f" in {named_together(batch.moulds)}" if batch.moulds else ""
    return f"batch {batch.number}, {by_bags(batch.bags)} of {batch.mix}, {marks}{into}"
