"""What can be said of a site and an order before any search: why there can be no plan, in plain words."""

from __future__ import annotations

from blockrun import units
from blockrun.errors import BadInput, NoPlanPossible, OutOfRange
from blockrun.files.yaml import read_yaml
from blockrun.mix import BatchSize, Proportions, batch_sizes, why_no_batch
from blockrun.optimiser.limits import Limits
from blockrun.order import Order, OrderLine
from blockrun.order.castable import check_castable
from blockrun.planner.brief import Brief, mix_proportions
from blockrun.site import Site

LONGEST_DAYS = 1600
"""Days a plan is looked for in, at the most."""


def _at(source: Site | Order, fault: BadInput, *where: str) -> BadInput:
    """The fault with its place in the file of the site or the order, where it was read from one."""
    path = source.sources.get("")
    return fault if path is None else read_yaml(path).place(fault, where, at_key=True)


def check_inputs(site: Site, order: Order, lines: tuple[OrderLine, ...]) -> None:
    """Refuse what no yard day could ever do.

    Raises
    ------
    BadInput : nothing ordered, a block no mould casts, a mix no mixer can make, a block bigger than
        any batch, or more cement or foaming agent needed than ever comes.
    """
    if not lines:
        raise _at(order, BadInput("nothing is ordered", "Write at least one block in the order's lists."), "parts")
    check_castable(site, lines, order)
    mixes = _mixes(site, order)
    sizes = {name: _sizes(site, name, mixes[name]) for name in sorted({line.mix for line in lines})}
    for line in lines:
        _check_block(site, line, sizes[line.mix])
    _check_stock(site, lines, sizes)


def _mixes(site: Site, order: Order) -> dict[str, Proportions]:
    """Proportions of the mixes; one that cannot be made is shown where the order names its mixes."""
    try:
        return mix_proportions(site, order)
    except OutOfRange as fault:
        raise _at(order, BadInput(fault.what, fault.todo, name=fault.name, value=fault.value), "mixes") from fault


def _sizes(site: Site, name: str, mix: Proportions) -> list[BatchSize]:
    sizes = [size for mixer in site.mixers for size in batch_sizes(site, mixer, mix)]
    if not sizes:
        reasons = [why_no_batch(site, mixer, mix) for mixer in site.mixers]
        told = "; ".join(reason[:1].lower() + reason[1:] for reason in reasons)
        raise _at(site, BadInput(f"no batch of the mix {name} can be made: {told}"), "mixers")
    return sizes


def _check_block(site: Site, line: OrderLine, sizes: list[BatchSize]) -> None:
    needed = line.volume_l * (1 + site.overfill)
    most = max(size.room_l for size in sizes)
    if needed > most + 1e-6:
        fault = BadInput(
            f"one block {line.mark} takes {units.show(needed, 'volume', site.units)} with overfill, and the biggest "
            f"batch of {line.mix} has {units.show(most, 'volume', site.units)} to pour",
            "Make the block smaller, or give the mixer a greater usable_volume.",
            name=line.mark,
            value=needed,
            limit=most,
            unit="L",
        )
        raise _at(site, fault, "mixers")


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
        fault = BadInput(
            f"the order takes at least {bags:.1f} bags of cement, and only {there:g} are on hand or delivered",
            "Add deliveries under stock: cement:, or order less.",
            name="cement",
            value=bags,
            limit=there,
            unit="bags",
        )
        raise _at(site, fault, "stock", "cement")
    litres = stock.foaming_agent.on_hand_l + sum(delivery.amount for delivery in stock.foaming_agent.deliveries)
    if agent > litres + 1e-6:
        fault = BadInput(
            f"the order takes at least {units.show(agent, 'volume', site.units)} of foaming agent, and only "
            f"{units.show(litres, 'volume', site.units)} is on hand or delivered",
            "Add deliveries under stock: foaming_agent:, or order less.",
            name="foaming_agent",
            value=agent,
            limit=litres,
            unit="L",
        )
        raise _at(site, fault, "stock", "foaming_agent")


def check_reach(brief: Brief, limits: Limits) -> bool:
    """Whether every block can be poured on some day of the problem; more days may help where it is not.

    Raises
    ------
    NoPlanPossible : no day, however many are looked at, will do.
    """
    problem, site = brief.problem, brief.site
    for block, key in enumerate(brief.formats):
        size = units.show_size(*key[1:], site.units)
        kinds = [kind for kind, mould in enumerate(problem.moulds) if block in mould.casts and mould.cavities]
        if not kinds:
            raise NoPlanPossible(
                f"no block of {size} can be stripped: its strip and move fit no part of a day, or the racks have no "
                "place for it",
                "Shorten strip_time or move_time, or add rack places.",
            )
        if all(limits.reach.first_pour(kind, 0) is None for kind in kinds):
            if problem.clear_until[-1] >= 0 and problem.horizon < LONGEST_DAYS:
                return False
            least = units.show(site.curing.least_air_c, "temperature", site.units)
            raise NoPlanPossible(
                f"in {problem.horizon} days there is none on which a block of {size} can be poured and then stripped: "
                f"the air falls under {least} before it is old enough, or too few people are there for a batch",
                "Look at weather, least_air, strip_at, crew and away in the site.",
            )
    return True
