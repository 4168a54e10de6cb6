"""Blocks set apart that lie among good ones of their mark: a number alone does not tell which of them are meant."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.yard.called import batch_said
from blockrun.yard.journal.events import Blocks, Laid, Moved, OfBatch, Rejected, Stacked
from blockrun.yard.now import Kind, Lot, Pile
from blockrun.yard.record.crushing import batch_meant
from blockrun.yard.record.taken import Taken, taken_by

if TYPE_CHECKING:
    from blockrun.yard.record.known import Known
    from blockrun.yard.record.words import Words

Lots = Iterable[tuple[Kind, Lot]]

OTHERS: Final = "others"
"""All batches that are not set apart."""


def of_typed(words: Words, known: Known, lots: Lots) -> tuple[OfBatch, ...]:
    """The batches behind ``of``: ``of 7``, ``of extra 1``, ``of others``; none where nothing is told, or nothing there.

    Parameters
    ----------
    lots : that may be meant.
    """
    if not words.take_if("of"):
        return ()
    if words.take_if(OTHERS):
        apart, there = known.apart, [lot for _, lot in lots]
        batches = sorted({lot.batch for lot in there if lot.pour not in apart})
        if there and not batches:
            raise BadInput("all of them are set apart", "See: blockrun ready DIR")
    else:
        words.take_if("batch")
        batches = [batch_meant(words, known)[0]]
    return tuple(OfBatch(plan=plan, batch=batch) for plan, batch in batches)


def apart_now(known: Known) -> tuple[OfBatch, ...]:
    """Batches that are set apart at the moment."""
    return tuple(OfBatch(plan=plan, batch=number) for (plan, number), _ in known.apart)


def check_which(blocks: Iterable[Blocks], known: Known, lots: Lots, written: str) -> None:
    """Refuse a number of blocks that may be good ones or such as are set apart.

    Parameters
    ----------
    lots : that may be meant.
    written : how it is written with ``{}`` in the place of the blocks.

    Raises
    ------
    BadInput : it may; it says what to write.
    """
    there = list(lots)
    for one in blocks:
        of_kind = [lot for kind, lot in there if kind == (one.mark, one.mix)]
        bad, n_there = _bad(of_kind, known), _n_blocks(of_kind)
        if bad and one.count < n_there:
            what = f"which {one.mark}? {_some(bad, n_there)} that may be meant {_are(bad, known)}"
            mould = "Name the mould that it came out of, or its batch"
            others, batch = f"of {OTHERS} stands for all that are not set apart", _example(bad, known)
            count = min(one.count, _n_of(batch, of_kind, bad, known))
            if count < one.count:
                others += "; of several batches tell one at a time"
            todo = f"{mould}; {others}: {written.format(f'{count} {one.mark} of {batch}')}"
            raise BadInput(what, f"Nothing was recorded. {todo}")


def mingled(event: Laid | Rejected | Stacked, known: Known) -> Iterator[str]:
    """What is taken from where good blocks and such as are set apart lie together; and what is stacked among others."""
    taken = list(taken_by(event, known.state))
    if isinstance(event, Stacked):
        piles, apart = known.state.stacks.values(), known.apart
        mixed = _mixed(piles, known) if apart else set()
        # good blocks on a stack that is mixed already change nothing: said each time, it would be read no longer
        new = [one for one in taken if one.kind not in mixed or one.lot.pour in apart]
        yield from _keep_apart(new, piles, "that are stacked now", known)
    if not event.of:
        yield from _guessed(event, taken, known)


def _guessed(event: Laid | Rejected | Stacked, taken: list[Taken], known: Known) -> Iterator[str]:
    for where, pile, kind in dict.fromkeys((one.where, id(one.pile), one.kind) for one in taken):
        some = [one for one in taken if (one.where, id(one.pile), one.kind) == (where, pile, kind)]
        lots = [lot for of, lot in some[0].pile.lots() if of == kind]
        bad, n_there = _bad(lots, known), _n_blocks(lots)
        if bad and sum(one.n_blocks for one in some) < n_there:
            yield _make_sure(event, some, bad, n_there, known)


def joined(event: Moved, known: Known) -> Iterator[str]:
    """Blocks set apart that come to lie among good ones on a rack, or good ones among them; nothing where they did."""
    there = known.state.racks.get(event.rack, Pile())
    if not known.apart:
        return
    mixed = _mixed([there], known)
    taken = [one for one in taken_by(event, known.state) if one.kind not in mixed]
    yield from _keep_apart(taken, [there], f"on rack {event.rack} now", known)


def _mixed(piles: Collection[Pile], known: Known) -> set[Kind]:
    """Kinds of which blocks set apart lie among good ones already."""
    lots: dict[Kind, list[Lot]] = {}
    for pile in piles:
        for kind, lot in pile.lots():
            lots.setdefault(kind, []).append(lot)
    return {kind for kind, there in lots.items() if _bad(there, known)}


def _keep_apart(taken: list[Taken], piles: Collection[Pile], where: str, known: Known) -> Iterator[str]:
    """Blocks of which good ones and such as are set apart are where the taken ones go."""
    for kind in dict.fromkeys(one.kind for one in taken):
        lots = [one.lot._replace(n_blocks=one.n_blocks) for one in taken if one.kind == kind]
        lots += [lot for pile in piles for of, lot in pile.lots() if of == kind]
        if bad := _bad(lots, known):
            said = f"{_some(bad, _n_blocks(lots))} {kind[0]} {where} {_are(bad, known)}"
            yield f"{said}: keep {'it' if _n_blocks(bad) == 1 else 'them'} apart."


def _make_sure(event: Laid | Rejected | Stacked, some: list[Taken], bad: list[Lot], n_there: int, known: Known) -> str:
    mark, pours = some[0].kind[0], {lot.pour for lot in bad}
    gone = sum(one.n_blocks for one in some if one.lot.pour in pours)
    said = f"{_some(bad, n_there)} {mark} {some[0].where} {_are(bad, known)}"
    books = f"by the books {gone or 'none'} of them {'is' if gone < 2 else 'are'} {_DONE[type(event)]}"
    return (
        f"{said}; {books}. Make sure which. If it is not so, undo this and say it: N {mark} of {_example(bad, known)}"
    )


_DONE: Final = {Laid: "laid", Rejected: "thrown out", Stacked: "stacked"}


def _bad(lots: Iterable[Lot], known: Known) -> list[Lot]:
    """Those set apart where there are others, too; else none."""
    there = list(lots)
    if len({lot.pour for lot in there}) < 2:
        return []  # what is outside its card is found by looking at all entries
    apart = known.apart
    bad = [lot for lot in there if lot.pour in apart]
    return bad if len(bad) < len(there) else []


def _some(bad: Iterable[Lot], n_there: int) -> str:
    return f"{_n_blocks(bad)} of the {n_there}"


def _are(bad: Iterable[Lot], known: Known) -> str:
    lots = list(bad)
    batches = " or ".join(dict.fromkeys(batch_said(lot.batch, known.plan, lot.poured) for lot in lots))
    return f"{'is' if _n_blocks(lots) == 1 else 'are'} of batch {batches}, outside its card"


def _n_blocks(lots: Iterable[Lot]) -> int:
    return sum(lot.n_blocks for lot in lots)


def _example(bad: Iterable[Lot], known: Known) -> str:
    """A batch that can be typed, else what can be."""
    said = [batch_said(lot.batch, known.plan, lot.poured) for lot in bad]
    return next((one for one in said if not one.endswith("plan")), OTHERS)


def _n_of(batch: str, lots: Iterable[Lot], bad: Collection[Lot], known: Known) -> int:
    """Blocks of a batch as it is typed."""
    if batch == OTHERS:
        return _n_blocks(lot for lot in lots if lot not in bad)
    return _n_blocks(lot for lot in bad if batch_said(lot.batch, known.plan, lot.poured) == batch)
