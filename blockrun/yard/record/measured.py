"""What was measured, counted or delivered: test, thumb, weather, delivered, counted."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import timedelta
from typing import Final, get_args

from blockrun import units
from blockrun.errors import BadInput
from blockrun.yard.journal.events import (
    AnyEvent,
    BlocksCounted,
    Counted,
    Crushed,
    Delivered,
    Poured,
    Thumbed,
    WeatherSeen,
)
from blockrun.yard.now import BatchNo, Kind
from blockrun.yard.record.air import check_air, usual_degrees
from blockrun.yard.record.amounts import amount_typed, with_point
from blockrun.yard.record.blocks import kind_typed
from blockrun.yard.record.extra import EXTRA, OF_NO_PLAN
from blockrun.yard.record.known import Known
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
_LOAD: Final = re.compile(rf"({_NUMBER})kN", re.IGNORECASE)
_AGE: Final = re.compile(rf"({_NUMBER})d(?:ays?)?", re.IGNORECASE)
_SIZE: Final = re.compile(rf"({_NUMBER})(?:x({_NUMBER}))?mm", re.IGNORECASE)
_DENSITY: Final = re.compile(rf"({_NUMBER})kg/m3", re.IGNORECASE)
_DEGREES: Final = re.compile(r"-?\d{1,3}(?:\.\d{1,2})?")
_DAY: Final = timedelta(days=1)
USUAL_CUBE_MM: Final = 100.0
THUMBS: Final[tuple[str, ...]] = get_args(Thumbed.model_fields["thumb"].annotation)


def test(words: Words, known: Known) -> list[AnyEvent]:
    """``cube 7 52kN``, ``cube 7 52kN 100x100mm 28d 560kg/m3 marked 7a``, ``block 7 180kN 600x200mm``."""
    what = words.take("cube or block").lower()
    if what not in {"cube", "block"}:
        raise BadInput(f"{what} is not crushed here", "Say cube or block.", value=what)
    batch, mix = _batch(words, known)
    found = dict(_measures(words))
    marked = words.rest() if words.take_if("marked") else ""
    if _LOAD not in found:
        raise BadInput("the load that broke it is missing", "Write it with its unit, such as 52kN.")
    length, width = _size(found.get(_SIZE), what, known)
    return [
        Crushed(
            what="cube" if what == "cube" else "block",
            mix=mix,
            batch=batch[1],
            plan=batch[0],
            marked=marked,
            load_kn=float(found[_LOAD][1]),
            length_mm=length,
            width_mm=width,
            age_d=float(found[_AGE][1]) if _AGE in found else _age_d(batch, known),
            dry_density_kg_m3=float(found[_DENSITY][1]) if _DENSITY in found else None,
        )
    ]


def _batch(words: Words, known: Known) -> tuple[BatchNo, str]:
    """The batch that is meant, as it is recorded, and its mix."""
    extra = words.take_if(EXTRA)
    number = words.number("the number of its batch")
    if not extra:
        if number not in known.plan.batches:
            raise BadInput(f"the plan has no batch {number}", "One that no plan has: extra NUMBER.")
        return known.plan.recorded_as(number), known.plan.batches[number][0].mix
    pours = (one.event for one in known.entries if isinstance(one.event, Poured))
    event = next((event for event in pours if (event.plan, event.batch) == (OF_NO_PLAN, number)), None)
    if event is None:
        raise BadInput(f"no extra batch {number} is recorded")
    return (OF_NO_PLAN, number), event.mix


def _measures(words: Words) -> Iterator[tuple[re.Pattern[str], re.Match[str]]]:
    """Measures with their units, in any order."""
    while words.peek and words.peek.lower() != "marked":
        word = amount_typed(words, "a measure", "marked")
        matches = ((form, form.fullmatch(word)) for form in (_LOAD, _AGE, _SIZE, _DENSITY))
        form, match = next(((form, match) for form, match in matches if match), (None, None))
        if form is None or match is None:
            todo = "Write each with its unit: 52kN 100x100mm 28d 560kg/m3."
            raise BadInput(f"{word} is no load, size, age or density", todo, value=word)
        yield form, match


def _size(found: re.Match[str] | None, what: str, known: Known) -> tuple[float, float]:
    """Length and width as loaded; of a cube that of the site, unless told."""
    if found is not None:
        return float(found[1]), float(found[2] or found[1])
    if what == "block":
        raise BadInput("the size of the block is missing", "Write length and width as it was loaded: 600x200mm.")
    cubes = known.plan.site.test_cubes
    side = USUAL_CUBE_MM if cubes is None else cubes.size_mm
    return side, side


def _age_d(batch: BatchNo, known: Known) -> float:
    """Days since the batch was poured, as recorded."""
    poured = [moment for moment in known.state.poured.get(batch, []) if moment < known.at]
    if not poured:
        raise BadInput(f"nobody recorded when batch {batch[1]} was poured", "Write the age, such as 28d.")
    return round((known.at - poured[-1]) / _DAY, 2)


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
        _degrees(with_point(words.take(due)), known) for due in ("the least of the air", "the most of the air")
    )
    day = words.day(known.at.date(), known.span) or known.at.date()
    if day > known.at.date():
        raise BadInput(f"{day} is still to come", "A forecast goes into the weather file of the site.")
    if least > most:
        raise BadInput(f"the least, {least:g} degC, is over the most, {most:g} degC", "Write the least first.")
    return [WeatherSeen(day=day, min_degc=least, max_degc=most)]


def _degrees(word: str, known: Known) -> float:
    """A temperature; a bare number is in the degrees that the site prints in, and is said back with them."""
    usual = usual_degrees(known.plan.site)
    typed = with_point(word)
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
    while is_number(words.peek):
        count = int(words.take("a number"))
        mark, mix = kind_typed(words, known.kinds)
        place = "rack" if rack else "stack"
        found[mark, mix] = BlocksCounted(place=place, name=rack, mark=mark, mix=mix, count=count)
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
        return float(found[1])
    return units.read(word, "volume" if unit == "L" else "mass", usual=unit).value
