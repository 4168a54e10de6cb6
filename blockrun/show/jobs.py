"""The lines of a sheet that tell what is done in the yard, each with the moment it begins."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import groupby
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import clock
from blockrun.show.batch.load import measures
from blockrun.show.chores import chores_now
from blockrun.show.covering import covering, left_on_rack
from blockrun.show.day import Fill, Filled, Job, OffRack, Pour, SlabsSawn
from blockrun.show.measures import bags_of, by_volume
from blockrun.show.page import HEADING, LIMIT, Part, glued
from blockrun.show.thumbed import THUMB_FIRST
from blockrun.show.words import moment_before, named_together, place_said
from blockrun.units import counted, listed, show_degrees, show_size

if TYPE_CHECKING:
    from blockrun.planner.left_over import Fills, Left, Ripe
    from blockrun.show.day import Day
    from blockrun.site import Site, Weather

WORTH_SAYING_L: Final = 0.5
"""Less mix than this is left in the spout (our choice)."""

NOT_IN_TIME: Final = "CANNOT BE POURED IN TIME"


@dataclass(frozen=True)
class Entry:
    """Words that stand at a moment of the day, and the lines under them: some under the words, some set in."""

    at: datetime
    words: tuple[Part, ...]
    under: tuple[tuple[Part, ...], ...] = ()
    set_in: tuple[str, ...] = ()


def job_entry(job: Job, people: str) -> Entry:
    """Say a job, who does it, and until when moulds are too young for it."""
    verb = "strip and saw " if job.slabs else _VERBS.get(job.task, "")
    what = verb + names_said(job)
    if ripe := ripe_said(job):
        what += f" ({ripe})"
    if moved := moved_said(job):
        what += f", {moved}"
    limits: list[tuple[Part, ...]] = [
        ((glued(said), LIMIT), f" {names}" if names else "") for said, names in limits_said(job)
    ]
    limits += [(job.lift,)] if job.lift else []
    limits += [((job.weak, LIMIT),)] if job.weak else []
    limits += [apart.to_set_apart for apart in job.apart]
    done = glued(f"done {clock(job.end)}")
    return Entry(job.start, (f"{what}, {people}, {done}",), tuple(limits), tuple(work_said(job)))


def chore_entries(job: Job, people: str, weather: Weather) -> Iterator[Entry]:
    """Say chores that are done at a time, and those that are left out."""
    done, left_out, why, unless = chores_now(job, weather)
    if left_out:
        yield Entry(job.start, ((glued(why), LIMIT), f" {listed(left_out)}"))
    if done:
        said = listed(done) + (f" ({unless})" if unless else "")
        yield Entry(job.start, (f"{said}, {people}, {glued(f'done {clock(job.end)}')}",))


def covering_entries(day: Day, site: Site) -> Iterator[Entry]:
    """Say to cover what stands, where it is cold."""
    if told := covering(day, site):
        yield Entry(told.at, (f"{told.what}: {told.why}",))


def ripe_said(job: Job) -> str:
    """``the rest old enough since Mon 22:10``; empty where nothing is, or where it does not matter."""
    if job.old_enough is None:
        return ""
    which = "the rest " if job.limits or job.thumb_first else ""
    return f"{which}old enough since {glued(moment_before(job.old_enough, job.start.date()))}"


def moved_said(job: Job) -> str:
    """``move 9 blocks to rack west``; empty where nothing is moved."""
    moved = [f"{glued(counted(n, 'block'))} to rack {rack}" for rack, n in job.racks]
    return f"move {listed(moved)}" if moved else ""


def limits_said(job: Job) -> Iterator[tuple[str, str]]:
    """``NOT BEFORE 12:37``, ``BY 08:10``, each with what it is for; without where it is for all of the job."""
    yield from awaited_said(job)
    yield from ((f"BY {clock(due.by)}", named_together(due.names)) for due in job.due)


def awaited_said(job: Job) -> Iterator[tuple[str, str]]:
    """``PRESS A THUMB FIRST``, ``NOT BEFORE 12:37``, and what of it; nothing where it is for all of the job."""

    def of(names: tuple[str, ...]) -> str:
        return "" if len(names) == len(job.names) else named_together(names)

    if job.thumb_first:
        yield THUMB_FIRST, of(job.thumb_first)
    for limit in job.limits:
        yield f"NOT BEFORE {moment_before(limit.not_before, job.start.date())}", of(limit.names)


def work_said(job: Job) -> Iterator[str]:
    """How slabs are sawn, and what is done to blocks before they are laid."""
    yield from map(_slabs_said, job.slabs)
    yield from _to_do(job)


def _slabs_said(slabs: SlabsSawn) -> str:
    """``slab/01-02 by saw plan 2: 5 B, 1 A each``."""
    blocks = ", ".join(glued(f"{n} {mark}") for mark, n in slabs.gives)
    each = " each" if len(slabs.moulds) > 1 else ""
    return f"{named_together(slabs.moulds)} by {glued(f'saw plan {slabs.saw_plan}')}: {blocks}{each}"


def _to_do(job: Job) -> Iterator[str]:
    """``saw: 2 W600 as x1 and 1 W450 for north course 3``."""
    for (what, part, course), blocks in groupby(job.to_do, key=lambda one: one[0][:3]):
        said = listed([glued(f"{n} {mark}{f' as {cut}' if cut else ''}") for (*_, mark, cut), n in blocks])
        yield f"{what}: {said} for {place_said(part, course)}"


_VERBS: Final = {"sides": "take the sides off ", "strip": "strip ", "clean": "clean and oil "}


def names_said(job: Job) -> str:
    """What a job is done to: ``bases tray-3/b01-03``."""
    names = named_together(job.names)
    return f"{'base' if len(job.names) == 1 else 'bases'} {names}" if job.on_bases else names


def off_rack_entry(leaving: OffRack, site: Site) -> Entry:
    """Say from when blocks leave a rack, and where they go; in frost, that they had better not."""
    blocks = listed([glued(f"{n} {block}") for block, n in leaving.blocks])
    until = f", the last from {clock(leaving.last)}" if leaving.last > leaving.first else ""
    frost = left_on_rack(leaving, site)
    words = f"off rack {leaving.rack} to the stack: {blocks}{until}"
    under: list[tuple[Part, ...]] = [apart.to_set_apart for apart in leaving.apart]
    return Entry(leaving.first, (words,), (*under, *([(frost,)] if frost else [])))


def fillers_entry(ripe: Sequence[Ripe]) -> Entry:
    """Say from when filler moulds can be stripped; whoever has time does it."""
    blocks = counted(sum(one.blocks for one in ripe), "block")
    names = named_together(one.mould for one in ripe)
    return Entry(ripe[0].at, (f"{names} can be stripped ({glued(blocks)}): when somebody is free",))


def pour_entries(pour: Pour, people: str, site: Site) -> Iterator[Entry]:
    """Say a batch in its three steps: weigh and mix, foam, pour."""
    batch, name = pour.batch, glued(f"batch {pour.batch.batch}")
    load = measures(batch, bags_of(batch.bags), pour.mix, site)
    yield Entry(
        pour.start,
        ((name.upper(), HEADING), f" mix {batch.mix}, {batch.mixer}, {people}, {glued(f'washed {clock(pour.end)}')}"),
        ((f"{load.bags} {load.slurry}",),),
    )
    yield Entry(
        batch.foam_at,
        (f"foam for {name}: {_fill_first(pour, site)}{load.foam} ({load.foam_check}), {load.runs}; {load.dilution}",),
    )
    yield Entry(
        batch.pour_from,
        (
            f"pour {name} ({load.mix_check}), ",
            (glued(f"POUR BY {clock(pour.pour_by)}"), LIMIT),
            *_heat_said(pour, site),
            ", into",
        ),
        set_in=(
            *(f"{names}: {contents}" for names, contents in fills_said(pour.fills, site.units)),
            *(one.said(site) for one in pour.cubes),
            *left_said(pour.left, site.units),
        ),
    )


def _fill_first(pour: Pour, site: Site) -> str:
    """``first fill the tank up with 11.6 L: 284 mL of agent, 11.3 L of water; ``: nothing where enough is left."""
    if not pour.tank_fills:
        return ""
    fill_l = pour.tank_fills[0]
    agent_l, units = fill_l * site.foam_generator.agent_share, site.units
    return (
        f"first fill the tank up with {by_volume(fill_l, units)}, {by_volume(agent_l, units)} of agent in "
        f"{by_volume(fill_l - agent_l, units)} of water; then "
    )


def _heat_said(pour: Pour, site: Site) -> Iterator[Part]:
    if kept := kept_said(pour, site):
        yield f" ({kept})"
    if short := short_of_time(pour):
        yield (f", {short}", LIMIT)


def kept_said(pour: Pour, site: Site) -> str:
    """Name the heat that cuts the pour life: ``it keeps 21 min in the heat, 34 degC``; else nothing."""
    life = pour.pour_life
    if life.hot_c is None:
        return ""
    return f"it keeps {glued(f'{life.minutes:g} min')} in the heat, {glued(show_degrees(life.hot_c, site.units))}"


def short_of_time(pour: Pour) -> str:
    """Say of a batch that heat leaves it no time to weigh, or none to pour; else nothing."""
    life = pour.pour_life
    if life.hot_c is None:
        return ""
    if not pour.is_in_time:
        return f"{NOT_IN_TIME}: do not make it at this hour"
    if not life.leaves_time_to_weigh(pour.until_poured_min):
        return "NO TIME TO WEIGH: a smaller batch, or a cooler hour"
    return ""


def left_said(left: Left, units: str) -> Iterator[str]:
    """``left over 14 L: fill 2 of small/01 (300 x 200 x 200 mm), throw 1.6 L away``."""
    if left.left_l < WORTH_SAYING_L:
        return
    over, thrown = glued(by_volume(left.left_l, units)), glued(by_volume(left.thrown_l, units))
    if not left.fills:
        yield f"left over {over}: throw it away"
        return
    fills = listed([f"{glued(f'{one.cavities} of {one.mould}')} ({_called(one, units)})" for one in left.fills])
    yield f"left over {over}: fill {fills}" + (f", throw {thrown} away" if left.thrown_l >= WORTH_SAYING_L else "")


def _called(fills: Fills, units: str) -> str:
    return fills.mark or glued(show_size(*fills.kind.cavity, units))


def fills_said(fills: tuple[Fill, ...], units: str) -> Iterator[tuple[str, str]]:
    """Moulds that get the same, one after another, are named together."""
    for (contents, based), same in groupby(fills, key=lambda fill: (_contents(fill, units), bool(fill.base))):
        alike = list(same)
        if based:
            names = ", ".join(f"{fill.mould} on base {fill.base.rsplit('/', 1)[-1]}" for fill in alike)
        else:
            names = named_together(fill.mould for fill in alike)
        yield names + (" each" if len(alike) > 1 else ""), contents


def _contents(fill: Fill, units: str) -> str:
    """``3 full, 1 cut``, with the cavities said where they are not simply the first ones."""
    if fill.saw_plan:
        return f"a slab for {glued(f'saw plan {fill.saw_plan}')} ({_sawn_from(fill, units)})"
    simple = fill.alone and [filled.cavity for filled in fill.cavities] == [*range(1, len(fill.cavities) + 1)]
    said = []
    for block, run in groupby(fill.cavities, key=lambda filled: _block_said(filled, units)):
        cavities = [filled.cavity for filled in run]
        words = f"{len(cavities)} {block}"
        if not simple:
            words += f" in {'cavity' if len(cavities) == 1 else 'cavities'} {_run(cavities)}"
        said.append(glued(words))
    return ", ".join(said)


def _sawn_from(slab: Fill, units: str) -> str:
    """``5 B, 1 A``."""
    blocks = Counter(_block_said(filled, units) for filled in slab.cavities)
    return ", ".join(glued(f"{n} {block}") for block, n in blocks.items())


def _block_said(filled: Filled, units: str) -> str:
    """Its mark, and what it is for, what is done to it later and set in for it now."""
    told = ", ".join(word for word in (filled.role, *filled.work.words, filled.inserts.said(units)) if word)
    return f"{filled.mark} ({told})" if told else filled.mark


def _run(cavities: list[int]) -> str:
    if len(cavities) > 1 and cavities == [*range(cavities[0], cavities[-1] + 1)]:
        return f"{cavities[0]}-{cavities[-1]}"
    return listed([str(cavity) for cavity in cavities])
