"""The optimiser's answer and what had happened before it, put together to be written down."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from blockrun.optimiser.state import State, Turn
from blockrun.planner.assign import Placed

if TYPE_CHECKING:
    from blockrun.optimiser.state import Batch
    from blockrun.planner.begun.history import History
    from blockrun.planner.brief import Brief
    from blockrun.site import MouldKind, Site

_Looks = tuple[int, int, int, tuple[int, ...], tuple[int, int]]


@dataclass(frozen=True)
class GoneOn:
    """A plan in the middle of a job.

    Attributes
    ----------
    state : all of it, from the first batch of the job on.
    before : turns that were begun, in their moulds, each stripped and cleaned as it was or as it is planned.
    numbers : of batches, by their identity.
    """

    state: State
    before: list[Placed]
    numbers: Mapping[int, int]


def gone_on(history: History, answer: State) -> GoneOn:
    """What had happened and what the optimiser answered.

    The answer may come from another process: what had happened is known in it by its minutes, and of turns that look
    alike any may be any.
    """
    there: defaultdict[_Looks, list[Turn]] = defaultdict(list)
    for turn in answer.turns:
        there[_looks(turn)].append(turn)
    before = []
    for stood in history.turns:
        turn = stood.turn if stood.turn.done else _carried_on(stood.turn, there, history.opens)
        before.append(Placed(turn, stood.unit, stood.base, stood.facts.turn, stood.facts))
    turns = [turn for turn in answer.turns if turn.start >= history.opens]
    batches = [batch for batch in answer.batches if batch.start >= history.opens]
    state = State(answer.day, [item.turn for item in before] + turns, [*history.batches.values(), *batches])
    return GoneOn(state, before, _numbers(history, batches))


def _looks(turn: Turn) -> _Looks:
    """What tells a turn that was begun from others."""
    fills = tuple(sorted(casting for casting, _ in turn.fills))
    return turn.mould, turn.start, turn.poured, fills, turn.waits


def _carried_on(stood: Turn, there: Mapping[_Looks, list[Turn]], opens: int) -> Turn:
    """A turn that is not over, with what is planned for it."""
    alike = there[_looks(stood)]
    found = next(turn for turn in alike if _goes_on(stood, turn, opens))
    alike.remove(found)
    return replace(stood, sides=found.sides, strip=found.strip, clean=found.clean)


def _goes_on(stood: Turn, found: Turn, opens: int) -> bool:
    """Whether what was done of a turn was done in the other, and what was not is planned there."""
    pairs = ((stood.sides, found.sides), (stood.strip, found.strip), (stood.clean, found.clean))
    return all(done == planned if done else planned is None or planned.start >= opens for done, planned in pairs)


def _numbers(history: History, batches: list[Batch]) -> dict[int, int]:
    """What was poured keeps its numbers; the others go on from there, in the order of the clock."""
    numbers = {id(batch): number for number, batch in history.batches.items()}
    first = 1 + max(history.batches, default=0)
    in_order = sorted(batches, key=lambda batch: (batch.start, batch.load.mixer, batch.load.mix))
    return numbers | {id(batch): number for number, batch in enumerate(in_order, first)}


def slabs_before_l(brief: Brief, placed: Iterable[Placed]) -> Mapping[int, float]:
    """What slabs that were begun took of batches beyond their blocks, in litres without overfill, by their identity."""
    more: defaultdict[int, float] = defaultdict(float)
    for item in placed:
        if item.begun is not None and item.begun.blocks and (kind := _sawn(brief.site, item.begun.kind)) is not None:
            blocks_l = sum(brief.casting_l(number) for number, _ in item.turn.fills)
            more[id(item.turn.fills[0][1])] += math.prod(kind.cavity) / 1e6 - blocks_l
    return more


def _sawn(site: Site, name: str) -> MouldKind | None:
    return next((kind for kind in site.moulds if kind.kind == name and kind.saw), None)
