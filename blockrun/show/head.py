"""The head of a sheet and of each day on it: names explained, people, air, what the day comes to."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from blockrun.files.day_names import clock
from blockrun.mix.bucket_of_foam import to_weigh_foam
from blockrun.mix.dilution import tank_of
from blockrun.show.batch.load import tank_said
from blockrun.show.chores import chores_now
from blockrun.show.day import Job
from blockrun.show.hazards import hazards_of
from blockrun.show.jobs import WORTH_SAYING_L
from blockrun.show.last_foam import last_foam_said
from blockrun.show.lots import trial_asked, trial_in_time
from blockrun.show.measures import bags_of, by_bags, by_volume
from blockrun.show.page import ALARM, LIMIT, Part, glued
from blockrun.units import counted, show

if TYPE_CHECKING:
    from blockrun.show.day import Day, Pour
    from blockrun.site import DayWeather, Site


def sheet_names(site: Site) -> str:
    """Explain the names of moulds and bases once."""
    kind = site.moulds[0].kind
    said = f"{kind}/01 is mould 1 of kind {kind}"
    based = next((kind.kind for kind in site.moulds if kind.bases), None)
    if based:
        said += f", {based}/b01 base 1 of kind {based}"
    return f"{said}; cavities count from the one painted 1."


def day_head(day: Day, site: Site) -> Iterator[list[Part]]:
    """Lines on who is here, the air and the limit of the day, what the weather asks for, and all that is poured."""
    if day.people:
        people = counted(day.people, "person", "people")
    else:
        people = "nobody here" if site.calendar.is_working(day.day) else "no working day"
    said: list[Part] = [f"{glued(people)}, {air_said(day.weather, site.units)}"]
    if last_foam := last_foam_said(day, site):
        said += [", ", (glued(f"LAST FOAM {last_foam}"), LIMIT)]
    yield said
    for warning in hazards_of(day, site):
        yield [(warning, ALARM)]
    for asked in asked_first(day, site):
        yield [(asked, ALARM)]
    if done := [job.end for job in day.jobs if not _is_left_out(job, site)]:
        ends = f"the last work ends {clock(max(done))}"
        yield [f"{day_total(day, site)}; {ends}" if day.pours else ends.capitalize()]
    if tanks := tanks_said(day, site):
        yield [tanks]


def asked_first(day: Day, site: Site) -> Iterator[str]:
    """Say what is seen to before the first batch: agent that runs short, and trials.

    These are due before a batch of the day, or can be made on it before the day of their batch comes.
    """
    if day.agent_short_l:
        missing = by_volume(day.agent_short_l, site.units)
        yield (
            f"FOAMING AGENT SHORT: {missing} is missing for the bucket of foam weighed before each batch. Have more "
            "there by opening, or weigh less foam."
        )
    yield from map(trial_asked, day.new_lots)
    yield from map(trial_in_time, day.trials)


def _is_left_out(job: Job | Pour, site: Site) -> bool:
    """Whether all of it are chores that weather or empty racks leave undone."""
    return isinstance(job, Job) and job.task == "chore" and not chores_now(job, site.weather).done


def tanks_said(day: Day, site: Site) -> str:
    """Say how often the tank of dilution is filled on a day and what goes in; empty where there is no tank."""
    fills = [fill_l for pour in day.pours for fill_l in pour.tank_fills]
    if tank_of(site.foam_generator) is None or not day.pours:
        return ""
    if not fills:
        return "Dilution: what is left in the tank is enough."
    litres, units, share = sum(fills), site.units, site.foam_generator.agent_share
    in_all = f"{by_volume(litres * share, units)} of agent in {by_volume(litres * (1 - share), units)} of water"
    return (
        f"Dilution: the tank is filled {glued(counted(len(fills), 'time'))}, {in_all}; a full one is "
        f"{tank_said(site.foam_generator, units)}. Close it overnight: what is left is counted for the next day."
    )


def air_said(weather: DayWeather, units: str) -> str:
    """Say the air to the whole degree; past the forecast nobody knows it better than that."""
    low, high = (show(value, "temperature", units).split(" ") for value in (weather.min_c, weather.max_c))
    air = glued(f"air {float(low[0]):.0f} to {float(high[0]):.0f} {high[1]}".replace(" -0 ", " 0 "))
    if weather.typical:
        return f"{air}, as in a typical year"
    return air if weather.forecast else f"{air}, guessed: past the forecast"


def day_total(day: Day, site: Site) -> str:
    """Say what batches of a day take, foam weighed among it, and leave; agent of a tank is told with its fillings."""
    units = site.units
    batches = [pour.batch for pour in day.pours]
    blocks = sum(len(fill.cavities) for pour in day.pours for fill in pour.fills)
    bags = sum(bags_of(batch.bags) for batch in batches)
    weighed = to_weigh_foam(site)
    agent_l = sum(batch.agent_l + weighed.agent_l for batch in batches)
    # foam is air and diluted agent; a kilogram of water or of the dilution is taken as a litre
    water_l = sum(batch.slurry_water_kg + batch.foam_kg - batch.agent_l + weighed.water_l for batch in batches)
    agent = "" if tank_of(site.foam_generator) else f", {by_volume(agent_l, units)} of agent"
    thrown_l = sum(pour.left.thrown_l for pour in day.pours)
    thrown = f"; {by_volume(thrown_l, units)} of mix left over to throw away" if thrown_l >= WORTH_SAYING_L else ""
    return (
        f"{glued(counted(blocks, 'block'))} in {glued(counted(len(batches), 'batch'))}: {by_bags(bags)} of "
        f"cement, {by_volume(water_l, units)} of water{agent}{thrown}"
    )
