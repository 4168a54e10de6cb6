"""The order of work of a day: what is done one after the other, each with its limits; the clock is beside the point."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import clock
from blockrun.show.apart import SET_APART
from blockrun.show.chores import chores_now
from blockrun.show.covering import covering, left_on_rack
from blockrun.show.crew import people_said
from blockrun.show.day import Job, OffRack, Pour
from blockrun.show.jobs import awaited_said, kept_said, moved_said, names_said, ripe_said, short_of_time, work_said
from blockrun.show.page import LIMIT, Part, glued, plain
from blockrun.show.words import capital, named_together
from blockrun.units import counted, digits, listed

if TYPE_CHECKING:
    from collections.abc import Sequence

    from blockrun.planner.left_over import Ripe
    from blockrun.show.apart import Apart
    from blockrun.show.day import Day
    from blockrun.show.thumbed import Note
    from blockrun.site import Site, Weather

_VERBS: Final = {"sides": "Sides off", "strip": "Strip", "clean": "Clean, oil"}


@dataclass(frozen=True)
class Limit:
    """A limit that holds however late the day runs; what it is for, where that is not all of a row; and by when.

    A strip waits for an age, and so for the clock. A pour waits for its foam, a cleaning for the batch that is poured
    next: of these the clock of the plan is said in small print, for it is the first thing to be wrong. What to
    do about a batch that heat leaves no time for stands there, too.
    """

    said: str
    of: str = ""
    by: str = ""


@dataclass(frozen=True)
class Row:
    """One thing to do.

    Attributes
    ----------
    at : when it begins by the plan; rows come in this order.
    verb, what : ``Strip`` and ``gang-4/01-08``.
    times : from when to when by the plan, in small print.
    limits : seen before anything else.
    aside : what else is to be known, a line each.
    batch : its number, of a pour; else empty.
    ticks : further boxes to tick, by what they are for.
    waited_for : numbers of the batches of the day that wait for it: it comes before them, also where they are mixed
        meanwhile.
    is_left_out : it is planned, and not done: there is nothing to tick.
    """

    at: datetime
    verb: str
    what: str
    times: str
    limits: tuple[Limit, ...] = ()
    aside: tuple[str, ...] = ()
    batch: str = ""
    ticks: tuple[str, ...] = ()
    waited_for: tuple[int, ...] = ()
    is_left_out: bool = False


def order_of_work(day: Day, site: Site) -> list[Row]:
    """All that is done on a day, what begins first coming first; before each batch what it waits for."""
    begun = {int(pour.batch.batch): pour.start for pour in day.pours}

    def place(row: Row) -> tuple[datetime, bool]:
        return min([row.at, *(begun[batch] for batch in row.waited_for)]), bool(row.batch)

    return sorted(_rows(day, site), key=place)


def _rows(day: Day, site: Site) -> Iterator[Row]:
    yield from (_note(note, day.jobs) for note in day.notes)
    yield from (_off_rack(leaving, site) for leaving in day.off_rack)
    yield from (_filler(list(ripe)) for _, ripe in groupby(day.fillers, key=lambda one: one.at))
    for job, people in zip(day.jobs, people_said(day.jobs, day.people), strict=True):
        if isinstance(job, Pour):
            yield _pour(job, people, site)
        elif job.task == "chore":
            yield from _chores(job, people, site.weather)
        else:
            yield _job(job, people)
    yield from _covering(day, site)


def _job(job: Job, people: str) -> Row:
    verb = "Strip, saw" if job.slabs else _VERBS[job.task]
    limits = [Limit(said, names) for said, names in awaited_said(job)]
    limits += [Limit(f"BEFORE BATCH {due.batch}", named_together(due.names), f"by {clock(due.by)}") for due in job.due]
    limits += [Limit(job.weak)] if job.weak else []
    limits += _apart(job.apart)
    said = "; ".join(words for words in (moved_said(job), people, ripe_said(job), job.lift) if words)
    waited_for = tuple(due.batch for due in job.due)
    aside = (capital(said), *work_said(job))
    return Row(job.start, verb, names_said(job), _times(job), tuple(limits), aside, waited_for=waited_for)


def _chores(job: Job, people: str, weather: Weather) -> Iterator[Row]:
    done, left_out, why, unless = chores_now(job, weather)
    if left_out:
        yield Row(job.start, capital(listed(left_out)), "", "", (Limit(why),), is_left_out=True)
    if done:
        yield Row(job.start, capital(listed(done)), "", _times(job), aside=(people, unless) if unless else (people,))


def _covering(day: Day, site: Site) -> Iterator[Row]:
    if told := covering(day, site):
        yield Row(told.at, capital(told.what), "", "", aside=(told.why,))


def _times(job: Job) -> str:
    return f"{clock(job.start)}\u2013{clock(job.end)}"


def _pour(pour: Pour, people: str, site: Site) -> Row:
    """A batch; it is covered before the hands that washed the mixer begin another thing (our choice)."""
    batch = pour.batch
    mixer = f", {batch.mixer}" if len(site.mixers) > 1 else ""
    aside = (f"mix {batch.mix}{mixer}, {people}", kept_said(pour, site), *(cubes.said(site) for cubes in pour.cubes))
    within = Limit(f"POUR IN {digits(pour.pour_life.minutes)} min", by=f"of the foam, by {clock(pour.pour_by)}")
    short, _, do = short_of_time(pour).partition(": ")  # all of it as loud would leave the names no room
    moulds = named_together(fill.mould for fill in pour.fills)
    return Row(
        batch.start,
        "Pour",
        moulds,
        f"{clock(batch.start)}\u2013{clock(batch.end)}",
        (within, Limit(short, by=do)) if short else (within,),
        tuple(words for words in aside if words),
        str(batch.batch),
        ("struck off", "covered"),
    )


def _off_rack(leaving: OffRack, site: Site) -> Row:
    blocks = listed([glued(f"{n} {block}") for block, n in leaving.blocks])
    last = f"the last from {clock(leaving.last)}" if leaving.last > leaving.first else ""
    aside = tuple(words for words in (blocks, last, left_on_rack(leaving, site)) if words)
    limits = (Limit(f"NOT BEFORE {clock(leaving.first)}"), *_apart(leaving.apart))
    return Row(leaving.first, "Move", f"off rack {leaving.rack} to the stack", "", limits, aside)


def _apart(blocks: Iterable[Apart]) -> list[Limit]:
    return [Limit(SET_APART, apart.which_of_these) for apart in blocks]


def _filler(ripe: Sequence[Ripe]) -> Row:
    blocks = counted(sum(one.blocks for one in ripe), "block")
    limits = (Limit(f"NOT BEFORE {clock(ripe[0].at)}"),)
    return Row(
        ripe[0].at,
        "Strip",
        named_together(one.mould for one in ripe),
        "",
        limits,
        (f"{blocks}; when somebody is free",),
    )


def _note(note: Note, jobs: Iterable[Job | Pour]) -> Row:
    """What thumbs say; before a batch that waits for what waits for it."""
    held = [job for job in jobs if isinstance(job, Job) and any((job.task, name) in note.before for name in job.names)]
    waited_for = tuple(due.batch for job in held for due in job.due)
    limits = _limits_among(note.words)
    return Row(note.at, "Thumb", plain(note.words), clock(note.at), limits, waited_for=waited_for)


def _limits_among(words: Iterable[Part]) -> tuple[Limit, ...]:
    """What of some words is a limit."""
    return tuple(Limit(part[0].strip(" ,")) for part in words if not isinstance(part, str) and part[1] == LIMIT)
