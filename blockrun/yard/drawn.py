"""What pours took of each material: as their plans have it, agent out of its can, oil once a turn."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blockrun.mix.dilution import tank_of
from blockrun.planner.uses import AGENT, OIL, WATER, Use
from blockrun.yard.journal.events import Poured
from blockrun.yard.now import state_of

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.journal import Entry

Amounts = dict[str, float]
"""By material, water left out: there is always some."""


@dataclass(frozen=True)
class Drawn:
    """What pours took.

    Attributes
    ----------
    pours : of each what it took, in order; None of one of which no plan knows the batch, or its mix.
    in_tank_l : dilution that is left in the tank, litres; 0 without one.
    """

    pours: tuple[Amounts | None, ...]
    in_tank_l: float = 0.0


def drawn_of(plan: AsPlanned, entries: Sequence[Entry], older: Iterable[AsPlanned] = ()) -> Drawn:
    """What the pours among some entries took.

    A turn takes its oil with the pour that begins it, from however many batches it is filled. Agent is taken when it
    is filled into the tank, where there is one.

    Parameters
    ----------
    plan, older : whose batches they may be.
    entries : those that stand, in the order in which they happened.
    """
    draws = _Draws(plan, older)
    told = [(entry.happened, entry.event) for entry in entries if isinstance(entry.event, Poured)]
    pours = [draws.of(event) for _, event in told]
    oil, begun = plan.site.stock.release_oil, Counter(turn.filled[0][2:] for turn in state_of(entries).turns)
    for taken, (at, event) in zip(pours, told, strict=True):
        if taken is not None and oil is not None:
            taken[OIL] = oil.per_turn_l * begun.pop(((event.plan, event.batch), at), 0)
    return _out_of_the_can(plan, pours, {(event.plan, event.batch) for _, event in told})


def _out_of_the_can(plan: AsPlanned, pours: list[Amounts | None], poured: set[tuple[str, int]]) -> Drawn:
    """Agent as it is filled into the tank, never more than what is poured and still to be poured takes."""
    tank = tank_of(plan.site.foam_generator)
    if tank is None:
        return Drawn(tuple(pours))
    taken_l = [(one or {}).get(AGENT, 0.0) / tank.agent_share for one in pours]
    to_come = (uses for number, uses in plan.uses.items() if plan.recorded_as(number) not in poured)
    to_come_l = [dilution_l(uses, tank.agent_share) for uses in to_come]
    fills = tank.filled_for([*taken_l, *to_come_l])[: len(pours)]
    for one, filled in zip(pours, fills, strict=True):
        if one is not None:
            one[AGENT] = math.fsum(filled) * tank.agent_share
    return Drawn(tuple(pours), math.fsum(map(math.fsum, fills)) - math.fsum(taken_l))


def dilution_l(uses: Iterable[Use], agent_share: float) -> float:
    """Litres of dilution that a batch takes with the foam weighed before it, by what it takes of agent."""
    return math.fsum(use.amount for use in uses if use.material == AGENT) / agent_share


class _Draws:
    """What batches that were poured take, by their plans."""

    def __init__(self, plan: AsPlanned, older: Iterable[AsPlanned]) -> None:
        self._batches: dict[tuple[str, int], Amounts] = {}
        self._a_block: dict[str, Amounts] = {}
        for one in (*older, plan):  # the newest last: what it says of a mix counts for batches that nobody knows
            self._add(one)

    def of(self, event: Poured) -> Amounts | None:
        """What a pour took; None where no plan knows the batch, or its mix."""
        taken = self._batches.get((event.plan, event.batch)) or self._as_others(event)
        return None if taken is None else dict(taken)

    def _as_others(self, event: Poured) -> Amounts | None:
        a_block = self._a_block.get(event.mix)
        blocks = sum(bool(mark) for fill in event.fills for mark in fill.marks)
        return a_block and {name: amount * blocks for name, amount in a_block.items()}

    def _add(self, plan: AsPlanned) -> None:
        used: defaultdict[str, defaultdict[str, float]] = defaultdict(lambda: defaultdict(float))
        blocks: defaultdict[str, int] = defaultdict(int)
        for number, uses in plan.uses.items():
            taken: defaultdict[str, float] = defaultdict(float)
            for use in uses:
                if use.material != WATER:
                    taken[use.material] += use.amount
                    used[use.mix][use.material] += use.amount
            self._batches[plan.recorded_as(number)] = taken
            blocks[uses[0].mix] += len(plan.batches.get(number, ()))
        self._a_block |= {
            mix: {name: all_of / blocks[mix] for name, all_of in used[mix].items()} for mix in used if blocks[mix]
        }
