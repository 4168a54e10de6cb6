"""The yard as it was when its plan was made anew."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Final

from blockrun.planner.uses import AGENT, CEMENT, OIL
from blockrun.site.crew import Absence
from blockrun.site.stock import AgentDelivery, CementDelivery, Delivery, MassDelivery, VolumeDelivery
from blockrun.site.weather import SeenWeather

if TYPE_CHECKING:
    from datetime import date

    from blockrun.planner.begun.facts import Begun, MaterialBegun
    from blockrun.site import Site
    from blockrun.site.crew import Crew
    from blockrun.site.stock import Stock


def site_begun(site: Site, begun: Begun | None) -> Site:
    """The site in the air that was seen, lost days closed, with the people and the stock there are; as it is without.

    Moulds out of use stay in it: blocks may stand in them.
    """
    if begun is None:
        return site
    crew = _crew(site.crew, begun)
    closed = site.calendar.closed | frozenset(begun.lost) | frozenset(too_few(site, begun))
    calendar = site.calendar.model_copy(update={"closed": closed})
    changed: dict[str, object] = {"calendar": calendar, "crew": crew}
    if begun.air:
        seen = {air.day: (air.min_c, air.max_c) for air in begun.air}
        changed["weather"] = SeenWeather.over(site.weather, seen)
    if begun.recorded:
        changed["stock"] = _recorded(site.stock, begun.recorded)
    return site.model_copy(update=changed)


def too_few(site: Site, begun: Begun) -> list[date]:
    """Days on which too few people are there for the chores, or none: the yard is closed on them."""
    crew, needed = _crew(site.crew, begun), max([1, *(chore.people for chore in site.chores)])
    return sorted({day for day, _ in begun.away if crew.on(day) < needed})


def _crew(crew: Crew, begun: Begun) -> Crew:
    away = tuple(Absence(day=day, people=people) for day, people in begun.away)
    return crew.model_copy(update={"absences": (*crew.absences, *away)})


_KEPT: Final[dict[str, tuple[str, type[Delivery]]]] = {
    CEMENT: ("on_hand_bags", CementDelivery),
    AGENT: ("on_hand_l", AgentDelivery),
    OIL: ("on_hand_l", VolumeDelivery),
}


def _recorded(stock: Stock, recorded: Mapping[str, MaterialBegun]) -> Stock:
    """What was on hand and came; what counts found besides is `blockrun.planner.begun.books`' to reckon with."""
    changed: dict[str, object] = {}
    for name, told in recorded.items():
        key, (on_hand, delivery) = name.replace(" ", "_"), _KEPT.get(name, ("on_hand_kg", MassDelivery))
        came = tuple(delivery.model_construct(**one.model_dump()) for one in told.came)
        changed[key] = getattr(stock, key).model_copy(update={on_hand: told.on_hand, "deliveries": came})
    return stock.model_copy(update=changed)
