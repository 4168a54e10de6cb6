"""The rules on weather."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import figure
from blockrun.planner.audit.finding import Rule, Said


def no_frost(case: Case) -> Iterator[Said]:
    """Pour only where no day from the pour to the strip, both included, falls under ``least_air``."""
    spans = [(turn, case.day_of(turn.start), case.day_of(turn.strip)) for turn in case.turns]
    spans = [span for span in spans if not case.past.has_begun(span[0])]
    least_c = case.site.curing.least_air_c
    first, last = min((first for _, first, _ in spans), default=0), max((last for _, _, last in spans), default=-1)
    lowest = {day: case.site.weather.day(case.working.date_of(day)).min_c for day in range(first, last + 1)}
    cold = [day for day, min_c in lowest.items() if min_c < least_c]
    for turn, first, last in spans:
        nearest = bisect_left(cold, first)
        if nearest < len(cold) and cold[nearest] <= last:
            day = cold[nearest]
            yield (
                turn.name,
                f"{turn.name} is poured {case.on(first)} and stripped {case.on(last)}, but {case.on(day)} falls to "
                f"{figure(lowest[day])} degC; the least is {figure(least_c)} degC",
            )


def no_heat(case: Case) -> Iterator[Said]:
    """Pour on no day whose highest temperature is over ``most_air``."""
    most_c = case.site.curing.most_air_c
    for batch in case.planned_batches:
        day = case.day_of(batch.start)
        highest_c = case.site.weather.day(case.working.date_of(day)).max_c
        if most_c is not None and highest_c > most_c:
            yield (
                batch.name,
                f"{batch.name} is poured {case.on(day)}, which rises to {figure(highest_c)} degC; the most is "
                f"{figure(most_c)} degC",
            )


def no_rain(case: Case) -> Iterator[Said]:
    """Pour on no day that has more rain than ``rain_stops``; rain that is not known is none."""
    most_mm = case.site.curing.rain_stops_mm
    for batch in case.planned_batches:
        day = case.day_of(batch.start)
        fall_mm = case.site.weather.day(case.working.date_of(day)).sky.rain_mm or 0.0
        if most_mm is not None and fall_mm > most_mm:
            yield (
                batch.name,
                f"{batch.name} is poured {case.on(day)}, which has {figure(fall_mm)} mm of rain; more than "
                f"{figure(most_mm)} mm stops the pour",
            )


WEATHER: tuple[Rule, ...] = (no_frost, no_heat, no_rain)
