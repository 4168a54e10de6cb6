"""A batch that no plan has: which moulds were filled with what, told by whoever poured it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.yard.journal.events import Fill, Poured
from blockrun.yard.record.blocks import kind_named
from blockrun.yard.record.fitting import check_fits
from blockrun.yard.record.words import is_number

if TYPE_CHECKING:
    from blockrun.yard.now import Kind
    from blockrun.yard.record.known import Known
    from blockrun.yard.record.words import Words

EXTRA: Final = "extra"
EMPTY: Final = ("-", "empty")
"""A cavity that was left empty."""

OF_NO_PLAN: Final = ""


def filled_extra(words: Words, known: Known) -> tuple[str, list[Fill]]:
    """Its mix and what it filled: ``gang-4/03 full full half``, ``gang-4/03 3 full``, ``tray-3/1 on tray-3/b2 thin``.

    The mix follows behind ``mix`` where the plan has several.

    Raises
    ------
    BadInput : a mould, a mark or the mix is not there, or more is told than a mould holds.
    """
    told = [*_moulds(words, known)]
    if not told:
        raise BadInput("which moulds were filled, and with what?")
    mix = _mix(words, known)
    return mix, [_fill(mould, base, _named(marks, mix, known), known) for mould, base, marks in told]


def next_extra(known: Known) -> int:
    """The number of the next batch that no plan has."""
    extra = (one.event for one in known.entries if isinstance(one.event, Poured) and one.event.plan == OF_NO_PLAN)
    return max((event.batch for event in extra), default=0) + 1


def _moulds(words: Words, known: Known) -> Iterator[tuple[str, str, list[str]]]:
    """Each mould, its base, and the marks as typed, one for each cavity from the first on."""
    while words.peek and words.peek.lower() != "mix":
        mould = known.mould(words.take("a mould"))
        base = known.mould(words.take("a base")) if words.take_if("on") else ""
        if known.plan.kind_of(mould).bases and not base:
            raise BadInput(f"{mould} has bases", f"Write on which, such as: {mould} on {mould.rsplit('/', 1)[0]}/b1")
        yield mould, base, [*_marks(words)]


def _marks(words: Words) -> Iterator[str]:
    while words.peek and words.peek.lower() != "mix" and "/" not in words.peek:
        count = words.number("a number of blocks") if is_number(words.peek) else 1
        mark = words.take("a mark")
        yield from [mark] * count


def _mix(words: Words, known: Known) -> str:
    mixes = sorted(known.plan.mixes)
    if not words.take_if("mix"):
        if len(mixes) > 1:
            raise BadInput("of which mix?", f"Write it last: mix {mixes[0]} (there are {', '.join(mixes)})")
        return mixes[0]
    word = words.take("a mix")
    if word not in mixes:
        raise BadInput(f"there is no mix {word}", f"There are {', '.join(mixes)}.", value=word)
    return word


def _named(marks: list[str], mix: str, known: Known) -> list[str]:
    """Marks as the plan writes them, and nothing for a cavity left empty."""
    kinds: list[Kind] = [kind for kind in known.kinds if kind[1] == mix]
    return ["" if mark.lower() in EMPTY else kind_named(mark, kinds)[0] for mark in marks]


def _fill(mould: str, base: str, marks: list[str], known: Known) -> Fill:
    kind = known.plan.kind_of(mould)
    if not any(marks):
        planned = {cast.mark for cast in known.plan.casts if cast.mould in kind.mould_names}
        such = " ".join(sorted(planned or known.plan.marks)[:2])
        raise BadInput(f"with what was {mould} filled?", f"Write a mark for each cavity, such as: {mould} {such}.")
    # of a slab each block that is sawn out of it is named
    if len(marks) > kind.cavities and not kind.saw:
        raise BadInput(f"{mould} has {kind.cavities} cavities, and {len(marks)} blocks are told")
    check_fits(mould, filter(None, marks), known.plan)
    return Fill(mould=mould, base=base, marks=tuple(marks))
