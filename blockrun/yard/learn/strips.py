"""How long the strip of a mould takes, from one strip to the next by the same person."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from itertools import pairwise
from math import ceil
from typing import TYPE_CHECKING

from blockrun.planner.learned import Finding
from blockrun.units import counted
from blockrun.yard.learn.gaps import Gap, Timed, gap_between, one_stretch

if TYPE_CHECKING:
    from blockrun.site import MouldKind
    from blockrun.yard.learn.past import Past, Turn

WHICH_PART = (
    "From one strip to the next there lie the move of the blocks, and where the plan has it the clean: both are taken "
    "as the site says, and the difference is put on strip_time."
)


def strip_times(past: Past) -> Iterator[Finding]:
    """What strips tell of the time that one takes, for each kind of mould that was stripped."""
    kinds = {turn.kind.kind: turn.kind for turn in past.turns}
    for _, kind in sorted(kinds.items()):
        yield Timed(
            f"Stripping {kind.kind}",
            f"strip_time {kind.strip_time_min} min",
            "strips",
            "strip_time",
            ("moulds", ("kind", kind.kind), "strip_time"),
            kind.strip_time_min,
            (WHICH_PART,),
        ).found(_gaps(past, kind))
    for _, kind in sorted(kinds.items()):
        yield _clean(past, kind)


def _clean(past: Past, kind: MouldKind) -> Finding:
    """What is known of a clean, which leaves no entry: it was done between a strip and the next pour of the day."""
    about, says = f"Cleaning {kind.kind}", f"clean_time {kind.clean_time_min} min"
    took = sorted(_refilled(past, kind))
    if not took:
        seen = "it leaves no entry of its own, and no mould was filled again the day it was stripped by the clock"
        return Finding(about, says, seen, "nothing can be learnt of clean_time")
    times = counted(len(took), "time")
    seen = (
        f"filled again the day it was stripped {times}, at the soonest {took[0]} min after: that clean took no longer"
    )
    if took[0] >= kind.clean_time_min:
        return Finding(about, says, seen, "as the site says")
    return Finding(about, says, seen, "clean_time may be less; nothing is proposed of what only has a most")


def _refilled(past: Past, kind: MouldKind) -> Iterator[int]:
    """Minutes from the strip of a mould to the next pour into it, on one day, where both were told by the clock."""
    pour = timedelta(minutes=min(mixer.pour_time_min for mixer in past.plan.site.mixers))
    by_place: dict[str, list[Turn]] = {}
    for turn in past.turns:
        by_place.setdefault(turn.place, []).append(turn)
    for turns in by_place.values():
        for one, after in pairwise(sorted(turns, key=lambda turn: turn.poured)):
            free = after.poured - pour - one.entry.happened
            same_day = one.entry.happened.date() == after.poured.date()
            if one.kind is kind and one.timed and same_day and free > timedelta():
                yield free // timedelta(minutes=1)


def _gaps(past: Past, kind: MouldKind) -> Iterator[Gap]:
    """Between strips of one person, the second of this kind, that the plan has one right after the other too."""
    for who in sorted({turn.who for turn in past.turns}):
        for one, other in pairwise(turn for turn in past.turns if turn.who == who):
            if other.kind is kind and _tells(past, one, other):
                gap = _gap(one, other)
                if kind.strip_and_saw_min <= gap.planned <= _longest(past, one):
                    yield gap


def _tells(past: Past, one: Turn, other: Turn) -> bool:
    stretch = one_stretch(past.plan.site.calendar, one.entry.happened, other.entry.happened)
    return stretch and one.cast is not None and other.cast is not None and (one.timed or other.timed)


def _gap(one: Turn, other: Turn) -> Gap:
    assert one.cast is not None
    assert other.cast is not None
    return gap_between((one.cast.strip, other.cast.strip), (one.entry.happened, other.entry.happened))


def _longest(past: Past, one: Turn) -> int:
    """Minutes of a strip with its move and clean: by a longer gap the plan has something else in between."""
    move = ceil(one.blocks * past.plan.site.move_time_min)
    return one.kind.strip_and_saw_min + move + one.kind.clean_time_min
