"""Turns that were begun, with the good blocks that came of them and where these are."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import TYPE_CHECKING

from blockrun.planner.begun.facts import BlockCast, TurnBegun
from blockrun.yard.replan.batches import Pour

if TYPE_CHECKING:
    from blockrun.yard.now import Filled, Kind, Pile, Standing, State
    from blockrun.yard.replan.kept import Kept

_Of = tuple["Kind", Pour]
"""Blocks of one kind and one pour: which of them went where nobody can tell, and it is all the same."""


def turns_begun(state: State, numbers: Mapping[Pour, int], plans: Sequence[Kept], at: datetime) -> list[TurnBegun]:
    """All turns of which there are good blocks.

    Parameters
    ----------
    state : where every block is.
    numbers : of the batches, in the plan to come.
    plans : made for the job.
    at : the moment.
    """
    past = _Past(numbers, {kept.id: kept for kept in plans}, at, _racks_of(state))
    last: dict[str, Standing] = {}
    for turn in state.turns:
        last[turn.place] = turn
    counted: defaultdict[str, int] = defaultdict(int)
    begun = []
    for turn in state.turns:
        counted[turn.mould] += 1
        blocks = past.standing(turn) if turn.stripped is None else past.out(turn)
        if blocks:
            clean = past.cleaned(turn, is_last=last[turn.place] is turn)
            begun.append(
                TurnBegun(
                    mould=turn.mould,
                    base=turn.base,
                    turn=counted[turn.mould],
                    sides_off=turn.sides_off,
                    strip=turn.stripped,
                    clean=clean,
                    blocks=tuple(blocks),
                )
            )
    return begun


def to_clean(state: State, plans: Sequence[Kept], at: datetime) -> list[str]:
    """Moulds and bases that are empty and not clean, of which no turn tells, for all that came of them is lost."""
    past, racks = _Past({}, {kept.id: kept for kept in plans}, at, {}), _racks_of(state)
    last = {turn.place: turn for turn in state.turns}
    return sorted(
        turn.place
        for turn in last.values()
        if turn.stripped is not None
        and not any(racks.get(_of(one)) for one in turn.filled)
        and past.cleaned(turn, is_last=True) is None
    )


def _racks_of(state: State) -> dict[_Of, deque[str]]:
    """Good blocks out of their moulds, each with its rack; empty where it is on none any more, or not yet."""
    found: dict[_Of, deque[str]] = defaultdict(deque)
    for rack, pile in _out_of_moulds(state):
        for kind, lot in pile.lots():
            found[kind, (lot.batch, lot.poured)].extend([rack] * lot.n_blocks)
    return found


def _out_of_moulds(state: State) -> Iterator[tuple[str, Pile]]:
    for pile in (*state.laid.values(), *state.stacks.values(), *state.out.values()):
        yield "", pile
    yield from state.racks.items()


@dataclass(frozen=True)
class _Past:
    numbers: Mapping[Pour, int]
    plans: Mapping[str, Kept]
    at: datetime
    racks: Mapping[_Of, deque[str]]
    _left: dict[_Of, int] = field(default_factory=dict)

    def standing(self, turn: Standing) -> list[BlockCast]:
        """Blocks that stand in a mould: those that were thrown out of it are not among them."""
        left: defaultdict[_Of, int] = defaultdict(int)
        for kind, lot in turn.blocks.lots():
            left[kind, (lot.batch, lot.poured)] += lot.n_blocks
        kept = []
        for one in turn.filled:
            if left[_of(one)]:
                left[_of(one)] -= 1
                kept.append(self._block(turn, one, ""))
        return kept

    def out(self, turn: Standing) -> list[BlockCast]:
        """Good blocks of a turn that is over."""
        there = ((one, self.racks.get(_of(one))) for one in turn.filled)
        return [self._block(turn, one, racks.popleft()) for one, racks in there if racks]

    def _block(self, turn: Standing, one: Filled, rack: str) -> BlockCast:
        plan, batch = one.batch
        sawn = self.plans[plan].sawn(batch, turn.mould, one.cavity) if plan in self.plans else None
        return BlockCast(
            cavity=one.cavity,
            mark=one.kind[0],
            mix=one.kind[1],
            batch=self.numbers[one.batch, one.poured],
            rack=rack,
            sawn=sawn,
        )

    def cleaned(self, turn: Standing, *, is_last: bool) -> datetime | None:
        """When a mould was clean after a turn; nobody records it.

        It was before the next pour. After the last turn it was when the plan has it, if it was stripped by then; else
        on another day than that of the strip.
        """
        if turn.stripped is None:
            return None
        planned = self._planned(turn)
        takes = timedelta(minutes=0 if planned is None else (planned[1] - planned[0]) // timedelta(minutes=1))
        if planned is not None and turn.stripped <= planned[0] and planned[1] <= self.at:
            return planned[1]
        soon = turn.stripped + takes
        return soon if not is_last or turn.stripped.date() < self.at.date() else None

    def _planned(self, turn: Standing) -> tuple[datetime, datetime] | None:
        """Begin and end of the clean that the plan has after a turn."""
        for (plan, batch), _ in {(one.batch, one.poured) for one in turn.filled}:
            kept = self.plans.get(plan)
            for cast in kept.as_planned.batches.get(batch, ()) if kept else ():
                if kept and cast.place == turn.place and (row := kept.clean_of(cast)) is not None:
                    return row.start.to_pydatetime(), row.end.to_pydatetime()
        return None


def _of(one: Filled) -> _Of:
    return one.kind, (one.batch, one.poured)
