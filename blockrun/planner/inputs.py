"""What of a site and an order no yard day could ever do, in plain words and at its place in the files."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Final

from blockrun import units
from blockrun.errors import BadInput
from blockrun.mix import BatchSize, Proportions, batch_sizes, why_no_batch
from blockrun.order import Order, OrderLine
from blockrun.order.castable import castable
from blockrun.order.no_mould import check_castable
from blockrun.planner.ages import ages_of, check_ages
from blockrun.planner.before_start import check_deliveries
from blockrun.planner.cubes import check_sets
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.placed import at
from blockrun.planner.slabs import pourable, slab_l
from blockrun.site import Site

USUAL_OVERFILL: Final = 0.03
MUCH_OVERFILL: Final = 0.10
"""Over this it is a slip of the pen (common practice, no source)."""

HARDLY_FOAM: Final = 0.85
"""Foam over this share of the volume no slurry is known to hold, so that its density is a slip (our choice)."""
LIGHTEST_KG_M3: Final = 300.0
"""Oven-dry, of what is usually cast (common practice, no source)."""


def check_inputs(site: Site, order: Order, lines: Sequence[OrderLine]) -> None:
    """Refuse what no yard day could ever do.

    Raises
    ------
    BadInput : with all that `faults_of_inputs` finds.
    """
    faults = faults_of_inputs(site, order, lines)
    if faults:
        raise BadInput.of(faults)


def faults_of_inputs(site: Site, order: Order, lines: Sequence[OrderLine]) -> list[BadInput]:
    """All that can be told at once, each with what was found with it; of what only follows from another, nothing.

    Nothing ordered, blocks no mould casts, deliveries before the start, mixes that cannot be made or of which no mixer
    makes a batch, ages that cubes do not tell, sets of cubes and blocks bigger than any batch.
    """
    if not lines:
        fault = BadInput("nothing is ordered", "Write at least one block in the order's lists.")
        return [at(order, fault, "parts", at_key=True)]
    faults: list[BadInput] = []
    with _gathered(faults):
        check_castable(site, lines, order)
    with _gathered(faults):
        check_deliveries(site)
    mixes: dict[str, Proportions] = {}
    for spec in order.mixes:
        with _gathered(faults):
            mixes |= mix_proportions(site, order, spec.name)
    if len(mixes) < len(order.mixes):
        return faults
    with _gathered(faults):
        check_ages(ages_of(site, order, {line.mix for line in lines}))
    for name in sorted({line.mix for line in lines}):
        with _gathered(faults):
            sizes = _sizes(site, order, name, mixes[name])
            check_sets(site, name, sizes)
            for line in lines:
                if line.mix == name:
                    _check_block(site, order, line, sizes)
    return faults


@contextmanager
def _gathered(faults: list[BadInput]) -> Iterator[None]:
    """Keep the faults that a check raises, and go on."""
    try:
        yield
    except BadInput as fault:
        faults.append(fault)


def _sizes(site: Site, order: Order, name: str, mix: Proportions) -> list[BatchSize]:
    sizes = [size for mixer in site.mixers for size in batch_sizes(site, mixer, mix)]
    if sizes:
        return sizes
    faults = []
    for mixer in site.mixers:
        none = why_no_batch(site, mixer, mix)
        assert none is not None
        what = f"no batch of the mix {name} can be made in the {mixer.name}: {none.what}"
        if mix.foam_volume_m3 > HARDLY_FOAM:
            raise _nearly_all_foam(site, order, name, mix, what)
        own = none.name != "rate"
        where = ("mixers", ("name", mixer.name), none.name or "name") if own else ("foam_generator", "rate")
        faults.append(at(site, BadInput(what, none.todo), *where))
    raise BadInput.of(faults)


def _nearly_all_foam(site: Site, order: Order, name: str, mix: Proportions, what: str) -> BadInput:
    """Blame the density, where it is so low that it is likelier a slip than the mixer is too small."""
    spec = next(spec for spec in order.mixes if spec.name == name)
    key = next(
        (key for key in ("oven_dry_density", "wet_density") if getattr(spec, f"{key}_kg_m3") is not None), "strength"
    )
    lightest = units.show(LIGHTEST_KG_M3, "density", site.units)
    dry = units.show(mix.oven_dry_density_kg_m3, "density", site.units)
    foam = units.show_percent(mix.foam_volume_m3)
    todo = (
        f"Is the {key} right? At {dry} dry, {foam} of the mix is foam, which no slurry holds; "
        f"{lightest} or more is usual."
    )
    return at(order, BadInput(what, todo, name=key), "mixes", ("name", name), key)


def _check_block(site: Site, order: Order, line: OrderLine, sizes: list[BatchSize]) -> None:
    most = max(size.room_l for size in sizes)
    kinds = [kind for kind in site.moulds if castable(kind, line)]
    if kinds and all(kind.saw for kind in kinds) and not any(pourable(site, order, kind, line.mix) for kind in kinds):
        said = _too_much(site, f"one slab of {kinds[0].kind}", slab_l(site, kinds[0]), most, line.mix)
        todo = f"Make the cavity smaller, or give the mixer a greater usable_volume: only slabs give {line.mark}."
        raise at(site, BadInput(said, todo, name="cavity"), "moulds", ("kind", kinds[0].kind), "cavity")
    filled = line.volume_l * (1 + site.overfill)
    if filled > most + 1e-6:
        said = _too_much(site, f"one block {line.mark}", filled, most, line.mix)
        todo = "Make the block smaller, or give the mixer a greater usable_volume."
        raise order.place(BadInput(said, todo, name=line.mark), line.mark, part=line.part)


def _too_much(site: Site, what: str, filled_l: float, most_l: float, mix: str) -> str:
    """Say that something takes more than a batch has to pour.

    Raises
    ------
    BadInput : an overfill far over the usual is to blame, as with the usual one there is room.
    """
    takes, has = (units.show(litres, "volume", site.units) for litres in (filled_l, most_l))
    said = f"{what} takes {takes} with overfill, and the biggest batch of {mix} has {has} to pour"
    usual_l = filled_l / (1 + site.overfill) * (1 + USUAL_OVERFILL)
    if site.overfill > MUCH_OVERFILL and usual_l <= most_l + 1e-6:
        todo = f"Lower overfill: so much is struck off every cavity, and {100 * USUAL_OVERFILL:g} % is usual."
        raise at(site, BadInput(said, todo, name="overfill", value=site.overfill), "overfill")
    return said
