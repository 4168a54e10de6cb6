"""The chart of what was weighed, batch by batch: limits, the last points, and signals in words."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.mix.chart import ENOUGH, RUN, TREND, Chart, chart
from blockrun.mix.records import Record, read_records, weighed
from blockrun.mix.stretches import AGENT, CEMENT, Stretch, stretches
from blockrun.show.batch.charted import LOOK, Charted, beside, limits_said, signal_said
from blockrun.show.lots import change_said
from blockrun.show.page import ALARM, HEADING, QUIET, Page, glued
from blockrun.units import in_unit

if TYPE_CHECKING:
    from rich.text import Text

LAST: Final = 12
"""Points that are printed."""

STRIP: Final = 17
"""Characters from limit to limit."""

RULES: Final = (
    f"Signals: a point beyond mean +-3 sigma (2.66 mean steps), a step beyond 3.27 mean steps, {RUN} in a row on one "
    f"side of the mean, {TREND} in a row rising or falling. Textbook rules, second-hand."
)


@dataclass(frozen=True)
class Charts:
    """All that a table of batches holds."""

    each: tuple[Charted, ...]
    notes: tuple[str, ...]

    def text(self, width: int) -> Text:
        """Put them into lines of so many characters."""
        page = Page(width)
        for charted in self.each:
            _write(page, charted)
        for note in self.notes:
            page.line(note)
        page.line((RULES, QUIET))
        return page.text()

    def picture(self) -> str:
        """Draw them as SVG."""
        from blockrun.show.pictures.chart import chart_picture

        return chart_picture(self.each, RULES)


def charted(file: Path, units: str) -> Charts:
    """Read a table of batches and chart what it holds.

    Parameters
    ----------
    file : as :func:`blockrun.mix.records.read_records` takes it.

    Raises
    ------
    BadInput : the table is wrong, or nothing in it was weighed twice.
    """
    return charts_of(read_records(file), units, file)


def charts_of(records: Sequence[Record], units: str, file: Path | None = None) -> Charts:
    """Chart what was weighed of batches, wherever they are recorded.

    Parameters
    ----------
    records : in the order they were mixed.

    Raises
    ------
    BadInput : nothing was weighed twice.
    """
    each: list[Charted] = []
    notes: list[str] = []
    for kind in _kinds(records, units):
        before = None
        apart = stretches(kind.records, kind.lots)
        for stretch in apart:
            rows, values = weighed(stretch.records, kind.value)
            name = kind.name + (_of_lots(stretch) if len(apart) > 1 else "")
            if len(values) > 1:
                due, drawn = _same(rows, kind.due), chart(values)
                each.append(Charted(name, kind.said, tuple(rows), drawn, due, stretch.changes, before))
                before = drawn
            elif values:
                changes = map(change_said, stretch.changes)
                notes.append(" ".join([f"{name}: one batch, {kind.said(values[0])}; two are needed.", *changes]))
    if not each:
        raise BadInput("a chart needs two batches that were weighed", "Record more of them.", file=file)
    return Charts(tuple(each), tuple(notes))


@dataclass(frozen=True)
class _Kind:
    """Things weighed that belong in one chart."""

    name: str
    said: Callable[[float], str]
    records: Sequence[Record]
    lots: tuple[str, ...]
    """Whose change makes it another thing: cement does nothing to foam."""
    value: Callable[[Record], float | None]
    due: Callable[[Record], float | None]


def _kinds(records: Sequence[Record], units: str) -> Iterator[_Kind]:
    """The foam of all batches, which one generator makes; the wet density of each mix by itself."""
    foam, wet = _to_decimals("g/L", 1, units), _to_decimals("kg/m3", 0, units)
    yield _Kind("foam weight", foam, records, (AGENT,), lambda one: one.foam_kg_m3, lambda one: one.foam_due_kg_m3)
    mixes = dict.fromkeys(one.mix for one in records if one.wet_kg_m3 is not None and not one.is_trial)
    for mix in mixes:
        name = f"wet density of {mix}" if mix else "wet density"
        of_mix = [record for record in records if record.mix == mix or record.is_trial]
        yield _Kind(name, wet, of_mix, (CEMENT, AGENT), lambda one: one.wet_kg_m3, lambda one: one.wet_due_kg_m3)


def _of_lots(stretch: Stretch) -> str:
    """``, cement lot B7, agent lot F2``: those of a stretch that are told."""
    return "".join(f", {what} lot {lot}" for what, lot in stretch.lots if lot)


def _same(records: Sequence[Record], due: Callable[[Record], float | None]) -> float | None:
    """What is due of all of them; None where it is not known, or differs."""
    told = {due(record) for record in records}
    return told.pop() if len(told) == 1 else None


def _to_decimals(unit: str, decimals: int, units: str) -> Callable[[float], str]:
    """Say densities to so many decimals, all alike: a column of them is compared; pounds take one more."""
    if units == "US":
        unit, decimals = "lb/ft3", decimals + 1
    return lambda value: glued(f"{in_unit(value, 'density', unit):.{decimals}f} {unit}")


def _write(page: Page, charted: Charted) -> None:
    drawn, said = charted.chart, charted.said
    page.rule(f"{charted.name}, {len(drawn.values)} batches")
    _write_lots(page, charted)
    usual, largest = "", ""
    if drawn.is_enough:
        usual = f", usual from {said(drawn.lower)} to {said(drawn.upper)}"
        largest = f", largest usual {said(drawn.upper_range)}"
    page.line(f"mean {said(drawn.mean)}{usual}; mean step {said(drawn.mean_range)}{largest}")
    if charted.due is not None:
        page.line(f"due {said(charted.due)}: the mean is {beside(drawn.mean, charted.due)} it")
    for limits in limits_said(drawn):
        page.line(limits)
    for line in _points(charted):
        page.line(*line)
    _write_signals(page, charted)
    page.blank()


def _write_lots(page: Page, charted: Charted) -> None:
    """With which lots it begins, and how it lies beside what was usual before."""
    for change in charted.changes:
        line = change_said(change)
        page.line((line, ALARM) if change.is_new and not change.is_tried else line)
    before, drawn = charted.before, charted.chart
    if before is not None:
        beyond = sum(not before.lower <= value <= before.upper for value in drawn.values)
        lie = f", and {beyond} of {len(drawn.values)} lie beyond what was usual then" if before.is_enough else ""
        page.line(f"Limits begin anew with it. The mean is {beside(drawn.mean, before.mean)} that before{lie}.")


def _write_signals(page: Page, charted: Charted) -> None:
    drawn = charted.chart
    for found in drawn.found:
        page.line((signal_said(found, charted), ALARM), label="!", indent=2)
    if drawn.found:
        page.line(LOOK)
    elif not drawn.is_enough:
        page.line(f"Too few to say whether the differences are chance: {ENOUGH} are needed (our choice).")
    elif charted.due is None:
        page.line("No signal: the differences are chance. Whether the mean is what is due, the card says.")
    else:
        page.line("No signal: the differences are chance; what the mean is off its due is not.")


def _points(charted: Charted) -> Iterator[tuple[tuple[str, str], ...]]:
    """The last points, each with where it stands from limit to limit; a mark for those of a signal."""
    drawn = charted.chart
    wide = max(len(record.batch) for record in charted.records[-LAST:])
    marked = {index for found in drawn.found for index in range(found.first, found.last + 1)}
    for index in range(max(0, len(drawn.values) - LAST), len(drawn.values)):
        batch, value = charted.records[index].batch, drawn.values[index]
        flag = "!" if index in marked else " "
        strip = _strip(value, drawn) if drawn.is_enough else ""
        yield (
            (
                f"{batch:>{min(wide, 8)}} {strip}{flag}{charted.said(value)}".replace(" ", "\u00a0"),
                HEADING * (index in marked),
            ),
        )


def _strip(value: float, drawn: Chart) -> str:
    """``|....:..o.|``: the limits, the mean and the point; beyond a limit the point stands outside."""
    cells = ["."] * STRIP
    cells[STRIP // 2] = ":"
    reach = drawn.upper - drawn.lower
    place = round((value - drawn.lower) / reach * (STRIP - 1)) if reach else STRIP // 2
    if 0 <= place < STRIP:
        cells[place] = "o"
    return ("o" if place < 0 else " ") + "|" + "".join(cells) + "|" + ("o" if place >= STRIP else " ")
