"""What one mixer can make of one mix, in numbers of batches and of cement, whatever the sizes chosen."""

from __future__ import annotations

from dataclasses import dataclass

from blockrun.optimiser.problem import Load, Problem

_COARSE = 1000


@dataclass(frozen=True)
class Maker:
    """A mixer making a mix.

    Sizes of batch lie on a line, so that n batches of c cement in all have ``per_cement c +
    per_batch n`` of room: in thousands of the problem's volume, never less than the truth.
    """

    loads: tuple[int, ...]
    mixer: int
    mix: int
    crew: int
    least_cement: int
    most_cement: int
    per_cement: int
    per_batch: int
    agent_per_cement: int
    shortest: Load
    biggest: Load


def makers_of(problem: Problem) -> tuple[Maker, ...]:
    """All pairs of mixer and mix that can make a batch."""
    found = []
    for mixer in range(problem.n_mixers):
        for mix in problem.mixes:
            indices = [i for i, load in enumerate(problem.loads) if (load.mixer, load.mix) == (mixer, mix)]
            if indices:
                found.append(_maker(problem, tuple(indices)))
    return tuple(found)


def _maker(problem: Problem, indices: tuple[int, ...]) -> Maker:
    loads = [problem.loads[i] for i in indices]
    least, most = min(loads, key=lambda load: load.cement), max(loads, key=lambda load: load.cement)
    rise = most.cement - least.cement
    per_cement = -(-(most.room - least.room) // (_COARSE * rise)) + 1 if rise else 0
    # the line must not fall below any size, for it is to bound what batches hold
    per_batch = max(-(-load.room // _COARSE) - per_cement * load.cement for load in loads)
    return Maker(
        loads=indices,
        mixer=least.mixer,
        mix=least.mix,
        crew=min(load.crew for load in loads),
        least_cement=least.cement,
        most_cement=most.cement,
        per_cement=per_cement,
        per_batch=per_batch,
        agent_per_cement=min(load.agent // load.cement for load in loads),
        shortest=min(loads, key=lambda load: load.length),
        biggest=max(loads, key=lambda load: load.room),
    )


def coarse(volume: int) -> int:
    """A volume in the unit of ``Maker``, rounded down."""
    return volume // _COARSE
