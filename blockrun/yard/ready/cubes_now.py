"""What cubes say of blocks that are in the yard now."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from blockrun.planner.morning import CubesNow

if TYPE_CHECKING:
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.now import BatchNo, State
    from blockrun.yard.ready.cubes import CubeSet, RecordedCubes
    from blockrun.yard.ready.ripe import Ripe
    from blockrun.yard.ready.strong import Told


def cubes_now(plan: AsPlanned, state: State, ripe: Ripe, cubes: RecordedCubes) -> Iterator[CubesNow]:
    """Cubes of batches that stand in moulds; of others only where they say something of laying their blocks."""
    standing = {batch for here in state.moulds.values() for batch in here.batches}
    piles = [*state.out.values(), *state.racks.values(), *state.stacks.values()]
    after = {lot.batch for pile in piles for _, lot in pile.lots()}
    for batch in cubes.batches():
        last = cubes.last_of(batch)
        if last is not None and batch in standing:
            yield _now(plan, last, "strip", ripe.strip_mpa, ripe.cubes_on_strip)
        if last is not None and batch in after:
            laying = _now(plan, last, "lay", ripe.lay_mpa, ripe.cubes_on_laying)
            if laying.holds or laying.sooner:
                yield laying


def _now(
    plan: AsPlanned, last: CubeSet, job: str, asked_mpa: float | None, ask: Callable[[BatchNo], Told | None]
) -> CubesNow:
    told = ask(last.batch)
    holds, sooner = told is not None and told.holds, told is not None and told.age_h is not None
    number = plan.number_of(last.batch) or last.batch[1]
    return CubesNow(number, last.weakest_mpa, last.age_h, job, asked_mpa, holds, sooner)
