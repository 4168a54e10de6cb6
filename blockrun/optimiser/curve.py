"""The most blocks that can be poured by the end of each day: bounds by arithmetic alone, at hand before any search.

Each limit is taken by itself - moulds, mixers, racks, cement, foaming agent - and the lowest counts.
A set of formats poured too slowly bounds the last pour; falling behind what is needed, day by day,
adds up to block-days late.
"""

from __future__ import annotations

from collections import Counter
from fractions import Fraction
from functools import cache, cached_property
from itertools import accumulate

from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import Mould, Problem
from blockrun.optimiser.shares import least_each
from blockrun.optimiser.standing import busy_until, of_use, ready_days

Formats = frozenset[int]


class Curve:
    """Bounds for every plan that goes on from what is begun: blocks poured by the end of each day, in lists of these.

    Volumes are in 1/100 mL, cement in steps of a bag, foaming agent in microlitres, as in the problem.
    """

    def __init__(self, problem: Problem, limits: Limits) -> None:
        self.problem, self.limits, self.begun = problem, limits, limits.begun
        self.left = self.begun.left_to_pour(problem)
        self.arrived = ready_days(limits.reach, self.begun, problem.opens)
        self._most, self._chain = cache(self._most_poured), cache(self._chain_from)

    @cached_property
    def finish(self) -> int:
        """Position among the working days of the earliest last pour; the last day where none is early enough."""
        return max((self._all_poured(formats) for formats in self._sets), default=0)

    @cached_property
    def late(self) -> int:
        """Fewest block-days late: of all blocks together, or format by format, whichever is more."""
        every, *_ = self._sets
        single = sum(self._behind(frozenset({b}), self._most(frozenset({b}))) for b in sorted(every))
        return max(self._behind(every, self._most(every)), single)

    @cached_property
    def late_alone(self) -> dict[str, int]:
        """Fewest block-days late were only one thing short: ``age`` (all poured on the first day), and each limit."""
        every, *_ = self._sets
        at_once = {"age": [1 << 40] * len(self.problem.days)}
        return {name: self._behind(every, most) for name, most in (at_once | self._each(every)).items()}

    @cached_property
    def _sets(self) -> list[Formats]:
        """All formats, then those of each mould, then each by itself."""
        ordered = frozenset(b for b, block in enumerate(self.problem.formats) if block.demand)
        of_moulds = {
            frozenset(block for block in ordered if self._most_of(mould, frozenset({block})))
            for mould in self.problem.moulds
        } - {frozenset(), ordered}
        single = {frozenset({block}) for block in ordered} - of_moulds
        return [ordered, *sorted(of_moulds, key=sorted), *sorted(single, key=sorted)]

    def _all_poured(self, formats: Formats) -> int:
        left = sum(self.left[block] for block in formats)
        most = self._most(formats)
        return next((day for day, poured in enumerate(most) if poured >= left), len(most) - 1)

    def _behind(self, formats: Formats, most: list[int]) -> int:
        """Blocks needed and not to be had yet, added up over the days, were at the most so many poured by each day."""
        coming, arrived = Counter[int](), Counter[int]()
        for block in formats:
            coming.update(dict(self.problem.formats[block].needs))
            arrived.update(self.arrived[block])
        if not coming:
            return 0
        ready = self.limits.when.ready_from
        due = have = day = behind = 0
        there = sum(count for on, count in arrived.items() if on < min(coming))
        for number in range(min(coming), self.problem.horizon):
            due += coming[number]
            there += arrived[number]
            while day < len(most) and ready[day] <= number:
                have, day = most[day], day + 1
            behind += max(0, due - have - there)
        return behind

    def _most_poured(self, formats: Formats) -> list[int]:
        """Most blocks of these formats poured by the end of each working day."""
        return [min(limits) for limits in zip(*self._each(formats).values(), strict=True)]

    def _each(self, formats: Formats) -> dict[str, list[int]]:
        """The same by each limit alone."""
        problem = self.problem
        mixes = {problem.formats[block].mix for block in formats}
        cement = {mix: min(load.cement / load.room for load in problem.loads_of(mix)) for mix in mixes}
        agent = {mix: min(load.agent / load.room for load in problem.loads_of(mix)) for mix in mixes}
        plain = dict.fromkeys(mixes, 1.0)
        in_stock = {
            name: [float(supply.by(day.number) - used) for day in problem.days]
            for name, supply, used in (
                ("cement", problem.cement, self.begun.cement()),
                ("agent", problem.agent, self.begun.agent()),
            )
        }
        return {
            "moulds": self._by_moulds(formats),
            "racks": self._by_racks(formats),
            "mixers": self._affordable(formats, plain, self._mixed),
            "cement": self._affordable(formats, cement, in_stock["cement"]),
            "agent": self._affordable(formats, agent, in_stock["agent"]),
        }

    def _by_moulds(self, formats: Formats) -> list[int]:
        poured = [0] * len(self.problem.days)
        for kind, mould in enumerate(self.problem.moulds):
            blocks = self._most_of(mould, formats)
            if blocks:
                turns = [self._turns(kind, base=True)] if mould.bases else []
                turns.append(self._turns(kind, base=False))
                for day, most in enumerate(map(min, *turns) if len(turns) > 1 else turns[0]):
                    poured[day] += mould.cavities * blocks * most
        return poured

    def _most_of(self, mould: Mould, formats: Formats) -> int:
        """Blocks of these formats that one cavity gives at the most."""
        castings = (self.problem.castings[number] for number in mould.casts)
        return max((sum(n for block, n in casting.gives if block in formats) for casting in castings), default=0)

    def _turns(self, kind: int, *, base: bool) -> list[int]:
        """Most turns of a kind begun by the end of each day, by its sides or its bases alone."""
        problem, mould = self.problem, self.problem.moulds[kind]
        units, base = (mould.bases if base else mould.count), base or not mould.bases
        busy = busy_until(self.limits.reach, kind, self.begun, problem.opens, base=base)
        free = [problem.opens] * (units - len(busy)) + of_use(busy, len(busy) - units)
        on = Counter(
            day for at, of in Counter(free).items() if at is not None for day in of * self._chain(kind, at, base)
        )
        return list(accumulate(on[day.number] for day in problem.days))

    def _chain_from(self, kind: int, at: int, base: bool) -> list[int]:
        return self.limits.reach.chain(kind, at, base=base, until=self.problem.days[-1].number)

    def _by_racks(self, formats: Formats) -> list[int]:
        """What is poured is still in a mould, or has been on the rack for so long that others had to make room."""
        problem = self.problem
        if not problem.rack_for:
            return [1 << 40] * len(problem.days)
        in_moulds = sum((m.bases or m.count) * m.cavities * self._most_of(m, formats) for m in problem.moulds)
        first = min(
            (poured for kind in range(len(problem.moulds)) if (poured := self._first_stripped(kind)) is not None),
            default=None,
        )
        if first is None:
            return [in_moulds] * len(problem.days)
        ends = [day.closes for day in problem.days]
        rounds = [max(0, (end - first) // problem.rack_for + 1) for end in ends]
        return [in_moulds + problem.places * n for n in rounds]

    def _first_stripped(self, kind: int) -> int | None:
        reach = self.limits.reach
        pour = reach.first_pour(kind, self.problem.days[0].opens)
        return None if pour is None else reach.stripped(kind, pour + reach.pours[kind].shortest_pour)

    @cached_property
    def _mixed(self) -> list[float]:
        """Most room of batches poured by the end of each day."""
        total, rooms = 0.0, []
        for day in range(len(self.problem.days)):
            for mixer in range(self.problem.n_mixers):
                room = max((load.room for load in self.problem.loads if load.mixer == mixer), default=0)
                total += room * self.limits.mixing.batches_of(self.limits.slots.day(day), mixer)
            rooms.append(total)
        return rooms

    @cached_property
    def _volumes(self) -> dict[int, int | Fraction]:
        """Mix that a block takes at the least, a share of its slab's waste included where it is sawn."""
        problem = self.problem
        return least_each(problem, {number: problem.castings[number].volume for number in problem.in_moulds})

    def _affordable(self, formats: Formats, price: dict[int, float], budget: list[float]) -> list[int]:
        """Most blocks that a budget buys by the end of each day, the cheapest first, a volume at its mix's price."""
        of_block = {b: self.problem.formats[b] for b in formats if self.left[b]}
        costs = sorted((float(self._volumes[b]) * price[block.mix], self.left[b]) for b, block in of_block.items())
        bought = []
        for left in budget:
            blocks, left = 0, max(0.0, left)  # more may be used than came, as it was counted
            for cost, demand in costs:
                some = min(demand, int(left / cost + 1e-9)) if cost else demand
                blocks += some
                left -= some * cost
                if some < demand:
                    break
            bought.append(blocks)
        return bought
