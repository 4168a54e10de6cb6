"""What was weighed of one kind, with its chart, and the sentences that text and picture share."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.mix.chart import SETTLED, Chart, Found, Signal
from blockrun.show.measures import in_percent

if TYPE_CHECKING:
    from blockrun.mix.records import Record
    from blockrun.mix.stretches import Change

LOOK: Final = "Look for what changed then: agent, cement lot, water, generator, people, weather."

LEAST_SHARE: Final = 0.0005
"""Half of the last digit of what is printed."""


@dataclass(frozen=True)
class Charted:
    """What was weighed of one kind, with its chart.

    Parameters
    ----------
    name : such as ``foam weight``.
    said : a value in words.
    records : those it was weighed of, in order.
    due : what the card says of it, where the table holds that and it is the same for all.
    changes : with which lots they begin.
    before : what was usual with the lots before.
    """

    name: str
    said: Callable[[float], str]
    records: tuple[Record, ...]
    chart: Chart
    due: float | None = None
    changes: tuple[Change, ...] = ()
    before: Chart | None = None


def limits_said(drawn: Chart) -> Iterator[str]:
    """Of which batches the limits are, and whether they are loose yet."""
    if drawn.base < len(drawn.values):
        yield f"The limits are of the first {drawn.base} batches."
    if drawn.is_enough and not drawn.is_settled:
        yield f"Limits are loose yet: {SETTLED} batches make them firm (our choice)."


def signal_said(found: Found, charted: Charted) -> str:
    """Say a signal in words, with the batches it is of."""
    first, last = charted.records[found.first].batch, charted.records[found.last].batch
    length, value = found.last - found.first + 1, charted.said(charted.chart.values[found.last])
    side = "upper" if charted.chart.values[found.last] > charted.chart.mean else "lower"
    words = {
        Signal.BEYOND: f"batch {last}: {value} is beyond the {side} limit",
        Signal.JUMP: f"batch {first} to {last}: a step larger than chance makes, to {value}",
        Signal.RUN_ABOVE: f"batch {first} to {last}: {length} in a row above the mean",
        Signal.RUN_BELOW: f"batch {first} to {last}: {length} in a row below the mean",
        Signal.RISING: f"batch {first} to {last}: {length} in a row, each higher than the last",
        Signal.FALLING: f"batch {first} to {last}: {length} in a row, each lower than the last",
    }
    return words[found.signal]


def beside(mean: float, other: float) -> str:
    """``1.2 % over``, ``on``: where a mean lies beside another value."""
    share = mean / other - 1
    return f"{in_percent(abs(share), 1)} {'over' if share > 0 else 'under'}" if abs(share) >= LEAST_SHARE else "on"
