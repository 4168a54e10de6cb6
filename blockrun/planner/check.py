"""What can be said of a site and an order before any search: why there can be no plan, in plain words."""

from __future__ import annotations

from blockrun import units
from blockrun.errors import BadInput, NoPlanPossible
from blockrun.mix import BatchSize, Proportions, batch_sizes, why_no_batch
from blockrun.optimiser.limits import Limits
from blockrun.order import Order, OrderLine
from blockrun.order.castable import check_castable
from blockrun.planner.brief import Brief, mix_proportions
from blockrun.site import Site


def check_inputs(site: Site, order: Order, lines: tuple[OrderLine, ...]) -> None:
    """Refuse what no yard day could ever do.

    Raises
    ------
    BadInput : nothing ordered, a block no mould casts, a mix no mixer can make, a block bigger than
        any batch, or more cement or foaming agent needed than ever comes.
    """
    if not lines:
        raise BadInput("nothing is ordered", "Write at least one block in the order's lists.")
    check_castable(site, lines, order)
    mixes = mix_proportions(site, order)
    sizes = {name: _sizes(site, name, mixes[name]) for name in sorted({line.mix for line in lines})}
    for line in lines:
        _check_block(site, line, sizes[line.mix])
    _check_stock(site, lines, sizes)


def _sizes(site: Site, name: str, mix: Proportions) -> list[BatchSize]:
    sizes = [size for mixer in site.mixers for size in batch_sizes(site, mixer, mix)]
    if not sizes:
        reasons = [why_no_batch(site, mixer, mix) for mixer in site.mixers]
        raise BadInput(
            f"no batch of the mix {name} can be made: {'; '.join(reasons)}", "Change one of these in the site."
        )
    return sizes


def _check_block(site: Site, line: OrderLine, sizes: list[BatchSize]) -> None:
    needed = line.volume_l * (1 + site.overfill)
    most = max(size.room_l for size in sizes)
    if needed > most + 1e-6:
        raise BadInput(
            f"one block {line.mark} takes {units.show(needed, 'volume', site.units)} with overfill, and the biggest "
            f"batch of {line.mix} has {units.show(most, 'volume', site.units)} to pour",
            "Make the block smaller, or give the mixer a greater usable_volume.",
            name=line.mark,
            value=needed,
            limit=most,
            unit="L",
        )


def _check_stock(site: Site, lines: tuple[OrderLine, ...], sizes: dict[str, list[BatchSize]]) -> None:
    """Each mix takes at least its blocks' volume, poured at the least cement a litre of room."""
    bags = agent = 0.0
    for mix, of_mix in sizes.items():
        volume = sum(line.volume_l * line.count for line in lines if line.mix == mix) * (1 + site.overfill)
        bags += volume * min(float(size.bags) / size.room_l for size in of_mix)
        agent += volume * min(size.agent_l / size.room_l for size in of_mix)
    stock = site.stock
    there = stock.cement.on_hand_bags + sum(delivery.amount for delivery in stock.cement.deliveries)
    if bags > there + 1e-6:
        raise BadInput(
            f"the order takes at least {bags:.1f} bags of cement, and only {there:g} are on hand or delivered",
            "Add deliveries under stock: cement:, or order less.",
            name="cement",
            value=bags,
            limit=there,
            unit="bags",
        )
    litres = stock.foaming_agent.on_hand_l + sum(delivery.amount for delivery in stock.foaming_agent.deliveries)
    if agent > litres + 1e-6:
        raise BadInput(
            f"the order takes at least {units.show(agent, 'volume', site.units)} of foaming agent, and only "
            f"{units.show(litres, 'volume', site.units)} is on hand or delivered",
            "Add deliveries under stock: foaming_agent:, or order less.",
            name="foaming_agent",
            value=agent,
            limit=litres,
            unit="L",
        )


def check_reach(brief: Brief, limits: Limits) -> None:
    """Refuse a problem in which a block can never be poured.

    Raises
    ------
    NoPlanPossible : frost, or too few people, on every day.
    """
    problem, site = brief.problem, brief.site
    for block, key in enumerate(brief.formats):
        size = f"{key[1]:g} x {key[2]:g} x {key[3]:g} mm"
        kinds = [kind for kind, mould in enumerate(problem.moulds) if block in mould.casts and mould.cavities]
        if not kinds:
            raise NoPlanPossible(
                f"no block of {size} can be stripped: its strip and move fit no part of a day, or the racks have no "
                "place for it",
                "Shorten strip_time or move_time, or add rack places.",
            )
        if all(limits.reach.first_pour(kind, 0) is None for kind in kinds):
            coldest = f"{site.curing.least_air_c:g} degC"
            raise NoPlanPossible(
                f"there is no day in {problem.horizon} on which a block of {size} can be poured and stripped: the air "
                f"falls under {coldest}, or too few people are there for a batch",
                "Look at weather, least_air, crew and away in the site.",
            )
