"""Batches in the counts: made one after the other, no more in them than they hold, of what has come to the yard."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from blockrun.optimiser.cubes import due
from blockrun.optimiser.makers import coarse

if TYPE_CHECKING:
    from blockrun.optimiser.counts import Counts
    from blockrun.optimiser.engine import Expression
    from blockrun.optimiser.problem import Supply

_AGENT_UNIT = 100


def hold_batches(counts: Counts) -> None:
    """All rules of batches."""
    _mixers(counts)
    _packing(counts)
    _cubes(counts)
    _stock(counts)


def _mixers(counts: Counts) -> None:
    """Batches fit in every stretch of the day, one after the other in each mixer, one foam at a time."""
    for day in counts.pour_days:
        of_day = counts.slots_of(day)
        for first in of_day:
            for last in range(first, of_day[-1] + 1):
                for ceiling in counts.limits.mixing.ceilings(counts.when.slots.stretch(first, last)):
                    used = [
                        cost * counts.batches[s][index]
                        for s in range(first, last + 1)
                        for index, cost in ceiling.of_maker.items()
                        if index in counts.batches[s]
                    ]
                    if used:
                        counts.model.add(sum(used) <= ceiling.most)


def _packing(counts: Counts) -> None:
    """Batches hold the blocks poured from them, by volume and however else these are weighed."""
    weighing = counts.limits.weighing
    for mix, ways in weighing.ways.items():
        castings = weighing.castings_of(mix)
        volumes = tuple(coarse(counts.problem.castings[number].volume) for number in castings)
        makers = {i: maker for i, maker in enumerate(counts.limits.mixing.makers) if maker.mix == mix}
        for slot in counts.pour_slots:
            room = [
                makers[i].per_cement * counts.cement_in[slot][i] + makers[i].per_batch * number
                for i, number in counts.batches[slot].items()
                if i in makers
            ]
            counts.model.add(_weight(counts, castings, volumes, range(slot, slot + 1)) <= sum(room))
        if counts.lean:
            _weighed_truly(counts, mix)
            continue
        for weights in ways:
            held = {i: weighing.held(mix, weights, maker.biggest.room) for i, maker in makers.items()}
            for day in counts.pour_days:
                of_day = counts.slots_of(day)
                numbers = [held[i] * n for s in of_day for i, n in counts.batches[s].items() if i in held]
                counts.model.add(_weight(counts, castings, weights, of_day) <= sum(numbers))


def _weighed_truly(counts: Counts, mix: int) -> None:
    """The same by the few ways that tell most, a line over batches of all sizes."""
    weighing = counts.limits.weighing
    castings, makers = weighing.castings_of(mix), counts.limits.mixing.makers
    for way in weighing.true_ways[mix]:
        for day in counts.pour_days:
            of_day = counts.slots_of(day)
            held = [
                way.per_cement * counts.cement_in[slot][index] + way.per_batch * number
                for slot in of_day
                for index, number in counts.batches[slot].items()
                if makers[index].mix == mix
            ]
            counts.model.add(_weight(counts, castings, way.weights, of_day) <= sum(held))


def _cubes(counts: Counts) -> None:
    """In the end each lot has given a set of test cubes, and batches have held them beside the blocks."""
    for mix, lots in {} if counts.overflow else due(counts.problem, counts.state).items():
        castings = counts.limits.weighing.castings_of(mix)
        if counts.problem.cubes and any(counts.useful[casting] for casting in castings):
            volumes = tuple(coarse(counts.problem.castings[number].volume) for number in castings)
            cement, room, most = _mixed(counts, mix)
            sets = counts.model.new_int_var(lots.fewest(1), lots.fewest(max(1, most)), f"sets {mix}")
            held = _weight(counts, castings, volumes, counts.pour_slots) + coarse(counts.problem.cubes.volume) * sets
            counts.model.add(held <= room)
            if lots.lot is not None:
                counts.model.add(math.ceil(lots.lot) * (sets + lots.given) >= cement + lots.made)


def _mixed(counts: Counts, mix: int) -> tuple[Expression, Expression, int]:
    """Cement of the batches of a mix, the room they have at the most, and the most cement they may have."""
    cement, room, most = [], [], 0
    for slot in counts.pour_slots:
        for index, number in counts.batches[slot].items():
            maker = counts.limits.mixing.makers[index]
            if maker.mix == mix:
                cement.append(counts.cement_in[slot][index])
                room.append(maker.per_cement * cement[-1] + maker.per_batch * number)
                most += maker.most_cement * counts.limits.mixing.batches_in(counts.when.slots.all[slot], maker)
    return sum(cement), sum(room), most


def _weight(counts: Counts, castings: list[int], weights: tuple[int, ...], slots: range) -> Expression:
    pairs = [(casting, weight) for casting, weight in zip(castings, weights, strict=True) if weight]
    return sum((weight * counts.poured(slot, casting) for slot in slots for casting, weight in pairs), start=0)


def _stock(counts: Counts) -> None:
    """Cement and agent are there before they are used: looked at before each delivery and at the end."""
    makers = counts.limits.mixing.makers
    per_cement = [1] * len(makers)
    _supplied(counts, counts.problem.cement, counts.state.cement(), per_cement, 1)
    per_agent = [maker.agent_per_cement // _AGENT_UNIT for maker in makers]
    _supplied(counts, counts.problem.agent, counts.state.agent(), per_agent, _AGENT_UNIT)


def _supplied(counts: Counts, supply: Supply, used: int, per_cement: list[int], unit: int) -> None:
    drawn: list[Expression] = []
    for day in counts.pour_days:
        drawn += [per_cement[i] * n for slot in counts.slots_of(day) for i, n in counts.cement_in[slot].items()]
        there = supply.by(counts.problem.days[day].number)
        if day == counts.last or there < supply.by(counts.problem.days[day + 1].number):
            counts.model.add(sum(drawn) <= max(0, there - used) // unit)
