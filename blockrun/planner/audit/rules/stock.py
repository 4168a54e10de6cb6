"""Rules on cement and foaming agent: never below zero, and the table of materials."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING, Final

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import ROUNDING, counted, figure, near
from blockrun.planner.audit.finding import Rule, Said
from blockrun.planner.audit.made import Made
from blockrun.planner.audit.materials import materials_of, stock_besides
from blockrun.planner.audit.working import DAY

if TYPE_CHECKING:
    from blockrun.site import Delivery


def cement_in_stock(case: Case) -> Iterator[Said]:
    """Draw no cement that is not there: deliveries count from opening time, a batch draws at its start."""
    cement = case.site.stock.cement
    draws = ((batch, batch.cement_kg) for batch in case.batches.values())
    there_kg = cement.on_hand_bags * cement.bag_kg + sum(stock_besides(case)[0].values())
    short = _first_short(case, there_kg, cement.deliveries, cement.bag_kg, draws)
    if short:
        batch, left_kg = short
        yield batch.name, f"{batch.name}, {case.at(batch.start)}, lacks {figure(-left_kg)} kg of its cement"


def agent_in_stock(case: Case) -> Iterator[Said]:
    """Draw no agent that is not there: deliveries count from opening time, a batch draws at its start."""
    agent = case.site.stock.foaming_agent
    draws = ((batch, batch.agent_l) for batch in case.batches.values())
    there_l = agent.on_hand_l + sum(stock_besides(case)[1].values())
    short = _first_short(case, there_l, agent.deliveries, 1, draws)
    if short:
        batch, left_l = short
        yield batch.name, f"{batch.name}, {case.at(batch.start)}, lacks {figure(-left_l)} L of its foaming agent"


def _first_short(
    case: Case, on_hand: float, deliveries: Iterable[Delivery], unit: float, draws: Iterable[tuple[Made, float]]
) -> tuple[Made, float] | None:
    """First batch that draws more than there is, and what is then left, under zero."""
    calendar = case.site.calendar
    arrivals = [((one.day - calendar.start).days * DAY + calendar.open_min, one.amount * unit) for one in deliveries]
    drawn = 0.0
    for batch, amount in draws:
        drawn += amount
        left = on_hand + sum(arrived for minute, arrived in arrivals if minute <= batch.start) - drawn
        if left < -ROUNDING and batch.row.batch not in case.past.poured:
            return batch, left
    return None


def materials_table(case: Case) -> Iterator[Said]:
    """Write a row of materials for each day on which something is used or delivered, with the right numbers."""
    right = {row.day: row for row in materials_of(case)}
    written = [row.day for row in case.records.materials]
    for day in sorted(right.keys() | set(written)):
        rows, where = written.count(day), f"materials {case.on(day)}"
        if day not in right:
            yield where, f"materials.csv has a row for {case.on(day)}, when nothing is used or delivered"
        elif rows != 1:
            yield where, f"materials.csv has {counted(rows, 'row')} for {case.on(day)}, not 1"
    for row in case.records.materials:
        if row.day in right and written.count(row.day) == 1:
            for column, words in _AMOUNTS.items():
                number, recomputed = getattr(row, column), getattr(right[row.day], column)
                if not near(number, recomputed):
                    says, gives = (words.format(figure(amount)) for amount in (number, recomputed))
                    on = case.on(row.day)
                    yield f"materials {on}", f"{on} says {says}, but the batches and deliveries give {gives}"


_AMOUNTS: Final = {
    "cement_used_kg": "{} kg of cement used",
    "water_used_kg": "{} kg of water used",
    "agent_used_l": "{} L of agent used",
    "cement_delivered_kg": "{} kg of cement delivered",
    "agent_delivered_l": "{} L of agent delivered",
    "cement_left_kg": "{} kg of cement left",
    "agent_left_l": "{} L of agent left",
}


STOCK: tuple[Rule, ...] = (cement_in_stock, agent_in_stock, materials_table)
