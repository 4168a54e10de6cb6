"""What may be had more of, by the amount: the changes that may free a clash."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import partial

from blockrun.planner.brief import Brief
from blockrun.planner.whatif.changes import (
    Change,
    bigger_mixer,
    faster_foam,
    foam_is_waited_for,
    longer_day,
    more_bases,
    more_ground,
    more_layers,
    more_mixers,
    more_moulds,
    more_on_hand,
    more_people,
    more_places,
    more_sides,
    warmer,
)
from blockrun.planner.why.clash import Clash
from blockrun.planner.why.rules import Rule, Thing

_OF_MOULDS = {Thing.moulds: more_moulds, Thing.sides: more_sides, Thing.bases: more_bases}
_HELPED_BY_HOURS = {Thing.moulds, Thing.sides, Thing.bases, Thing.mixers, Thing.people}
_MOST_LAYERS = 3
"""Layers on top of those there are: no stack is made much higher than the yard has found to stand firm."""
_LATEST_CLOSE, _HOURS_LONGER = 20 * 60, 4
"""No day is made longer that ends after this; to it, or by so many hours, are days made longer."""
_MOST_HALVES = 8
"""Halves as much again that a drum holds, or a foam generator makes: five times of what there is."""


@dataclass(frozen=True)
class Kind:
    """A change by the amount.

    Attributes
    ----------
    of : the change by so much.
    most : of it that is looked at.
    bought : whether a thing is bought, and not a day made longer, the moulds warmer or the stack higher.
    name : that of the smallest change; kinds of one name are equal.
    """

    of: Callable[[int], Change] = field(compare=False)
    most: int = field(compare=False)
    bought: bool = field(default=True, compare=False)
    name: str = field(init=False)

    def __post_init__(self) -> None:
        """Name it."""
        object.__setattr__(self, "name", self.of(1).said)


def kinds_of_change(asked: Brief, clash: Clash) -> list[Kind]:
    """Kinds of change that may free a clash, each but once."""
    found = [kind for rule in clash.rules for kind in _of_rule(asked, rule)]
    close = asked.site.calendar.close_min
    if close <= _LATEST_CLOSE and (clash.of_age_alone or _HELPED_BY_HOURS & {rule.thing for rule in clash.rules}):
        found.append(Kind(longer_day, max(_HOURS_LONGER, (_LATEST_CLOSE - close) // 60), bought=False))
    return list(dict.fromkeys(found))


def _of_rule(asked: Brief, rule: Rule) -> Iterator[Kind]:
    if rule.kind is not None:
        of, name = _OF_MOULDS[rule.thing], asked.moulds[rule.kind].kind
        yield Kind(lambda n: of(name, n), 128)
    elif rule.thing is Thing.racks:
        yield Kind(more_places, 4096)
    elif rule.thing is Thing.stack:
        yield Kind(more_ground, 4096)
        yield Kind(more_layers, _MOST_LAYERS, bought=False)
    elif rule.thing is Thing.mixers:
        yield Kind(more_mixers, 4)
        yield from (Kind(partial(bigger_mixer, mixer.name), _MOST_HALVES) for mixer in asked.site.mixers)
        if foam_is_waited_for(asked.site, asked.order):
            yield Kind(faster_foam, _MOST_HALVES)
    elif rule.thing is Thing.people:
        yield Kind(more_people, 16)
    elif rule.thing in (Thing.cement, Thing.agent):
        name = str(rule.thing.value)
        yield Kind(lambda n: more_on_hand(name, n), 4096)
    elif _helped_by_warmth(asked, rule) and asked.site.weather.typical is None:
        yield Kind(lambda n: warmer(n, asked.site.units), 16, bought=False)


def _helped_by_warmth(asked: Brief, rule: Rule) -> bool:
    """Whether it is of cold, or of an age that is sooner reached where it is warm."""
    return rule.thing in (Thing.cold, Thing.frost) or (rule.thing is Thing.age and asked.ages.lay_h is not None)


def first(enough: Callable[[int], bool], least: int, most: int) -> int | None:
    """Smallest amount from ``least`` to ``most`` that is enough, where more of it is never less."""
    if not enough(most):
        return None
    under, step = least - 1, 1
    while not enough(min(under + step, most)):
        under, step = under + step, 2 * step
    over = min(under + step, most)
    while over - under > 1:
        middle = (under + over) // 2
        under, over = (under, middle) if enough(middle) else (middle, over)
    return over
