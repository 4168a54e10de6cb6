"""Ways the foreman may play his rule: good habits, of which each pays in some yards and costs in others."""

from __future__ import annotations

import itertools
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True)
class Way:
    """Habits.

    Attributes
    ----------
    biggest_first : blocks of a day go into batches biggest first, else in the order of the moulds.
    rack_ahead : no mould is filled whose blocks would find no place on the rack once they are ripe.
    pours_first : moulds that stand free are filled before others are stripped.
    half_waits : the last batch of a day waits for tomorrow where it would be less than half full.
    age_step_min : what is poured is taken as poured at the next whole multiple of so many minutes; 1 is exact.
    """

    biggest_first: bool = False
    rack_ahead: bool = False
    pours_first: bool = False
    half_waits: bool = False
    age_step_min: int = 1


PLAIN: Final = Way()
WAYS: Final = tuple(
    Way(biggest_first=biggest, rack_ahead=ahead, pours_first=pours, half_waits=waits)
    for waits, pours, ahead, biggest in itertools.product((False, True), repeat=4)
)
"""Every way, the plain one first."""
