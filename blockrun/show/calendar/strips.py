"""What a calendar says of the strips of a day: moulds that go the same way together, and what is too young yet."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Hashable, Iterator, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import clock
from blockrun.show.calendar.entry import kinds_counted, plain
from blockrun.show.day import names_of, onto_racks
from blockrun.show.jobs import job_entry
from blockrun.show.thumbed import THUMB_FIRST
from blockrun.show.words import named_together
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from blockrun.show.day import Job

STRIPPED: Final = {"strip": "strip", "sides": "sides off"}
"""Tasks that are told, and their words in a title."""


def strips_title(jobs: Sequence[Job]) -> str:
    """``Strip 10 gang-4, 2 tray-3; sides off 3 tray-3; press a thumb first``."""
    names = {task: names_of(job for job in jobs if job.task == task) for task in STRIPPED}
    said = "; ".join(f"{verb} {kinds_counted(names[task])}" for task, verb in STRIPPED.items() if names[task])
    first = f"; {THUMB_FIRST.lower()}" if any(job.thumb_first for job in jobs) else ""
    return said[:1].upper() + said[1:] + first


def strip_lines(jobs: Sequence[Job]) -> Iterator[str]:
    """Where a thumb goes first, what is stripped, where to and by whom, what is sawn, and what is too young yet."""
    if pressed := [name for job in jobs for name in job.thumb_first]:
        yield f"{THUMB_FIRST}: {named_together(pressed)}"
    alike: dict[Hashable, list[Job]] = defaultdict(list)
    for job in jobs:
        alike[job.task, job.on_bases, tuple(rack for rack, _ in job.racks), job.lift, job.weak].append(job)
    for same in alike.values():
        yield _together(same)
        yield from (f"- {plain([line])}" for job in same for line in job_entry(job, "").set_in)
    yield from (plain(apart.to_set_apart) for job in jobs for apart in job.apart)
    for limit in (limit for job in jobs for limit in job.limits):
        yield f"Not before {clock(limit.not_before)}: {named_together(limit.names)}"


def _together(jobs: Sequence[Job]) -> str:
    """``Strip bases tray-3/b01-03: 9 blocks to rack west. 14.5 kg wet: two people or trolley``."""
    first, names = jobs[0], names_of(jobs)
    base = "" if not first.on_bases else "base " if len(names) == 1 else "bases "
    what = f"{'Strip' if first.task == 'strip' else 'Sides off'} {base}{named_together(names)}"
    to = listed([f"{counted(n, 'block')} to rack {rack}" for rack, n in onto_racks(jobs)])
    return plain([". ".join(filter(None, (f"{what}: {to}" if to else what, first.lift, first.weak)))])
