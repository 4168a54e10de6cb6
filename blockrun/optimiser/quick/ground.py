"""What is worked out of a problem once, for all plays."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from functools import cache

from blockrun.optimiser.frost import Frost
from blockrun.optimiser.limits import Limits
from blockrun.optimiser.problem import MINUTES_A_DAY, Load, Problem


class Ground:
    """Facts of a problem that plays ask for again and again."""

    def __init__(self, problem: Problem, limits: Limits) -> None:
        self.problem, self.frost, self.begun = problem, limits.frost, limits.begun
        self.frosty = Frost(problem).ever
        self.mixes = problem.mixes
        kinds = range(len(problem.moulds))
        self.casts = [self._castings_by_mix(kind) for kind in kinds]
        """Of each kind of mould, by mix: the castings."""
        castings = problem.castings
        self.most_volume = [
            {mix: max(castings[number].volume for number in numbers) for mix, numbers in of_kind.items()}
            for of_kind in self.casts
        ]
        """Of each kind of mould, by mix: what a cavity holds at the most."""
        self.loads = {
            (mixer, mix): [load for load in problem.loads if (load.mixer, load.mix) == (mixer, mix)]
            for mixer in range(problem.n_mixers)
            for mix in self.mixes
        }
        """By mixer and mix, ascending."""
        self.biggest_mixers = {mix: self._biggest_mixers(mix) for mix in self.mixes}
        """Mixers that make the biggest batches of a mix."""
        self.kinds_of = {mix: [kind for kind in kinds if mix in self.casts[kind]] for mix in self.mixes}
        self.last_poured = cache(limits.reach.last_poured)
        self.lead = max(problem.lay_at, problem.rack_for + MINUTES_A_DAY) // MINUTES_A_DAY
        """Days from the pour until a block may be laid, about."""
        self.cavities = self._cavities()
        self._dues = [[due for due, count in block.needs for _ in range(count)] for block in problem.formats]
        self.whole = {mix: self._whole(mix) for mix in self.mixes}
        """Volume of a mix that fills the biggest batch, or all its moulds where these take less."""
        self.indifferent = self._indifferent()
        """What of a policy makes no difference here."""

    def _castings_by_mix(self, kind: int) -> dict[int, list[int]]:
        found: dict[int, list[int]] = {}
        for number in sorted(self.problem.moulds[kind].casts):
            found.setdefault(self.problem.castings[number].mix, []).append(number)
        return found

    def _biggest_mixers(self, mix: int) -> list[int]:
        rooms = {mixer: loads[-1].room for (mixer, of), loads in self.loads.items() if of == mix and loads}
        return [mixer for mixer, room in rooms.items() if room == max(rooms.values())]

    def _indifferent(self) -> frozenset[str]:
        found: set[str] = set()
        if not self.problem.slabs:
            found.add("most_wanted")
        if not self.frosty:
            found.add("wary")
        if not self.has_small_mixers:
            found.add("small")
        if self.problem.n_mixers == 1 and not self.small_in_heat:
            found.add("fullest")
        if not self.problem.rack_for:
            found |= {"in_line", "share_rack"}
        if not any(block.needs for block in self.problem.formats):
            found.add("slack")
        return frozenset(found)

    @property
    def small_in_heat(self) -> bool:
        """Whether there are hours too hot for big batches alone."""
        return any(keeps for day in self.problem.days for _, _, keeps in day.hot)

    @property
    def has_small_mixers(self) -> bool:
        """Whether a mixer makes smaller batches of a mix than another."""
        return any(len(mixers) < self.problem.n_mixers for mixers in self.biggest_mixers.values())

    def _cavities(self) -> list[float]:
        """Of each format, blocks that all moulds cast of it in a turn where each shares itself out evenly."""
        found = [0.0] * len(self.problem.formats)
        for mould in self.problem.moulds:
            for number in mould.casts:
                for block, count in self.problem.castings[number].gives:
                    found[block] += mould.count * mould.cavities / len(mould.casts) * count
        return [max(count, 1e-9) for count in found]

    def _whole(self, mix: int) -> int:
        castings, moulds = self.problem.castings, self.problem.moulds
        in_moulds = sum(
            moulds[kind].count
            * moulds[kind].cavities
            * max(castings[number].volume for number in self.casts[kind][mix])
            for kind in self.kinds_of[mix]
        )
        return min(in_moulds, max(loads[-1].room for (_, of), loads in self.loads.items() if of == mix and loads))

    def biggest(self, mixer: int, mix: int, cement: int, agent: int) -> Load | None:
        """The biggest load that so much cement and agent is enough for."""
        for load in reversed(self.loads[mixer, mix]):
            if load.cement <= cement and load.agent <= agent:
                return load
        return None

    def quicker(self, load: Load, keeps: int) -> Load | None:
        """The biggest load of the same mixer and mix, up to one, that is poured while a batch keeps so long."""
        for of in reversed(self.loads[load.mixer, load.mix]):
            if of.cement <= load.cement and of.from_foam <= keeps:
                return of
        return None

    def biggest_of(self, mix: int) -> Load:
        """The biggest load of a mix that any mixer makes."""
        return self.loads[self.biggest_mixers[mix][0], mix][-1]

    def smallest(self, load: Load, volume: int) -> Load:
        """The smallest load of the same mixer and mix that has the room."""
        return next(of for of in self.loads[load.mixer, load.mix] if of.room >= volume)

    def due(self, block: int, poured: int) -> int:
        """Day on which the next block of a format is due when so many are poured; late in time without a date."""
        dues = self._dues[block]
        return dues[poured] if poured < len(dues) else 1 << 20

    def overdue(self, left: Sequence[int], day: int) -> int:
        """Blocks of those left to pour that can hardly be laid in time unless they were poured by a day."""
        by = day + self.lead
        pairs = zip(self._dues, self.problem.formats, left, strict=True)
        return sum(max(0, bisect_right(dues, by) - of.demand + more) for dues, of, more in pairs)

    def must_strip_by(self, day: int) -> int | None:
        """Last day, by its number, on which what is poured on a day may be stripped; ``None`` without a limit."""
        return self.frost.before(day) if self.frosty else None
