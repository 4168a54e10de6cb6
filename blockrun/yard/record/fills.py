"""What a batch fills: moulds as the plan has them, but for what is typed of them."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from typing import TYPE_CHECKING

from blockrun.errors import BadInput
from blockrun.yard.journal.events import Fill
from blockrun.yard.record.fillers import if_filler
from blockrun.yard.record.fitting import check_fits

if TYPE_CHECKING:
    from blockrun.planner.as_planned import PlannedCast
    from blockrun.yard.record.known import Known
    from blockrun.yard.record.words import Words


def planned_fills(casts: Iterable[PlannedCast]) -> list[Fill]:
    """What the plan pours into each mould; one whose cavity is sawn into several blocks is named for each of them."""
    moulds: dict[tuple[str, str], list[dict[int, str]]] = {}
    for cast in sorted(casts, key=lambda one: (one.mould, one.base, one.cavity)):
        layers = moulds.setdefault((cast.mould, cast.base), [])
        free = next((layer for layer in layers if cast.cavity not in layer), None)
        if free is None:
            free = {}
            layers.append(free)
        free[cast.cavity] = cast.mark
    return [
        Fill(mould=mould, base=base, marks=tuple(layer.get(cavity, "") for cavity in range(1, max(layer) + 1)))
        for (mould, base), layers in moulds.items()
        for layer in layers
    ]


def fills_typed(words: Words, known: Known, number: int) -> list[Fill]:
    """Fills as planned but for moulds that are named: only these, or without them, or another in the place of one.

    Raises
    ------
    BadInput : the batch is not for one of them, none is left, a cavity would be filled twice, or one cannot cast what
        is poured into it.
    """
    fills = planned_fills(known.plan.batches[number])
    but = words.take_if("without")
    words.take_if("into")
    named, others = _named(words, known, number, fills)
    if but and not named:
        raise BadInput("without which mould?", "Name it behind, such as: without gang-4/3.")
    kept = [fill for fill in fills if _is_kept(fill, named, others, but=but)]
    if not kept:
        raise BadInput("no mould is left to pour into", _if_thrown(number))
    _check_free(kept, others)
    filled = [_renamed(fill, others) for fill in kept]
    for fill in filled if others else ():
        check_fits(fill.mould, filter(None, fill.marks), known.plan)
    return filled


def _named(
    words: Words, known: Known, number: int, fills: Collection[Fill]
) -> tuple[frozenset[str], Mapping[str, str]]:
    """Moulds and bases that are named alone, and those in the place of which others were filled, with these."""
    named: set[str] = set()
    others: dict[str, str] = {}
    bases = {base for kind in known.plan.site.moulds for base in kind.base_names}
    while words.peek:
        mould, _, other = words.take("a mould").partition("=")
        if mould.isalpha():
            raise BadInput(f"{mould} is no mould", _if_thrown(number), value=mould)
        name = known.mould(mould)
        if todo := if_filler(name, known.plan):
            raise BadInput(f"{name} is a filler mould", todo, value=mould)
        if name not in {part for fill in fills for part in (fill.mould, fill.base)}:
            filled = ", ".join(sorted({fill.base or fill.mould for fill in fills}))
            raise BadInput(f"the plan does not pour this batch into {name}", f"It fills {filled}.")
        if not other:
            named.add(name)
            continue
        others[name] = known.mould(other)
        if len({name, others[name]} & bases) == 1:
            base, side = sorted((name, others[name]), key=lambda one: one not in bases)
            raise BadInput(f"{base} is a base, and {side} is none", "Write a base for a base, such as b01=b05.")
    return frozenset(named), others


def _is_kept(fill: Fill, named: frozenset[str], others: Mapping[str, str], *, but: bool) -> bool:
    """Whether anything was poured into it, or into what was filled in its place."""
    places = {fill.mould, fill.base}
    if but:
        return named.isdisjoint(places)
    return not named or not places.isdisjoint(named | others.keys())


def _check_free(kept: Collection[Fill], others: Mapping[str, str]) -> None:
    """Refuse that one is filled in the place of two, or of another and as planned besides."""
    planned: dict[tuple[str, int], str] = {}
    for fill in kept:
        for place, cavity in _cavities(_renamed(fill, others)):
            if planned.setdefault((place, cavity), fill.base or fill.mould) != (fill.base or fill.mould):
                raise BadInput(f"{place} is to be filled twice", "Name all that were filled, each once.", value=place)


def _cavities(fill: Fill) -> set[tuple[str, int]]:
    return {(fill.base or fill.mould, cavity) for cavity, mark in enumerate(fill.marks, 1) if mark}


def _renamed(fill: Fill, others: Mapping[str, str]) -> Fill:
    mould, base = others.get(fill.mould, fill.mould), others.get(fill.base, fill.base)
    return fill.model_copy(update={"mould": mould, "base": base})


def _if_thrown(number: int) -> str:
    """What to type where a batch filled no mould."""
    return f"If all of it was thrown away: blockrun record DIR thrown {number} WHY"
