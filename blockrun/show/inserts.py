"""What is set into a cavity before it is poured: the stop-end that shortens it, the wedges that make faces lean."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.show.tape import size_on_tape

if TYPE_CHECKING:
    from blockrun.order.shape import Shape
    from blockrun.site import MouldKind


STOP_END: Final = "stop-end"


@dataclass(frozen=True)
class Inserts:
    """How a cavity is set up.

    Parameters
    ----------
    stop_end_mm : where a block shorter than the cavity ends.
    wedge_deg, taper_deg, bed_deg : the mould's inserts that come nearest to what the faces of the block lean.
    """

    stop_end_mm: float | None = None
    wedge_deg: float = 0.0
    taper_deg: float = 0.0
    bed_deg: float = 0.0

    def said(self, units: str) -> str:
        """``stop-end at 200 mm, wedges of 7 deg``; empty where nothing is set in."""
        return ", ".join(f"{name} {'at' if name == STOP_END else 'of'} {size}" for name, size in self.sizes(units))

    def sizes(self, units: str) -> tuple[tuple[str, str], ...]:
        """What is set in and how large it is: ``stop-end`` and ``200 mm``, ``wedges`` and ``7 deg``."""
        leans = (("wedges", self.wedge_deg), ("tapers", self.taper_deg), ("bed wedges", self.bed_deg))
        ends = [] if self.stop_end_mm is None else [(STOP_END, size_on_tape(units, self.stop_end_mm))]
        return (*ends, *((name, f"{angle:g} deg") for name, angle in leans if angle))


NOTHING: Final = Inserts()
"""A cavity as it is."""


def inserts_for(shape: Shape, kind: MouldKind) -> Inserts:
    """What is set into a cavity of a mould for a block that it can cast."""

    def nearest(angles: tuple[float, ...], due: float) -> float:
        return min(angles, key=lambda angle: abs(angle - due))

    return Inserts(
        shape.length_mm if shape.length_mm < kind.length_mm else None,
        nearest(kind.wedges_deg, shape.bevel_deg),
        nearest(kind.tapers_deg, shape.taper_deg),
        nearest(kind.bed_wedges_deg, shape.bed_deg),
    )
