"""Blocks as they are typed: ``22 full 2 C``; the mark may be left out where there is but one."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import Final

from blockrun.errors import BadInput
from blockrun.yard.journal.events import Blocks
from blockrun.yard.now import Kind
from blockrun.yard.record.words import Words

OF: Final = ":"
"""Parts a mark from its mix, where a mark is of several: ``full:light``."""


def blocks_typed(words: Words, kinds: Collection[Kind]) -> tuple[Blocks, ...]:
    """All counts with their marks that come next; none where the next word is no number.

    Parameters
    ----------
    words : yet to be read.
    kinds : that there may be.

    Raises
    ------
    BadInput : a count is nothing, or nobody can tell of which mark it is.
    """
    found: dict[Kind, int] = {}
    while words.is_number:
        count = words.number("a number of blocks")
        kind = kind_typed(words, kinds)
        found[kind] = found.get(kind, 0) + count
    return blocks_of(found)


def kind_typed(words: Words, kinds: Collection[Kind]) -> Kind:
    """The mark that comes next, with its mix; the only one that there is, where none comes."""
    if len(kinds) == 1 and not is_mark(words.peek, kinds):
        return next(iter(kinds))
    kind = kind_named(words.peek, kinds)
    words.take("a mark")
    return kind


def kind_named(word: str, kinds: Collection[Kind]) -> Kind:
    """The mark that a word names, with its mix.

    Raises
    ------
    BadInput : it names none, or nobody can tell of which mix.
    """
    found = _meant(word, kinds)
    if len(found) == 1:
        return found[0]
    if len(found) > 1:
        written = [OF.join(kind) for kind in sorted(found)]
        raise BadInput(f"{word} is of several mixes here", f"Write one of {', '.join(written)}.")
    marks = sorted({mark for mark, _ in kinds})
    what = f"{word} is none of the marks here" if word else "a mark is missing"
    raise BadInput(what, f"Marks here: {', '.join(marks)}." if marks else None)


def is_mark(word: str, kinds: Collection[Kind]) -> bool:
    """Whether a word names one of some marks."""
    return bool(_meant(word, kinds))


def blocks_of(counts: Mapping[Kind, int]) -> tuple[Blocks, ...]:
    """Counts as an event tells them."""
    return tuple(Blocks(mark=mark, mix=mix, count=count) for (mark, mix), count in sorted(counts.items()) if count > 0)


def counts_of(blocks: Collection[Blocks]) -> dict[Kind, int]:
    """And back."""
    return {(one.mark, one.mix): one.count for one in blocks}


def without(counts: Mapping[Kind, int], less: Mapping[Kind, int]) -> dict[Kind, int]:
    """What is left of some blocks without others; none is left under nothing."""
    return {kind: count - less.get(kind, 0) for kind, count in counts.items() if count > less.get(kind, 0)}


def _meant(word: str, kinds: Collection[Kind]) -> list[Kind]:
    exact = [kind for kind in kinds if word in {kind[0], OF.join(kind)}]
    small = word.lower()
    return exact or [kind for kind in kinds if small in {kind[0].lower(), OF.join(kind).lower()}]
