"""Moulds and bases as they are typed: ``gang-4/3``, ``b01``, ``ring-5/1-4``, several in one line."""

from __future__ import annotations

import difflib
import re
from collections.abc import Collection, Iterator
from typing import Final

from blockrun.errors import BadInput
from blockrun.planner.as_planned import found_name, plain_name
from blockrun.yard.record.words import Words

_RUN: Final = re.compile(r"(?P<stem>.+/)?(?P<letter>b?)(?P<first>\d{1,3})-b?(?P<last>\d{1,3})", re.IGNORECASE)
_BASE: Final = re.compile(r"b\d{1,3}", re.IGNORECASE)
_NAME: Final = re.compile(r"(?P<stem>.*/b?)(?P<number>\d+)")
_ALIKE: Final = 0.75


def mould_named(word: str, names: Collection[str]) -> str:
    """The mould or base that is meant; a base alone where only one kind of mould has one of that name.

    Raises
    ------
    BadInput : there is none, or it may be one of several.
    """
    found = found_name(word, names)
    if found is not None:
        return found
    bases = _bases(word, names)
    if len(bases) > 1:
        raise BadInput(f"{word} may be of several kinds", f"Write {' or '.join(bases)}.", value=word)
    if not bases:
        raise BadInput(f"there is no mould {word}", _there_are(word, names), value=word)
    return bases[0]


def one_meant(word: str, names: Collection[str], what: str) -> str:
    """The one of some names that is meant, in small letters or large.

    Raises
    ------
    BadInput : there is none of that name.
    """
    found = found_name(word, names)
    if found is None:
        raise BadInput(f"there is no {what} {word}", near_or_all(word, names), value=word)
    return found


def near_or_all(word: str, names: Collection[str]) -> str:
    """The name that is meant where one is near, else all there are."""
    letters = {name.lower(): name for name in names}
    near = difflib.get_close_matches(word.lower(), letters, n=2, cutoff=_ALIKE)
    return (
        f"Did you mean {' or '.join(letters[one] for one in near)}?"
        if near
        else f"There are {', '.join(sorted(names))}."
    )


def is_mould(word: str, names: Collection[str]) -> bool:
    """Whether a word is meant to name a mould, a base, or a run of them."""
    first = word.partition(",")[0]
    return "/" in word or bool(_bases(re.sub(r"-b?\d+$", "", first), names))


def moulds_named(words: Words, names: Collection[str]) -> list[str]:
    """All moulds that are named next, one at least.

    Raises
    ------
    BadInput : one is not there, or is named twice.
    """
    found: list[str] = []
    while not found or is_mould(words.peek, names) or (words.peek == "and" and is_mould(words.second, names)):
        words.take_if("and")
        for piece in filter(None, re.split(r"[,\s]+", words.take("a mould"))):
            found += [mould_named(word, names) for word in _run(piece, names)]
    twice = next((name for name in found if found.count(name) > 1), None)
    if twice is not None:
        raise BadInput(f"{twice} is named twice", "Name each mould once.", value=twice)
    return found


def names_one(word: str, names: Collection[str]) -> bool:
    """Whether a word by itself names one mould, and not a run or a row of them."""
    pieces = [*filter(None, re.split(r"[,\s]+", word))]
    return len(pieces) == 1 and len([*_run(pieces[0], names)]) == 1


def _run(word: str, names: Collection[str]) -> Iterator[str]:
    """Each of ``ring-5/1-4``; any other word as it is."""
    found = _RUN.fullmatch(word) if found_name(word, names) is None else None
    if found is None or not (found["stem"] or found["letter"]):
        yield word
        return
    first, last = int(found["first"]), int(found["last"])
    if last < first:
        raise BadInput(f"{word} goes backwards", f"Write {found['stem'] or ''}{found['letter']}{last}-{first}.")
    yield from (f"{found['stem'] or ''}{found['letter']}{number}" for number in range(first, last + 1))


def _bases(word: str, names: Collection[str]) -> list[str]:
    """Bases of that name, of whatever kind."""
    if not _BASE.fullmatch(word):
        return []
    return sorted(name for name in names if plain_name(name.rpartition("/")[2]) == plain_name(word))


def _there_are(word: str, names: Collection[str]) -> str:
    """The moulds of the kind that is named, or nearly; else all."""
    stems = {name.rpartition("/")[0].lower() for name in names}
    stem, _, number = word.lower().rpartition("/")
    near = difflib.get_close_matches(stem or word.lower(), stems, n=1, cutoff=_ALIKE)
    if near and near[0] != stem and (meant := found_name(f"{near[0]}/{number}", names)):
        return f"Did you mean {meant}?"
    of_kind = [name for name in names if near and name.lower().startswith(f"{near[0]}/")]
    return f"There are {in_short(of_kind or names)}."


def in_short(names: Collection[str]) -> str:
    """Names of each kind, the first and the last: ``gang-4/01 to gang-4/03, tray-3/b01``."""
    kinds: dict[str, list[str]] = {}
    for name in sorted(names):
        found = _NAME.fullmatch(name)
        kinds.setdefault(found["stem"] if found else name, []).append(name)
    return ", ".join(one[0] if len(one) == 1 else f"{one[0]} to {one[-1]}" for one in kinds.values())
