"""Measures that are far from what was due, or from what can be: a batch, a crushed cube, a count of stock or blocks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from datetime import datetime
from statistics import median
from typing import TYPE_CHECKING, Final

from blockrun.units import digits, show, show_degrees
from blockrun.yard.called import batch_name
from blockrun.yard.journal.events import COUNTED_IN, ELSE_IN
from blockrun.yard.off_card import off_card
from blockrun.yard.record.air import other_degrees
from blockrun.yard.record.figures import amount_said, degrees_between, strength_said

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.site import Site
    from blockrun.yard.journal import Entry
    from blockrun.yard.journal.events import BlocksCounted, Counted, Crushed, Poured
    from blockrun.yard.now import State

STRONGEST_MPA: Final = 60.0
"""No stronger is a cube of cement paste without foam (our choice, wide)."""

PASTE_KG_M3: Final = 1700.0
"""Oven-dry density of that paste (our choice)."""

WEAKEST: Final = 1 / 40
"""Share of the strongest that any cube of a week or more has (our choice, wide)."""

WEAKEST_YOUNG: Final = 1 / 400
"""And any that is younger."""

YOUNG_D: Final = 7.0

MUCH_STRONGER: Final = 3.0
"""Times by which cubes of one batch and age may differ without a word (our choice, wide)."""

SAME_AGE: Final = 0.25
"""Share of an age by which another is still about the same (our choice)."""

FAR_OFF: Final = 0.25
"""Share of what the books say by which a count may differ without a word (our choice)."""

LEAST_OFF: Final = {"bags": 3.0, "L": 1.0, "kg": 25.0}
"""And so much at least, for little is left at the end (our choice)."""

COLDEST_MIX_C: Final = 0.0
HOTTEST_MIX_C: Final = 45.0
"""Between these is any mix that is poured (our choice, wide)."""


def batch_doubted(event: Poured, plan: AsPlanned) -> Iterator[str]:
    """How warm a mix was, where none is so; what foam and wet mix weigh, beyond what `blockrun check` lets pass."""
    yield from _mix_doubted(event.mix_degc, plan.site)
    for off in off_card(event, plan):
        yield f"{off.said(plan.site.units)}. {_CHECK}"


def _mix_doubted(celsius: float | None, site: Site) -> Iterator[str]:
    if celsius is not None and not COLDEST_MIX_C <= celsius <= HOTTEST_MIX_C:
        usual = degrees_between(COLDEST_MIX_C, HOTTEST_MIX_C, site.units)
        told = f"the mix is told at {show_degrees(celsius, site.units)}, and a fresh mix has {usual}"
        yield f"{told}. Is it a slip, or {other_degrees(site)}?"


_CHECK: Final = "Is it a slip? blockrun check tells whether such a batch may be used."


def crush_doubted(event: Crushed, plan: AsPlanned, since_pour_d: float | None) -> Iterator[str]:
    """A cube or block stronger or weaker than any of such a mix can be, or older than its batch.

    Parameters
    ----------
    since_pour_d : days since the batch was poured first; None where nobody recorded that.
    """
    if since_pour_d is not None and event.age_d > since_pour_d + 1:
        days = digits(round(since_pour_d, 1))
        told = f"{days} days before, and {digits(event.age_d)} are told"
        yield f"{_batch(event, plan)} was poured {told}. Is the age right?"
    mix = plan.proportions.get(event.mix)
    if mix is None:
        return
    density = event.dry_density_kg_m3 or mix.oven_dry_density_kg_m3
    most = STRONGEST_MPA * (density / PASTE_KG_M3) ** 2
    least = most * (WEAKEST if event.age_d >= YOUNG_D else WEAKEST_YOUNG)
    found, units = event.strength_mpa, plan.site.units
    if not least <= found <= most:
        low, high = (strength_said(mpa, units) for mpa in (least, most))
        may = f"{low.rpartition(' ')[0]} to {high} are what {show(round(density), 'density', units)} may have"
        yield f"{strength_said(found, units)} is hardly possible: {may}. Is the load or the size right?"


def unlike_others(event: Crushed, others: Iterable[Crushed], plan: AsPlanned) -> Iterator[str]:
    """A cube far stronger or weaker than those of its batch that were crushed at about its age.

    Parameters
    ----------
    others : crushed before.
    """
    of_batch = (event.what, event.plan, event.batch)
    alike = [
        one.strength_mpa
        for one in others
        if (one.what, one.plan, one.batch) == of_batch and abs(one.age_d - event.age_d) <= SAME_AGE * event.age_d
    ]
    if not alike:
        return
    found, usual = event.strength_mpa, median(alike)
    times = max(found / usual, usual / found)
    if times > MUCH_STRONGER:
        units = plan.site.units
        said = f"{strength_said(found, units)} is {digits(round(times, 1))} times as {_MORE[found > usual]} as"
        other = f"the other {event.what}" if len(alike) == 1 else "the others"
        of = f"{other} of {_batch(event, plan)} crushed at that age, {strength_said(usual, units)}"
        yield f"{said} {of}. Is the decimal point right?"


def _batch(event: Crushed, plan: AsPlanned) -> str:
    return batch_name((event.plan, event.batch or 0), plan).whole


_MORE: Final = {True: "strong", False: "weak"}


def count_doubted(event: Counted, plan: AsPlanned, before: Sequence[Entry], at: datetime) -> Iterator[str]:
    """A count far from the books: what was there, what came and what batches took."""
    from blockrun.planner.uses import OIL
    from blockrun.yard.older import older_of
    from blockrun.yard.stock import stock_now

    stock = stock_now(plan, before, at, older_of(plan, before))
    book = stock.each.get(OIL if event.material == "oil" else event.material)
    if book is None or stock.unknown:
        return
    unit = COUNTED_IN.get(event.material, ELSE_IN)
    if abs(book.amount - event.amount) > max(FAR_OFF * abs(book.amount), LEAST_OFF[unit]):
        book_said = amount_said(event.material, round(book.amount, 1), plan.site.units)
        said = amount_said(event.material, event.amount, plan.site.units).rpartition(" of ")[0]
        verb = "is" if event.amount == 1 else "are"
        yield f"the books say {book_said}, and {said} {verb} counted. The count is believed: is it right?"


def blocks_doubted(event: BlocksCounted, state: State) -> Iterator[str]:
    """A count of blocks unlike how many are there by all that is recorded: whoever counts them is not one off."""
    piles = state.racks if event.place == "rack" else state.stacks
    there = [piles[event.name]] if event.name in piles else [] if event.name else piles.values()
    book = sum(pile.count((event.mark, event.mix)) for pile in there)
    if book != event.count:
        where = f"rack {event.name}" if event.name else f"the {event.place}"
        said = f"the books say {book} {event.mark} on {where}, and {event.count} are counted"
        yield f"{said}. The count is believed: is it right?"
