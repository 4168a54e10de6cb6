"""How many blocks broke or were thrown out, and whether the spares of the order do."""

from __future__ import annotations

from decimal import Decimal
from math import ceil
from typing import TYPE_CHECKING

from blockrun.files.yaml import read_yaml
from blockrun.planner.intervals import counts_for, wilson
from blockrun.planner.learned import Finding
from blockrun.units import digits, percent
from blockrun.yard.journal.events import Rejected
from blockrun.yard.learn.spread import LEAST

if TYPE_CHECKING:
    from blockrun.yard.learn.past import Past


def spares_worth(past: Past) -> Finding:
    """Broken and rejected blocks against the spares of the order."""
    asked = _spares(past)
    about, says = "Broken blocks", f"spares {digits(float(asked) * 100)} % in the order"
    blocks, broken = (sum(getattr(turn, name) for turn in past.turns) for name in ("blocks", "broken"))
    rejected = sum(
        one.count for entry in past.entries if isinstance(entry.event, Rejected) for one in entry.event.blocks
    )
    lost = min(blocks, broken + rejected)
    if len(past.turns) < LEAST:
        return Finding(
            about, says, f"{lost} of {blocks} lost", f"too few moulds to tell ({len(past.turns)} of {LEAST})"
        )
    share = lost / blocks
    likely = wilson(share, counts_for((turn.broken, turn.blocks) for turn in past.turns))
    span = f"{_percent(share)}, likely {digits(round(likely[0] * 100, 1))} to {_percent(likely[1])}"
    seen = f"{broken} of {blocks} broke, {rejected} rejected: {span}"
    return Finding(about, says, seen, _verdict(float(asked), share, likely))


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
