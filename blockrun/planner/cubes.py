"""Sets of test cubes in a plan: the mix one takes, what makes a lot for the optimiser, and their rows in the tables."""

from __future__ import annotations

from collections.abc import Container, Iterator, Mapping, Sequence
from datetime import date, datetime, timedelta
from fractions import Fraction
from typing import TYPE_CHECKING, Final

from blockrun import units
from blockrun.errors import BadInput
from blockrun.mix.cubes import SLACK, cubes_l, numbers_of_sets, shared_by_age, written_on
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.placed import at
from blockrun.site.calendar import moment_at

if TYPE_CHECKING:
    from blockrun.mix import BatchSize
    from blockrun.order import Order
    from blockrun.planner.tables import PlanTables
    from blockrun.site import CubeSets, Site

_DIGITS: Final = 6
_FEW: Final = 1
_ROUNDING_L: Final = 1e-6
_MUCH: Final = 0.10
"""Share of all that is poured from which a lot may have the wrong unit (our choice)."""


def set_l(site: Site) -> float:
    """Mix that a set takes, overfill included, in litres; nothing where none are cast."""
    sets = site.test_cubes
    return cubes_l(sets.count, sets.size_mm, site.overfill) if sets else 0.0


def check_sets(site: Site, mix: str, sizes: Sequence[BatchSize]) -> None:
    """Refuse sets that no batch of a mix holds, or that leave nothing of their lots for blocks.

    Raises
    ------
    BadInput : such a set; a block for which a set leaves no room is poured from another batch than the set is.
    """
    sets, needed = site.test_cubes, set_l(site)
    if sets is None:
        return
    most, takes = max(size.room_l for size in sizes), f"a set of test cubes takes {_said(site, needed)} with overfill"
    if needed > most + _ROUNDING_L:
        what = f"{takes}, and the biggest batch of {mix} has {_said(site, most)} to pour"
        fault = BadInput(what, "Write fewer cubes, or smaller ones.", name="count", value=needed, limit=most, unit="L")
        raise at(site, fault, "test_cubes", "count")
    if isinstance(sets.every_l, str) or any(size.room_l / size.yield_l > needed / sets.every_l for size in sizes):
        return
    what = f"{takes}, and so leaves nothing to pour of a lot of {_said(site, sets.every_l)} of {mix}"
    raise at(site, BadInput(what, "Write a greater lot, or fewer cubes.", name="every"), "test_cubes", "every")


def _said(site: Site, litres: float) -> str:
    return units.show(litres, "volume", site.units)


def lots(site: Site, order: Order, mixes: list[str], step: Fraction) -> tuple[Fraction, ...]:
    """Steps of cement, each so much of a bag, that make a lot of each mix; none where lots begin by date."""
    sets = site.test_cubes
    if sets is None or isinstance(sets.every_l, str):
        return ()
    made = mix_proportions(site, order)
    makes_l = [float(step) * site.stock.cement.bag_kg / made[mix].cement_kg * 1000 for mix in mixes]
    return tuple(Fraction(sets.every_l) * (1 + SLACK) / Fraction(litres) for litres in makes_l)


def lot_days(site: Site, horizon: int) -> tuple[int, ...]:
    """Days after the first, by number, on which a lot begins; none where a lot is a volume."""
    sets = site.test_cubes
    if sets is None or not isinstance(sets.every_l, str):
        return ()
    if sets.every_l == "day":
        return tuple(range(1, horizon))
    delivered = {(delivery.day - site.calendar.start).days for delivery in site.stock.cement.deliveries}
    return tuple(sorted(day for day in delivered if day > 0))


def cubes_said(site: Site, tables: PlanTables, poured: Container[int] = ()) -> Iterator[str]:
    """Sentences on sets that take so much of the mix that a unit may be wrong, and on batches made for cubes alone.

    Parameters
    ----------
    poured : numbers of batches that were made before the plan: what blocks they gave may have been lost since.
    """
    cubes, batches = tables.cubes, tables.batches
    if site.test_cubes is None or cubes.empty:
        return
    sets, taken_l = len(cubes[["batch", "set"]].drop_duplicates()), float(cubes["volume_l"].sum())
    share = taken_l / float(batches["poured_l"].sum())
    if sets > 1 and (share > _MUCH or sets > len(batches)):
        every = site.test_cubes.every_l
        lot = f"every, {every if isinstance(every, str) else _said(site, every)}"
        total = f"{sets} sets, {int(cubes['cubes'].sum())} cubes, from {len(batches)} batches"
        yield f"test_cubes: {total}, take {units.show_percent(share)} of all that is poured. Is {lot}, as you meant it?"
    yield from few_at_an_age(site.test_cubes)
    for_cubes = {*cubes["batch"]} - {*tables.casts["batch"]}
    alone = batches[batches["batch"].isin([batch for batch in for_cubes if batch not in poured])]
    if len(alone):
        made_l, takes_l = alone["yield_l"].sum(), cubes[cubes["batch"].isin(alone["batch"])]["volume_l"].sum()
        are = "batch is" if len(alone) == 1 else "batches are"
        volumes = f"{_said(site, made_l)} for cubes of {_said(site, takes_l)}"
        yield f"{len(alone)} {are} made for test cubes alone, {volumes}: the others have no room for them."


def few_at_an_age(sets: CubeSets) -> Iterator[str]:
    """Say how a set is shared among its ages, where one cube alone is crushed at any of them."""
    shares = dict(zip(sets.crush_after_d, shared_by_age(sets.count, len(sets.crush_after_d)), strict=False))
    if _FEW not in shares.values():
        return
    split = ", ".join(f"{cubes} at {days} d" for days, cubes in shares.items())
    yield (
        f"test_cubes: of the {sets.count} cubes of a set are crushed {split}. One cube alone is a hint, not a test "
        f"(common practice): count: {2 * len(shares)} gives two at each age."
    )


def cube_rows(
    site: Site, giving: Sequence[tuple[int, date, int]], given: Mapping[int, Sequence[int]]
) -> Iterator[dict[str, object]]:
    """Rows of the table of test cubes: one for each set and age.

    Parameters
    ----------
    giving : number of a batch, its day and the sets it gives, in the order of the batches.
    given : numbers of sets that were given before the plan was made anew, by batch.
    """
    sets = site.test_cubes
    if sets is None:
        return
    days = {batch: day for batch, day, _ in giving}
    for batch, number in numbers_of_sets(((batch, n) for batch, _, n in giving), given):
        labels = written_on(number, sets.count, len(sets.crush_after_d))
        for (cubes, marked), crush in zip(labels, _crushed(site, sets, days[batch]), strict=True):
            litres = round(set_l(site) * cubes / sets.count, _DIGITS)
            yield {
                "batch": batch,
                "cubes": cubes,
                "volume_l": litres,
                "set": number,
                "marked": marked,
                "crush": crush,
            }


def _crushed(site: Site, sets: CubeSets, cast: date) -> Sequence[datetime | None]:
    """Working days on which cubes cast on a day are crushed, by age; ``None`` alone where no age is told."""
    days = [site.calendar.next_working_day(cast + timedelta(days=age)) for age in sets.crush_after_d]
    return [moment_at(day) for day in days] or [None]
