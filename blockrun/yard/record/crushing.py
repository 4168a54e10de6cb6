"""A cube or a block that was crushed: test."""

from __future__ import annotations

import re
from collections.abc import Mapping
from contextlib import suppress
from datetime import timedelta
from typing import Final

from blockrun import units
from blockrun.errors import BadInput
from blockrun.units import MINUTES_A_DAY
from blockrun.yard.called import batch_name
from blockrun.yard.journal.events import AnyEvent, Crushed, Poured
from blockrun.yard.now import BatchNo
from blockrun.yard.record.amounts import amount_typed
from blockrun.yard.record.extra import EXTRA, OF_NO_PLAN
from blockrun.yard.record.known import Known
from blockrun.yard.record.words import Words

_BARE: Final = re.compile(r"\d{1,9}(?:\.\d{1,9})?")
_DAY: Final = timedelta(days=1)
_N_A_KN: Final = 1000
USUAL_CUBE_MM: Final = 100.0


def test(words: Words, known: Known) -> list[AnyEvent]:
    """``cube 7 52kN``, ``cube 7 3000lbf 4x4in 28d 35lb/ft3 marked 7a``, ``block 7 180kN 600x200mm``."""
    what = words.take("cube or block").lower()
    if what not in {"cube", "block"}:
        raise BadInput(f"{what} is not crushed here", "Say cube or block.", value=what)
    batch, mix = batch_meant(words, known)
    found = _measures(words)
    marked = words.rest() if words.take_if("marked") else ""
    length, width = _size(found.get("length"), what, known)
    return [
        Crushed(
            what="cube" if what == "cube" else "block",
            mix=mix,
            batch=batch[1],
            plan=batch[0],
            marked=marked,
            load_kn=_load_kn(found, length * width),
            length_mm=length,
            width_mm=width,
            age_d=round(found["time"][0] / MINUTES_A_DAY, 6) if "time" in found else _age_d(batch, known),
            dry_density_kg_m3=found["density"][0] if "density" in found else None,
        )
    ]


def batch_meant(words: Words, known: Known) -> tuple[BatchNo, str]:
    """The batch that is named next, as it is recorded, and its mix.

    Raises
    ------
    BadInput : there is none of that number.
    """
    extra = words.take_if(EXTRA)
    number = words.number("the number of its batch")
    if not extra:
        batch = known.plan.recorded_as(number)
        there = known.plan.number_of(batch)  # blocks of another pour of it, where of this one there are none
        if there is None or there not in known.plan.batches:
            raise BadInput(f"the plan has no batch {number}", "One that no plan has: extra NUMBER.")
        return batch, known.plan.batches[there][0].mix
    pours = (one.event for one in known.entries if isinstance(one.event, Poured))
    event = next((event for event in pours if (event.plan, event.batch) == (OF_NO_PLAN, number)), None)
    if event is None:
        raise BadInput(f"no extra batch {number} is recorded")
    return (OF_NO_PLAN, number), event.mix


def _measures(words: Words) -> dict[str, tuple[float, ...]]:
    """Measures with their units, in any order, by their dimension and in its base unit; a size is one or two sides."""
    found: dict[str, tuple[float, ...]] = {}
    while words.peek and words.peek.lower() != "marked":
        word = amount_typed(words, "a measure", "marked")
        found |= _measure(word)
    return found


def _measure(word: str) -> dict[str, tuple[float, ...]]:
    for dimension in ("force", "strength", "density", "time"):
        with suppress(BadInput):
            return {dimension: (units.read(word, dimension).value,)}
    with suppress(BadInput):
        return {"length": _sides(word)}
    todo = "Write each with its unit: 52kN 100x100mm 28d 560kg/m3, or 3000lbf 4x4in 28d 35lb/ft3."
    raise BadInput(f"{word} is no load, size, age or density", todo, value=word)


def _sides(word: str) -> tuple[float, ...]:
    """One side or two; a number without a unit takes that of the last."""
    *first, last = word.lower().split("x")
    unit = last.lstrip("0123456789.")
    pieces = [f"{piece}{unit}" if _BARE.fullmatch(piece) else piece for piece in first]
    if len(pieces) > 1:
        raise BadInput(f"{word} has more sides than two", value=word)
    return tuple(units.read(piece, "length").value for piece in (*pieces, last))


def _size(sides: tuple[float, ...] | None, what: str, known: Known) -> tuple[float, float]:
    """Length and width as loaded; of a cube that of the site, unless told."""
    if sides is not None:
        return sides[0], sides[-1]
    if what == "block":
        raise BadInput("the size of the block is missing", "Write length and width as it was loaded: 600x200mm.")
    cubes = known.plan.site.test_cubes
    side = USUAL_CUBE_MM if cubes is None else cubes.size_mm
    return side, side


def _load_kn(found: Mapping[str, tuple[float, ...]], area_mm2: float) -> float:
    """The load as a press shows it, or reckoned from the strength that it shows."""
    if "force" in found:
        return found["force"][0]
    if "strength" in found:
        return round(found["strength"][0] * area_mm2 / _N_A_KN, 6)
    raise BadInput("the load that broke it is missing", "Write it with its unit, such as 52kN, 3000lbf or 190psi.")


def _age_d(batch: BatchNo, known: Known) -> float:
    """Days since the batch was poured, as recorded."""
    poured = [moment for moment in known.state.poured.get(batch, []) if moment < known.at]
    if not poured:
        said = batch_name(batch, known.plan).whole
        raise BadInput(f"nobody recorded when {said} was poured", "Write the age, such as 28d.")
    return round((known.at - poured[-1]) / _DAY, 2)
