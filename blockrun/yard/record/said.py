"""An entry in one sentence, to be read back to whoever told it."""

from __future__ import annotations

from collections.abc import Callable, Container, Iterable, Mapping
from datetime import MAXYEAR, MINYEAR
from typing import Any, Final

from blockrun.files.day_names import day_name
from blockrun.units import counted
from blockrun.yard.called import Called, as_recorded
from blockrun.yard.journal.entry import Entry
from blockrun.yard.journal.events import (
    Blocks,
    BlocksCounted,
    Counted,
    Crushed,
    DayLost,
    Delivered,
    Event,
    Laid,
    MouldBack,
    MouldOut,
    Moved,
    Note,
    Passed,
    PersonAway,
    Poured,
    Rejected,
    SidesOff,
    Stacked,
    Stripped,
    Thumbed,
    Undone,
    WeatherSeen,
)
from blockrun.yard.record.figures import amount_said, crush_said, degrees_between, weighed_said

ANY_YEAR: Final = range(MINYEAR, MAXYEAR + 1)


def sentence(
    entry: Entry,
    others: Mapping[str, Entry],
    units: str,
    years: Container[int] = ANY_YEAR,
    called: Called = as_recorded,
) -> str:
    """Say an entry.

    Parameters
    ----------
    others : entries by their keys, among them those that it may undo.
    units : ``SI`` or ``US``, as the site prints.
    years : that go without saying.
    called : what batches are called.
    """
    event = entry.event
    if isinstance(event, Undone):
        return _undone(event, others, units, years, called)
    year = "" if entry.happened.year in years else f" {entry.happened.year}"
    when = f", {day_name(entry.happened.date())}{year} {entry.happened:%H:%M}"
    when = "" if isinstance(event, WeatherSeen | DayLost | PersonAway) else when
    who = f", by {event.who}" if event.who else ""
    remark = f" ({event.remark})" if event.remark else ""
    said = _event_said(entry, units, called)
    return f"{said}{when}{who}{remark}."


def _event_said(entry: Entry, units: str, called: Called) -> str:
    match event := entry.event:
        case Poured():
            return f"{called((event.plan, event.batch), entry.happened).whole} {_poured(event, units)}"
        case Crushed():
            return _crushed(event, units, called)
    kind = type(event)
    if kind in _OF_BATCHES:
        return _OF_BATCHES[kind](event, called)
    return _MEASURED[kind](event, units) if kind in _MEASURED else _SAID[kind](event)


def entry_said(number: int) -> str:
    """``entry 12``; one that is not kept yet is of the same sheet."""
    return f"entry {number}" if number else "another row of this sheet"


def blocks_listed(blocks: Iterable[Blocks]) -> str:
    """``4 full, 1 half``."""
    return ", ".join(f"{one.count} {one.mark}" for one in blocks) or "none"


def _some(event: Moved | Stacked | Laid | Rejected, called: Called) -> str:
    """Blocks, and of which batches where that is told."""
    batches = " or ".join(called((one.plan, one.batch), None).number for one in event.of if one.batch)
    return f"{blocks_listed(event.blocks)}{f' of batch {batches}' * bool(batches)}"


def _undone(event: Undone, others: Mapping[str, Entry], units: str, years: Container[int], called: Called) -> str:
    gone = others.get(event.key)
    if gone is None:
        return "an entry that is not here is undone."
    if isinstance(gone.event, Undone):
        return f"entry {gone.number} is undone, so what it undid counts again."
    return f"undone, entry {gone.number}: {sentence(gone, others, units, years, called)}"


def _poured(event: Poured, units: str) -> str:
    places = list(dict.fromkeys(fill.base or fill.mould for fill in event.fills))
    n_blocks = sum(mark != "" for fill in event.fills for mark in fill.marks)
    blocks = counted(n_blocks, "block")
    became = f"poured into {', '.join(places)}, {blocks}" if n_blocks else "thrown away, and no mould filled"
    return ", ".join([f"({event.mix}) {became}", *weighed_said(event, units)])


def _sides(event: SidesOff) -> str:
    return f"sides of {event.mould} off {event.base}"


def _stripped(event: Stripped) -> str:
    broken = f", broken {blocks_listed(event.broken)}" if event.broken else ""
    return f"stripped {event.base or event.mould}: whole {blocks_listed(event.whole)}{broken}"


def _moved(event: Moved, called: Called) -> str:
    places = " and ".join(filter(None, (event.mould, f"rack {event.from_rack}" * bool(event.from_rack))))
    return f"moved {_some(event, called)}{f' from {places}' * bool(places)} to rack {event.rack}"


def _stacked(event: Stacked, called: Called) -> str:
    return f"stacked {_some(event, called)} from rack {event.rack}{f' at {event.where}' * bool(event.where)}"


def _laid(event: Laid, called: Called) -> str:
    course = "" if event.course is None else f" course {event.course}"
    return f"laid {_some(event, called)} in {event.part}{course}"


def _rejected(event: Rejected, called: Called) -> str:
    rack = f"of rack {event.name}" if event.name and event.place == "rack" else f"of the {event.place}"
    place = f"of {event.name}, on no rack yet" if event.place == "mould" else rack
    return f"thrown out {_some(event, called)} {place}, {event.why}"


def _passed(event: Passed, called: Called) -> str:
    return f"{called((event.plan, event.batch), None).whole} may be used, {event.why}"


def _crushed(event: Crushed, units: str, called: Called) -> str:
    marked = f" marked {event.marked}" if event.marked else ""
    batch = "an unknown batch" if event.batch is None else called((event.plan, event.batch), None).whole
    alone = event.what == "cube" and event.dry_density_kg_m3 is None
    counts = "; no dry density told, so it counts for its batch alone" if alone else ""
    return f"{event.what}{marked} of {batch} crushed at {crush_said(event, units)}{counts}"


def _thumbed(event: Thumbed) -> str:
    shows = {"soft": "sinks in", "dents": "leaves a mark", "firm": "leaves no mark"}[event.thumb]
    return f"a thumb {shows} in {event.base or event.mould}"


def _delivered(event: Delivered, units: str) -> str:
    lot = f", lot {event.lot}" if event.lot else ""
    return f"delivered {amount_said(event.material, event.amount, units)}{lot}"


def _counted(event: Counted, units: str) -> str:
    return f"counted {amount_said(event.material, event.amount, units)}"


def _blocks_counted(event: BlocksCounted) -> str:
    place = f"rack {event.name}" if event.name else f"the {event.place}"
    return f"counted {event.count} {event.mark} on {place}"


def _weather(event: WeatherSeen, units: str) -> str:
    return f"air of {day_name(event.day)}: {degrees_between(event.min_degc, event.max_degc, units)}"


def _lost(event: DayLost) -> str:
    return f"{day_name(event.day)} is lost{f', {event.why}' * bool(event.why)}"


def _away(event: PersonAway) -> str:
    days = day_name(event.first) if event.first == event.last else f"{day_name(event.first)} to {day_name(event.last)}"
    return f"{counted(event.people, 'person', 'people')} away, {days}"


def _out(event: MouldOut) -> str:
    return f"out of use {event.mould}{f', {event.why}' * bool(event.why)}"


def _back(event: MouldBack) -> str:
    return f"in use again {event.mould}"


def _note(event: Note) -> str:
    return f"note: {event.words}"


_SAID: Final[Mapping[type[Event], Callable[[Any], str]]] = {
    SidesOff: _sides,
    Stripped: _stripped,
    Thumbed: _thumbed,
    BlocksCounted: _blocks_counted,
    DayLost: _lost,
    PersonAway: _away,
    MouldOut: _out,
    MouldBack: _back,
    Note: _note,
}

_OF_BATCHES: Final[Mapping[type[Event], Callable[[Any, Called], str]]] = {
    Moved: _moved,
    Stacked: _stacked,
    Laid: _laid,
    Rejected: _rejected,
    Passed: _passed,
}

_MEASURED: Final[Mapping[type[Event], Callable[[Any, str], str]]] = {
    Delivered: _delivered,
    Counted: _counted,
    WeatherSeen: _weather,
}
"""In the units of the site."""
