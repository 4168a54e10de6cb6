"""What a plan uses up: so much of a material on a day, for a mix."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any, Final, Protocol

from blockrun.mix.bucket_of_foam import to_weigh_foam
from blockrun.mix.dilution import SPECK_L, Tank, tank_of
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.rows import rows_of

if TYPE_CHECKING:
    from blockrun.mix import Proportions
    from blockrun.planner.plan import Plan
    from blockrun.planner.tables import PlanTables
    from blockrun.site import Site

CEMENT, WATER, AGENT, OIL = "cement", "water", "foaming agent", "release oil"
SOLIDS: Final = ("sand", "fly ash", "lime", "fibre")
ORDER: Final = (CEMENT, *SOLIDS, WATER, AGENT, OIL)
"""Materials in the order in which they are weighed and measured."""

UNITS: Final = {CEMENT: "bag", **dict.fromkeys(SOLIDS, "kg"), WATER: "L", AGENT: "L", OIL: "L"}
"""What each is counted in."""


@dataclass(frozen=True)
class Use:
    """So much of a material, in its unit of ``UNITS``, on a day.

    Parameters
    ----------
    mix : for which it is; "" where it is for none.
    weighed : it goes into a bucket of foam that is weighed before a batch and thrown away. Batches of a plan do not
        wait for that: their stock is reckoned for what goes into them.
    """

    day: date
    material: str
    amount: float
    mix: str = ""
    weighed: bool = False


class HasBatches(Protocol):
    """A plan, or what is to become one."""

    @property
    def site(self) -> Site:
        """Whose batches they are."""

    @property
    def tables(self) -> PlanTables:
        """With the table of them."""


def uses_of(plan: Plan) -> list[Use]:
    """All that the batches and the moulds of a plan use up.

    Parameters
    ----------
    plan : whose tables are taken as they are; what goes in beside cement, water and foam comes from its mixes.

    Returns
    -------
    Uses, batch by batch, the bucket of foam weighed before each among them; then, where the site tells of it, release
    oil by the turn on the day it is first poured, the turns of filler moulds included.
    """
    return [*_of_batches(plan), *_of_turns(plan)]


def _of_batches(plan: Plan) -> Iterator[Use]:
    mixes = mix_proportions(plan.site, plan.order)
    for batch in rows_of(plan.tables.batches):
        yield from (use for use in uses_of_batch(batch, mixes[batch.mix], plan.site) if use.material != AGENT)
    yield from agent_uses(plan)


def uses_of_batch(batch: Any, mix: Proportions, site: Site) -> Iterator[Use]:
    """All that one batch takes, on the day it starts, the bucket of foam weighed before it among it.

    Parameters
    ----------
    batch : a row of the batches of a plan.
    mix : of it, with the foam of the site.

    Returns
    -------
    Uses; agent as if it went into a tank only when it is used.
    """
    day, weighed = batch.start.date(), to_weigh_foam(site)
    yield Use(day, CEMENT, batch.bags, batch.mix)
    for name, mass_kg in mix.weighed.items():
        yield Use(day, name, batch.cement_kg * mass_kg / mix.cement_kg, batch.mix)
    # foam is air and diluted agent; a kilogram of water or of the dilution is taken as a litre
    yield Use(day, WATER, batch.slurry_water_kg + batch.foam_kg - batch.agent_l, batch.mix)
    yield Use(day, WATER, weighed.water_l, batch.mix, weighed=True)
    yield Use(day, AGENT, batch.agent_l, batch.mix)
    yield Use(day, AGENT, weighed.agent_l, batch.mix, weighed=True)


def agent_uses(plan: HasBatches) -> Iterator[Use]:
    """Foaming agent, for the mixes whose foam it makes; of a tank, on the day on which it goes in there."""
    tank, weighed = tank_of(plan.site.foam_generator), to_weigh_foam(plan.site)
    if tank is None:
        for batch in rows_of(plan.tables.batches):
            yield Use(batch.start.date(), AGENT, weighed.agent_l, batch.mix, weighed=True)
            yield Use(batch.start.date(), AGENT, batch.agent_l, batch.mix)
        return
    held: deque[tuple[date, float]] = deque()
    for batch, fills in tank_fills(plan, tank):
        held.extend((batch.start.date(), fill_l) for fill_l in fills)
        for need_l, is_weighed in ((weighed.volume_l, True), (batch.foam_kg, False)):
            for day, taken_l in _out_of(held, need_l):
                yield Use(day, AGENT, taken_l * tank.agent_share, batch.mix, weighed=is_weighed)


def _out_of(held: deque[tuple[date, float]], need_l: float) -> Iterator[tuple[date, float]]:
    """Take so much out of what was filled in, what was first filled in first."""
    while need_l > SPECK_L and held:
        day, fill_l = held.popleft()
        taken_l = min(need_l, fill_l)
        if fill_l > taken_l:
            held.appendleft((day, fill_l - taken_l))
        need_l -= taken_l
        yield day, taken_l


def tank_fills(plan: HasBatches, tank: Tank) -> Iterator[tuple[Any, tuple[float, ...]]]:
    """Each batch by its start, and litres of dilution filled in for it and the foam weighed; a kilogram is a litre."""
    rows = sorted(rows_of(plan.tables.batches), key=lambda row: (row.start, row.batch))
    weighed_l = to_weigh_foam(plan.site).volume_l
    yield from zip(rows, tank.filled_for([weighed_l + row.foam_kg for row in rows]), strict=True)


def _of_turns(plan: Plan) -> Iterator[Use]:
    oil = plan.site.stock.release_oil
    if oil is None:
        return
    from blockrun.planner.left_over import left_over  # and all that lays out walls, which those without oil go without

    turns = plan.tables.casts.groupby(["mould", "turn"], sort=True)["poured"].min()
    batches = {batch.batch: batch.start.date() for batch in rows_of(plan.tables.batches)}
    # of what was poured before a plan was made anew its casts tell each turn, those of filler moulds too
    to_come = batches.keys() - (plan.begun.poured if plan.begun else frozenset())
    left = left_over(plan).batches
    fillers = [batches[number] for number in sorted(to_come) for _ in left[number].fills]
    for day in (*(poured.date() for poured in turns), *fillers):
        yield Use(day, OIL, oil.per_turn_l)
