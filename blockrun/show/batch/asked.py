"""Which batch a command is about: one of a saved plan, or so many bags of a mix."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

from blockrun.errors import BadInput
from blockrun.files.day_names import moment_name
from blockrun.files.text import did_you_mean
from blockrun.mix.batches import in_bags
from blockrun.mix.card import Card, Mixing, card_of_bags, check_held, mixing_in
from blockrun.mix.typed import Typed
from blockrun.order.mixes import MixSpec
from blockrun.order.mixes_alone import OrderMixes, load_mixes
from blockrun.planner.mixes import mix_proportions
from blockrun.planner.one_batch import load_one_batch
from blockrun.show.measures import bags_of
from blockrun.site import Mixer, load_site
from blockrun.site.values import read_fraction
from blockrun.units import check_thousands, with_point

if TYPE_CHECKING:
    from blockrun.site import Site

Thing = TypeVar("Thing", MixSpec, Mixer)


@dataclass(frozen=True)
class BatchAsked:
    """A batch, what its mixer and the clock allow it, what to call it, and when its foam goes in, where planned."""

    site: Site
    card: Card
    mixing: Mixing
    heading: str
    foam_at: datetime | None = None


def batch_asked(places: Sequence[Path], typed: Typed) -> BatchAsked:
    """The batch that is meant.

    Parameters
    ----------
    places : the folder of a saved plan, with ``batch`` typed; or site and order, with ``bags`` typed, and ``mix`` and
        ``mixer`` where there are several.
    typed : options by their name without dashes.

    Raises
    ------
    BadInput, OutOfRange, BadPlan : there is none, it is not clear which, or its mixer cannot hold it.
    """
    if len(places) > 2:
        what = "a batch is one of a plan, or of a site and an order"
        raise BadInput(what, "Write DIR --batch 7, or SITE ORDER; a value and its unit without a blank, such as 95g/L.")
    return _planned(places[0], typed) if len(places) == 1 else _of_bags(places[0], places[1], typed)


def mix_named(order: OrderMixes, name: str | None) -> MixSpec:
    """The mix of an order that is meant; without a name its only one.

    Raises
    ------
    BadInput : there is none of that name, or several and no name.
    """
    return _named(order.mixes, name, "mix")


def read_bags(text: str) -> Fraction:
    """A number of bags above nought.

    Raises
    ------
    BadInput : anything else.
    """
    try:
        bags = read_fraction(with_point(text))
        check_thousands(text)
    except BadInput as fault:
        raise BadInput(f"--bags: {fault.what}", fault.todo, name="--bags", value=text) from None
    if bags <= 0:
        raise BadInput(f"--bags {text} is no batch", "Write how many bags of cement are in it.", name="--bags")
    return bags


def _planned(folder: Path, typed: Typed) -> BatchAsked:
    number = typed.get("batch")
    if number is None:
        todo = "Add its number, such as --batch 7; or give a site and an order, and --bags 2."
        raise BadInput("which batch of the plan?", todo, name="--batch")
    if not number.isdecimal() or not number.isascii():
        raise BadInput(f"--batch {number} is no number", "Write it as the days number it, such as --batch 7.")
    site, order, batch = load_one_batch(folder, int(number))
    spec, mixer = _named(order.mixes, batch.mix, "mix"), _named(site.mixers, batch.mixer, "mixer")
    _check_same(typed, {"mix": spec.name, "mixer": mixer.name}, batch.batch)
    bags = bags_of(batch.bags)
    if typed.get("bags") is not None and read_bags(typed["bags"] or "") != bags:
        todo = f"Leave --bags out; batch {batch.batch} of the plan holds {in_bags(bags)}."
        raise BadInput(f"--bags {typed['bags']} is another batch", todo, name="--bags")
    when = moment_name(batch.foam_at)
    asked = _asked(site, order, spec.name, mixer, bags, f"batch {batch.batch}, foam {when}: ")
    return replace(asked, foam_at=batch.foam_at)


def _check_same(typed: Typed, planned: Mapping[str, str], number: int) -> None:
    """Refuse an option that says another thing than the plan."""
    for option, value in planned.items():
        if typed.get(option) not in (None, value):
            what = f"batch {number} of the plan is of {option} {value}, not {typed[option]}"
            raise BadInput(what, f"Leave --{option} out, or look for its batch.", name=f"--{option}")


def _of_bags(site_file: Path, order_file: Path, typed: Typed) -> BatchAsked:
    bags = typed.get("bags")
    if bags is None:
        raise BadInput("how many bags of cement are in it?", "Add them, such as --bags 2.", name="--bags")
    site, order = load_site(site_file), load_mixes(order_file)
    spec, mixer = mix_named(order, typed.get("mix")), _named(site.mixers, typed.get("mixer"), "mixer")
    return _asked(site, order, spec.name, mixer, read_bags(bags), "")


def _asked(site: Site, order: OrderMixes, mix: str, mixer: Mixer, bags: Fraction, first: str) -> BatchAsked:
    card = card_of_bags(site, mix_proportions(site, order, mix)[mix], bags)
    check_held(card, bags, mixer, site.units)
    return BatchAsked(site, card, mixing_in(site, mixer), f"{first}{in_bags(bags)} of {mix} in the {mixer.name}")


def _named(things: Sequence[Thing], name: str | None, what: str) -> Thing:
    if name is None and len(things) == 1:
        return things[0]
    names = [thing.name for thing in things]
    if name is None:
        todo = f"Add --{what} and one of {', '.join(names)}."
        raise BadInput(f"which {what}? There are {len(things)}", todo, name=f"--{what}")
    found = next((thing for thing in things if thing.name == name), None)
    if found is None:
        raise BadInput(f"there is no {what} {name}", did_you_mean(name, names), name=f"--{what}", value=name)
    return found
