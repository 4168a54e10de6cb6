"""What of a batch weighs more or less than its card lets pass."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Literal

from blockrun.mix.tolerances import is_off
from blockrun.mix.weighing import foam_said
from blockrun.units import show

if TYPE_CHECKING:
    from blockrun.mix.tolerances import Tolerances

What = Literal["foam", "wet mix"]


@dataclass(frozen=True)
class OffCard:
    """Foam or wet mix beyond its limits.

    Attributes
    ----------
    what : which.
    weighs_kg_m3 : as it was weighed.
    due_kg_m3 : by the card.
    share : of that by which it may be off.
    """

    what: What
    weighs_kg_m3: float
    due_kg_m3: float
    share: float

    @property
    def is_light(self) -> bool:
        """Whether it weighs less than is due; else more."""
        return self.weighs_kg_m3 < self.due_kg_m3

    def said(self, units: str) -> str:
        """``the wet mix weighs 730 kg/m3, and by the card it is to weigh 766 to 846 kg/m3``."""
        low, high = (self._said(self.due_kg_m3 * (1 + sign * self.share), units) for sign in (-1, 1))
        weighs = self._said(self.weighs_kg_m3, units, as_weighed=True)
        return f"the {self.what} weighs {weighs}, and by the card it is to weigh {low.rpartition(' ')[0]} to {high}"

    def _said(self, kg_m3: float, units: str, *, as_weighed: bool = False) -> str:
        if self.what == "foam":
            return foam_said(kg_m3 if as_weighed else round(kg_m3, 1), units)
        return show(kg_m3 if as_weighed else round(kg_m3), "density", units)


def off_card(what: What, weighs_kg_m3: float | None, due_kg_m3: float, allowed: Tolerances) -> Iterator[OffCard]:
    """Whether foam or wet mix is beyond its limits, by what `blockrun check` lets pass.

    Parameters
    ----------
    weighs_kg_m3 : None where nobody weighed it.
    due_kg_m3 : by the card.
    """
    share = allowed.foam if what == "foam" else allowed.wet
    if weighs_kg_m3 is not None and is_off(weighs_kg_m3, due_kg_m3, share):
        yield OffCard(what, weighs_kg_m3, due_kg_m3, share)
