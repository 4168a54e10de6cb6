"""What comes out of moulds, and goes to the rack at once: stripped."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

from blockrun.errors import BadInput
from blockrun.yard.journal.events import AnyEvent, Blocks, Moved, Stripped
from blockrun.yard.now import Standing
from blockrun.yard.record.blocks import blocks_of, blocks_typed, counts_of, is_mark, without
from blockrun.yard.record.known import Known
from blockrun.yard.record.words import Words, is_number

HOW: Final = ("broken", "whole")
STAYS: Final = ""
"""Where blocks go that are left beside their mould."""


@dataclass(frozen=True)
class _Strip:
    """One mould stripped, and to which rack it goes: `STAYS`, or None where nobody told."""

    here: Standing
    event: Stripped
    to: str | None


def stripped(words: Words, known: Known) -> list[AnyEvent]:
    """``gang-4/3``, ``gang-4/3 1 C broken``, ``gang-4/1-3 all broken``, ``gang-4/1 gang-4/2 1 broken to west``.

    A number is of the mould that it stands behind. The move to the rack follows at once, unless blocks stay. What is
    told last of the rack holds for all moulds before it of which none is told.
    """
    strips: list[_Strip] = []
    while not strips or known.is_mould(words.peek):
        strips += _group(words, known)
    last = strips[-1].to
    return [event for one in strips for event in _events(one, last if one.to is None else one.to, known)]


def _group(words: Words, known: Known) -> list[_Strip]:
    """Moulds named one after the other, and what is told of them."""
    here = [known.standing(name) for name in known.moulds(words)]
    if words.take_if("all"):
        events = [_all(one, _how(words, "all")) for one in here[:1]]
        is_broken = bool(events[0].broken)
        events += [_all(one, HOW[0] if is_broken else HOW[1]) for one in here[1:]]
    elif words.is_number and len(here) > 1 and not known.names_one_mould(words.taken):
        todo = (
            f"Write it behind its own, such as: blockrun record DIR stripped {here[0].place} 1 broken {here[1].place}"
        )
        raise BadInput("in which of these moulds?", todo)
    else:
        *before, last = here
        events = [*(_all(one, HOW[1]) for one in before), _counted(words, last)]
    to = _to(words, known)
    return [_Strip(one, event, to) for one, event in zip(here, events, strict=True)]


def _all(here: Standing, how: str) -> Stripped:
    blocks = blocks_of(here.blocks.counts)
    is_broken = how == "broken"
    return Stripped(
        mould=here.mould, base=here.base, whole=() if is_broken else blocks, broken=blocks if is_broken else ()
    )


def _counted(words: Words, here: Standing) -> Stripped:
    """So many whole or broken; what is not told of is the other."""
    there = here.blocks.counts
    if words.peek.lower() in HOW:
        todo = f"Write it as: blockrun record DIR stripped {here.place} all {words.peek}, or so many, such as 1 broken."
        raise BadInput(f"how many are {words.peek}?", todo)
    told: dict[str, tuple[Blocks, ...]] = {}
    while words.is_number:
        _check_mark(words, here)
        blocks = blocks_typed(words, there.keys())
        _check_known(words, here, blocks)
        how = _how(words, _listed(blocks))
        told[how] = (*told.get(how, ()), *blocks)
    broken, whole = counts_of(told.get("broken", ())), counts_of(told.get("whole", ()))
    if "whole" not in told:
        whole = without(there, broken)
    elif "broken" not in told:
        broken = without(there, whole)
    return Stripped(mould=here.mould, base=here.base, whole=blocks_of(whole), broken=blocks_of(broken))


def _how(words: Words, of: str) -> str:
    if words.peek.lower() not in HOW:
        raise BadInput("whole or broken?", f"Write it behind the number, such as: {of} broken.")
    return words.take("broken or whole").lower()


def _listed(blocks: Iterable[Blocks]) -> str:
    return " ".join(f"{one.count} {one.mark}" for one in blocks)


def _check_known(words: Words, here: Standing, blocks: Iterable[Blocks]) -> None:
    """Refuse a mark that is not in a mould where there is but one, and it may be left out."""
    if words.peek.lower() not in HOW and words.second.lower() in HOW:
        todo = f"Write it as: blockrun record DIR stripped {here.place} {_listed(blocks)} {words.second}"
        raise BadInput(f"{words.peek} is none of the marks in {here.place}", todo, value=words.peek)


def _check_mark(words: Words, here: Standing) -> None:
    """Ask which mark where one of several is to be told, and none is."""
    marks = sorted({mark for mark, _ in here.blocks.counts})
    if len(marks) > 1 and not is_mark(words.second, here.blocks.counts) and not is_number(words.second):
        count = words.peek
        forms = " or ".join(f"{count} {mark} broken" for mark in marks)
        what = f"which mark are the {count}? {here.place} holds {' and '.join(marks)}"
        if words.second and words.second.lower() not in HOW:
            what = f"{words.second} is none of the marks in {here.place}"
        raise BadInput(what, f"Write it as: blockrun record DIR stripped {here.place} {forms}")


def _to(words: Words, known: Known) -> str | None:
    if words.take_if("stays", "stay"):
        return STAYS
    return known.rack(words.take("a rack")) if words.take_if("to") else None


def _events(one: _Strip, to: str | None, known: Known) -> list[AnyEvent]:
    """A strip, and the move that follows it."""
    if to == STAYS or not one.event.whole:
        return [one.event]
    rack = to or known.rack_for(one.here.place, one.here.batches)
    return [one.event, Moved(rack=rack, blocks=one.event.whole, mould=one.here.place)]
