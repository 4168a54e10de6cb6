"""What people may lift by hand: the revised NIOSH lifting equation and the HSE filter, as formulas alone.

Guides for healthy grown people and two-handed lifts, not limits of any law. Lifting is neither mix nor cure nor order;
what joins it to blocks, their mixes and the yard is `heavy`.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Final

from blockrun.errors import OutOfRange

if TYPE_CHECKING:
    from blockrun.site.lifting import Grip

LOAD_KG: Final = 23.0
"""What nearly everybody may lift under the best conditions (NIOSH)."""

KNUCKLE_CM: Final = 75.0
"""Height of the hands from which a lift is easiest (NIOSH)."""

LEAST_REACH_CM, MOST_REACH_CM = 25.0, 63.0
LEAST_TRAVEL_CM, MOST_TRAVEL_CM = 25.0, 175.0
MOST_HEIGHT_CM: Final = 175.0
MOST_TWIST_DEG: Final = 135.0
LONGEST_H: Final = 8.0

_A_MINUTE: Final = (0.2, 0.5, *map(float, range(1, 16)))
_HOURS: Final = (1.0, 2.0, LONGEST_H)
_OFTEN: Final = (
    (1.00, 0.97, 0.94, 0.91, 0.88, 0.84, 0.80, 0.75, 0.70, 0.60, 0.52, 0.45, 0.41, 0.37, 0.34, 0.31, 0.28),
    (0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.60, 0.50, 0.42, 0.35, 0.30, 0.26, 0.23, 0.21),
    (0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18, 0.15, 0.13),
)
"""Factors by lifts a minute, for stretches of up to 1, 2 and 8 h; more often than the last of each is not lifted at
all. NIOSH table 5, second-hand: worksheets and two public programs that write it out alike."""
_OFTEN_FROM_LOW: Final = (12.0, 10.0, 8.0)
"""Lifts a minute beyond which nothing is lifted from under 75 cm (same table)."""

_GRIP: Final[Mapping[Grip, tuple[float, float]]] = {"good": (1.0, 1.0), "fair": (0.95, 1.0), "poor": (0.9, 0.9)}
"""Factors with the hands under 75 cm, and from there up (NIOSH)."""

TEAM: Final[Mapping[int, float]] = {1: 1.0, 2: 2 * 2 / 3, 3: 3 / 2}
"""What a team may lift, in times what one of them may: two thirds of their sum for two, half of it for three.

HSE guidance L23 on team handling, second-hand (quoted word for word by engineers). The NIOSH equation
itself is for one person, so its use for teams is our choice.
"""


@dataclass(frozen=True)
class Lift:
    """One way of lifting something with both hands.

    Parameters
    ----------
    reach_cm : hands before the middle of the ankles, > 0.
    height_cm : hands above the floor, >= 0.
    travel_cm : how far up or down the hands go, >= 0.
    twist_deg : turn of the body, >= 0.
    lifts_a_minute : while it goes on, > 0.
    hours : at a stretch, with light work after it; above 0, at most 8.
    grip : ``good``, ``fair`` or ``poor``.
    """

    reach_cm: float
    height_cm: float
    travel_cm: float
    twist_deg: float = 0.0
    lifts_a_minute: float = 0.2
    hours: float = 1.0
    grip: Grip = "good"

    def __post_init__(self) -> None:
        """Refuse what no lift can be.

        Raises
        ------
        OutOfRange : a number outside the limits above.
        """
        least = {"height_cm": self.height_cm, "travel_cm": self.travel_cm, "twist_deg": self.twist_deg}
        above = {"reach_cm": self.reach_cm, "lifts_a_minute": self.lifts_a_minute, "hours": self.hours}
        for name, value in {**least, **above}.items():
            most = LONGEST_H if name == "hours" else math.inf
            if not (0 <= value <= most and math.isfinite(value)) or (name in above and value == 0):
                due = f"above 0 and at most {LONGEST_H:g}" if name == "hours" else "0 or more"
                raise OutOfRange(
                    f"{name} of a lift is {value:g}", f"It must be {due}.", name=name, value=value, limit=0
                )

    @property
    def factors(self) -> dict[str, float]:
        """What the reach, height, travel, twist, number of lifts and grip each leave of the 23 kg, 0 to 1.

        Source
        ------
        Revised NIOSH lifting equation: HM, VM, DM, AM, FM, CM of DHHS (NIOSH) 94-110, rev. 9/2021 (constants
        second-hand, an ergonomics handbook); tests/published/test_lifting.py. Between two rows of the table of
        frequencies the lower factor is taken (our choice, prudent).
        """
        return {
            "reach": _within(self.reach_cm, MOST_REACH_CM, LEAST_REACH_CM / max(self.reach_cm, LEAST_REACH_CM)),
            "height": _within(self.height_cm, MOST_HEIGHT_CM, 1 - 0.003 * abs(self.height_cm - KNUCKLE_CM)),
            "travel": _within(self.travel_cm, MOST_TRAVEL_CM, 0.82 + 4.5 / max(self.travel_cm, LEAST_TRAVEL_CM)),
            "twist": _within(self.twist_deg, MOST_TWIST_DEG, 1 - 0.0032 * self.twist_deg),
            "lifts a minute": self._often(),
            "grip": _GRIP[self.grip][self.height_cm >= KNUCKLE_CM],
        }

    def _often(self) -> float:
        stretch = bisect_left(_HOURS, self.hours)
        if self.height_cm < KNUCKLE_CM and self.lifts_a_minute > _OFTEN_FROM_LOW[stretch]:
            return 0.0
        row = bisect_left(_A_MINUTE, self.lifts_a_minute)
        return _OFTEN[stretch][row] if row < len(_OFTEN[stretch]) else 0.0

    @property
    def limit_kg(self) -> float:
        """Recommended weight limit: 23 kg times all factors."""
        return LOAD_KG * math.prod(self.factors.values())


def _within(value: float, most: float, factor: float) -> float:
    """Give the factor, or nought beyond the most that is ever lifted so; travel under 25 cm counts as 25 cm."""
    return min(1.0, factor) if value <= most else 0.0


def harder_end(lift: Lift, to_height_cm: float) -> Lift:
    """The harder of taking up and setting down: a block just stripped is set down with as much care.

    Parameters
    ----------
    lift : as it begins; its travel is not looked at.
    to_height_cm : hands above the floor at its end.

    Returns
    -------
    The end with the lower limit, with the travel between the two.
    """
    travel_cm = abs(to_height_cm - lift.height_cm)
    ends = (replace(lift, travel_cm=travel_cm, height_cm=height) for height in (lift.height_cm, to_height_cm))
    return min(ends, key=lambda end: end.limit_kg)


# the HSE filter

_BOUNDS_CM: Final = (25.0, 75.0, 105.0, 140.0)
"""Middle of the lower leg, knuckles, elbow, shoulder of a middling person (our choice; the guide draws them)."""
FAR_CM: Final = 44.0
"""Reach from which the arms count as stretched out: midway between 25 and 63 cm (our choice)."""
_FILTER_KG: Final[Mapping[str, tuple[tuple[int, int], ...]]] = {
    "man": ((10, 5), (20, 10), (25, 15), (20, 10), (10, 5)),
    "woman": ((7, 3), (13, 7), (16, 10), (13, 7), (7, 3)),
}
"""Close to the body and at arm's length, from the floor up: INDG143, a man's second-hand, a woman's from memory."""


@dataclass(frozen=True)
class Filter:
    """Up to what a lift needs no closer look, kg."""

    man_kg: float
    woman_kg: float


def hse_filter(lift: Lift, to_height_cm: float) -> Filter:
    """The filter of the British HSE for a lift: over it, look closer at it; it is no limit of the law.

    Parameters
    ----------
    lift : as it begins.
    to_height_cm : hands above the floor at its end.

    Returns
    -------
    The least of all zones the hands pass, less 10 % for a twist beyond 45 deg or 20 % beyond 90 deg, and less 30 % for
    more than 30 lifts an hour, 50 % for more than 2 a minute, 80 % for more than 8 a minute.

    Source
    ------
    HSE INDG143 rev. 4 and L23, second-hand: words quoted in three employers' handbooks. They name 1 to 2, 5 to 8 and
    more than 12 lifts a minute; what lies between takes the greater cut (our choice).
    """
    low, high = sorted((lift.height_cm, to_height_cm))
    zones = slice(bisect_left(_BOUNDS_CM, low), bisect_left(_BOUNDS_CM, high) + 1)
    far = lift.reach_cm >= FAR_CM
    cut = _twist_left(lift.twist_deg) * _often_left(lift.lifts_a_minute)
    man, woman = (min(zone[far] for zone in _FILTER_KG[who][zones]) * cut for who in ("man", "woman"))
    return Filter(man, woman)


def _twist_left(twist_deg: float) -> float:
    return 0.8 if twist_deg > 90 else 0.9 if twist_deg > 45 else 1.0


def _often_left(lifts_a_minute: float) -> float:
    steps = ((8, 0.2), (2, 0.5), (0.5, 0.7))
    return next((left for more_than, left in steps if lifts_a_minute > more_than), 1.0)
