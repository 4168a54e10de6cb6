"""Turns into which a thumb goes before the strip, whatever is reckoned: those in doubt, and those that froze."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

import numpy as np

from blockrun.cure.frozen import FrozenHours
from blockrun.planner.frozen import LEAST_H
from blockrun.planner.in_moulds import turns_of
from blockrun.planner.morning import Doubt

if TYPE_CHECKING:
    from blockrun.planner.begun.facts import TurnBegun
    from blockrun.planner.in_moulds import Turn
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumbs.thumbed import Thumbed
    from blockrun.planner.thumbs.turns import Thumbs


@dataclass(frozen=True)
class ThumbFirst:
    """A turn that is stripped only once a thumb leaves no mark.

    Attributes
    ----------
    doubt : what was in doubt when the plan was made anew, and still is.
    froze : whether the air is under freezing between its pour and its strip.
    sides_on : whether its sides are still to come off.
    """

    turn: Turn
    doubt: Doubt
    froze: bool
    sides_on: bool


def thumb_first(plan: Plan, thumbs: Thumbs | None) -> Iterator[ThumbFirst]:
    """Turns still to be stripped that a thumb goes into first; those that say so by their own thumbs are left out.

    Parameters
    ----------
    thumbs : what thumbs pressed into what still stands say of it.
    """
    begun = {(told.mould, told.turn): told for told in plan.begun.turns} if plan.begun else {}
    pressed = thumbs.thumbed if thumbs else {}
    firm = frozenset(one.turn.place for one in pressed.values() if one.is_firm)
    turns = [turn for turn in turns_of(plan) if not _is_settled(begun.get(turn.key), pressed.get(turn.key))]
    since = [_since(turn, pressed.get(turn.key)) for turn in turns]
    for turn, froze in zip(turns, _frozen(plan, since, [turn.strip for turn in turns]), strict=True):
        told, own = begun.get(turn.key), pressed.get(turn.key)
        doubt = Doubt() if told is None or (own and own.is_firm) else _doubt(told, turn, plan, firm)
        if froze or doubt != Doubt():
            sides_on = turn.sides is not None and (told is None or told.sides_off is None)
            yield ThumbFirst(turn, doubt, froze, sides_on)


def _doubt(told: TurnBegun, turn: Turn, plan: Plan, firm: frozenset[str]) -> Doubt:
    """What is still in doubt: a thumb may be firm by now, and air that nobody told may be told by another day."""
    assert plan.begun is not None
    is_later = turn.strip.date() > plan.begun.since.date()
    air = "" if told.air == "untold" and is_later else told.air
    return Doubt(beside=tuple(one for one in told.beside if one[0] not in firm), air=air)


def _is_settled(told: TurnBegun | None, own: Thumbed | None) -> bool:
    """Whether a turn is stripped, or its own thumbs say what to press again."""
    return bool((told and told.strip) or (own and own.press_again))


def _since(turn: Turn, own: Thumbed | None) -> datetime:
    """From when on frost tells: since a thumb that left no mark, else since the pour."""
    return own.tests[-1].pressed if own and own.is_firm else turn.poured


def _frozen(plan: Plan, since: Sequence[datetime], until: Sequence[datetime]) -> list[bool]:
    """Whether it is long under freezing between two moments, for each of many at once."""
    if not since:
        return []
    begin, end = (np.array([*map(plan.site.calendar.minute_of, moments)], int) for moments in (since, until))
    return list((FrozenHours(plan.site).hours(begin, end) >= LEAST_H).tolist())
