"""The yard as it was when its plan was made anew."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, TypeVar

from blockrun.site.crew import Absence
from blockrun.site.stock import AgentDelivery, CementDelivery
from blockrun.site.weather import SeenWeather

if TYPE_CHECKING:
    from datetime import date

    from blockrun.planner.begun.facts import Begun, Coming, StockBegun
    from blockrun.site import Site
    from blockrun.site.crew import Crew
    from blockrun.site.stock import Stock

Lotted = TypeVar("Lotted", CementDelivery, AgentDelivery)


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
    if begun.stock is not None:
        changed["stock"] = _stock(site.stock, begun.stock)
    return site.model_copy(update=changed)


def too_few(site: Site, begun: Begun) -> list[date]:
    """Days on which too few people are there for the chores, or none: the yard is closed on them."""
    crew, needed = _crew(site.crew, begun), max([1, *(chore.people for chore in site.chores)])
    return sorted({day for day, _ in begun.away if crew.on(day) < needed})


def _crew(crew: Crew, begun: Begun) -> Crew:
    away = tuple(Absence(day=day, people=people) for day, people in begun.away)
    return crew.model_copy(update={"absences": (*crew.absences, *away)})


def _stock(stock: Stock, begun: StockBegun) -> Stock:
    cement: dict[str, object] = {"on_hand_bags": begun.cement_bags}
    cement |= {"deliveries": tuple(_came(CementDelivery, begun.cement)), **_lot(begun.cement_lot)}
    agent: dict[str, object] = {"on_hand_l": begun.agent_l}
    agent |= {"deliveries": tuple(_came(AgentDelivery, begun.agent)), **_lot(begun.agent_lot)}
    return stock.model_copy(
        update={
            "cement": stock.cement.model_copy(update=cement),
            "foaming_agent": stock.foaming_agent.model_copy(update=agent),
        }
    )


def _lot(told: str | None) -> dict[str, object]:
    """That of what is on hand; nothing where it is the one of the site."""
    return {} if told is None else {"lot": told or None}


def _came(kind: type[Lotted], coming: Iterable[Coming]) -> Iterable[Lotted]:
    return (kind.model_construct(day=one.day, amount=one.amount, lot=one.lot) for one in coming)
