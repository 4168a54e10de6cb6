"""What a calendar says of a plan: one entry a day and kind, short enough to be read on a phone."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Container, Iterator, Sequence
from typing import TYPE_CHECKING

from blockrun.files.day_names import clock
from blockrun.show.apart import DO_NOT_LAY
from blockrun.show.calendar.cold import cover_entry
from blockrun.show.calendar.damp import damp_entry
from blockrun.show.calendar.entry import KINDS, NAMED, Entry, as_read_at, kinds_counted, plain
from blockrun.show.calendar.strips import STRIPPED, strip_lines, strips_title
from blockrun.show.calendar.supplies import supplies_of
from blockrun.show.day import Day, OffRack, Pour
from blockrun.show.diary import Diary
from blockrun.show.head import day_head
from blockrun.show.jobs import NOT_IN_TIME, off_rack_entry, short_of_time
from blockrun.show.ready import ready_said
from blockrun.show.words import named_together
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumbs.turns import Thumbs
    from blockrun.site import Site


def entries_of(plan: Plan, thumbs: Thumbs | None = None, apart: Container[int] = ()) -> list[Entry]:
    """All entries of a plan.

    Returns
    -------
    By day and kind, no two of one day and kind.
    """
    diary = Diary(plan, thumbs, apart)
    of_days = [entry for day in diary.days(diary.first, diary.last) for entry in _of_day(day, plan.site)]
    entries = [as_read_at(plan.site.units, entry) for entry in (*of_days, *supplies_of(plan))]
    return sorted(entries, key=lambda entry: (entry.day, KINDS.index(entry.kind)))


def _of_day(day: Day, site: Site) -> Iterator[Entry]:
    yield from list(cover_entry(day, site)) or damp_entry(day, site)
    if day.pours:
        yield Entry("pour", day.day, _pour_title(day), tuple(_pour_lines(day, site)))
    if stripped := day.at(*STRIPPED):
        yield Entry("strip", day.day, strips_title(stripped), tuple(strip_lines(stripped)))
    if day.notes:
        yield Entry("thumb", day.day, "Thumbs: what they change", tuple(plain(note.words) for note in day.notes))
    if day.crushed:
        cubes = counted(sum(due.cubes for due in day.crushed), "test cube")
        yield Entry("crush", day.day, f"Crush {cubes}", tuple(plain([due.said]) for due in day.crushed))
    if day.off_rack:
        blocks = sum(leaving.count for leaving in day.off_rack)
        title = f"Move off the rack: {counted(blocks, 'block')}"
        yield Entry(
            "move", day.day, title, tuple(line for leaving in day.off_rack for line in _leaving_lines(leaving, site))
        )
    if day.ready or day.apart:
        lines = (*(apart.not_to_lay for apart in day.apart), *ready_said(day.ready))
        yield Entry("ready", day.day, "; ".join(_ready_titles(day)), tuple(map(plain, lines)))


def _pour_title(day: Day) -> str:
    """``Pour 7 batches: 12 gang-4, 3 tray-3``; ``; 2 CANNOT BE POURED IN TIME`` of those that heat forbids."""
    moulds = {fill.mould for pour in day.pours for fill in pour.fills}
    late = sum(not pour.is_in_time for pour in day.pours)
    but = f"; {late} {NOT_IN_TIME}" if late else ""
    return f"Pour {counted(len(day.pours), 'batch')}: {kinds_counted(moulds)}{but}"


def _pour_lines(day: Day, site: Site) -> Iterator[str]:
    yield from map(plain, day_head(day, site))
    yield from map(_batch_line, day.pours)


def _batch_line(pour: Pour) -> str:
    """``Batch 7 (light, drum): pour by 08:25 into gang-4/01-02``; and what heat leaves no time for."""
    batch, moulds = pour.batch, named_together(fill.mould for fill in pour.fills)
    said = f"Batch {batch.batch} ({batch.mix}, {batch.mixer}): pour by {clock(pour.pour_by)} into {moulds}"
    return "; ".join(filter(None, (said, short_of_time(pour))))


def _leaving_lines(leaving: OffRack, site: Site) -> Iterator[str]:
    """``Not before 12:45: off rack west to the stack: 5 W600 and 2 D300, the last from 13:10``."""
    entry = off_rack_entry(leaving, site)
    yield plain([f"Not before {clock(leaving.first)}: ", *entry.words])
    yield from map(plain, entry.under)


def _ready_titles(day: Day) -> Iterator[str]:
    """``Ready to lay: 24 blocks``, ``DO NOT LAY 7 blocks of batch 12``."""
    if day.ready:
        yield _ready_title(day)
    yield from (f"{DO_NOT_LAY} {counted(apart.count, 'block')} of batch {apart.batch}" for apart in day.apart)


def _ready_title(day: Day) -> str:
    """``Ready to lay: 24 blocks; whole: north course 4``."""
    blocks = f"Ready to lay: {counted(sum(ready.count for ready in day.ready), 'block')}"
    whole: dict[str, list[int]] = defaultdict(list)
    for ready in day.ready:
        if ready.course is not None and not (ready.to_come or ready.apart) and ready.course not in whole[ready.part]:
            whole[ready.part].append(ready.course)
    n_whole = sum(map(len, whole.values()))
    if n_whole > NAMED:
        return f"{blocks}; {n_whole} courses whole"
    return "; whole: ".join(filter(None, (blocks, ", ".join(_courses(part, of) for part, of in whole.items() if of))))


def _courses(part: str, numbers: Sequence[int]) -> str:
    """``north courses 3, 5 and 6``."""
    return f"{part} {'course' if len(numbers) == 1 else 'courses'} {listed(list(map(str, numbers)))}"
