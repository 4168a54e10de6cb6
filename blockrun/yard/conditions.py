"""Whether a day lets a batch be poured: the air it will stand in, the heat of its hour, cement, foaming agent."""

from __future__ import annotations

from typing import TYPE_CHECKING

from blockrun.units import MINUTES_A_DAY
from blockrun.yard.board import Board
from blockrun.yard.ripening import COLDER, USUAL

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence

    from blockrun.yard.run import Run
    from blockrun.yard.setting import Day, Load


class Conditions:
    """What one day allows.

    The yard knows the forecast, how cold it is today, and how long that will last; not that it will turn cold tomorrow.
    """

    def __init__(self, run: Run, day: Day) -> None:
        self._run = run
        self._day = day
        self._cold_until = run.luck.snap_ends[day.number]
        self._hot = day.hot[COLDER if run.luck.cold[day.number] else USUAL]

    def warm_enough(self, kinds: Iterable[int], poured: int) -> bool:
        """Whether no day that is known falls under ``least_air`` until moulds poured then can be stripped."""
        run, setting, today = self._run, self._run.setting, self._day.number
        ripe = max((run.ripe.strip(kind, poured) for kind in kinds), default=poured)
        last = setting.next_days[min(ripe // MINUTES_A_DAY, setting.n_days - 1)]
        return all(
            setting.lowest_c[day] - (setting.colder_c if day <= self._cold_until else 0.0) >= setting.least_c
            for day in range(today, last + 1)
        )

    def too_hot(self, load: Load) -> int:
        """Minutes, as bits, at which its foam may not go in: it would set before it is poured."""
        return 0 if load.hardy else self._hot.get(load.from_foam, 0)

    def largest(self, sizes: Sequence[Load]) -> Iterator[Load]:
        """The largest size of batch; then smaller ones, each the largest that heat leaves more minutes for."""
        hot = None
        for load in reversed(sizes):
            if self.too_hot(load) != hot:
                hot = self.too_hot(load)
                yield load

    def only_smaller(self, load: Load, sizes: Sequence[Load]) -> bool:
        """Whether it is at all hours too hot for a size of batch, and not so for the smallest."""
        return bool(self.too_hot(load)) and not self._fits(load) and self._fits(sizes[0])

    def _fits(self, load: Load) -> bool:
        board = Board(self._run.setting.windows, self._day.people, load.mixer + 1)
        return board.find_batch(load, 0, self._day.last_foam, self.too_hot(load)) is not None

    def has(self, load: Load) -> bool:
        """Whether cement and agent for it are there; if not, more is bought."""
        state, day = self._run.state, self._day.number
        has = [state.cement.has(load.bags, day), state.agent.has(load.agent_l, day)]
        return all(has)
