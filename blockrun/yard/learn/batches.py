"""How long a batch takes, from one pour to the next."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import TYPE_CHECKING

from blockrun.yard.learn.gaps import Gap, Timed, gap_between, one_stretch

if TYPE_CHECKING:
    from blockrun.planner.learned import Finding
    from blockrun.site import Mixer
    from blockrun.yard.learn.past import Past, Pour

WHICH_PART = (
    "Pours tell how long a batch takes in all, not which of its parts: the difference is put on pour_time, the part "
    "that hangs on moulds and hands. If you know better, change another by hand."
)


def batch_times(past: Past) -> Iterator[Finding]:
    """What each mixer's pours tell of the time that a batch takes."""
    for mixer in sorted(past.plan.site.mixers, key=lambda one: one.name):
        whole = mixer.slurry_time_min + mixer.foam_time_min + mixer.pour_time_min + mixer.wash_time_min
        yield Timed(
            f"A batch of {mixer.name}",
            f"{whole} min, longer where its foam takes longer; pour_time {mixer.pour_time_min} min of it",
            "pours",
            "pour_time",
            ("mixers", ("name", mixer.name), "pour_time"),
            mixer.pour_time_min,
            (WHICH_PART,),
        ).found(_gaps(past, mixer))


def _gaps(past: Past, mixer: Mixer) -> Iterator[Gap]:
    """Between pours of a mixer that follow one another without a halt by the plan, and on one stretch of a day."""
    for one, other in pairwise(past.mixed_in(mixer)):
        if one.plan is other.plan and one.planned.end == other.planned.start and _tells(past, one, other):
            yield gap_between((one.planned.pour_to, other.planned.pour_to), (one.entry.happened, other.entry.happened))


def _tells(past: Past, one: Pour, other: Pour) -> bool:
    stretch = one_stretch(past.plan.site.calendar, one.entry.happened, other.entry.happened)
    return stretch and (one.timed or other.timed)
