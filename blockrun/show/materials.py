"""What a plan takes, as text for a screen and as a list of days."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from datetime import date
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import day_name
from blockrun.planner.in_moulds import check_fits
from blockrun.planner.supplies import Material, materials_of
from blockrun.planner.uses import AGENT, UNITS, uses_of
from blockrun.show.blocklist import as_csv
from blockrun.show.materials_said import MaterialsSaid, comes_on, days_of, short_name
from blockrun.show.page import ALARM, HEADING, INDENT, QUIET, Page, glued
from blockrun.units import counted, listed

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.plan import Plan

DAY_WIDTH: Final = 11
GAP: Final = 2
_IN_A_NAME: Final = {"bag": "bags", "L": "l", "kg": "kg"}
_DECIMALS: Final = 6


def materials_text(plan: Plan, width: int, changed: Sequence[str] = ()) -> Text:
    """Write what a plan takes and costs.

    Parameters
    ----------
    width : characters a line; where a table of the days fits it is one, else each day is a sentence.
    changed : sentences on what of the plan was changed since it was saved.

    Returns
    -------
    What to order next, the days, the order by mix, each supply with how long it lasts, and the cost.

    Raises
    ------
    BadPlan : see `check_fits`.
    """
    check_fits(plan)
    return _Materials(plan, width).text(changed)


def materials_list(plan: Plan) -> str:
    """What a plan takes by day, as CSV.

    Returns
    -------
    A row a day on which something is used or comes: day, and of each material what is used (of foaming agent also what
    of that is for foam that is weighed), and where its stock is counted what has come and what is left in the evening.
    Bags, litres and kilograms, as the names of the columns say.

    Raises
    ------
    BadPlan : see `check_fits`.
    """
    check_fits(plan)
    materials = materials_of(plan.site, uses_of(plan), plan.begun)
    rows = [["day", *(name for material in materials for name in _columns(material))]]
    for day in days_of(materials):
        rows.append([day.isoformat(), *(cell for material in materials for cell in _cells(material, day))])
    return as_csv(rows)


def _columns(material: Material) -> list[str]:
    stem, unit = material.name.replace(" ", "_"), _IN_A_NAME[UNITS[material.name]]
    said = ["used", "delivered", "left"] if material.supplies else ["used"]
    if material.name == AGENT:
        said.insert(1, "to_weigh_foam")
    return [f"{stem}_{word}_{unit}" for word in said]


def _cells(material: Material, day: date) -> list[str]:
    amounts = [material.used.get(day, 0.0)]
    if material.name == AGENT:
        amounts.append(material.weighed.get(day, 0.0))
    if material.supplies:
        amounts += [comes_on(material, day), material.left_on(day)]
    return [f"{round(amount, _DECIMALS) + 0.0:.{_DECIMALS}f}".rstrip("0").rstrip(".") for amount in amounts]


class _Materials:
    def __init__(self, plan: Plan, width: int) -> None:
        self.plan, self.said, self.page = plan, MaterialsSaid(plan), Page(width, plan.site.units)

    def text(self, changed: Sequence[str]) -> Text:
        self.page.line((f"{self.plan.site.name}: {self.plan.order.name}, materials", HEADING))
        for said in changed:
            self.page.line((said, ALARM))
        self._write_next()
        self._write_days()
        n_blocks = len(self.plan.tables.casts)
        self._write(f"the whole order, {counted(n_blocks, 'block')} with spares", self.said.sums())
        for material in self.said.counted:
            self._write(f"{material.name}: what is there and what comes", self.said.stock(material))
        self._write("cost, at your prices", (*self.said.cost(), *self.said.cost_by_mark()))
        return self.page.text()

    def _write(self, heading: str, lines: Iterable[str]) -> None:
        self.page.blank()
        self.page.line((heading, HEADING))
        for line in lines:
            self.page.line(line, indent=INDENT)

    def _write_next(self) -> None:
        """What is to be ordered first, and what is short whatever comes."""
        if said := self.said.order_next():
            self.page.line(("order next: ", HEADING), said)
        elif why := self.said.no_order():
            self.page.line((why, QUIET) if why.startswith("Write") else why)
        for said in self.said.short():
            self.page.line((said, ALARM))

    def _write_days(self) -> None:
        self.page.blank()
        self.page.line(("used by day, and left in the evening", HEADING))
        table = list(self.said.table())
        widths = [max(len(row[column]) for row in table) for column in range(len(table[0]))]
        if sum(widths) + GAP * (len(widths) - 1) <= self.page.width:
            for number, row in enumerate(table):
                cells = (f"{cell:>{width}}" for cell, width in zip(row[1:], widths[1:], strict=True))
                line = glued((" " * GAP).join((f"{row[0]:<{widths[0]}}", *cells)))
                self.page.line((line, QUIET) if number == 0 else line)
        else:
            for day in self.said.days:
                self.page.line(self._day_said(day), label=day_name(day), indent=DAY_WIDTH)

    def _day_said(self, day: date) -> str:
        used = [f"{self.said.used(each, day)} of {each.name}" for each in self.said.materials if day in each.used]
        come = [f"{said} of {name}" for name, said in self._of_stock(self.said.come, day) if said]
        left = [f"{name} {said}" for name, said in self._of_stock(self.said.left, day)]
        sentences = (", ".join(come), listed(used), f"left: {', '.join(left)}" if left else "")
        return "; ".join(filter(None, sentences))

    def _of_stock(self, say: Callable[[Material, date], str], day: date) -> list[tuple[str, str]]:
        """What is to be said of each material whose stock is counted."""
        return [(short_name(each), say(each, day)) for each in self.said.counted]
