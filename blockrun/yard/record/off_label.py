"""Blocks that a label on a rack stands for once they are out of their mould: those of its turn, batch by batch."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence, Set
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.yard.called import batch_said
from blockrun.yard.now import Pile
from blockrun.yard.record.blocks import OF, is_mark
from blockrun.yard.record.moves import came_out_good
from blockrun.yard.record.words import is_number

if TYPE_CHECKING:
    from blockrun.yard.now import BatchNo, Kind, Standing
    from blockrun.yard.record.known import Known

OF_BLOCKS: Final = ("stacked", "moved", "rejected")
"""What is told of blocks on a rack."""

_WITHOUT: Final = "Tell them by their rack instead, such as: blockrun record DIR stacked RACK 3 full"

_TO: Final = "to"
_BATCH: Final = "of"


def of_blocks(
    first: str, label: tuple[str, Set[BatchNo], str], behind: Sequence[str], known: Known
) -> Iterator[list[str]]:
    """What was typed of a label, as it is typed without one; a batch at a time.

    Parameters
    ----------
    first : one of `OF_BLOCKS`.
    label : the mould or base that the blocks were in, their batches, and the rack it is on.
    behind : the words behind the label.

    Raises
    ------
    BadInput : nothing of it is on a rack any more.
    """
    place, batches, rack = label
    turns = [turn for turn in known.state.turns if turn.place == place]
    turn = next((one for one in reversed(turns) if batches & {*one.batches}), None)
    if turn is None:
        todo = f"If it was: blockrun record DIR poured BATCH, then stripped {place}"
        raise BadInput(f"nobody recorded that what this label stands for was poured into {place}", todo)
    if first.lower() == "moved" and turn is turns[-1]:
        yield [first, place, *behind, *([] if _TO in behind else [_TO, rack])]
        return
    there = _on_rack(turn, known.state.racks.get(rack, Pile()))
    if not there:
        raise BadInput(f"nothing of what was in {place} is on rack {rack} any more", "See: blockrun ready DIR")
    n_own = _n_words_of_blocks(behind, known)
    if n_own and (len(there) > 1 or behind[n_own : n_own + 1] == [_BATCH]):
        yield [first, rack, *behind]
        return
    for batch, counts in there.items():
        told = [word for kind, count in sorted(counts.items()) for word in (str(count), OF.join(kind))]
        from_rack = [] if first.lower() == "moved" else [rack]
        yield [first, *from_rack, *(behind[:n_own] or told), _BATCH, *_typed(batch, known), *behind[n_own:]]


def _on_rack(turn: Standing, pile: Pile) -> dict[BatchNo, Counter[Kind]]:
    """What came out of a mould and is on a rack still, by batch; of each no more than lies there of its batch."""
    there: dict[BatchNo, Counter[Kind]] = {}
    for kind, lot in pile.lots():
        there.setdefault(lot.batch, Counter())[kind] += lot.n_blocks
    found = {batch: counts & there.get(batch, Counter()) for batch, counts in came_out_good(turn).items()}
    return {batch: counts for batch, counts in found.items() if counts}


def _typed(batch: BatchNo, known: Known) -> list[str]:
    """A batch as it is typed behind ``of``."""
    said = batch_said(batch, known.plan)
    if known.plan.number_of(batch) is None and batch[0]:
        raise BadInput(f"blocks of batch {said} are among what this label stands for", _WITHOUT)
    return said.split()


def _n_words_of_blocks(words: Sequence[str], known: Known) -> int:
    """How many of some words, from the first on, tell blocks: ``2 full 1 half``."""
    n_words = 0
    while n_words < len(words) and is_number(words[n_words]):
        n_words += 1 + is_mark("".join(words[n_words + 1 : n_words + 2]), known.kinds)
    return n_words
