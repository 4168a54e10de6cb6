"""What thumbs change on the days of a plan: strips and sides that wait, and pours that wait for them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime
from typing import TYPE_CHECKING, Final

from blockrun.planner.thumbs.first import thumb_first
from blockrun.planner.thumbs.follows import follows
from blockrun.show.day import Job
from blockrun.show.morning import doubt_said
from blockrun.show.page import ALARM, LIMIT, Part, glued
from blockrun.show.thumb import ICE, sooner_said, tests_said, waits_said
from blockrun.show.words import at_said, moment_said, named_together

if TYPE_CHECKING:
    from blockrun.planner.in_moulds import Turn
    from blockrun.planner.plan import Plan
    from blockrun.planner.thumbs.first import ThumbFirst
    from blockrun.planner.thumbs.thumbed import Span, Thumbed
    from blockrun.planner.thumbs.turns import Thumbs
    from blockrun.show.day import Pour

THUMB_FIRST: Final = "PRESS A THUMB FIRST"

Before = tuple[str, str]
"""``strip`` or ``sides``, and what the crew does it to: a mould, or a base."""


@dataclass(frozen=True)
class Note:
    """Words, the moment of the plan that they belong to, and what is done only once they are heeded."""

    at: datetime
    words: tuple[Part, ...]
    before: tuple[Before, ...] = ()


def thumb_notes(plan: Plan, thumbs: Thumbs | None) -> Iterator[Note]:
    """Where a thumb goes first, day by day; and all that thumbs move, mould by mould."""
    yield from _press_first(plan, thumbs)
    if thumbs is not None:
        yield from _moved(thumbs)


def ahead(note: Note, jobs: Iterable[Job | Pour]) -> Note:
    """A note not after what waits for it: a job begins with its first mould, and the thumb may be for its last."""
    waiting = (
        job.start for job in jobs if isinstance(job, Job) for name in job.names if (job.task, name) in note.before
    )
    return replace(note, at=min([note.at, *waiting]))


def _press_first(plan: Plan, thumbs: Thumbs | None) -> Iterator[Note]:
    """What goes before the first strip, or sides, of a day, for all of that day of which the same is said."""
    alike: dict[tuple[date, str, str, str], list[tuple[datetime, ThumbFirst]]] = {}
    for first in thumb_first(plan, thumbs):
        into, only_if, why = _why_first(first)
        strip = first.turn.strip
        alike.setdefault((strip.date(), into, f"strip {only_if}", why), []).append((strip, first))
        if first.sides_on and first.turn.sides is not None:
            sides = first.turn.sides
            alike.setdefault((sides.date(), into, "before the sides come off", why), []).append((sides, first))
    for (_, into, what, why), of_day in alike.items():
        names = named_together(first.turn.place for _, first in of_day)
        into = f"{into} " if len(of_day) > 1 else ""
        words = ((THUMB_FIRST, LIMIT), f" into {into}{names}, {what}; {why}")
        before = (_before(first.turn, at) for at, first in of_day)
        yield Note(min(at for at, _ in of_day), words, tuple(before))


def _before(turn: Turn, at: datetime) -> Before:
    """What is done to a turn at a moment."""
    return ("strip", turn.place) if at == turn.strip else ("sides", turn.mould)


def _why_first(first: ThumbFirst) -> tuple[str, str, str]:
    """Into which of them, what is done then, and why."""
    if first.froze:
        return "each of", "only if firm and thawed", f"it freezes before the strip, and {ICE}"
    said = doubt_said([first.doubt])
    if first.doubt.beside:
        return "each of", "only if firm", said
    return "one of each batch of", "the rest only if firm", said


def _moved(thumbs: Thumbs) -> Iterator[Note]:
    """All that thumbs move, mould by mould: at its planned moment, and when it may be done now."""
    for thumbed in thumbs.thumbed.values():
        turn = thumbed.turn
        if thumbed.is_later:
            yield from _put_off("strip", turn.place, turn.strip, thumbed.strip, thumbed)
        elif thumbed.press_again:
            yield Note(turn.strip, _press_again(thumbed), (("strip", turn.place),))
        if thumbed.sides_later and turn.sides is not None and thumbed.sides is not None:
            yield from _put_off("sides", turn.mould, turn.sides, thumbed.sides, thumbed)
        if thumbed.is_sooner:
            tests = tests_said(thumbed, thumbed.may_strip.date())
            words = f"{turn.place} may be stripped from now on, planned {moment_said(turn.strip)}: {tests}"
            yield Note(thumbed.may_strip, (words,))
        for fill in follows(thumbs, thumbed).fills:
            if fill.too_soon:
                yield Note(fill.turn.filled, ((f"{waits_said(fill, fill.turn.filled)}.", ALARM),))


def _press_again(thumbed: Thumbed) -> tuple[Part, ...]:
    """A strip as late as it was planned, whose last thumb was behind, sank in, or felt ice."""
    place, tests = thumbed.turn.place, tests_said(thumbed, thumbed.turn.strip.date())
    if thumbed.sinks_in:
        return f"{place}: {tests}; ", ("DO NOT STRIP; press again, strip only if firm", LIMIT)
    return f"{place}: {tests}; ", ("PRESS AGAIN, strip only if firm", LIMIT)


def _put_off(what: str, place: str, planned: datetime, now: Span, thumbed: Thumbed) -> Iterator[Note]:
    day, word = planned.date(), "strip" if what == "strip" else "take the sides off"
    at = glued(at_said(now.begins, day))
    limit: tuple[Part, ...] = (f"{word} ", (glued(f"NOT BEFORE {at}"), LIMIT))
    if what == "strip" and thumbed.sinks_in:
        limit = ((glued(f"DO NOT STRIP; press again {at}"), LIMIT),)
    press = "; strip only if firm" if what == "strip" and thumbed.press_again else ""
    if press and not thumbed.sinks_in:
        press = f"; press again then{sooner_said(thumbed, day)}, strip only if firm"
    before = ((what, place),) if press else ()
    yield Note(planned, (f"{place}: ", *limit, f": {tests_said(thumbed, day)}{press}"), before)
    if now.begins.date() == day:
        return
    tests = tests_said(thumbed, now.begins.date())
    if press:
        said = f"press {place} again, strip only if firm, planned {moment_said(planned)}: {tests}"
    else:
        said = f"{word} {place} from now on, planned {moment_said(planned)}: {tests}"
    yield Note(now.begins, (said,))
