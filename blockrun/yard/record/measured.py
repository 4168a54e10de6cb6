"""What was measured, counted or delivered: thumb, weather, delivered, counted."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Final, get_args

from blockrun import units
from blockrun.errors import BadInput
from blockrun.yard.journal.events import (
    AnyEvent,
    BlocksCounted,
    Counted,
    Delivered,
    Thumbed,
    WeatherSeen,
)
from blockrun.yard.now import Kind
from blockrun.yard.record.air import check_air, usual_degrees
from blockrun.yard.record.amounts import amount_typed
from blockrun.yard.record.blocks import kind_typed
from blockrun.yard.record.known import Known
from blockrun.yard.record.mingled import apart_now
from blockrun.yard.record.named import near_or_all
from blockrun.yard.record.words import Words, is_number

MATERIALS: Final = {
    "cement": "bags",
    "agent": "L",
    "oil": "L",
    "sand": "kg",
    "fly-ash": "kg",
    "lime": "kg",
    "fibre": "kg",
}
"""What may be delivered and counted, and in what."""

NAMES: Final = {"agent": "foaming agent", "fly-ash": "fly ash"}
"""What the journal calls a material, where it is another word than the one that is typed."""

CALLED: Final = {"foaming agent": "agent", "release oil": "oil", "fly ash": "fly-ash", "fiber": "fibre"}
"""What materials are called on pages, or elsewhere, by the word that is typed."""

_NUMBER: Final = r"\d{1,9}(?:\.\d{1,9})?"
_DEGREES: Final = re.compile(r"-?\d{1,3}(?:\.\d{1,2})?")
THUMBS: Final[tuple[str, ...]] = get_args(Thumbed.model_fields["thumb"].annotation)


def thumb(words: Words, known: Known) -> list[AnyEvent]:
    """``gang-4/3 firm``, ``gang-4/1-3 dents``."""
    here = [known.standing(name) for name in known.moulds(words)]
    shows = words.take("firm, dents or soft").lower()
    if shows not in THUMBS:
        todo = "Say firm, dents or soft: soft sinks in, dents leaves a mark, firm leaves none."
        raise BadInput(f"{shows} is not what a thumb shows", todo, value=shows)
    from blockrun.yard.record.stood import stood_in

    return [Thumbed(mould=one.mould, base=one.base, thumb=shows, stood=stood_in(one, shows, known)) for one in here]


def weather(words: Words, known: Known) -> list[AnyEvent]:
    """``3 14``, ``3 14 yesterday``, ``38degF 57degF``: the least and the most of the air on a day."""
    least, most = (
        _degrees(units.with_point(words.take(due)), known) for due in ("the least of the air", "the most of the air")
    )
    day = words.day(known.at.date(), known.span) or known.at.date()
    if day > known.at.date():
        raise BadInput(f"{day} is still to come", "A forecast goes into the weather file of the site.")
    if least > most:
        low, high = (units.show_degrees(celsius, known.plan.site.units) for celsius in (least, most))
        raise BadInput(f"the least, {low}, is over the most, {high}", "Write the least first.")
    return [WeatherSeen(day=day, min_degc=least, max_degc=most)]


def _degrees(word: str, known: Known) -> float:
    """A temperature; a bare number is in the degrees that the site prints in, and is said back with them."""
    usual = usual_degrees(known.plan.site)
    typed = units.with_point(word)
    celsius = units.read(f"{typed} {usual}" if _DEGREES.fullmatch(typed) else typed, "temperature").value
    check_air(celsius, typed, known.plan.site)
    return celsius


def delivered(words: Words, known: Known) -> list[AnyEvent]:
    """``cement 80``, ``agent 10L``, ``cement 80 lot B7``."""
    name, unit = _material(words, "what came", MATERIALS)
    amount = _amount(words, name, unit)
    if not amount:
        raise BadInput("nothing is no delivery", "Write how much came; what is there is told with: counted.")
    lot = words.rest() if words.take_if("lot") else ""
    return [Delivered(material=name, amount=amount, lot=lot)]


def counted(words: Words, known: Known) -> list[AnyEvent]:
    """``cement 42``, ``foaming agent 3.5 L``, ``east 22 full 3 C``, ``stack 0 half``."""
    place = words.peek
    if place.lower() == "stack" or known.is_rack(place):
        words.take("a place")
        return _blocks_counted(words, known, "" if place.lower() == "stack" else known.rack(place))
    places = [*MATERIALS, "stack", *(rack.name for rack in known.plan.site.racks)]
    name, unit = _material(words, "what, or where", places)
    return [Counted(material=name, amount=_amount(words, name, unit))]


def _blocks_counted(words: Words, known: Known, rack: str) -> list[AnyEvent]:
    found: dict[Kind, AnyEvent] = {}
    apart = apart_now(known)
    while is_number(words.peek):
        count = int(words.take("a number"))
        mark, mix = kind_typed(words, known.kinds)
        place = "rack" if rack else "stack"
        found[mark, mix] = BlocksCounted(place=place, name=rack, mark=mark, mix=mix, count=count, apart=apart)
    if not found:
        raise BadInput("how many of which mark?")
    return list(found.values())


def _material(words: Words, due: str, known: Iterable[str]) -> tuple[str, str]:
    """What the journal calls a material, in one word or two, and what it is counted in."""
    first = words.take(due).lower()
    both = f"{first} {words.peek.lower()}"
    if both in CALLED:
        words.take(due)
    small = CALLED.get(both) or CALLED.get(first, first)
    if small not in MATERIALS:
        raise BadInput(f"{first} is nothing that is counted", near_or_all(first, [*known]), value=first)
    return NAMES.get(small, small), MATERIALS[small]


def _amount(words: Words, name: str, unit: str) -> float:
    """An amount; a bare number only of bags, for these are counted."""
    word = amount_typed(words, "how much", "lot")
    if unit == "bags":
        found = re.fullmatch(rf"({_NUMBER})(?:bags?)?", word, re.IGNORECASE)
        if found is None:
            raise BadInput(f"{word} is not a number of bags", f"Write it in bags, such as: {name} 80.", value=word)
        units.check_thousands(found[1])
        return float(found[1])
    return units.read(word, "volume" if unit == "L" else "mass", usual=unit).value
