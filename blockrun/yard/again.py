"""Free cavities for what is to be poured again, and whether it is worth a batch of its own."""

from __future__ import annotations

from collections import Counter
from collections.abc import Container, Iterator, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Final

from blockrun.units import MINUTES_A_DAY
from blockrun.yard.setting import Fill
from blockrun.yard.state import Turn

if TYPE_CHECKING:
    from blockrun.yard.run import Run
    from blockrun.yard.setting import Day

WORTH_A_BATCH: Final = 0.5
"""Share of the largest batch from which what is not urgent is poured by itself, our choice."""

_SPECK_L: Final = 1e-6

Unit = tuple[int, int]
"""A kind of mould and the number of one."""


@dataclass(slots=True, eq=False)
class Place:
    """Where fills of a batch go: into a turn that begins with them, or did so earlier today.

    ``number`` is that of the turn in the plan, -1 for one the yard makes up; ``new`` are fills that are poured again.
    """

    turn: Turn
    number: int = -1
    fills: tuple[Fill, ...] = ()
    begun: bool = False
    new: list[Fill] = field(default_factory=list)

    @property
    def all(self) -> tuple[Fill, ...]:
        """All that is poured into it now."""
        return (*self.fills, *self.new)

    @property
    def room(self) -> int:
        """Cavities left."""
        return self.turn.room - len(self.new)


class Again:
    """What is to be poured again on one day."""

    def __init__(self, run: Run, day: Day) -> None:
        self._run = run
        self._today = day.number

    def mixes(self) -> list[int]:
        """Mixes of what waits, the most urgent first."""
        return list(dict.fromkeys(mix for _, mix in self._waiting()))

    def urgent(self, kept: Container[Unit]) -> Counter[int]:
        """Moulds, by kind, that are lacking today for what is to be poured at once, one mix to a mould."""
        setting, state = self._run.setting, self._run.state
        cavities: Counter[tuple[int, int]] = Counter()
        for due, mark in self._run.pool.waiting:
            if due <= self._today and setting.casts[mark]:
                kind, fill = setting.casts[mark][0]
                cavities[kind, fill.mix] += 1
        moulds: Counter[int] = Counter()
        for (kind, _), count in cavities.items():
            moulds[kind] += -(-count // setting.kinds[kind].cavities)
        for kind in moulds:
            moulds[kind] -= sum((kind, one) not in kept for one in state.moulds[kind].all())
        return +moulds

    def fit(self, mix: int, room_l: float, places: Sequence[Place], kept: Container[Unit], by: int) -> list[Place]:
        """Put what waits into free cavities, most urgent first, as far as a batch has room.

        Parameters
        ----------
        places : of the batch; blocks are added to their ``new``.
        kept : moulds that are not to be had.
        by : minute by which other moulds have to be free.

        Returns
        -------
        Places in further moulds.
        """
        further: list[Place] = []
        covered: Counter[int] = Counter()
        none_left: set[tuple[int, bool]] = set()
        for due, mark in self._run.pool.waiting:
            if covered[mark]:
                covered[mark] -= 1
                continue
            for kind, fill in self._run.setting.casts[mark]:
                if fill.mix != mix or fill.volume_l > room_l + _SPECK_L:
                    continue
                place = next((p for p in (*places, *further) if p.turn.kind == kind and p.room > 0), None)
                urgent = due <= self._today
                if place is None and (kind, urgent) not in none_left:
                    place = self._in_another(kind, (*places, *further), kept, by, urgent=urgent)
                    further += [place] if place else []
                    none_left |= set() if place else {(kind, urgent)}
                if place:
                    place.new.append(Fill(fill.mix, fill.marks, fill.volume_l, (), due))
                    room_l -= fill.volume_l
                    covered.update(fill.marks)
                    covered[mark] -= 1
                    break
        return further

    def worth_a_batch(self, mix: int, places: Sequence[Place], room_l: float) -> bool:
        """Whether these are urgent, or half a batch, or the last of their mix."""
        if not places:
            return False
        waiting = [due for due, of in self._waiting() if of == mix]
        litres = sum(fill.volume_l for place in places for fill in place.new)
        more_to_come = any(batch.planned.mix == mix for batch in self._run.to_pour)
        return min(waiting) <= self._today or litres >= WORTH_A_BATCH * room_l or not more_to_come

    def _waiting(self) -> Iterator[tuple[int, int]]:
        """When each block that waits is due, and its mix; those without a mould to cast them are left out."""
        casts = self._run.setting.casts
        return ((due, casts[mark][0][1].mix) for due, mark in self._run.pool.waiting if casts[mark])

    def _in_another(
        self, kind: int, others: Sequence[Place], kept: Container[Unit], by: int, *, urgent: bool
    ) -> Place | None:
        """A mould for it, if one is free by then that the plan can do without, or it is urgent."""
        state, given = self._run.state, self._run.setting.kinds[kind]
        taken = [place.turn for place in others if place.turn.kind == kind and not place.begun]
        units = {turn.unit for turn in taken}
        unit = state.moulds[kind].first(by, lambda one: one not in units and (kind, one) not in kept)
        if unit is None or not (urgent or self._spare(kind) > len(taken)):
            return None
        free, base = state.moulds[kind].since(unit), 0
        if given.bases:
            under = {turn.base for turn in taken}
            found = state.bases[kind].first(by, lambda one: one not in under)
            if found is None:
                return None
            free, base = max(free, state.bases[kind].since(found)), found
        return Place(Turn(kind, unit, base, None, given.cavities, free))

    def _spare(self, kind: int) -> int:
        """Moulds of a kind that the plan does without until one filled now is free again."""
        run, setting = self._run, self._run.setting
        evening = self._today * MINUTES_A_DAY + setting.windows[-1][1]
        back = setting.next_days[min(run.ripe.strip(kind, evening) // MINUTES_A_DAY, setting.n_days - 1)]
        wanted = {
            number
            for batch in run.to_pour
            if batch.planned.day < back
            for number, _ in batch.parts
            if setting.turns[number].kind == kind
        }
        return len(run.state.moulds[kind]) - len(wanted)
