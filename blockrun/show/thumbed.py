"""What thumbs change on the days of a plan: strips and sides that wait, and pours that wait for them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.planner.thumb_follows import follows
from blockrun.show.page import ALARM, LIMIT, Part, glued
from blockrun.show.thumb import at_said, moment_said, tests_said, waits_said

if TYPE_CHECKING:
    from blockrun.planner.thumbed import Span, Thumbed
    from blockrun.planner.thumbs import Thumbs

Note = tuple[datetime, tuple[Part, ...]]
"""Words, and the moment of the plan that they belong to."""


def thumb_notes(thumbs: Thumbs) -> Iterator[Note]:
    """All that thumbs move, mould by mould: at its planned moment, and when it may be done now."""
    for thumbed in thumbs.thumbed.values():
        turn = thumbed.turn
        if thumbed.is_later:
            yield from _put_off("strip", turn.place, turn.strip, thumbed.strip, thumbed)
        elif thumbed.press_again:
            yield turn.strip, _press_again(thumbed)
        if thumbed.sides_later and turn.sides is not None and thumbed.sides is not None:
            yield from _put_off("sides", turn.mould, turn.sides, thumbed.sides, thumbed)
        if thumbed.is_sooner:
            tests = tests_said(thumbed, thumbed.may_strip.date())
            words = f"{turn.place} may be stripped from now on, planned {moment_said(turn.strip)}: {tests}"
            yield thumbed.may_strip, (words,)
        for fill in follows(thumbs, thumbed).fills:
            if fill.too_soon:
                yield fill.turn.filled, ((f"{waits_said(fill, fill.turn.filled)}.", ALARM),)


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
        press = "; press again then, strip only if firm"
    yield planned, (f"{place}: ", *limit, f": {tests_said(thumbed, day)}{press}")
    if now.begins.date() == day:
        return
    tests = tests_said(thumbed, now.begins.date())
    if press:
        yield now.begins, (f"press {place} again, strip only if firm, planned {moment_said(planned)}: {tests}",)
    else:
        yield now.begins, (f"{word} {place} from now on, planned {moment_said(planned)}: {tests}",)
