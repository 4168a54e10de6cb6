"""What the plan has for a day, to be asked about one by one: was it done as planned."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import TYPE_CHECKING

from blockrun.files.moments import is_clock
from blockrun.yard.now import State
from blockrun.yard.record.recorder import Typed
from blockrun.yard.record.said import moment_said

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned


@dataclass(frozen=True)
class Item:
    """One thing that the plan has for a day.

    Attributes
    ----------
    words : that record it as planned.
    at : when it is over by the plan.
    asked : the question, without its mark.
    """

    words: tuple[str, ...]
    at: datetime
    asked: str


def items(plan: AsPlanned, day: date) -> list[Item]:
    """All that the plan has for a day, by the clock: pours, sides, strips, and blocks that leave a rack."""
    found = {(item.words, item.at): item for item in _items(plan) if item.at.date() == day}
    return sorted(found.values(), key=lambda item: item.at)


def is_open(item: Item, state: State, plan: AsPlanned) -> bool:
    """Whether something may still be to be recorded, by where every block is now."""
    what, name = item.words[0], item.words[1]
    if what == "poured":
        return plan.recorded_as(int(name)) not in state.poured
    if what == "stacked":
        return bool(state.racks.get(name))
    here = state.standing_in(name)
    return here is not None and (here.sides_on or what != "sides") and here.poured < item.at


def answered(item: Item, answer: str, key: str, who: str = "") -> Typed | None:
    """What an answer to "as planned?" tells: nothing or yes, no, a time, and what else is to be told; None for no.

    Parameters
    ----------
    answer : such as ``10:40``, ``1 broken``, or ``10:40 1 broken``.
    """
    words = answer.split()
    at = words.pop(0) if words and is_clock(words[0]) else f"{item.at:%H:%M}"
    if [word.lower() for word in words] in (["n"], ["no"]):
        return None
    if [word.lower() for word in words] in (["y"], ["yes"]):
        words = []
    return Typed((*item.words, *words), key, f"{item.at:%Y-%m-%d} {at}", who)


def _items(plan: AsPlanned) -> Iterator[Item]:
    for number, casts in plan.batches.items():
        places = dict.fromkeys(cast.place for cast in casts)
        said = f"batch {number} ({casts[0].mix}) into {', '.join(places)}"
        yield _item(casts[0].poured, said, "poured", str(number))
    for cast in plan.casts:
        if cast.sides_off is not None:
            yield _item(cast.sides_off, f"sides off {cast.base}", "sides", cast.base)
        yield _item(cast.strip, f"{cast.place} stripped, to rack {cast.rack}", "stripped", cast.place)
        if plan.site.stack is not None:
            yield _item(cast.rack_to, f"rack {cast.rack}: what is due stacked", "stacked", cast.rack)


def _item(at: datetime, said: str, *words: str) -> Item:
    return Item(words, at, f"{moment_said(at)} {said}")
