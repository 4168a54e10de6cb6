"""Batches outside their cards, to be set apart until something speaks for them.

Blocks of a batch that is too light may be too weak, one too heavy is not the mix that was ordered either: none of it is
ready to be laid. Cubes of the batch end that, crushed since its pour, where they are as strong as site and order ask
for; where neither asks for a strength, or no cubes were made, somebody has to answer for the batch (`Passed`).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.planner.morning import BatchOffCard
from blockrun.yard.journal.events import Passed, Poured
from blockrun.yard.off_card import speaks_against
from blockrun.yard.ready.courses import counts_of

if TYPE_CHECKING:
    from blockrun.mix.off_card import OffCard
    from blockrun.planner.as_planned import AsPlanned
    from blockrun.yard.journal import Entry
    from blockrun.yard.now import BatchNo, Pour
    from blockrun.yard.ready.supply import Supply


def set_apart(
    plan: AsPlanned, entries: Iterable[Entry], cubes_pass: Callable[[BatchNo, str, datetime], bool]
) -> dict[Pour, OffCard]:
    """Pours outside their cards for which nothing speaks, each with what it weighs, in order.

    Parameters
    ----------
    entries : those that stand and happened by then.
    cubes_pass : as `Ripe` has it.
    """
    found: dict[Pour, OffCard] = {}
    for entry in entries:
        if isinstance(event := entry.event, Poured) and (off := speaks_against(event, plan)):
            batch = (event.plan, event.batch)
            if not cubes_pass(batch, event.mix, entry.happened):
                found[batch, entry.happened] = off
        elif isinstance(event, Passed):  # it is a word for what was poured by then
            for pour in [pour for pour in found if pour[0] == (event.plan, event.batch)]:
                del found[pour]
    return found


def batches_off_card(
    plan: AsPlanned, apart: Mapping[Pour, OffCard], supply: Iterable[Supply]
) -> Iterator[BatchOffCard]:
    """Those of which blocks are yet to be laid, with where these are.

    Parameters
    ----------
    apart : as `set_apart` has it.
    supply : all blocks there are, none given to a course yet.
    """
    blocks: dict[Pour, dict[str, Counter[str]]] = {}
    for one in supply:
        if one.lot.pour in apart:
            of_pour = blocks.setdefault(one.lot.pour, {})
            of_pour.setdefault(one.where, Counter())[one.kind[0]] += one.n_blocks
    for pour, off in apart.items():
        if pour in blocks:
            where = tuple((place, counts_of(counts)) for place, counts in blocks[pour].items())
            yield BatchOffCard(batch_said(pour[0], plan), off, where)


def batch_said(batch: BatchNo, plan: AsPlanned) -> str:
    """The number that a plan has for a batch, or ``extra 1`` for one of no plan."""
    digits, number = batch
    return str(plan.number_of(batch) or number) if digits else f"extra {number}"
