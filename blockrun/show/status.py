"""How a job stands, on one screen: first whether the plan still holds, then how far it is and what is late or short."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from typing import TYPE_CHECKING, Final, TypeVar

from blockrun.cure.pour_life import OUR_CHOICE
from blockrun.files.day_names import day_name, moment_name
from blockrun.show.losses import losses_said
from blockrun.show.page import ALARM, HEADING, INDENT, QUIET, Page, Part, glued
from blockrun.show.reserves import reserve_said, runs_out
from blockrun.show.undone import nobody_said, put_off_counted, undone_counted, undone_said
from blockrun.show.weighed import weighed_said
from blockrun.show.words import capital
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from datetime import date

    from rich.text import Text

    from blockrun.planner.progress import Away, Batches, Blocks, LateCourse, Progress, ShortCourse

Course = TypeVar("Course", "LateCourse", "ShortCourse")

_HALF_A_DAY: Final = 0.5
NUMBERS_SHOWN: Final = 4
"""Batches that nobody recorded, and days lost, that are named; of more it is said how many (our choice)."""


def status_text(progress: Progress, units: str, width: int, again: str, day: str) -> Text:
    """Write how a job stands.

    Parameters
    ----------
    again : the command that plans the rest anew.
    day : the command that asks about each thing of a day.
    """
    page = Page(width, units)
    page.line((f"Status {moment_name(progress.at)}", HEADING))
    _write_verdict(page, progress, again)
    page.section("Progress", _progress(progress, day))
    page.section("Late", _late(progress))
    page.section("Stock", _stock(progress, units))
    page.section("Broken and rejected", losses_said(progress))
    if progress.batches.poured:
        page.section("Foam and density", [*_off_card(progress.off_card), *weighed_said(progress.weighed, units)])
    page.section("Entries", _clashes(progress))
    return page.text()


# whether the plan still holds


def _write_verdict(page: Page, progress: Progress, again: str) -> None:
    wrong = list(_wrong(progress)) if progress.courses_left else []
    is_serious = any(serious for _, serious in wrong)
    said = _verdict(progress, listed([words for words, _ in wrong]), is_serious)
    is_silent = not progress.entries and progress.batches.due
    page.line((said, ALARM if is_serious or is_silent else HEADING))
    if is_serious:
        is_short = any(reserve.missing for reserve in progress.reserves)
        is_open = any(one.is_old_enough for one in progress.undone)
        first = ["record what was done"] * is_open + ["order what is short"] * is_short
        page.line(capital(f"{listed(first)}; then plan the rest anew with:" if first else "plan the rest anew with:"))
        page.verbatim(again, "", INDENT)


def _verdict(progress: Progress, wrong: str, is_serious: bool) -> str:
    batches = progress.batches
    if not progress.courses_left:
        return "All is laid."
    if not progress.entries:
        first = f"the first pour is over by {moment_name(batches.first)}"
        due = f"Nothing is recorded, and {counted(batches.due, 'batch')} should be poured by now"
        return f"{due if batches.due else f'Not begun: {first}'}{f': {wrong}' if is_serious else ''}."
    if wrong:
        return f"{capital(wrong)}{'' if is_serious else _still(progress)}."
    if batches.poured == batches.in_all:
        return "All batches are poured, and nothing is later than planned."
    late = {course.part for course in progress.late}
    itself = (
        f"; {counted(len(late), 'part')} {'is' if len(late) == 1 else 'are'} late in the plan itself" if late else ""
    )
    return f"The plan holds{f', {_ahead(batches)}' if batches.behind < 0 else ''}{itself}."


def _still(progress: Progress) -> str:
    """What can be said of a plan that is not kept, where that makes nothing late."""
    if any(one.is_old_enough for one in progress.undone):
        return ": record what was done, to know whether the plan holds"
    if any(map(_waits_for_a_word, progress.late)):
        return ". Ask who answers for the wall; else record them as rejected, then replan"
    if progress.hot:
        return ": so the plan does not hold as it is"
    return ", yet nothing is later than the plan itself has it"


def _wrong(progress: Progress) -> Iterator[tuple[str, bool]]:
    """What is not as planned, and whether that makes something late."""
    if progress.batches.behind > 0 and progress.entries:
        yield f"{counted(progress.batches.behind, 'batch')} behind", False
    if recorded := undone_counted([one for one in progress.undone if one.is_old_enough]):
        yield f"{recorded} not recorded", False
    yield from ((said, False) for said in put_off_counted(progress.undone))
    if progress.off_card:
        its = "its card" if len(progress.off_card) == 1 else "their cards"
        yield f"{counted(len(progress.off_card), 'batch')} outside {its}", False
    if progress.hot:
        yield f"{counted(len(progress.hot), 'batch')} cannot be poured in time in the heat", False
    if progress.nobody:
        yield f"nobody there on {nobody_said(progress.nobody)}", True
    if waiting := {course.part for course in progress.late if _waits_for_a_word(course)}:
        wait = "waits" if len(waiting) == 1 else "wait"
        yield f"{counted(len(waiting), 'part')} {wait} for blocks that are set apart", False
    late = {course.part for course in progress.late if not (course.is_planned or _waits_for_a_word(course))}
    if late:
        yield f"{counted(len(late), 'part')} late", True
    if progress.short:
        parts = {course.part for course in progress.short}
        yield f"blocks short in {counted(len(parts), 'part')}", True
    if out := runs_out(progress.reserves):
        yield out, True


def _waits_for_a_word(course: LateCourse) -> bool:
    """Whether it is late for want of blocks that are set apart alone: a plan made anew takes these for good."""
    return course.ready is None and course.apart > 0


# how far it is


def _progress(progress: Progress, day: str) -> Iterator[Sequence[Part]]:
    batches = progress.batches
    yield [f"batches: {batches.poured} of {batches.in_all} poured", *_beside_plan(batches, progress.at.date())]
    if batches.of_others:
        yield [_of_others_said(batches.of_others)]
    if batches.open:
        yield [_open_said(batches)]
    yield from ([line] for line in undone_said(progress, day))
    yield from ([line] for line in _blocks(progress.blocks, progress.blocks_off_card))
    if progress.courses_left < progress.courses:
        yield [f"courses: {progress.courses - progress.courses_left} of {progress.courses} laid whole"]
    if batches.poured < batches.in_all:
        yield [f"last pour planned for {glued(day_name(batches.last))}{_pace_said(batches)}"]
    if progress.hot:
        yield [("HEAT", ALARM), f": {_hot_said(progress.hot)}"]
    if progress.lost_days:
        yield [_named_few([day_name(day) for day in progress.lost_days], "day", "lost")]
    for name, since in progress.out_of_use:
        yield [f"out of use: {name}, since {glued(day_name(since.date()))}"]
    yield from ([_away(one)] for one in progress.away)
    if progress.nobody:
        yield [("nobody is there", ALARM), f" on {nobody_said(progress.nobody)}, and the plan has work then"]


def _beside_plan(batches: Batches, today: date) -> list[Part]:
    if not batches.due and not batches.poured:
        return [", none due yet"]
    again = f"; {batches.again} more again" if batches.again else ""
    if batches.behind > 0:
        return [
            f" and {batches.due} due: ",
            (f"{batches.behind} behind", ALARM),
            f", {_behind_said(batches, today)}{again}",
        ]
    return [f", {_ahead(batches) if batches.behind else 'as planned'}{again}"]


def _ahead(batches: Batches) -> str:
    return f"{counted(-batches.behind, 'batch')} ahead, {_days(-batches.behind_days)}"


def _behind_said(batches: Batches, today: date) -> str:
    """What was due only today is no day behind, however few a day has."""
    is_today = batches.open and all(day == today for _, day in batches.open)
    return "due today" if is_today else _days(batches.behind_days)


def _days(days: float) -> str:
    """What so many batches are, in days of the plan."""
    if days < _HALF_A_DAY:
        return "less than half a day's work"
    return "less than a day's work" if days < 1 else f"about {glued(counted(round(days), 'working day'))}"


def _open_said(batches: Batches) -> str:
    """Batches that nobody recorded: they may be poured all the same."""
    said = f"{'batch' if len(batches.open) == 1 else 'batches'} {_numbers_said(batches.open)}; if poured"
    if batches.of_others:
        return f"not recorded by this plan: {said}, and not by the other plan's number, record it"
    return f"not recorded: {said}, record it"


def _hot_said(hot: Sequence[tuple[int, date]]) -> str:
    """Batches to come that set before they are poured, and what to do."""
    named = f"{'batch' if len(hot) == 1 else 'batches'} {_numbers_said(hot)} cannot be poured in time ({OUR_CHOICE})"
    todo = "write earlier hours, a shorter pour_time or pour_life_up_to into the site, and plan the rest anew with it"
    return f"{named}; {todo}"


def _of_others_said(batches: Sequence[tuple[int, date]]) -> str:
    """Batches that count in the blocks and not among those of the plan."""
    its, it_is = ("Its", "it is") if len(batches) == 1 else ("Their", "they are")
    poured = f"besides, {counted(len(batches), 'batch')} poured by another plan: {_numbers_said(batches)}"
    return f"{poured}. {its} blocks count, and {it_is} none of these"


def _numbers_said(batches: Sequence[tuple[int, date]]) -> str:
    shown = batches[:NUMBERS_SHOWN]
    said = [
        f"{', '.join(str(number) for number, _ in of_day)} of {glued(day_name(day))}"
        for day, of_day in groupby(shown, key=lambda one: one[1])
    ]
    more = len(batches) - len(shown)
    return listed([*said, f"{more} more"] if more else said)


def _blocks(blocks: Blocks, off_card: int) -> Iterator[str]:
    due = f", {blocks.due} due" if blocks.due != blocks.good else ""
    doubtful = f", {off_card} more outside the card" if off_card else ""
    yield f"blocks: {blocks.good - off_card} good of {blocks.in_all}{doubtful}{due}"
    places = (
        (blocks.in_moulds, "in moulds"),
        (blocks.beside, "out of moulds"),
        (blocks.on_racks, "on racks"),
        (blocks.stacked, "stacked"),
        (blocks.laid, f"of {blocks.ordered} laid"),
        (blocks.broken, "broken"),
        (blocks.rejected, "rejected"),
        (blocks.missing, "missing since a count"),
    )
    if blocks.cast or blocks.found:
        found = [f"{blocks.found} of them found in a count"] if blocks.found else []
        yield "now: " + ", ".join([*(glued(f"{count} {where}") for count, where in places if count), *found])


def _pace_said(batches: Batches) -> str:
    if batches.last_at_pace is None:
        return ""
    return f"; at the pace so far about {glued(day_name(batches.last_at_pace))}, roughly"


def _off_card(batches: Sequence[str]) -> Iterator[Sequence[Part]]:
    """Batches that may be no good, until they are rejected or laid, or something speaks for them."""
    if batches:
        named = _named_few(batches, "batch", "outside the card")
        yield [(named, ALARM), ". Lay nothing of it: blockrun ready says why, and what ends that"]


def _named_few(names: Sequence[str], thing: str, what: str) -> str:
    shown = [glued(name) for name in names[-NUMBERS_SHOWN:]]
    last = "the last " if len(shown) < len(names) else ""
    return f"{counted(len(names), thing)} {what}: {last}{listed(shown)}"


def _away(away: Away) -> str:
    until = f" to {glued(day_name(away.last))}" if away.last > away.first else ""
    if away.everybody:
        return f"away: the whole crew, {glued(day_name(away.first))}{until}"
    people = counted(away.people, "person", "people")
    return f"away: {people}, {glued(day_name(away.first))}{until}"


# what is late


def _late(progress: Progress) -> Iterator[Sequence[Part]]:
    for part, late in _by_part(progress.late).items():
        yield _late_part(part, late)
    for part, short in _by_part(progress.short).items():
        yield _short_part(part, short)
    if not progress.late and not progress.short and progress.courses_left:
        yield ["nothing, if the rest goes as planned"]


def _by_part(courses: Iterable[Course]) -> dict[str, list[Course]]:
    """Courses by their part, that of the first of them first."""
    found: dict[str, list[Course]] = {}
    for course in courses:
        found.setdefault(course.part, []).append(course)
    return found


def _late_part(part: str, late: Sequence[LateCourse]) -> list[Part]:
    """The course that is late first, and the one that is latest; days to come are taken as planned."""
    first = late[0]
    latest = max(late, key=lambda one: one.days or 0)
    style = QUIET if all(one.is_planned for one in late) else ALARM
    more = ""
    if len(late) > 1:
        worst = f", {_name(latest)}: {_days_said(latest)}" if latest is not first else ""
        more = f"; {counted(len(late), 'course')} late in all{worst}"
    needed = f"{_name(first)}, needed {glued(day_name(first.needed))}: "
    return [(f"{part}: ", HEADING), needed, (_days_said(first), style), more]


def _days_said(late: LateCourse) -> str:
    if late.ready is None and late.apart:
        return f"{counted(late.apart, 'block')} outside the card, not to be laid, and no others to come for them"
    if late.days is None or late.ready is None:
        return "never old enough in this weather"
    days, ready = counted(late.days, "day"), f"ready {glued(day_name(late.ready))} at the soonest"
    apart = f"; {counted(late.apart, 'block')} of it outside the card, not to be laid" if late.apart else ""
    return f"the plan itself has it {days} late, {ready}" if late.is_planned else f"{days} late, {ready}{apart}"


def _short_part(part: str, short: Sequence[ShortCourse]) -> list[Part]:
    """Blocks that must be cast again, of all courses together, and the course that misses them first."""
    blocks: dict[str, int] = {}
    for course in short:
        for mark, count in course.blocks:
            blocks[mark] = blocks.get(mark, 0) + count
    first = short[0]
    needed = f", needed {glued(day_name(first.needed))}" if first.needed else ""
    said = listed([glued(f"{count} {mark}") for mark, count in sorted(blocks.items())])
    return [(f"{part}: ", HEADING), (f"{said} in no pour of the plan", ALARM), f", first for {_name(first)}{needed}"]


def _name(course: LateCourse | ShortCourse) -> str:
    return "the whole of it" if course.course is None else glued(f"course {course.course}")


# stock, entries


def _stock(progress: Progress, units: str) -> Iterator[Sequence[Part]]:
    for reserve in progress.reserves:
        yield from reserve_said(reserve, units)
    if progress.strange_pours:
        yield [f"nothing is drawn for {counted(progress.strange_pours, 'pour')} of a mix that is in no plan here"]


def _clashes(progress: Progress) -> Iterator[Sequence[Part]]:
    if progress.clashes:
        entries = "1 cannot have" if progress.clashes == 1 else f"{progress.clashes} cannot have"
        yield [(f"{entries} been as told", ALARM), ": blockrun ready lists what speaks against them"]
