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
    biggest_mixer : every batch is made in the biggest mixer, else in each in turn.
    age_step_min : what is poured is taken as poured at the next whole multiple of so many minutes; 1 is exact.
    cubes_in_all : every batch keeps room for a set of test cubes, else those of days on which a lot may begin.
    """

    biggest_first: bool = False
    rack_ahead: bool = False
    pours_first: bool = False
    half_waits: bool = False
    biggest_mixer: bool = False
    age_step_min: int = 1
    cubes_in_all: bool = False


PLAIN: Final = Way()
WAYS: Final = tuple(
    Way(biggest_first=biggest, rack_ahead=ahead, pours_first=pours, half_waits=waits, biggest_mixer=mixer)
    for ahead, waits, biggest, mixer, pours in itertools.product((False, True), repeat=5)
)
"""Every way, the plain one first."""


def ways_with(n_mixers: int) -> tuple[Way, ...]:
    """Those that differ in a yard with so many mixers."""
    return tuple(way for way in WAYS if n_mixers > 1 or not way.biggest_mixer)
