"""All thumb tests kept beside a plan, the pace they tell together, and the age to strip at that they speak for."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blockrun.files.day_names import clock, full_day_name
from blockrun.planner.thumbs.paces import Paces, paces, strip_at_proposed
from blockrun.show.page import ALARM, HEADING, LIMIT, QUIET, Page, Part, glued
from blockrun.show.thumb import EARLY, factor_said
from blockrun.show.words import moment_said
from blockrun.units import counted, digits

if TYPE_CHECKING:
    from rich.text import Text

    from blockrun.planner.thumbs.pressed import ThumbTest
    from blockrun.planner.thumbs.turns import Thumbs

CLOCK: Final = 6

_HOW: Final = (
    "None is kept yet. Press a thumb into a corner before the strip, then write: blockrun thumb DIR MOULD firm "
    '(or dents, or soft), with --at "2027-04-13 14:00" for an earlier hour.'
)


def thumbs_text(thumbs: Thumbs, width: int, directory: Path) -> Text:
    """Write the tests by day, then what they tell together."""
    page = Page(width, thumbs.plan.site.units)
    page.line((f"{thumbs.plan.site.name}: thumb tests", HEADING))
    if not thumbs.tests:
        page.line(_HOW)
        return page.text()
    for day, tests in groupby(thumbs.tests, lambda test: test.pressed.date()):
        page.blank()
        page.rule(full_day_name(day))
        for test in tests:
            page.line(*_test_said(test), label=clock(test.pressed), indent=CLOCK)
    page.blank()
    for line in _together(thumbs):
        page.line(*line)
    page.blank()
    page.line((EARLY, QUIET))
    page.line(("A wrong one is undone by its number:", QUIET))
    page.verbatim(shlex.join(["blockrun", "record", str(directory), "undo", str(thumbs.tests[-1].entry)]), "", 2)
    return page.text()


def _test_said(test: ThumbTest) -> Iterator[Part]:
    yield (test.thumb, LIMIT)
    age = glued(f"{digits(round(test.age_h, 1))} h")
    yield f" {test.base or test.mould}, {test.mix}, {age} old at 20 degC"
    if test.strip_now > test.strip_planned and test.thumb == "firm" and test.strip_now <= test.pressed:
        yield ": strip from then on"
    elif test.strip_now > test.strip_planned:
        again = "" if test.thumb == "firm" else ", to press again"
        yield f": strip put off to {moment_said(test.strip_now)}{again}"
    yield f" ({test.note})" if test.note else ""
    yield (f", entry {test.entry}" if test.entry else "", QUIET)


def _together(thumbs: Thumbs) -> Iterator[list[Part]]:
    found = paces(thumbs.tests, thumbs.strip_h)
    for one in found:
        yield list(_paces_said(one))
    proposed = strip_at_proposed(found, thumbs.strip_h)
    if proposed is not None:
        hours, slowest = proposed
        of = f" of {slowest.mix}" if slowest.mix else ""
        yield [
            (glued(f"Write strip_at: {hours} h"), LIMIT),
            f" in the site file, in place of what is {glued(f'{digits(round(thumbs.strip_h, 1))} h')} at 20 degC now, "
            f"and plan again: {counted(slowest.n_slower, 'pour')}{of} set slower than reckoned.",
        ]
        if thumbs.waits_for_strength:
            yield ["It is a strength now: crush cubes of these batches, young ones, and add them to the cubes."]


def _paces_said(one: Paces) -> Iterator[Part]:
    over = f"over {counted(one.n_tests, 'test')} of {counted(one.n_pours, 'pour')}"
    of = f"{one.mix}: blocks" if one.mix else "Blocks"
    if not one.told.agrees:
        yield (f"{of} do not set at one pace, {over}", ALARM)
        yield f"; the slowest at {factor_said(one.told)} of what is reckoned: look at the batches, foam and weights."
    elif one.told.factor == 1:
        yield f"{of} set as reckoned, {over}."
    else:
        more = ", or more; leave strip_at as it is" if one.told.factor > 1 else ""
        yield f"{of} set at {factor_said(one.told)} of what is reckoned{more}: {over}."
