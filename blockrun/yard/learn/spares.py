"""How many blocks broke or were thrown out, and whether the spares of the order do."""

from __future__ import annotations

from decimal import Decimal
from math import ceil
from typing import TYPE_CHECKING

from blockrun.files.yaml import read_yaml
from blockrun.planner.learned import Finding
from blockrun.units import digits, percent
from blockrun.yard.learn.spread import LEAST
from blockrun.yard.losses import lost_of

if TYPE_CHECKING:
    from blockrun.yard.learn.past import Past


def spares_worth(past: Past) -> Finding:
    """Broken and rejected blocks against the spares of the order."""
    asked = _spares(past)
    about, says = "Broken blocks", f"spares {digits(float(asked) * 100)} % in the order"
    state, lost = past.state, lost_of(past.state, float(asked))
    if lost is None or len(past.turns) < LEAST:
        held, cast = (lost.held, lost.of) if lost else (0, 0)
        few = f"too few moulds to tell ({len(past.turns)} of {LEAST})"
        return Finding(about, says, f"{held} of {cast} lost", few)
    low, high = lost.ends
    span = f"{_percent(lost.share)}, likely {digits(round(low * 100, 1))} to {_percent(high)}"
    missing = f", {len(state.missing)} missing at a count" if state.missing else ""
    seen = f"{len(state.broken)} broke, {len(state.rejected)} rejected{missing}, of {lost.of} cast: {span}"
    return Finding(about, says, seen, _verdict(float(asked), lost.share, lost.ends))


def _verdict(asked: float, share: float, likely: tuple[float, float]) -> str:
    """Advice: an order is not what is written here."""
    if likely[0] > asked:
        needed = ceil(100 * share / (1 - share)) if share < 1 else 100
        return f"more are lost than there are spares: write spares: {needed} % in the order"
    if likely[1] > asked:
        return "the spares may be too few; if more break, ask for more in the order"
    return "the spares are enough"


def _spares(past: Past) -> Decimal:
    written = read_yaml(past.plan.order[""]).data.get("spares")
    return percent(str(written)) if written else Decimal(0)


def _percent(share: float) -> str:
    return f"{digits(round(share * 100, 1))} %"
