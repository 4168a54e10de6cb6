"""What the plan has for a day, to be asked about one by one: was it done as planned."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TYPE_CHECKING

from blockrun.files.day_names import moment_name
from blockrun.files.moments import is_clock
from blockrun.planner.saved_rows import PlannedCubes, planned_cubes
from blockrun.site.mould_names import kind_named
from blockrun.units import listed
from blockrun.yard.journal import Entry, standing
from blockrun.yard.journal.events import Crushed, Poured
from blockrun.yard.now import Standing, State
from blockrun.yard.record.recorder import Typed

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned, PlannedCast


@dataclass(frozen=True)
class Item:
    """One thing that the plan has for a day.

    Attributes
    ----------
    words : that record it as planned.
    at : when it is over by the plan.
    asked : the question, without its mark.
    batch : that is poured, or stands there.
    """

    words: tuple[str, str]
    at: datetime
    asked: str
    batch: int


def items(plan: AsPlanned, day: date) -> list[Item]:
    """All that the plan has for a day, by the clock: pours, sides, strips, and blocks that leave a rack."""
    found = {(item.words, item.at): item for item in _items(plan) if item.at.date() == day}
    return sorted(found.values(), key=lambda item: item.at)


def open_now(item: Item, state: State, plan: AsPlanned) -> Item | None:
    """What may still be to be recorded of something, by where every block is now; None where nothing is."""
    what, name = item.words
    batch = plan.recorded_as(item.batch)
    if what == "poured":
        return None if batch in state.poured else item
    if what == "stacked":
        return _off_rack(item, name, state, plan)
    here = state.standing_in(name)
    if here is None or batch not in here.batches:
        here = _in_its_place(name, item.batch, state, plan) or here
    if here is None or (what == "sides" and not here.sides_on) or here.poured >= item.at:
        return None
    return replace(item, words=(what, here.place), asked=item.asked.replace(name, here.place))


def _off_rack(item: Item, rack: str, state: State, plan: AsPlanned) -> Item | None:
    """What of a rack may leave it by the evening of its day, asked about when the last of it may."""
    lots = [lot for _, lot in state.racks[rack].lots()] if rack in state.racks else []
    due = [(plan.site.off_rack(lot.since), lot.n_blocks) for lot in lots]
    due = [(since, n_blocks) for since, n_blocks in due if since.date() <= item.at.date()]
    if not due:
        return None
    at = max(item.at, *(since for since, _ in due))
    blocks = sum(n_blocks for _, n_blocks in due)
    said = f"{blocks} {'block' if blocks == 1 else 'blocks'} off rack {rack}, stacked"
    return replace(item, at=at, asked=f"{moment_name(at)} {said}")


def _in_its_place(name: str, number: int, state: State, plan: AsPlanned) -> Standing | None:
    """What a batch filled in the place of a mould that it was for: one of its kind that it was not for."""
    batch, planned = plan.recorded_as(number), {cast.place for cast in plan.batches[number]}
    others = (one for one in state.moulds.values() if batch in one.batches and one.place not in planned)
    return next((one for one in others if kind_named(one.mould) == kind_named(name)), None)


def to_crush(plan: AsPlanned, day: date, entries: Iterable[Entry]) -> Iterator[str]:
    """What to type of cubes that the plan crushes on a day, of batches that were poured, until so many are recorded.

    Parameters
    ----------
    entries : of the journal.
    """
    due: dict[int, list[PlannedCubes]] = {}
    for row in planned_cubes(plan.directory):
        if row.crush is not None and row.crush.date() <= day:
            due.setdefault(row.batch, []).append(row)
    told = standing(entries) if due else []
    poured = {(one.event.plan, one.event.batch) for one in told if isinstance(one.event, Poured)}
    crushed = Counter((one.event.plan, one.event.batch) for one in told if isinstance(one.event, Crushed))
    for number, rows in due.items():
        batch, today = plan.recorded_as(number), [row.marked for row in rows if row.crush and row.crush.date() == day]
        if today and batch in poured and crushed[batch] < sum(row.cubes for row in rows):
            cubes = f"Cubes {listed(today)} of batch {number} are to be crushed"
            form = f"blockrun record DIR test cube {number} LOAD marked WORDS"
            yield f"{cubes}. Of each, with what is written on it: {form}"


def answered(item: Item, answer: str, key: str, who: str = "") -> Typed | None:
    """What an answer to "as planned?" tells: nothing or yes, no, a time, and what else is to be told; None for no.

    Parameters
    ----------
    answer : such as ``10:40``, ``1 broken``, or ``10:40 1 broken``.
    """
    words = answer.split()
    at = words.pop(0) if words and is_clock(words[0]) else f"{item.at:%H:%M}"
    if [word.lower() for word in words] in (["n"], ["no"]):
        return None
    if [word.lower() for word in words] in (["y"], ["yes"]):
        words = []
    return Typed((*item.words, *words), key, f"{item.at:%Y-%m-%d} {at}", who)


def _items(plan: AsPlanned) -> Iterator[Item]:
    for number, casts in plan.batches.items():
        places = dict.fromkeys(cast.place for cast in casts)
        said = f"batch {number} ({casts[0].mix}) into {', '.join(places)}"
        yield _item(casts[0], casts[0].poured, said, "poured", str(number))
    for cast in plan.casts:
        if cast.sides_off is not None:
            yield _item(cast, cast.sides_off, f"sides off {cast.base}", "sides", cast.base)
        yield _item(cast, cast.strip, f"{cast.place} stripped, to rack {cast.rack}", "stripped", cast.place)
    last: dict[tuple[str, date], PlannedCast] = {}  # what leaves a rack on a day is asked about once
    for cast in sorted(plan.casts, key=lambda one: one.rack_to):
        last[cast.rack, cast.rack_to.date()] = cast
    for (rack, _), cast in last.items():
        yield _item(cast, cast.rack_to, f"what is due off rack {rack}, stacked", "stacked", rack)


def _item(cast: PlannedCast, at: datetime, said: str, what: str, name: str) -> Item:
    return Item((what, name), at, f"{moment_name(at)} {said}", cast.batch)
