"""A plan with a batch less: what a small one pours goes into others that have room for it, and the plan is followed so.

Where blocks are late, a play may pour one small batch after another; nothing in it looks back to see that one would do.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from blockrun.optimiser.quick.follow import followed
from blockrun.optimiser.quick.ground import Ground
from blockrun.optimiser.score import score
from blockrun.optimiser.state import Batch, State, Turn

_SMALL = 0.6
"""Share of the biggest batch up to which one is small; to share out bigger ones hardly ever comes to anything."""
_TRIES = 40


def with_fewer(ground: Ground, plan: State, stop: Callable[[], bool]) -> State:
    """A plan with fewer batches that is no worse in any stage before, or the same one where none is found."""
    best, tried = plan, 0
    found: State | None = plan
    while found is not None:
        found, best_score = None, score(ground.problem, best)
        for shared in _shared_out(ground, best):
            if tried == _TRIES or stop():
                return best
            tried += 1
            other = followed(ground, shared, 0, stop).plan
            if other is not None and score(ground.problem, other).stages < best_score.stages:
                best = found = other
                break
    return best


def _shared_out(ground: Ground, plan: State) -> Iterator[State]:
    """What there is to follow with one batch less, for each small one that can be shared out, the smallest first."""
    made = plan.batches[len(ground.begun.batches) :]
    volumes = {id(batch): ground.problem.poured(batch.content, batch.cubes) for batch in made}
    for batch in sorted(made, key=lambda batch: (volumes[id(batch)], batch.start)):
        if not batch.cubes and volumes[id(batch)] <= _SMALL * ground.whole[batch.load.mix]:
            shared = _without(ground, plan, batch, volumes)
            if shared is not None:
                yield shared


def _without(ground: Ground, plan: State, gone: Batch, volumes: dict[int, int]) -> State | None:
    """The plan as it is to be followed without a batch; ``None`` where the others have no room for all of it."""
    into = _placed(ground, plan, gone, volumes)
    if into is None:
        return None
    made = plan.batches[len(ground.begun.batches) :]
    bigger: dict[int, Batch] = {}
    for batch in made:
        gets = [turn for turn, place in into.items() if place is batch]
        if gets:
            castings = [number for turn in gets for number, of in plan.turns[turn].fills if of is gone]
            bigger[id(batch)] = _with_more(ground, batch, castings)
    turns = []
    for number, turn in enumerate(plan.turns):
        # what was over before the plan is no part of what is followed
        if number < len(ground.begun.turns) and ground.begun.turns[number].done:
            continue
        fills = []
        for casting, batch in turn.fills:
            kept = into[number] if batch is gone else batch
            fills.append((casting, bigger.get(id(kept), kept)))
        done = (turn.sides, turn.strip, turn.clean)
        kept_so = Turn(
            turn.mould, fills, *done, turn.blocks, turn.since, turn.caught, turn.waits, turn.beyond, turn.laid
        )
        turns.append(kept_so)
    return State(0, turns, [bigger.get(id(batch), batch) for batch in made if batch is not gone])


def _placed(ground: Ground, plan: State, gone: Batch, volumes: dict[int, int]) -> dict[int, Batch] | None:
    """For each turn that a batch fills, by its number, another batch to fill it: the nearest that has the room."""
    problem = ground.problem
    alike = [batch for batch in plan.batches[len(ground.begun.batches) :] if batch.load.mix == gone.load.mix]
    nearest = sorted((abs(batch.start - gone.start), place) for place, batch in enumerate(alike) if batch is not gone)
    most = ground.biggest_of(gone.load.mix).room
    room = [most - volumes[id(batch)] for batch in alike]
    parts = []
    for number, turn in enumerate(plan.turns):
        volume = sum(problem.castings[casting].volume for casting, batch in turn.fills if batch is gone)
        if volume:
            parts.append((-volume, number))
    into: dict[int, Batch] = {}
    for more, number in sorted(parts):
        place = next((place for _, place in nearest if room[place] + more >= 0), None)
        if place is None:
            return None
        room[place] += more
        into[number] = alike[place]
    return into


def _with_more(ground: Ground, batch: Batch, castings: list[int]) -> Batch:
    """A batch that pours these too, in a bigger mixer where its own is too small."""
    content = dict(batch.content)
    for number in castings:
        content[number] = content.get(number, 0) + 1
    volume = ground.problem.poured(content, batch.cubes)
    own = ground.loads[batch.load.mixer, batch.load.mix][-1]
    biggest = own if volume <= own.room else ground.biggest_of(batch.load.mix)
    return Batch(ground.smallest(biggest, volume), batch.start, content, batch.cubes)
