"""Batches outside their cards, to be set apart until something speaks for them.

Blocks of a batch that is too light may be too weak, one too heavy is not the mix that was ordered either: none of it is
ready to be laid. Cubes of the batch end that, crushed since its pour, where they are as strong as site and order ask
for; where neither asks for a strength, or no cubes were made, somebody has to answer for the batch (`Passed`), which
counts until later cubes are weaker.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.planner.morning import BatchOffCard
from blockrun.yard.called import batch_said
from blockrun.yard.journal.events import Passed, Poured
from blockrun.yard.off_card import speaks_against
from blockrun.yard.ready.courses import counts_of

if TYPE_CHECKING:
    from blockrun.mix.off_card import OffCard
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.journal import Entry
    from blockrun.yard.now import BatchNo, Pour, State
    from blockrun.yard.ready.supply import Supply

    CubesSay = Callable[[BatchNo, str, datetime], bool | None]
    """As `Ripe.cubes_say`."""


def set_apart(
    plan: AsPlanned, entries: Iterable[Entry], cubes_say: CubesSay, against: dict[str, OffCard | None] | None = None
) -> dict[Pour, OffCard]:
    """Pours into moulds outside their cards for which nothing speaks, each with what it weighs, in order.

    Of a batch that was poured several times cubes speak for its last pour alone: nobody knows of which they are.

    Parameters
    ----------
    entries : those that stand and happened by then.
    cubes_say : as `Ripe` has it.
    against : what was found before to speak against pours, by the keys of their entries; what is found now is added.
    """
    told, against = [*entries], {} if against is None else against
    pours = [(one.key, one.happened, one.event) for one in told if isinstance(one.event, Poured)]
    for key, _, event in pours:
        if key not in against:
            against[key] = speaks_against(event, plan) if event.filled else None
    if not any(against[key] for key, _, _ in pours):
        return {}
    last = {(event.plan, event.batch): at for _, at, event in pours if event.filled}
    spoken = [one for one in told if isinstance(one.event, Passed)]
    found: dict[Pour, OffCard] = {}
    for key, at, event in pours:
        if off := against[key]:
            batch = (event.plan, event.batch)
            words = [one.happened for one in spoken if is_word_for(one, batch) and one.happened >= at]
            says = cubes_say(batch, event.mix, max([at, *words])) if last[batch] == at else None
            if says is False or not (says or words):
                found[batch, at] = off
    return found


def is_word_for(entry: Entry, batch: BatchNo) -> bool:
    """Whether somebody answers in it for a batch."""
    return isinstance(entry.event, Passed) and (entry.event.plan, entry.event.batch) == batch


def blocks_apart(state: State, apart: Container[Pour]) -> Counter[Pour]:
    """How many blocks of pours set apart are there yet, wherever they stand."""
    left: Counter[Pour] = Counter()
    for pile in state.to_lay():
        for _, lot in pile.lots():
            left[lot.pour] += lot.n_blocks * (lot.pour in apart)
    return +left


def batches_off_card(
    plan: AsPlanned, apart: Mapping[Pour, OffCard], supply: Iterable[Supply], asked_mpa: Callable[[str], float | None]
) -> Iterator[BatchOffCard]:
    """Those of which blocks are yet to be laid, with where these are.

    Parameters
    ----------
    apart : as `set_apart` has it.
    supply : all blocks there are, none given to a course yet.
    asked_mpa : as `Ripe` has it.
    """
    blocks: dict[Pour, dict[str, Counter[str]]] = {}
    mixes: dict[Pour, str] = {}
    for one in supply:
        if one.lot.pour in apart:
            mixes[one.lot.pour] = one.kind[1]
            of_pour = blocks.setdefault(one.lot.pour, {})
            of_pour.setdefault(one.where, Counter())[one.kind[0]] += one.n_blocks
    for pour, off in apart.items():
        if pour in blocks:
            where = tuple((place, counts_of(counts)) for place, counts in blocks[pour].items())
            yield BatchOffCard(batch_said(pour[0], plan, pour[1]), off, where, asked_mpa(mixes[pour]))
