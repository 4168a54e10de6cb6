"""How the foreman fills moulds: what goes into which batch, and when each is poured."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta

from blockrun.mix import BatchSize, batch_sizes
from blockrun.mix.cubes import cubes_l
from blockrun.order import Order
from blockrun.planner.mixes import mix_proportions
from blockrun.site import MouldKind, Site
from tests.bench.ledger import MINUTES_A_DAY, OneAtATime, People
from tests.bench.rule.things import Batch, Mould, Size, Turn, volume_l
from tests.bench.rule.wants import Want
from tests.bench.rule.ways import Way


@dataclass(eq=False)
class Filled:
    """A turn that is to be poured, and the blocks taken for it."""

    turn: Turn
    taken: list[tuple[Size, Want]]

    @property
    def pours(self) -> list[tuple[int, float]]:
        """Of each cavity, or the slab: its place among the blocks, and litres without overfill."""
        if self.turn.kind.saw:
            length, height, thickness = self.turn.kind.cavity
            return [(0, length * height * thickness / 1e6)]
        return [(place, volume_l(size)) for place, (size, _) in enumerate(self.taken)]


class Mixing:
    """Batches: how big they can be, what goes into them, and what runs when."""

    def __init__(self, site: Site, order: Order, way: Way) -> None:
        self.site, self.way = site, way
        made = mix_proportions(site, order)
        self.sizes: dict[tuple[str, str], list[BatchSize]] = {
            (mixer.name, name): batch_sizes(site, mixer, mix) for mixer in site.mixers for name, mix in made.items()
        }
        self.mixers = {mixer.name: OneAtATime() for mixer in site.mixers}
        self.generator = OneAtATime()
        self.batches: list[Batch] = []
        self.bags = self.agent_l = 0.0

    # into batches

    def batches_for(self, filled: Iterable[Filled]) -> list[Batch]:
        """First fit into the batches begun, in the order of the moulds or biggest first."""
        pours = [(litres, place, of) for of in filled for place, litres in of.pours]
        if self.way.biggest_first:
            pours.sort(key=lambda pour: -pour[0])
        batches: list[Batch] = []
        litres_of: dict[str, float] = defaultdict(float)
        for litres, place, of in pours:
            litres_of[of.taken[place][0][0]] += litres
        kept = {mix: self._kept_for_cubes(mix, total) for mix, total in litres_of.items()}
        for litres, place, of in pours:
            mix, volume = of.taken[place][0][0], litres * (1 + self.site.overfill)
            batch = next((b for b in batches if b.mix == mix and self._room(b) >= volume), None)
            if batch is None:
                batch = self._begun(mix, volume + kept[mix], batches)
                batch.kept_l = kept[mix]
                batches.append(batch)
            batch.filled_l += litres
            blocks = of.taken if of.turn.kind.saw else [of.taken[place]]
            batch.blocks += [size for size, _ in blocks]
            of.turn.fills += [(size, batch) for size, _ in blocks]
        for batch in batches:
            poured = self._poured(batch)
            batch.size = next(s for s in self.sizes[batch.mixer.name, batch.mix] if s.room_l >= poured - 1e-7)
        return batches

    def _poured(self, batch: Batch) -> float:
        return batch.filled_l * (1 + self.site.overfill) + batch.kept_l

    def _room(self, batch: Batch) -> float:
        return batch.size.room_l - self._poured(batch)

    def _begun(self, mix: str, volume: float, batches: list[Batch]) -> Batch:
        """A batch in the mixer that has the fewest so far, or in the biggest."""
        used = Counter() if self.way.biggest_mixer else Counter(batch.mixer.name for batch in batches)
        able = [
            (used[mixer.name], -self.sizes[mixer.name, mix][-1].room_l, mixer.name)
            for mixer in self.site.mixers
            if self.sizes[mixer.name, mix] and self.sizes[mixer.name, mix][-1].room_l >= volume
        ]
        name = min(able)[2]
        mixer = next(mixer for mixer in self.site.mixers if mixer.name == name)
        return Batch(mixer, self.sizes[name, mix][-1], mix)

    def half_empty(self, batches: list[Batch], day: int) -> set[int]:
        """Ids of the last batch of each mix where it is less than half full, and not the only one of the day."""
        last = {batch.mix: batch for batch in batches}
        numbers = Counter(batch.mix for batch in batches)
        numbers.update(batch.mix for batch in self.batches if (batch.start or 0) // MINUTES_A_DAY == day)
        biggest = {mix: max(sizes[-1].room_l for (_, m), sizes in self.sizes.items() if m == mix) for mix in last}
        return {id(batch) for mix, batch in last.items() if numbers[mix] > 1 and self._poured(batch) < biggest[mix] / 2}

    # test cubes

    def _set_l(self) -> float:
        sets = self.site.test_cubes
        return cubes_l(sets.count, sets.size_mm, self.site.overfill) if sets else 0.0

    def _sets_due(self, mix: str, more_l: float = 0.0) -> int:
        """Sets that lots begun take and no batch gives yet, were so much more made."""
        sets = self.site.test_cubes
        if sets is None:
            return 0
        of_mix = [batch for batch in self.batches if batch.mix == mix]
        made_l = sum(batch.size.yield_l for batch in of_mix) + more_l
        return math.ceil(made_l / self._lot_l - 1e-9) - sum(batch.sets for batch in of_mix)

    @property
    def _lot_l(self) -> float:
        sets = self.site.test_cubes
        assert sets is not None
        assert isinstance(sets.every_l, float)
        return sets.every_l

    def _kept_for_cubes(self, mix: str, litres: float) -> float:
        """Room to keep in each batch of a day that pours so much of a mix: a set's, where a lot may begin."""
        may_begin = self.way.cubes_in_all or self._sets_due(mix, 1.5 * litres + 300) > 0
        return self._set_l() if may_begin else 0.0

    def give_cubes(self) -> None:
        """At the end of a day each lot begun has its set, from a batch of the day that kept room for it."""
        if self.site.test_cubes is None:
            return
        for mix in {batch.mix for batch in self.batches}:
            for batch in reversed(self.batches):
                if batch.mix == mix and batch.kept_l and self._sets_due(mix) > 0:
                    batch.sets, batch.cubes_l, batch.kept_l = 1, batch.kept_l, 0.0
        for batch in self.batches:
            batch.kept_l = 0.0

    # by the minute

    def pour(self, people: People, batch: Batch, free: int, last: int | None) -> bool:
        """Start a batch as early as can be today, its pour ending by ``last``; whether it could be."""
        day = people.midnight // MINUTES_A_DAY
        if last is None or not self._in_stock(day, batch):
            return False
        to_pour = batch.mixer.slurry_time_min + batch.size.foam_min
        last_foam = people.midnight + self.site.calendar.last_foam_min
        for start in people.starts(batch.size.length_min, batch.mixer.crew, free - to_pour):
            trial = replace(batch, start=start)
            foam = (trial.at("foam_at"), trial.at("pour_from"))
            if foam[0] > last_foam or trial.at("pour_to") > last:
                return False
            if self.mixers[batch.mixer.name].is_free(start, trial.at("end")) and self.generator.is_free(*foam):
                self._book(people, batch, start, foam)
                return True
        return False

    def _book(self, people: People, batch: Batch, start: int, foam: tuple[int, int]) -> None:
        batch.start = start
        people.take(start, batch.at("end"), batch.mixer.crew)
        self.mixers[batch.mixer.name].take(start, batch.at("end"))
        self.generator.take(*foam)
        self.bags += float(batch.size.bags)
        self.agent_l += batch.size.agent_l
        self.batches.append(batch)

    def _in_stock(self, day: int, batch: Batch) -> bool:
        cement, agent = self.site.stock.cement, self.site.stock.foaming_agent
        on: date = self.site.calendar.start + timedelta(days=day)
        bags = cement.on_hand_bags + sum(d.amount for d in cement.deliveries if d.day <= on)
        litres = agent.on_hand_l + sum(d.amount for d in agent.deliveries if d.day <= on)
        return self.bags + float(batch.size.bags) <= bags + 1e-9 and self.agent_l + batch.size.agent_l <= litres + 1e-9


def free_pairs(
    kinds: Iterable[MouldKind], moulds: Iterable[Mould], bases: Iterable[Mould], by: int
) -> Iterator[tuple[Mould, Mould | None]]:
    """Moulds free before a minute, each with a base where it takes one."""

    def free(things: Iterable[Mould], kind: MouldKind) -> list[Mould]:
        found = [thing for thing in things if thing.kind is kind and thing.free is not None and thing.free < by]
        return sorted(found, key=lambda thing: (thing.free or 0, thing.number))

    for kind in kinds:
        of_kind = free(moulds, kind)
        on: list[Mould] | list[None] = free(bases, kind) if kind.bases is not None else [None] * len(of_kind)
        yield from zip(of_kind, on, strict=False)
