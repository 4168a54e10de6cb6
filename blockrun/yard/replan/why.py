"""What happened otherwise than planned, in sentences, and what should have happened and was not recorded."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import day_name
from blockrun.planner.begun.site import too_few
from blockrun.units import counted, in_unit, usual
from blockrun.yard.losses import lost_of
from blockrun.yard.now import State, state_of
from blockrun.yard.replan.spares import share_expected

if TYPE_CHECKING:
    from blockrun.planner.begun import Begun
    from blockrun.site import Site
    from blockrun.yard.journal import Entry
    from blockrun.yard.replan.kept import Kept

COLDER_C: Final = 2.0
"""A day is told as colder or warmer than forecast from so much on, in the mean of its least and most (our choice)."""


def not_recorded(plan: Kept, state: State, at: datetime) -> tuple[int, ...]:
    """Numbers of batches that should have been poured by a moment and were not, as far as anybody recorded.

    Of a day that was lost it is known that nothing was.
    """
    begun = plan.plan.begun
    happened = begun.poured if begun else frozenset()
    return tuple(
        number
        for number, row in sorted(plan.batches.items())
        if row.pour_to <= at and number not in happened and (plan.id, number) not in state.poured
        if row.pour_to.date() not in state.lost
    )


def why_otherwise(plan: Kept, entries: Sequence[Entry], begun: Begun) -> tuple[str, ...]:
    """What happened that no plan had in it."""
    state = state_of(entries, begun.since)
    said = [*_batches(plan, state), *_blocks(state, plan), *_thumbs(begun)]
    said += [*_yard(begun, plan.as_planned.site), *_air(plan, begun)]
    if begun.recorded:
        said.append("stock is as it was counted and came")
    return tuple(said)


def stack_gone(state: State, before: Site, now: Site) -> Iterator[str]:
    """A small stack that was taken out of the site though blocks stand on it: without one there is ground for all.

    Parameters
    ----------
    state : where every block is.
    before, now : the site of the plan in hand, and that of the plan made anew.
    """
    count = sum(len(pile) for pile in state.stacks.values())
    if before.stack is not None and now.stack is None and count:
        stand = "stands" if count == 1 else "stand"
        gone = "on the stack, and the site has none any more: ground for all is assumed"
        yield f"{counted(count, 'block')} {stand} {gone}"


def _batches(plan: Kept, state: State) -> Iterator[str]:
    again = sorted(number for (of, number), times in state.poured.items() if of == plan.id and len(times) > 1)
    if again:
        yield f"{_named('batch', 'batches', again)} poured again"


def _blocks(state: State, plan: Kept) -> Iterator[str]:
    for pile, what in ((state.broken, "broke"), (state.rejected, "rejected"), (state.missing, "missing at a count")):
        if pile:
            were = "" if what == "broke" else "was " if len(pile) == 1 else "were "
            yield f"{counted(len(pile), 'block')} {were}{what}"
    asked = float(plan.plan.order.spares)
    seen = lost_of(state, asked)
    if seen and (share := share_expected(seen, asked)) > asked:
        lost = f"{seen.held} of {seen.of} blocks cast were lost so far"
        rest = f"{100 * share:.2g} % of the rest are expected to be"
        yield f"{lost}, and {rest}; {100 * asked:.3g} % spares are asked for"


def _thumbs(begun: Begun) -> Iterator[str]:
    """Moulds that stand, and whose strip waits for a firmer block."""
    places = sorted(turn.place for turn in begun.turns if turn.strip is None and turn.strip_from is not None)
    if places:
        yield f"{'a thumb' if len(places) == 1 else 'thumbs'} put off the strip of {', '.join(places)}"


def _yard(begun: Begun, site: Site) -> Iterator[str]:
    if begun.found:
        n_found = sum(count for *_, count in begun.found)
        are = "block was" if n_found == 1 else "blocks were"
        age = "old enough here, and by ready from the count on, for nobody knows when they were poured"
        yield f"{n_found} {are} found that nobody had recorded: taken as {age}"
    if lost := [day_name(day) for day in begun.lost]:
        yield f"{', '.join(lost)} {'is' if len(lost) == 1 else 'are'} lost"
    today, closed = begun.since.date(), too_few(site, begun)
    coming = [(day, people) for day, people in begun.away if day >= today and day not in closed]
    if coming:
        days = ", ".join(f"{people} on {day_name(day)}" for day, people in coming[:3])
        yield f"people are away: {days}{' and more days' * (len(coming) > 3)}"
    if nobody := [day_name(day) for day in closed if day >= today]:
        yield f"too few people are there on {', '.join(nobody)}: taken as lost"
    if begun.out_of_use:
        are = "is" if len(begun.out_of_use) == 1 else "are"
        yield f"{', '.join(begun.out_of_use)} {are} out of use"


def _air(plan: Kept, begun: Begun) -> Iterator[str]:
    site = plan.as_planned.site
    weather, unit = site.weather, usual("temperature_difference", site.units)
    off = []
    for air in begun.air:
        if air.day >= weather.first:
            told = weather.day(air.day)
            off.append((air.min_c + air.max_c - told.min_c - told.max_c) / 2)
    for word, days in (
        ("colder", [-one for one in off if one <= -COLDER_C]),
        ("warmer", [one for one in off if one >= COLDER_C]),
    ):
        if days:
            were = f"{len(days)} days were" if len(days) > 1 else "1 day was"
            most = in_unit(max(days), "temperature_difference", unit)
            yield f"{were} {word} than forecast, by up to {most:.0f} {unit}"


def _named(one: str, several: str, numbers: Sequence[int]) -> str:
    if len(numbers) == 1:
        return f"{one} {numbers[0]} was"
    return f"{several} {', '.join(map(str, numbers))} were"
