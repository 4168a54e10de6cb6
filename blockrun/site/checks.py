"""What no single field of a site can see: values that are each right and wrong together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from typing import Final

from blockrun import units
from blockrun.errors import BadInput
from blockrun.site.crew import Chore
from blockrun.site.mixers import Mixer
from blockrun.site.model import Site
from blockrun.site.moulds import MouldKind
from blockrun.site.ripeness import Strength

_MOST_SIZES: Final = 1000
"""Of batches in one mixer: each is a way to fill it, and more say nothing more (our choice)."""
_CEMENT_KG_L: Final = 1.0
"""About what a litre of dense mix holds at the most."""

Fault = tuple[tuple[str | int, ...], BadInput]
"""Where in the site file (keys, and indexes of lists from 0), and what is wrong there."""


def find_faults(site: Site) -> Iterator[Fault]:
    """Every fault between the values of a site, whose lists stand in the order of the file."""
    yield from _doubled_names(site)
    yield from _weather(site)
    yield from _dilution(site)
    calendar = list(_calendar(site))
    yield from calendar
    if not calendar:
        yield from _mixers(site)
        yield from _moulds(site)
        yield from _chores(site)
    yield from _away(site)
    yield from _strengths(site)
    yield from _walls(site)


def _doubled_names(site: Site) -> Iterator[Fault]:
    groups: dict[tuple[str, str], Sequence[str]] = {
        ("mixers", "name"): [mixer.name for mixer in site.mixers],
        ("moulds", "kind"): [mould.kind for mould in site.moulds],
        ("racks", "name"): [rack.name for rack in site.racks],
    }
    for (group, key), names in groups.items():
        for index, name in enumerate(names):
            if name in names[:index]:
                yield (group, index, key), _said(f"two {group} are called {name}", "Give each its own name.", key)


def _weather(site: Site) -> Iterator[Fault]:
    first, last, start = site.weather.first, site.weather.last, site.calendar.start
    if not first <= start or (start > last and site.weather.typical is None):
        what = f"the weather runs from {first} to {last}, and the calendar starts on {start}"
        todo = f"Add the days from {start} on to {site.weather.reference}, or correct the start."
        yield ("calendar", "start"), _said(what, todo, "start")
    least, most = site.curing.least_air_c, site.curing.most_air_c
    if most is not None and most <= least:
        high, low = (units.show(value, "temperature", site.units) for value in (most, least))
        what = f"most_air, {high}, is not over least_air, {low}"
        yield ("curing", "most_air"), _said(what, "Correct one of them.", "most_air")
    if site.curing.rain_stops_mm is not None and not site.weather.knows_rain:
        what = f"rain_stops is given, and {site.weather.reference} has no rain"
        todo = "Add a column rain_mm to the weather file, or take rain_stops out."
        yield ("curing", "rain_stops"), _said(what, todo, "rain_stops")


def _dilution(site: Site) -> Iterator[Fault]:
    """Agent is always the smaller part; common practice, no source: 1:20 to 1:60."""
    agent, water = site.foam_generator.agent_dilution
    if agent > water:
        what = f"agent_dilution {agent:g}:{water:g} is more agent than water"
        at = ("foam_generator", "agent_dilution")
        yield at, _said(what, f"Did you mean {water:g}:{agent:g}?", "agent_dilution")


def _calendar(site: Site) -> Iterator[Fault]:
    calendar = site.calendar
    for start, end in calendar.breaks:
        if start < calendar.open_min or end > calendar.close_min:
            what = f"the break {_clock(start)}-{_clock(end)} is not within the hours"
            yield ("calendar", "breaks"), _said(what, "Correct the break or the hours.", "breaks")
    if not calendar.windows:
        what = "no working minute is left of the day after breaks, set_up and close_down"
        yield ("calendar", "hours"), _said(what, "Lengthen the hours or shorten the others.", "hours")
    elif calendar.ends_min == 24 * 60:
        what = "work ends at 24:00, and what ends then would count to the next day"
        yield ("calendar", "hours"), _said(what, "Write 23:59, or a close_down.", "hours")
    if calendar.last_foam_min <= calendar.open_min:
        what = "last_foam is not after opening time, so no batch could ever be made"
        yield ("calendar", "last_foam"), _said(what, f"Write a time after {_clock(calendar.open_min)}.", "last_foam")


def _mixers(site: Site) -> Iterator[Fault]:
    for index, mixer in enumerate(site.mixers):
        at = ("mixers", index)
        if mixer.crew > site.crew.people:
            what = f"mixer {mixer.name} needs {mixer.crew} people, and the crew is {site.crew.people}"
            yield (*at, "crew"), _said(what, f"Write up to {site.crew.people}, or more people.", "crew")
        foam_to_full = mixer.foam_time_min + mixer.pour_time_min
        if foam_to_full > site.pour_life_min:
            life = units.show_time(site.pour_life_min)
            what = f"foam_time and pour_time take {foam_to_full} min, and the pour life is {life}"
            yield (*at, "pour_time"), _said(what, "Pour faster, or correct pour_life.", "pour_time")
        step_kg = float(mixer.bag_step) * site.stock.cement.bag_kg
        if mixer.usable_volume_l * _CEMENT_KG_L > _MOST_SIZES * step_kg:
            step = units.show(step_kg, "mass", site.units)
            what = f"batches in steps of {step} of cement are more than {_MOST_SIZES} sizes to choose from"
            yield (*at, "bag_step"), _said(what, "Correct the bag of cement, or take a larger bag_step.", "bag_step")
        if not _batch_fits(site, mixer):
            length = foam_to_full + mixer.slurry_time_min + mixer.wash_time_min
            what = f"a batch takes {length} min at least, and fits between no two breaks before last_foam"
            yield (*at, "name"), _said(what, "Shorten its times, or move the breaks or last_foam.", "name")


def _batch_fits(site: Site, mixer: Mixer) -> bool:
    length = mixer.slurry_time_min + mixer.foam_time_min + mixer.pour_time_min + mixer.wash_time_min
    return any(
        start + length <= end and start + mixer.slurry_time_min <= site.calendar.last_foam_min
        for start, end in site.calendar.windows
    )


def _moulds(site: Site) -> Iterator[Fault]:
    longest = max(end - start for start, end in site.calendar.windows)
    for index, mould in enumerate(site.moulds):
        for key, task, minutes in _mould_tasks(mould):
            if minutes > longest:
                what = f"{task} is {units.show_time(minutes)}, and no stretch without a break is longer than "
                fault = _said(what + units.show_time(longest), "Shorten it, or move the breaks.", key)
                yield ("moulds", index, key), fault


def _walls(site: Site) -> Iterator[Fault]:
    """In steel a block is ripe many hours later than in plywood: no mould's walls are guessed."""
    for index, mould in enumerate(site.moulds):
        if site.curing.heat == "modelled" and "walls" not in mould.model_fields_set:
            what = f"heat is modelled, and nothing says what {mould.kind} is made of"
            yield ("moulds", index, "kind"), _said(what, "Write walls: plywood 18 mm, or walls: steel 3 mm.", "kind")


def _mould_tasks(mould: MouldKind) -> Iterable[tuple[str, str, int]]:
    """Key, words and minutes of what is done in one go."""
    strip = "strip_time and the time of the saw together" if mould.saw else "strip_time"
    return (
        ("strip_time", strip, mould.strip_and_saw_min),
        ("clean_time", "clean_time", mould.clean_time_min),
        ("sides_time", "sides_time", mould.sides_time_min or 0),
    )


def _chores(site: Site) -> Iterator[Fault]:
    for index, chore in enumerate(site.chores):
        if chore.people > site.crew.people:
            what = f"{chore.name} needs {chore.people} people, and the crew is {site.crew.people}"
            yield ("chores", index, "people"), _said(what, f"Write up to {site.crew.people}.", "people")
        for at in chore.at:
            if not any(start <= at and at + chore.time_min <= end for start, end in site.calendar.windows):
                spans = " and ".join(f"{_clock(start)}-{_clock(end)}" for start, end in site.calendar.windows)
                what = f"{chore.name} from {_clock(at)} to {_clock(at + chore.time_min)} is not within {spans}"
                todo = "Move it, so that it spans no break, set-up or close-down."
                yield ("chores", index, "at"), _said(what, todo, "at")
            together = _people_at(site.chores, at)
            if chore.people <= site.crew.people < together:
                what = f"the chores at {_clock(at)} need {together} people together, and the crew is {site.crew.people}"
                yield ("chores", index, "at"), _said(what, "Move one of them.", "at")


def _people_at(chores: Iterable[Chore], minute: int) -> int:
    """People busy with chores at a minute of the day."""
    return sum(chore.people for chore in chores for at in chore.at if at <= minute < at + chore.time_min)


def _away(site: Site) -> Iterator[Fault]:
    busiest = max((_people_at(site.chores, at) for chore in site.chores for at in chore.at), default=0)
    busiest = min(busiest, site.crew.people)  # more than that is said of the chores
    for index, absence in enumerate(site.crew.absences):
        away = site.crew.away[absence.day]
        working = site.calendar.is_working(absence.day) and absence.day >= site.calendar.start
        at = ("crew", "away", index, "people")
        if away > site.crew.people:
            what = f"{away} people are away on {absence.day}, and the crew is {site.crew.people}"
            yield at, _said(what, f"Write up to {site.crew.people}.", "people")
        elif working and site.crew.on(absence.day) < busiest:
            what = f"on {absence.day} {site.crew.on(absence.day)} people are there, and the chores need {busiest}"
            yield at, _said(what, "Close that day in the calendar or lower the chore's people.", "people")


def _strengths(site: Site) -> Iterator[Fault]:
    """Strengths that nothing is there to reckon from."""
    curing = site.curing
    asked: dict[tuple[str | int, ...], object] = {
        ("curing", "strip_at"): curing.strip_at_h,
        ("curing", "move_at"): curing.move_at_h,
        ("curing", "lay_at"): curing.lay_at_min,
        **{("moulds", n, "sides_off_at"): mould.sides_off_at_h for n, mould in enumerate(site.moulds)},
    }
    for where, value in asked.items():
        if isinstance(value, Strength) and curing.cubes is None:
            what = f"{where[-1]} is a strength, and there are no cubes to reckon it from"
            yield where, _said(what, "Write cubes: cubes.csv under curing, or an age such as 24 h.", str(where[-1]))


def _said(what: str, todo: str, key: str) -> BadInput:
    return BadInput(what, todo, name=key)


def _clock(minute: int) -> str:
    return f"{minute // 60:02d}:{minute % 60:02d}"
