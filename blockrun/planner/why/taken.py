"""So much of a thing was taken on a day of a plan, of so much there was, and what ran out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True)
class Taken:
    """So much of a thing was taken on a day, of so much there was.

    Attributes
    ----------
    thing : ``gang-4``, ``gang-4 sides``, ``gang-4 bases``, the name of a mixer, ``rack``, ``stack``, ``people``,
        ``cement``, ``foaming agent``, ``frost``, ``heat and rain``, ``hot hours``.
    unit : what it is counted in: ``moulds``, ``places``, ``min``, ``bags``, ``L`` or ``day``.
    ran_out : whether no more of it could be had, so that the next pour had to wait for it.
    cold : of moulds, whether they would have been ripe again were it 20 degC all the time.
    """

    thing: str
    taken: float
    there: float
    unit: str
    ran_out: bool
    cold: bool = False


@dataclass(frozen=True)
class HeldDay:
    """A working day: blocks poured, those still to pour in its evening, and all that was taken."""

    day: date
    blocks: int
    left: int
    taken: tuple[Taken, ...]

    @property
    def held_by(self) -> tuple[str, ...]:
        """What ran out, and cold where that is why moulds did."""
        things = [each.thing for each in self.taken if each.ran_out]
        return (*things, *(["cold"] if any(each.cold for each in self.taken) else []))
