"""What a plan goes on from: what had happened, and what the plan before it still had, as the optimiser counts it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from blockrun.optimiser.state import Batch, Span, State, Turn

if TYPE_CHECKING:
    from blockrun.optimiser.problem import Load
    from blockrun.planner.begun.facts import Begun
    from blockrun.planner.brief import Brief
    from blockrun.planner.in_moulds import Turn as PlannedTurn
    from blockrun.planner.plan import Plan
    from blockrun.site import Site

_MINUTE = timedelta(minutes=1)
_NEAR = 1e-6


@dataclass(frozen=True)
class GoingOn:
    """What a plan goes on from.

    Attributes
    ----------
    plan : the plan before.
    poured : numbers of its batches that were poured.
    """

    begun: Begun
    plan: Plan
    poured: frozenset[int]

    def days_gone(self, site: Site) -> int:
        """Calendar days that are over."""
        return max(0, (self.begun.since.date() - site.calendar.start).days)

    def old_in(self, asked: Brief) -> State:
        """Batches and turns that the plan before still had, with its minutes, as far as they still fit the problem.

        The turns that stand come first, all of them, in the order in which the yard has them, if it has them all.
        """
        from blockrun.planner.in_moulds import turns_of
        from blockrun.planner.rows import rows_of

        numbers, all_turns = _Numbers(asked), turns_of(self.plan)
        turns = [turn for turn in all_turns if not self.poured.issuperset(turn.batches)]
        fills = {turn.key: numbers.fills(turn) for turn in turns}
        content: dict[int, Counter[int]] = {}
        for of_turn in fills.values():
            for casting, batch in of_turn:
                content.setdefault(batch, Counter())[casting] += 1
        cubes = self.plan.tables.cubes.groupby("batch")["set"].nunique().to_dict()
        batches: dict[int, Batch] = {
            row.batch: Batch(load, numbers.minute(row.start), dict(content.get(row.batch, {})), cubes.get(row.batch, 0))
            for row in rows_of(self.plan.tables.batches)
            if row.batch not in self.poured and (load := numbers.load(row.mixer, row.mix, row.bags)) is not None
        }
        found = (numbers.turn(turn, fills[turn.key], batches) for turn in turns)
        standing = self._standing(asked, numbers, all_turns)
        return State(0, [*standing, *(turn for turn in found if turn is not None)], list(batches.values()))

    def _standing(self, asked: Brief, numbers: _Numbers, turns: Iterable[PlannedTurn]) -> list[Turn]:
        """What stands, as the plan before has it; nothing where it does not have all of it."""
        assert asked.history is not None
        planned = {(turn.place, turn.batches): turn for turn in turns}
        found = []
        for stood in asked.history.turns:
            if not stood.turn.done:
                facts = stood.facts
                if not facts.blocks:  # the plan before knew nothing of a clean: as soon as can be
                    clean = asked.problem.moulds[stood.turn.mould].clean
                    opens = asked.history.opens
                    found.append(replace(stood.turn, clean=Span(opens, opens + clean)))
                    continue
                own = tuple(sorted({block.batch for block in facts.blocks}))  # numbers that the plan before has, too
                turn = planned.get((facts.base or facts.mould, own)) if self.poured.issuperset(own) else None
                if turn is None:
                    return []
                found.append(numbers.carried_on(stood.turn, turn))
        return found


class _Numbers:
    """The way from names of the plan before to numbers of a problem."""

    def __init__(self, asked: Brief) -> None:
        from blockrun.planner.wanted import format_of

        self._asked = asked
        self._formats = {(line.mark, line.mix): asked.formats.index(format_of(line)) for line in asked.lines}
        self._kinds = {kind.kind: number for number, kind in reversed(list(enumerate(asked.moulds)))}

    def minute(self, moment: datetime) -> int:
        return (moment - self._asked.moment(0)) // _MINUTE

    def load(self, mixer: str, mix: str, bags: float) -> Load | None:
        """The same size of batch; None where there is none any more."""
        for load, (of, name, size) in zip(self._asked.problem.loads, self._asked.loads, strict=True):
            if (of.name, name) == (mixer, mix) and abs(float(size.bags) - bags) < _NEAR:
                return load
        return None

    def fills(self, turn: PlannedTurn) -> list[tuple[int, int]]:
        """Each casting of a turn with the number of its batch; none where a block of it is not wanted any more."""
        if any((cast.mark, cast.mix) not in self._formats for cast in turn.casts):
            return []
        blocks = [(self._formats[cast.mark, cast.mix], int(cast.batch)) for cast in turn.casts]
        return self._slab(turn, blocks) if turn.kind.saw else blocks

    def _slab(self, turn: PlannedTurn, blocks: list[tuple[int, int]]) -> list[tuple[int, int]]:
        given = Counter(block for block, _ in blocks)
        for number, slab in enumerate(self._asked.slabs):
            of_slab = Counter({self._asked.formats.index(block): count for block, count in slab.gives.items()})
            if slab.kind.kind == turn.kind.kind and of_slab == given:
                return [(len(self._asked.formats) + number, blocks[0][1])]
        return []

    def turn(self, turn: PlannedTurn, fills: Iterable[tuple[int, int]], batches: dict[int, Batch]) -> Turn | None:
        poured = [(casting, batches[batch]) for casting, batch in fills if batch in batches]
        if not poured or turn.kind.kind not in self._kinds:
            return None
        castings = self._asked.problem.castings
        made = Turn(self._kinds[turn.kind.kind], poured, blocks=sum(castings[number].blocks for number, _ in poured))
        return self.carried_on(made, turn)

    def carried_on(self, begun: Turn, turn: PlannedTurn) -> Turn:
        """A turn with the minutes that the plan before has for it."""
        made = replace(begun)
        if turn.sides is not None and turn.sides_off is not None:
            made.sides = Span(self.minute(turn.sides), self.minute(turn.sides_off))
        made.strip = Span(self.minute(turn.strip), self.minute(turn.stripped))
        cleaned = self.minute(turn.cleaned)
        made.clean = Span(cleaned - turn.kind.clean_time_min, cleaned)
        return made
