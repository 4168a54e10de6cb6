"""Charts of foam and wet density in short: what they signal, not what they look like."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Final

from blockrun.show.page import ALARM, HEADING, Part

if TYPE_CHECKING:
    from blockrun.mix.records import Record
    from blockrun.show.batch.charted import Charted

SIGNALS_SHOWN: Final = 2
"""The last signals of a chart are told; of those before it is said how many (our choice)."""


def weighed_said(records: Sequence[Record], units: str) -> Iterator[Sequence[Part]]:
    """Say what the charts of batches signal.

    Parameters
    ----------
    records : of batches of which something was weighed, in order.
    """
    from blockrun.errors import BadInput
    from blockrun.show.batch.chart import charts_of

    if not records:
        yield ["nothing was weighed. Add to what you record of a pour: --foam 98g/L --weight 806kg/m3"]
        return
    try:
        charts = charts_of(records, units)
    except BadInput:
        yield [f"batch {records[0].batch} alone was weighed: two are needed"]
        return
    for charted in charts.each:
        yield [(f"{charted.name}: ", HEADING), *_charted(charted)]
    yield from ([note] for note in charts.notes)


def _charted(charted: Charted) -> Iterator[Part]:
    """How many, where the mean is, and the last signals."""
    from blockrun.show.batch.charted import beside, signal_said

    drawn = charted.chart
    due = f", {beside(drawn.mean, charted.due)} what is due" if charted.due is not None else ""
    yield f"{len(drawn.values)} batches, mean {charted.said(drawn.mean)}{due}; "
    if not drawn.found:
        yield "no signal" if drawn.is_enough else "too few for limits"
        return
    shown = [signal_said(found, charted) for found in drawn.found[-SIGNALS_SHOWN:]]
    before = len(drawn.found) - len(shown)
    yield ("; ".join(shown), ALARM)
    if before:
        yield f"; {before} signals before"
