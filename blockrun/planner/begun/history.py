"""What had happened, as the optimiser counts it: batches, and turns in their own moulds and on their own bases."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.errors import BadInput
from blockrun.optimiser.state import FOREVER, Batch, Span, State, Turn
from blockrun.site.mould_names import number_named

if TYPE_CHECKING:
    from blockrun.optimiser.problem import Load, Mould, Problem
    from blockrun.planner.begun.facts import BatchPoured, Begun, TurnBegun
    from blockrun.site import Rack, Site

_NEAR = 1e-6
_GONE = "the site and the order know no more"


@dataclass(frozen=True)
class Named:
    """The numbers that things of a site and an order have in a problem.

    Attributes
    ----------
    formats : of each mark and mix.
    moulds : kinds of the problem, the last of them those that stand apart.
    loads : with the mixer, the mix and the bags that each stands for.
    apart : turns that stand in what is out of use, each in a kind of mould of its own.
    """

    formats: Mapping[tuple[str, str], int]
    moulds: tuple[Mould, ...]
    loads: tuple[tuple[Load, str, str, float], ...]
    apart: tuple[TurnBegun, ...]

    def kind_of(self, turn: TurnBegun) -> int:
        """Number of the kind of mould that a turn is in."""
        if turn in self.apart:
            return len(self.moulds) - len(self.apart) + self.apart.index(turn)
        return next(number for number, mould in enumerate(self.moulds) if mould.name == turn.kind)


@dataclass(frozen=True)
class Stood:
    """A turn that was begun: as the optimiser counts it, and what had happened to it."""

    turn: Turn
    facts: TurnBegun

    @property
    def unit(self) -> int:
        """Number of its mould."""
        return number_named(self.facts.mould)

    @property
    def base(self) -> int:
        """Number of its base; 0 for none."""
        return number_named(self.facts.base) if self.facts.base else 0


@dataclass(frozen=True)
class History:
    """All that had happened.

    Attributes
    ----------
    now : the minute at which the plan was made anew.
    batches : by their numbers.
    turns : that were begun.
    """

    now: int
    batches: Mapping[int, Batch]
    turns: tuple[Stood, ...]

    @property
    def state(self) -> State:
        """The yard at that moment, for the search to begin from."""
        return State(0, [stood.turn for stood in self.turns], list(self.batches.values()))

    @property
    def opens(self) -> int:
        """The first minute at which anything may be done: the last batch is washed out."""
        return max([self.now, *(batch.end for batch in self.batches.values())])


def fit_on_racks(history: History, racks: Iterable[Rack], problem: Problem) -> None:
    """Count no more blocks on a rack than it has places: of what is too much there, not those that leave first.

    Nothing comes to such a rack until they have left, and nothing comes to a full one: it is the same.
    """
    room = {rack.name: rack.places for rack in racks}
    leaves = {
        stood: problem.leaves_rack(stood.turn.strip.end) for stood in history.turns if stood.turn.strip is not None
    }
    still = sorted((stood for stood in leaves if leaves[stood] > history.now), key=lambda stood: -leaves[stood])
    places = [(stood, block.rack) for stood in still for block in stood.facts.blocks]
    counted = Counter[Stood]()
    # those of whose rack nothing is told go wherever the others have left room
    for stood, told in sorted(places, key=lambda place: place[1] not in room):
        rack = told if told in room else max(room, key=lambda name: room[name], default="")
        if room.get(rack):
            room[rack] -= 1
            counted[stood] += 1
    for stood in still:
        stood.turn.beyond = len(stood.facts.blocks) - counted[stood]


def history_of(begun: Begun, site: Site, named: Named) -> History:
    """What had happened, in the numbers of a problem.

    Raises
    ------
    BadInput : the order or the site no longer has what was poured.
    """
    past = _Past(site, named)
    content: dict[int, Counter[int]] = {batch.number: Counter() for batch in begun.batches}
    for turn in begun.turns:
        for block in turn.blocks:
            content[block.batch][past.format_of(block.mark, block.mix)] += 1
    batches = {batch.number: past.batch(batch, dict(content[batch.number])) for batch in begun.batches}
    turns = tuple(Stood(past.turn(turn, batches), turn) for turn in begun.turns)
    return History(site.calendar.minute_of(begun.since), batches, turns)


@dataclass(frozen=True)
class _Past:
    site: Site
    named: Named

    def minute(self, moment: datetime) -> int:
        return self.site.calendar.minute_of(moment)

    def format_of(self, mark: str, mix: str) -> int:
        try:
            return self.named.formats[mark, mix]
        except KeyError:
            what = f"blocks {mark} of {mix} were cast, and the order has none any more"
            raise BadInput(what, "Leave them in the order, if only as spares.") from None

    def batch(self, facts: BatchPoured, content: dict[int, int]) -> Batch:
        load = self._load(facts)
        return Batch(load, max(0, self.minute(facts.poured) - load.to_poured), content, facts.cubes)

    def _load(self, facts: BatchPoured) -> Load:
        """The load of the problem that it was."""
        for load, mixer, mix, bags in self.named.loads:
            if (mixer, mix) == (facts.mixer, facts.mix) and abs(bags - facts.bags) < _NEAR:
                return load
        what = f"batch {facts.number} was {facts.bags:g} bags of {facts.mix} in the {facts.mixer}, which {_GONE}"
        raise BadInput(what, "Leave the mixer and the mix as they were; a new one goes beside them.")

    def turn(self, facts: TurnBegun, batches: Mapping[int, Batch]) -> Turn:
        kind = self.named.kind_of(facts)
        mould = self.named.moulds[kind]
        fills = [(self.format_of(block.mark, block.mix), batches[block.batch]) for block in facts.blocks]
        since = None if facts.poured is None else (self.minute(facts.poured), self.minute(facts.poured))
        waits = (self._or_at_once(facts.sides_from), self._or_at_once(facts.strip_from))
        turn = Turn(kind, fills, blocks=len(fills), since=since, waits=waits, laid=tuple(self._laid(facts)))
        if facts.strip is not None:
            turn.strip = self._ended(facts.strip, mould.strip)
        if mould.bases and facts.sides_off is not None:
            turn.sides = self._ended(facts.sides_off, mould.sides)
        elif mould.bases and turn.strip is not None:
            turn.sides = Span(turn.strip.start - mould.sides, turn.strip.start)
        if facts.clean is not None:
            turn.clean = self._ended(facts.clean, mould.clean)
        return turn

    def _laid(self, facts: TurnBegun) -> Iterable[int]:
        """When each of its blocks was laid; nothing where none was."""
        if any(block.laid for block in facts.blocks):
            yield from (FOREVER if block.laid is None else self.minute(block.laid) for block in facts.blocks)

    def _or_at_once(self, moment: datetime | None) -> int:
        return 0 if moment is None else self.minute(moment)

    def _ended(self, moment: datetime, minutes: int) -> Span:
        end = self.minute(moment)
        return Span(end - minutes, end)
