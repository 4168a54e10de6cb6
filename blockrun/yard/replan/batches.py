"""Batches that were poured, each with what its plan has for it, under the numbers that they keep."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from blockrun.errors import BadInput
from blockrun.mix import batch_sizes
from blockrun.planner.begun.facts import BatchPoured
from blockrun.planner.mixes import mix_proportions
from blockrun.yard.journal.events import Crushed, Poured
from blockrun.yard.replan.numbers import numbers_of

if TYPE_CHECKING:
    from blockrun.yard.journal import Entry
    from blockrun.yard.now import Pour
    from blockrun.yard.replan.kept import Kept


@dataclass(frozen=True)
class Batches:
    """Batches that were poured.

    Attributes
    ----------
    poured : in order of the clock.
    numbers : of each pour; of two of one batch in one minute that of the last.
    """

    poured: tuple[BatchPoured, ...]
    numbers: Mapping[Pour, int]


def batches_poured(entries: Iterable[Entry], plans: Sequence[Kept]) -> Batches:
    """All batches that were poured.

    Parameters
    ----------
    entries : those that stand and had happened, by the clock.
    plans : the one in hand first. A batch of none of them is taken as big as its blocks need it.
    """
    entries, crushed = list(entries), defaultdict[tuple[str, int], list[float]](list)
    for entry in entries:
        if isinstance(entry.event, Crushed) and entry.event.what == "cube" and entry.event.batch is not None:
            crushed[entry.event.plan, entry.event.batch].append(entry.event.age_d)
    by_id = {kept.id: kept for kept in reversed(plans)}
    pours = [(entry.happened, entry.event) for entry in entries if isinstance(entry.event, Poured)]
    last = {(event.plan, event.batch): nth for nth, (_, event) in enumerate(pours) if event.filled}
    before = plans[0].plan.begun
    each = numbers_of(
        [((event.plan, event.batch), at) for at, event in pours],
        before.batches if before else (),
        plans[0].id,
        {nth for nth, (_, event) in enumerate(pours) if not event.filled},
    )
    poured, numbers = [], {}
    for nth, ((at, event), number) in enumerate(zip(pours, each, strict=True)):
        kept = by_id.get(event.plan)
        row = kept.batches.get(event.batch) if kept else None
        mixer, bags = (row.mixer, float(row.bags)) if row else _as_big(event, plans[0])
        # cubes are of the pour that was kept: the last that filled anything
        is_kept = last.get((event.plan, event.batch)) == nth
        sets = kept.sets.get(event.batch, ()) if kept and is_kept else ()
        poured.append(
            BatchPoured(
                number=number,
                plan=event.plan,
                was=event.batch,
                mixer=mixer,
                mix=event.mix,
                bags=bags,
                poured=at,
                cubes=len(sets),
                sets=sets,
                crushed=tuple(crushed[event.plan, event.batch]) if is_kept else (),
            )
        )
        numbers[(event.plan, event.batch), at] = number
    return Batches(tuple(poured), numbers)


def _as_big(event: Poured, kept: Kept) -> tuple[str, float]:
    """The mixer and the bags of the smallest batch that fills its cavities; the biggest where none does."""
    site, order = kept.plan.site, kept.plan.order
    litres = {(line.mark, line.mix): line.volume_l for line in kept.plan.ordered}
    marks = [mark for fill in event.fills for mark in fill.marks if mark]
    needed = sum(litres.get((mark, event.mix), 0.0) for mark in marks) * (1 + site.overfill)
    made = mix_proportions(site, order).get(event.mix)
    if made is None:
        what = f"a batch of {event.mix} was poured by a plan that is not kept, and the order has no such mix"
        raise BadInput(what, "Leave the mix in the order, or undo the pour: blockrun record DIR undo NUMBER")
    sizes = [
        (size.room_l, mixer.name, float(size.bags)) for mixer in site.mixers for size in batch_sizes(site, mixer, made)
    ]
    enough = [size for size in sizes if size[0] >= needed]
    _, mixer, bags = min(enough) if enough else max(sizes)
    return mixer, bags
