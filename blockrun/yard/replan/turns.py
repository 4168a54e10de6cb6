"""Turns that were begun, with the good blocks that came of them and where these are."""

from __future__ import annotations

from collections import Counter, defaultdict, deque
from collections.abc import Container, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING, NamedTuple

from blockrun.planner.begun.facts import BlockCast, TurnBegun
from blockrun.yard.replan.cleaned import Cleans

if TYPE_CHECKING:
    from blockrun.yard.now import Filled, Kind, Pile, Pour, Standing, State
    from blockrun.yard.replan.kept import Kept
    from blockrun.yard.replan.waiting import Waiting

_Of = tuple["Kind", "Pour"]
"""Blocks of one kind and one pour: which of them went where nobody can tell, and it is all the same."""


class _Where(NamedTuple):
    """A rack, empty where it is none, whether a block left one for the stack or the wall, and when it was laid."""

    rack: str = ""
    off_rack: bool = False
    laid: datetime | None = None


def turns_begun(
    state: State,
    numbers: Mapping[Pour, int],
    plans: Sequence[Kept],
    at: datetime,
    to_fill: Container[str],
    waiting: Waiting,
) -> list[TurnBegun]:
    """All turns of which there are good blocks, and those after which a mould is still to be cleaned.

    Parameters
    ----------
    state : where every block is.
    numbers : of the batches, in the plan to come.
    plans : made for the job, the one in hand first.
    at : the moment.
    to_fill : moulds and bases that may be filled again.
    waiting : what waits for a firmer block.
    """
    past, cleans = _Past(numbers, {kept.id: kept for kept in plans}), Cleans(plans, at)
    went = _went(state)
    following = _following(state.turns)
    counted: defaultdict[str, int] = defaultdict(int)
    begun = []
    for turn, then, places in zip(state.turns, following, went, strict=True):
        counted[turn.mould] += 1
        blocks = past.standing(turn) if turn.stripped is None else past.out(turn, places)
        clean = cleans.after(turn, counted[turn.mould], then)
        is_dirty = then is None and turn.stripped is not None and clean is None
        if blocks or (is_dirty and turn.mould in to_fill and turn.place in to_fill):
            waits = waiting.of(turn)
            begun.append(
                TurnBegun(
                    mould=turn.mould,
                    base=turn.base,
                    turn=counted[turn.mould],
                    sides_off=turn.sides_off,
                    strip=turn.stripped,
                    clean=clean,
                    poured=None if blocks else turn.poured,
                    sides_from=waits.sides_from,
                    strip_from=waits.strip_from,
                    beside=waits.doubt.beside,
                    air=waits.doubt.air,
                    blocks=tuple(blocks),
                )
            )
    return begun


def _following(turns: Sequence[Standing]) -> list[datetime | None]:
    """For each turn, when the next one in its place was poured first; None where none was."""
    after: dict[str, datetime] = {}
    found: list[datetime | None] = []
    for turn in reversed(turns):
        found.append(after.get(turn.place))
        after[turn.place] = turn.filled[0].poured if turn.filled else turn.poured
    return found[::-1]


def _went(state: State) -> list[dict[_Of, deque[_Where]]]:
    """For each turn where the good blocks of it are that are out of their mould.

    Of one pour they may be of several turns, and are then of such as were stripped by the time they came there; those
    laid first are of the turn that was stripped first.
    """
    places, left = _places_of(state), [_good_of(turn) for turn in state.turns]
    found: list[dict[_Of, deque[_Where]]] = [{} for _ in state.turns]
    stripped = [(turn.stripped, nth) for nth, turn in enumerate(state.turns) if turn.stripped is not None]
    turns_of: defaultdict[_Of, list[tuple[datetime, int]]] = defaultdict(list)
    for at, nth in sorted(stripped):
        for of in left[nth]:
            turns_of[of].append((at, nth))
    for of, turns in turns_of.items():
        there = places[of]
        for at, nth in reversed(turns):
            turns.pop()
            room = sum(left[other][of] for _, other in turns)
            count = min(left[nth][of], max(0, len(there) - room))
            later = [place for place, (since, _) in enumerate(there) if since >= at]
            taken = later[max(0, len(later) - count) :] if count else []
            found[nth][of] = deque(there[place][1] for place in taken)
            there = [one for place, one in enumerate(there) if place not in taken]
    return found


def _good_of(turn: Standing) -> Counter[_Of]:
    """Blocks of a turn but for those that were lost in its mould."""
    left = Counter(map(_of, turn.filled))
    for kind, lot in turn.lost.lots():
        left[kind, (lot.batch, lot.poured)] -= lot.n_blocks
    return +left


def _places_of(state: State) -> dict[_Of, list[tuple[datetime, _Where]]]:
    """Good blocks out of their moulds, each with where it is or went and since when; those laid first come first."""
    found: dict[_Of, list[tuple[datetime, _Where]]] = defaultdict(list)
    laid = ((kind, lot) for pile in state.laid.values() for kind, lot in pile.lots())
    for kind, lot in sorted(laid, key=lambda one: one[1].since):
        where = _Where(off_rack=True, laid=lot.since)
        found[kind, (lot.batch, lot.poured)].extend([(lot.since, where)] * lot.n_blocks)
    for where, pile in _not_laid(state):
        for kind, lot in pile.lots():
            found[kind, (lot.batch, lot.poured)].extend([(lot.since, where)] * lot.n_blocks)
    return found


def _not_laid(state: State) -> Iterator[tuple[_Where, Pile]]:
    for pile in state.stacks.values():
        yield _Where(off_rack=True), pile
    for pile in state.out.values():
        yield _Where(), pile
    for rack, pile in state.racks.items():
        yield _Where(rack), pile


@dataclass(frozen=True)
class _Past:
    numbers: Mapping[Pour, int]
    plans: Mapping[str, Kept]

    def standing(self, turn: Standing) -> list[BlockCast]:
        """Blocks that stand in a mould: those that were thrown out of it are not among them."""
        left: defaultdict[_Of, int] = defaultdict(int)
        for kind, lot in turn.blocks.lots():
            left[kind, (lot.batch, lot.poured)] += lot.n_blocks
        kept = []
        for one in turn.filled:
            if left[_of(one)]:
                left[_of(one)] -= 1
                kept.append(self._block(turn, one, _Where()))
        return kept

    def out(self, turn: Standing, went: Mapping[_Of, deque[_Where]]) -> list[BlockCast]:
        """Good blocks of a turn that is over."""
        filled = (one for one in turn.filled if went.get(_of(one)))
        return [self._block(turn, one, went[_of(one)].popleft()) for one in filled]

    def _block(self, turn: Standing, one: Filled, where: _Where) -> BlockCast:
        plan, batch = one.batch
        sawn = self.plans[plan].sawn(batch, turn.mould, one.cavity) if plan in self.plans else None
        return BlockCast(
            cavity=one.cavity,
            mark=one.kind[0],
            mix=one.kind[1],
            batch=self.numbers[one.batch, one.poured],
            rack=where.rack,
            off_rack=where.off_rack,
            laid=where.laid,
            sawn=sawn,
        )


def _of(one: Filled) -> _Of:
    return one.kind, (one.batch, one.poured)
