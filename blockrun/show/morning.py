"""The list of a morning: what to strip, take off the rack, stack and lay; by part and course, never block by block."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from datetime import date, datetime
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import clock, day_name, moment_name
from blockrun.planner.morning import FELT, NEVER, Doubt
from blockrun.show.page import ALARM, HEADING, LIMIT, QUIET, Page, Part, glued
from blockrun.show.words import named_together, place_said
from blockrun.units import counted, listed, show

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.morning import (
        BatchOffCard,
        Counts,
        CourseNow,
        CubesNow,
        InMould,
        Morning,
        OnRack,
        Some,
        StrippedEarly,
    )

_SPECK: Final = 1e-6
_AIR: Final = {
    "warmer": "the air was told far warmer than forecast: look at its entry, it may be a slip",
    "colder": "since the pour it was colder than forecast",
    "untold": "nobody told the air since the pour",
}
COURSES_SHOWN: Final = 6
"""Courses that are told beside those that can be laid now; the rest is counted (our choice)."""


def morning_text(morning: Morning, width: int) -> Text:
    """Write what can be done at a moment."""
    page = Page(width, morning.units)
    page.line((f"Ready {moment_name(morning.at)}", HEADING))
    page.section("Strip", _strips(morning))
    page.section("Stripped too soon", _early(morning))
    page.section("Off the rack", _racks(morning))
    page.section("Outside the card", _off_card(morning))
    page.section("Lay", _courses(morning))
    page.section("Cubes", _cubes(morning))
    page.section("Look at these entries", ([clash] for clash in morning.clashes))
    page.blank()
    page.line((_air_said(morning.seen_until), QUIET))
    return page.text()


def _strips(morning: Morning) -> Iterator[list[Part]]:
    """Sides, which come off first; then moulds that are alike together, those that can be stripped now first."""
    yield from _sides(morning)
    alike: dict[tuple[str, bool, tuple[str, ...]], list[InMould]] = {}
    for mould in morning.moulds:
        alike.setdefault((*_mould_said(mould, morning.at), mould.off_card), []).append(mould)
    before = ""
    for (said, alarm, off_card), moulds in sorted(alike.items(), key=lambda one: _order(one[1], morning.at)):
        blocks = sum(count for mould in moulds for _, count in mould.blocks)
        names = named_together(mould.place for mould in moulds)
        what = f" {names}, {glued(counted(blocks, 'block'))}"
        doubted = _doubted(moulds)
        is_by_air = not any(mould.doubt.beside for mould in moulds)
        if is_by_air and doubted and doubted == before:  # said line after line, it is read in none
            said, doubted = f"{_when(moulds[0].strip_from, morning.at)}, likewise:", ""
        else:
            before = doubted if is_by_air else ""
        yield [(said, ALARM if alarm else HEADING), what, _to(moulds), doubted, *_apart(off_card)]
    for place, lying in morning.beside:
        yield [f"to the rack: {blocks_said(lying)}, out of {place}"]
    if not morning.moulds and not morning.beside:
        yield ["nothing stands in moulds"]


def _mould_said(mould: InMould, at: datetime) -> tuple[str, bool]:
    if mould.held:
        return f"HELD by cubes of {listed([f'batch {number}' for number in mould.held])}:", True
    if mould.strip_from is None:
        return "never old enough in this weather:", True
    when = _when(mould.strip_from, at)
    if mould.doubt.again:
        return f"press again {when}, strip only if firm:", False
    if mould.doubt.beside:
        return f"{_press_first(when)} into each, strip only if firm:", True
    if mould.doubt.air:
        return f"{_press_first(when)} into one of each batch, strip the rest only if firm:", False
    return f"{when}:", False


def _when(moment: datetime | None, at: datetime) -> str:
    """``now`` or ``from 13:10``."""
    return "now" if moment is None or moment <= at else _from(moment, at)


def _press_first(when: str) -> str:
    return "press a thumb first" if when == "now" else f"{when}, press a thumb first"


def _order(moulds: list[InMould], at: datetime) -> tuple[bool, datetime]:
    """What can be done now before the rest, each in the order in which it comes."""
    first = moulds[0].strip_from
    return (first is None or first > at), (NEVER if first is None else max(first, at))


def _doubted(moulds: list[InMould]) -> str:
    """Why a thumb is to be pressed first into moulds of which the same is said."""
    if any(mould.doubt.again or mould.held or mould.strip_from is None for mould in moulds):
        return ""
    said = doubt_said([mould.doubt for mould in moulds])
    return f"; {said}" if said else ""


def doubt_said(doubts: Sequence[Doubt]) -> str:
    """Why a thumb is to be pressed first into moulds: those beside that are behind, else the air; empty for neither."""
    beside = dict(sorted({one for doubt in doubts for one in doubt.beside}))
    if beside:
        felt = [f"{FELT[thumb]} {named_together(_where(beside, thumb))}" for thumb in FELT if _where(beside, thumb)]
        return f"a thumb {listed(felt)}, poured with them"
    return listed([_AIR[one] for one in _AIR if one in {doubt.air for doubt in doubts}])


def _apart(off_card: Sequence[str]) -> Iterator[Part]:
    """What to do with blocks of batches outside their cards as they come out."""
    if off_card:
        are = "is outside its card" if len(off_card) == 1 else "are outside their cards"
        yield "; "
        yield (f"{listed([_batch(batch) for batch in off_card])} {are}: set these blocks apart", ALARM)


def _batch(named: str) -> str:
    """``batch 7``, ``extra batch 1``."""
    *extra, number = named.split()
    return glued(" ".join([*extra, "batch", number]))


def _where(beside: dict[str, str], thumb: str) -> list[str]:
    return [place for place, shown in beside.items() if shown == thumb]


def _from(moment: datetime, at: datetime) -> str:
    return f"from {_moment(moment, at)}"


def _moment(moment: datetime, at: datetime) -> str:
    """A moment to come; with its day, unless that is today."""
    return clock(moment) if moment.date() == at.date() else moment_name(moment)


def _to(moulds: list[InMould]) -> str:
    racks = sorted({mould.rack for mould in moulds if mould.rack})
    return f", to {listed([f'rack {rack}' for rack in racks])}" if racks else ""


def _sides(morning: Morning) -> Iterator[list[Part]]:
    """Moulds whose sides come off before the strip, those that are alike together."""
    on: dict[str, list[InMould]] = {}
    for mould in sorted(morning.moulds, key=lambda one: (one.sides_from or morning.at, one.place)):
        if mould.sides_from is not None and (mould.strip_from is None or mould.sides_from < mould.strip_from):
            when = "now" if mould.sides_from <= morning.at else _from(mould.sides_from, morning.at)
            when += ", press a thumb first" if mould.doubt.beside else ""
            on.setdefault(when, []).append(mould)
    for when, moulds in on.items():
        yield [f"sides off {when}: {named_together(mould.place for mould in moulds)}"]


def _cubes(morning: Morning) -> Iterator[list[Part]]:
    """What cubes that were recorded say of blocks in moulds, or of laying them."""
    for cubes in morning.cubes:
        yield list(_cubes_said(cubes, morning.units))
    if morning.cubes_doubted:
        yield [(morning.cubes_doubted, ALARM)]


def _cubes_said(cubes: CubesNow, units: str) -> Iterator[Part]:
    strength, age = show(_down(cubes.weakest_mpa), "strength", units), f"{round(cubes.age_h)} h"
    yield f"{glued(f'batch {cubes.batch}')}: a cube gave {glued(strength)}, {glued(age)} old at 20 degC"
    if cubes.asked_mpa is None:
        yield "; the site asks for an age before you strip, and no strength: it moves nothing"
        return
    yield f", {glued(show(cubes.asked_mpa, 'strength', units))} asked before you {cubes.job}"
    if cubes.holds:
        yield ": "
        yield (f"DO NOT {cubes.job.upper()}; crush another first", LIMIT)
    elif cubes.sooner:
        yield ": sooner than reckoned, where it was kept as cool as the blocks"


def _down(mpa: float) -> float:
    """Three digits of a strength, never more than it was."""
    step = 10.0 ** (math.floor(math.log10(mpa)) - 2)
    return round(math.floor(mpa / step + _SPECK) * step, 9)


def _early(morning: Morning) -> Iterator[list[Part]]:
    """What may have cracked, moulds together that came out on one day as much too soon."""
    alike: dict[tuple[date, int | None, tuple[tuple[str, str], ...]], list[StrippedEarly]] = {}
    for one in morning.early:
        alike.setdefault((one.stripped.date(), one.early_h, one.beside), []).append(one)
    for (day, hours, beside), together in alike.items():
        counts: Counter[str] = Counter()
        for one in together:
            counts.update(dict(one.blocks))
        names = named_together(one.place for one in together)
        blocks = blocks_said(tuple(sorted(counts.items())))
        if beside:
            yield [
                f"{names}, {day_name(day)}: ",
                ("look for cracks", ALARM),
                f" in {blocks}, too; {doubt_said([Doubt(beside=beside)])}",
            ]
            continue
        they = "it" if counts.total() == 1 else "they"
        why = (
            f"by cubes or the cold {they} came out too soon" if hours is None else f"{they} came out {hours} h too soon"
        )
        said = f" before you move or stack {blocks}; {why}"
        yield [f"{names}, {day_name(day)}: ", ("LOOK FOR CRACKS", LIMIT), said]


def _racks(morning: Morning) -> Iterator[list[Part]]:
    for rack in morning.racks:
        yield [*_leaves(rack), _stays(rack, morning.at)]


def _leaves(rack: OnRack) -> list[Part]:
    if not rack.leave:
        return [f"{rack.name}: nothing yet"]
    said: list[Part] = [f"{rack.name}: ", (f"stack {blocks_said(rack.leave)}", HEADING)]
    if rack.apart:
        are = "is" if sum(count for _, count in rack.apart) == 1 else "are"
        said += ["; ", (f"{blocks_said(rack.apart)} of these {are} outside the card, set them apart", ALARM)]
    return said


def _stays(rack: OnRack, at: datetime) -> str:
    if rack.next_off is None:
        return ""
    return f"; {rack.stay} stay, the next leave {_moment(rack.next_off, at)}"


def _off_card(morning: Morning) -> Iterator[list[Part]]:
    """Batches of which nothing is to be laid as they are, and what ends that; once each, what is to be feared."""
    told: set[str] = set()
    for one in morning.off_card:
        where = listed([f"{blocks_said(blocks)} {place}" for place, blocks in one.where])
        asked = (
            "" if one.asked_mpa is None else f". Its cubes are to have {show(one.asked_mpa, 'strength', morning.units)}"
        )
        why = "" if _why(one) in told else f". {_why(one)}"
        told.add(_why(one))
        said = f" {where}; {one.off.said(morning.units)}{why}{asked}"
        yield [f"{_batch(one.batch)}: ", ("DO NOT LAY", LIMIT), said]
    if morning.off_card:
        is_asked = any(one.asked_mpa is not None for one in morning.off_card)
        yield [_APART, _WITH_CUBES if is_asked else _WITH_A_WORD]


def _why(one: BatchOffCard) -> str:
    """What is to be feared of blocks outside their card."""
    if one.off.what == "foam":
        return "Nobody weighed its mix"
    if one.off.is_light:
        return "What is too light may be weak and break in your hands"
    return "What is too heavy is not the mix that was ordered, and heavier to lift"


_APART: Final = "set such blocks apart, and ask who answers for the wall. They count again "
_WITH_A_WORD: Final = "with: blockrun record DIR passed BATCH WHY"
_WITH_CUBES: Final = f"once cubes crushed since have the strength that is told, or {_WITH_A_WORD}"


def _courses(morning: Morning) -> Iterator[list[Part]]:
    """What can be laid now, then the next courses with what they lack."""
    whole = [course for course in morning.courses if course.is_whole]
    others = [course for course in morning.courses if not course.is_whole]
    for course in whole:
        wait = f", once course {course.after} is laid" if course.after is not None else ""
        yield [
            (f"{course_name(course)}: whole", HEADING),
            f", {counted(course.blocks - course.laid, 'block')}{wait}{_need(course, morning.at)}",
        ]
    for course in others[:COURSES_SHOWN]:
        yield [f"{course_name(course)}: {_course_said(course, morning.at)}{_need(course, morning.at)}"]
    if len(others) > COURSES_SHOWN:
        yield [f"{counted(len(others) - COURSES_SHOWN, 'course')} more after these"]
    if morning.next_whole is not None and morning.next_whole.whole_from is not None:
        said = f"next to be whole: {course_name(morning.next_whole)}"
        yield [(said, HEADING), f", {_moment(morning.next_whole.whole_from, morning.at)}"]
    if not morning.courses:
        yield ["all courses are laid"]


def course_name(course: CourseNow) -> str:
    """``wall course 4``, ``store ring 7``, or the part alone."""
    return glued(place_said(course.part, course.course))


def _course_said(course: CourseNow, at: datetime) -> str:
    """``22 of 24 on the east rack, missing 2 C, poured Tue 6 Apr``; of a ring that nothing of it is laid yet."""
    left = course.blocks - course.laid
    said = [f"{course.laid} laid"] if course.laid else []
    if course.ready:
        said.append(
            f"{course.ready} of {left} can be laid" if not course.ring else f"{course.ready} of {left} old enough"
        )
    said += [f"{some.count} of {left} {_some_said(some, at)}" for some in course.some]
    if course.missing is not None:
        said.append(f"missing {blocks_said(course.missing.blocks)}, {_planned_said(course.missing, at.date())}")
    if course.ring:
        said.append("not whole: lay nothing of it")
    return ", ".join(said)


def _planned_said(missing: Some, today: date) -> str:
    """When what is missing is to be poured, and what of it is not."""
    if not missing.poured:
        return "in no pour of the plan"
    days = listed([_pour_said(day, today) for day in missing.poured])
    but = f" but for {blocks_said(missing.unplanned)}, in no pour of the plan" if missing.unplanned else ""
    return f"planned for {days}{but}"


def _pour_said(day: date, today: date) -> str:
    """A day of the plan; of one that is over nobody recorded that pour."""
    return day_name(day) if day >= today else f"{day_name(day)} (not recorded)"


def _some_said(some: Some, at: datetime) -> str:
    said = [f"poured {listed([day_name(day) for day in some.poured])}"] if some.poured else []
    if some.found:
        said.append(f"found {listed([day_name(day) for day in some.found])} and taken as poured then")
    if some.lay_from:
        said.append(f"to lay {_from(some.lay_from, at)}")
    return f"{some.where} ({', '.join(said)})"


def _need(course: CourseNow, at: datetime) -> str:
    if course.needed is None:
        return ""
    return f"; {'was ' * (course.needed < at.date())}needed {glued(day_name(course.needed))}"


def blocks_said(blocks: Counts) -> str:
    """``22 full, 2 C``."""
    return listed([glued(f"{count} {mark}") for mark, count in blocks])


def _air_said(seen_until: date | None) -> str:
    if seen_until is None:
        return (
            "Ages by the forecast: nobody told the air of any day. Tell it with: blockrun record DIR weather LEAST MOST"
        )
    return f"Ages by the air as it was told up to {day_name(seen_until)}, by the forecast for other days."
