"""What a thumb said of one mould: the pace, from when to strip it, and what that does to the plan."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blockrun.cure.hazards import FREEZING_C
from blockrun.cure.thumb import SOONEST, THUMBS, Pace
from blockrun.files.day_names import day_name
from blockrun.planner.thumbs.follows import Follows, LaterBlocks, NextFill, OnRack, follows
from blockrun.show.page import ALARM, HEADING, INDENT, LIMIT, QUIET, Page, Part, glued
from blockrun.show.words import at_said, batches_said, moment_said, named_together, place_said
from blockrun.units import counted, digits, listed, show_degrees, show_share

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.in_moulds import Turn
    from blockrun.planner.thumbs.pressed import ThumbTest
    from blockrun.planner.thumbs.thumbed import Thumbed
    from blockrun.planner.thumbs.turns import Thumbs
    from blockrun.site import Site


EARLY: Final = (
    "An early strip breaks blocks, and a weak block falls on feet: press into a corner, lift the first one low and in "
    "pairs, boots on."
)

_DOES: Final = {"soft": "soft, it sinks in", "dents": "dents, it leaves a mark", "firm": "firm, it leaves no mark"}

_NO_LEAP: Final = "no block gets softer, and none loses its mark at once; some corner is behind"

ICE: Final = "ice is firm too: press again once it has thawed"

_LOOK: Final = (
    "Look at the batch before you strip: was the foam weighed, the mix stirred through, the mould covered; is it "
    "harder in the middle than at a corner? Press again in an hour, into a corner, and go by the softest."
)


def thumb_text(thumbs: Thumbs, test: ThumbTest, width: int, directory: Path, *, known: bool = False) -> Text:
    """Say what a thumb test tells.

    Parameters
    ----------
    thumbs : with the test among its tests.
    known : it was there before.
    """
    thumbed, site = thumbs.thumbed[test.mould, test.turn], thumbs.plan.site
    page = Page(width, thumbs.plan.site.units)
    page.line((f"{_place(thumbed.turn)}: {test.thumb}", HEADING), f" {moment_said(test.pressed)}")
    page.line(f"{_stood(thumbed.turn)}. {_aged(thumbs, test)}")
    if thumbed.counted:
        page.line(*pace_said(thumbed.told, len(thumbed.counted)))
    for said in (*_ice_said(thumbed), *_set_aside_said(thumbed)):
        page.line((said, ALARM))
    if not thumbed.told.agrees:
        page.line(_LOOK)
    page.blank()
    for line in (*_sides_said(thumbed), *_strip_said(thumbed, test)):
        page.line(*line)
    for words in _why_no_sooner(thumbs, thumbed):
        page.line(words)
    for parts in _follow_lines(follows(thumbs, thumbed), site, test.pressed):
        page.item(*parts)
    page.blank()
    page.line((EARLY, ALARM))
    n = counted(len(thumbs.tests), "test")
    page.line(
        (f"{'It was known already' if known else 'Kept'}: {n} in the journal. All of them, and their pace:", QUIET)
    )
    page.verbatim(shlex.join(["blockrun", "thumb", str(directory)]), "", INDENT)
    return page.text()


def tests_said(thumbed: Thumbed, day: date) -> str:
    """``dents at 07:30``, with the day where it is another one; only the last three tests, and whether that is ice."""
    ice = f" ({ICE})" if thumbed.tests[-1] in thumbed.iced else ""
    return listed([_pressed_said(test, day) for test in thumbed.tests[-3:]]) + ice


def pace_said(told: Pace, n_tests: int) -> Iterator[Part]:
    """Say a pace against what is reckoned."""
    if not told.agrees:
        what = "That is more than a thumb can tell of one block" if n_tests == 1 else "These tests cannot all be right"
        yield (f"{what}. ", ALARM)
    who = "It sets" if n_tests == 1 else f"By {counted(n_tests, 'test')} together it sets"
    if told.factor == 1:
        yield f"{who} as fast as reckoned, as far as a thumb can tell."
    elif told.factor < 1:
        yield f"{who} slower than reckoned: at about {factor_said(told)} of that."
    else:
        yield f"{who} faster than reckoned: at {factor_said(told)} of that, or more."


def _ice_said(thumbed: Thumbed) -> Iterator[str]:
    """Warn of frost where the last thumb leaves no mark, or where an earlier one did in frost."""
    if thumbed.iced:
        day = thumbed.tests[-1].pressed.date()
        iced = listed([_pressed_said(test, day) for test in thumbed.iced])
        yield f"Not counted: {iced}, the air was under freezing, and {ICE}."
    elif thumbed.froze and thumbed.tests[-1].thumb == "firm":
        yield f"The air was under freezing since the pour. {ICE.capitalize()}."


def _set_aside_said(thumbed: Thumbed) -> Iterator[str]:
    """Name the tests that a softer one leaves no room for, and that one."""
    if not thumbed.set_aside:
        return
    day = thumbed.tests[-1].pressed.date()
    aside = listed([_pressed_said(test, day) for test in thumbed.set_aside])
    softest = min(thumbed.counted, key=lambda test: THUMBS.index(test.thumb))
    yield f"Not counted: {aside}. The softest counts, {_pressed_said(softest, day)}: {_NO_LEAP}."


def _pressed_said(test: ThumbTest, day: date) -> str:
    return glued(f"{test.thumb} at {at_said(test.pressed, day)}")


def factor_said(told: Pace) -> str:
    """``0.8``."""
    return f"{told.factor:.2f}".rstrip("0").rstrip(".")


def waits_said(fill: NextFill, now: datetime) -> str:
    """Say, as of a moment, which fill comes too soon for a mould."""
    batches, day = fill.turn.batches, now.date()
    be = ("is", "are") if fill.turn.filled >= now else ("was", "were")
    return (
        f"{batches_said(batches).capitalize()} {be[len(batches) > 1]} to fill {fill.place} at "
        f"{at_said(fill.turn.filled, day)}, and it is free only {at_said(fill.free, day)}: "
        "fill another mould, or pour later"
    )


def _fill_said(fill: NextFill, now: datetime) -> str:
    if fill.too_soon:
        return f"{waits_said(fill, now)}."
    at = moment_said(fill.turn.filled)
    return f"{fill.place} is free {moment_said(fill.free)}, in time for {batches_said(fill.turn.batches)} at {at}."


def _place(turn: Turn) -> str:
    return f"{turn.mould} on base {turn.base.rsplit('/', 1)[-1]}" if turn.base else turn.mould


def _stood(turn: Turn) -> str:
    return f"Turn {turn.number}, {batches_said(turn.batches)} ({turn.mix}), poured {moment_said(turn.poured)}"


def _aged(thumbs: Thumbs, test: ThumbTest) -> str:
    age, due = glued(f"{digits(round(test.age_h, 1))} h"), glued(f"{digits(round(thumbs.strip_h, 1))} h")
    strength = ", for its strength" if thumbs.waits_for_strength else ""
    return f"By the plan's clock it was {age} old at 20 degC, and is stripped at {due}{strength}; {_DOES[test.thumb]}."


def _strip_said(thumbed: Thumbed, test: ThumbTest) -> Iterator[list[Part]]:
    turn, day = thumbed.turn, test.pressed.date()
    planned, reckoned = at_said(turn.strip, day), at_said(thumbed.strip.reckoned, day)
    why = f", planned {planned}; it was reckoned old enough {reckoned}."
    if thumbed.sinks_in:
        yield [(glued(f"DO NOT STRIP; press again {at_said(thumbed.strip.begins, day)}"), LIMIT), why]
    elif thumbed.is_later:
        unless = ", unless a thumb is firm sooner" if sooner_said(thumbed, day) else ""
        yield [(glued(f"STRIP NOT BEFORE {at_said(thumbed.strip.begins, day)}"), LIMIT), unless, why]
    elif thumbed.is_sooner:
        yield [(glued(f"MAY BE STRIPPED FROM {at_said(thumbed.may_strip, day)}"), LIMIT), why]
    else:
        yield [f"Strip as planned, {planned}; it was reckoned old enough {reckoned}."]
    if not thumbed.press_again:
        return
    sooner = sooner_said(thumbed, day)
    when = f"Press again then{sooner}" if thumbed.is_later else "Press again before you strip"
    yield [(f"{when}; strip only if firm", LIMIT), "."]
    counts = at_said(max(thumbed.firm_counts, test.pressed), day)
    if not (thumbed.iced or sooner):
        yield [f"A firm thumb counts from {counts} on."]


def sooner_said(thumbed: Thumbed, day: date) -> str:
    """``, or sooner, from 15:13 on``: where a firm thumb has it stripped before that; else nothing."""
    if thumbed.iced or not thumbed.press_again or thumbed.firm_strip >= thumbed.strip.begins:
        return ""
    return f", or sooner, from {at_said(thumbed.firm_strip, day)} on"


def _sides_said(thumbed: Thumbed) -> Iterator[list[Part]]:
    sides, turn = thumbed.sides, thumbed.turn
    if sides is None or turn.sides is None:
        return
    day = thumbed.tests[-1].pressed.date()
    if thumbed.sides_later:
        now = glued(f"SIDES ON UNTIL {at_said(sides.begins, day)}")
        yield [(now, LIMIT), f", planned {at_said(turn.sides, day)}."]
    else:
        yield [f"Sides off as planned, {at_said(turn.sides, day)}."]
    if thumbed.tests[-1].thumb == "soft":
        yield ["While a thumb sinks in, take them off only where the block stands by itself: try one."]


def _why_no_sooner(thumbs: Thumbs, thumbed: Thumbed) -> Iterator[str]:
    """Say the rule where a thumb that is ahead does not bring a strip forward as far as it might."""
    if thumbed.told.factor <= 1:
        return
    if thumbed.froze:
        yield "No sooner than reckoned: it froze since the pour."
    elif thumbs.waits_for_strength:
        yield "No sooner than reckoned: it waits for a strength, and a thumb feels none."
    elif thumbed.strip.ripe >= thumbed.strip.reckoned:
        yield "No sooner than reckoned: only a thumb that leaves no mark, with no test against it, makes it so."
    else:
        least = glued(f"{digits(round(SOONEST * thumbs.strip_h, 1))} h")
        yield f"However firm, no mould is stripped before {show_share(SOONEST)} of its age, {least} at 20 degC."


def _follow_lines(found: Follows, site: Site, now: datetime) -> Iterator[list[Part]]:
    for fill in found.fills:
        yield [(_fill_said(fill, now), ALARM if fill.too_soon else "")]
    for later in found.later:
        yield list(_later_said(later))
    for rack in found.racks:
        yield [_rack_said(rack)]
    for day in found.frost:
        yield [(_cold_said(day, site), ALARM)]
    if found.same_batch:
        yield [f"The same batch stands in {named_together(found.same_batch)}: press a thumb there too before a strip."]


def _cold_said(day: date, site: Site) -> str:
    """Frost is what freezes; what is only under the yard's least air is cold, as on the days."""
    least_c = site.weather.day(day).min_c
    what = "frost" if least_c <= FREEZING_C else "cold"
    degrees = glued(show_degrees(least_c, site.units))
    return f"It now stands through {what}, {degrees} on {glued(day_name(day))}: cover it and keep it warm."


def _later_said(later: LaterBlocks) -> Iterator[Part]:
    what = f" for {place_said(later.part, later.course)}" if later.part else ", spare"
    yield (
        f"{glued(f'{later.count} {later.mark}')}{what}: ready {glued(day_name(later.ready))}, planned "
        f"{glued(day_name(later.planned))}"
    )
    if later.days_late:
        yield from (", ", (glued(f"{counted(later.days_late, 'day')} LATE"), ALARM))
    yield "."


def _rack_said(rack: OnRack) -> str:
    n = glued(counted(rack.blocks, "block"))
    said = f"Rack {rack.rack} holds {n} until {moment_said(rack.until)}, planned {moment_said(rack.planned)}"
    return f"{said}; {counted(rack.over, 'block')} then have no place on it." if rack.over else f"{said}."
