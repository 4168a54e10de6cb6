"""The least change of a yard that frees a clash: more of one thing, and how much of it at the least."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from blockrun.planner.brief import Brief, brief
from blockrun.planner.sawing import Sawing
from blockrun.planner.whatif.changes import (
    Change,
    longer_day,
    more_bases,
    more_mixers,
    more_moulds,
    more_on_hand,
    more_people,
    more_places,
    more_sides,
    warmer,
)
from blockrun.planner.why.clash import Clash, Filter
from blockrun.planner.why.rules import Rule, Thing
from blockrun.planner.why.shortage import Shortage
from blockrun.site import Site

_OF_MOULDS = {Thing.moulds: more_moulds, Thing.sides: more_sides, Thing.bases: more_bases}
_HELPED_BY_HOURS = {Thing.moulds, Thing.sides, Thing.bases, Thing.mixers, Thing.people}


@dataclass(frozen=True)
class _Kind:
    """A change by the amount, and the most of it that is looked at."""

    of: Callable[[int], Change]
    most: int


def ways_out(finder: Filter, sawing: Sawing, clash: Clash) -> Iterator[str]:
    """Each kind of change that frees a clash by itself, in words, at its least: less of it is proved too little."""
    for kind in {kind.of(1).said: kind for kind in _kinds(finder.asked, clash)}.values():
        finder.tell(f"trying {kind.of(1).said}")
        amount = _least(finder, sawing, clash, kind)
        if amount is not None:
            yield kind.of(amount).said


def _kinds(asked: Brief, clash: Clash) -> Iterator[_Kind]:
    for rule in clash.rules:
        yield from _kinds_of(asked, rule)
    if _HELPED_BY_HOURS & {rule.thing for rule in clash.rules} and asked.site.calendar.close_min <= 20 * 60:
        yield _Kind(longer_day, 4)


def _kinds_of(asked: Brief, rule: Rule) -> Iterator[_Kind]:
    if rule.kind is not None:
        of, name = _OF_MOULDS[rule.thing], asked.moulds[rule.kind].kind
        yield _Kind(lambda n: of(name, n), 128)
    elif rule.thing is Thing.racks:
        yield _Kind(more_places, 4096)
    elif rule.thing is Thing.mixers:
        yield _Kind(more_mixers, 4)
    elif rule.thing is Thing.people:
        yield _Kind(more_people, 16)
    elif rule.thing in (Thing.cement, Thing.agent):
        name = str(rule.thing.value)
        yield _Kind(lambda n: more_on_hand(name, n), 4096)
    elif rule.thing in (Thing.cold, Thing.frost) and asked.site.weather.typical is None:
        yield _Kind(lambda n: warmer(n, asked.site.units), 16)


def _least(finder: Filter, sawing: Sawing, clash: Clash, kind: _Kind) -> int | None:
    """Smallest amount with which the goal is no longer proved to be out of reach; ``None`` where none is found."""

    def yard(amount: int) -> Shortage:
        asked = finder.asked
        site = kind.of(amount).make(asked.site)
        changed = brief(site, asked.order, asked.problem.horizon, _sawing_on(site, sawing))
        return Shortage(changed.problem, finder.effort)

    by_arithmetic = _first(lambda amount: not yard(amount).by_arithmetic(clash.goal), 1, kind.most)
    if by_arithmetic is None or finder.effort.stop():
        return None
    return _first(lambda amount: not yard(amount).of(clash.goal), by_arithmetic, kind.most)


def _sawing_on(site: Site, sawing: Sawing) -> Sawing:
    """The same saw plans, of the moulds of a changed site."""
    kinds = {kind.kind: kind for kind in site.moulds}
    return replace(sawing, slabs=tuple(replace(slab, kind=kinds[slab.kind.kind]) for slab in sawing.slabs))


def _first(enough: Callable[[int], bool], least: int, most: int) -> int | None:
    """Smallest amount from ``least`` to ``most`` that is enough, where more of it is never less."""
    under, step = least - 1, 1
    while not enough(min(under + step, most)):
        if under + step >= most:
            return None
        under, step = under + step, 2 * step
    over = min(under + step, most)
    while over - under > 1:
        middle = (under + over) // 2
        under, over = (under, middle) if enough(middle) else (middle, over)
    return over
