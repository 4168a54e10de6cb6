"""What is recorded and is unsafe, or surely a slip: it is kept, and whoever typed it is told at once.

A yard may have done what it should not, and then the journal must say so; a slip of the finger is undone. Neither may
pass without a word. What was measured is doubted in `blockrun.yard.record.doubts`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any, Final

from blockrun.errors import BlockrunError
from blockrun.files.day_names import day_name, moment_name
from blockrun.planner.morning import FELT
from blockrun.units import listed
from blockrun.yard.called import batch_said
from blockrun.yard.journal import Entry, standing
from blockrun.yard.journal.events import (
    BlocksCounted,
    Counted,
    Crushed,
    DayLost,
    Event,
    Laid,
    Moved,
    Passed,
    PersonAway,
    Poured,
    Rejected,
    SidesOff,
    Stacked,
    Stripped,
    WeatherSeen,
)
from blockrun.yard.now import Pour
from blockrun.yard.now.piles import UNKNOWN
from blockrun.yard.ready.apart import is_word_for
from blockrun.yard.ready.doubts import Doubts
from blockrun.yard.ready.early import LEAST_EARLY
from blockrun.yard.record.absences import absence_doubted
from blockrun.yard.record.air import air_doubted, air_replaced
from blockrun.yard.record.courses import course_doubted
from blockrun.yard.record.dates import days_doubted, moment_doubted
from blockrun.yard.record.doubts import batch_doubted, blocks_doubted, count_doubted, crush_doubted, unlike_others
from blockrun.yard.record.known import Known
from blockrun.yard.record.mingled import joined, mingled
from blockrun.yard.record.off_rack import stacked_early
from blockrun.yard.record.said import entry_said
from blockrun.yard.record.stopped import pour_stopped
from blockrun.yard.record.taken import taken_by

_HOUR: Final = timedelta(hours=1)


def slips_of(new: Sequence[Entry], known: Known) -> list[str]:
    """What is to be said of entries about to be kept.

    Parameters
    ----------
    new : of one thing that happened.
    known : before they count.
    """
    found = [*moment_doubted([entry.event for entry in new], known.plan, known.at)]
    for entry in new:
        look = _LOOKS.get(type(entry.event))
        if look is not None:
            try:
                found += look(entry.event, known)
            except BlockrunError:  # a plan made anew may lack what it takes to tell, and the entry is kept all the same
                continue
    return found


def _stripped(event: Stripped, known: Known) -> Iterator[str]:
    place = event.base or event.mould
    here = known.state.moulds.get(place)
    if here is None:
        return
    if here.thumbs and here.thumbs[-1][1] == "soft" and here.thumbs[-1][0].date() == known.at.date():
        yield f"{place} is stripped, and a thumb sank into it {moment_name(here.thumbs[-1][0])}. {_ASIDE}"
        return
    ripe = known.ripe()
    since = ripe.strip(here)
    if since is None:
        yield f"{place} is stripped, and by its cubes or the cold its blocks are not strong enough. {_ASIDE}"
    elif since - known.at >= LEAST_EARLY:
        yield f"{place} is stripped {_early(since, ripe.strip(replace(here, thumbs=[])), known)}. {_ASIDE}"
    elif beside := Doubts(known.state, known.plan.site, ripe, known.at).of(here).beside:
        behind = "; ".join(f"a thumb {FELT[shows]} {other}" for other, shows in beside)
        yield f"{place} is stripped, and poured with it: {behind}. Look at its blocks. {_ASIDE}"


def _early(since: datetime, reckoned: datetime | None, known: Known) -> str:
    """How much too early something is, by the air or by the thumbs that put it off."""
    by = "its thumbs" if reckoned is not None and since > reckoned else "the air"
    return f"{(since - known.at) // _HOUR} h before it is old enough by {by}, {moment_name(since)}"


_ASIDE: Final = "If that is not a slip, set these blocks apart: they may break and fall."


_AT_REST: Final = "do not move it yet: it may slump or break."


def _sides(event: SidesOff, known: Known) -> Iterator[str]:
    here = known.state.moulds.get(event.base)
    if here is None:
        return
    ripe = known.ripe()
    since = ripe.sides(here)
    if since is not None and since - known.at >= LEAST_EARLY:
        early = _early(since, ripe.sides(replace(here, thumbs=[])), known)
        yield f"the sides come off {event.base} {early}. If that is not a slip, {_AT_REST}"


def _laid(event: Laid, known: Known) -> Iterator[str]:
    yield from _too_young(event, known)
    yield from _set_apart(event, known)
    yield from mingled(event, known)
    yield from course_doubted(event, known)


def _too_young(event: Laid, known: Known) -> Iterator[str]:
    ripe = known.ripe()
    young, last = 0, known.at
    for one in taken_by(event, known.state):
        since = ripe.lay(one.lot) if one.lot.batch != UNKNOWN else None
        if since is not None and since.date() > known.at.date():
            young, last = young + one.n_blocks, max(last, since)
    if young:
        of = f"{young} of the blocks laid {'is' if young == 1 else 'are'} not old enough"
        yield f"{of}, to lay from {day_name(last.date())}. If that is not a slip, put no load on them until then."


def _set_apart(event: Laid, known: Known) -> Iterator[str]:
    apart = known.apart
    laid: Counter[Pour] = Counter()
    for one in taken_by(event, known.state):
        laid[one.lot.pour] += one.n_blocks * (one.lot.pour in apart)
    for pour in +laid:
        of = f"{laid[pour]} of the blocks laid {'is' if laid[pour] == 1 else 'are'} of batch"
        why = "" if event.of else ", for there were too few others"
        outside = f"{batch_said(pour[0], known.plan, pour[1])}, outside its card{why}"
        yield f"{of} {outside}. If that is not a slip, have the wall looked at before it carries anything."


def _passed(event: Passed, known: Known) -> Iterator[str]:
    batch = (event.plan, event.batch)
    if not any(of == batch for of, _ in known.apart):
        said = batch_said(batch, known.plan)
        words = [one.happened for one in known.told if is_word_for(one, batch)]
        if words:
            yield f"batch {said} may be used already, by what was recorded {moment_name(words[-1])}"
        else:
            yield f"nothing is recorded that speaks against batch {said}. Is it another batch?"


def _stacked(event: Stacked, known: Known) -> Iterator[str]:
    yield from stacked_early(event, known)
    yield from mingled(event, known)


def _lost(event: DayLost, known: Known) -> Iterator[str]:
    yield from days_doubted(event, known.plan)
    twin = next(
        (one for one in standing(known.entries) if isinstance(one.event, DayLost) and one.event.day == event.day), None
    )
    if twin is not None:
        yield f"{day_name(event.day)} is recorded as lost already, {entry_said(twin.number)}. It counts once."


def _away(event: PersonAway, known: Known) -> Iterator[str]:
    yield from days_doubted(event, known.plan)
    yield from absence_doubted(event, known)


def _poured(event: Poured, known: Known) -> Iterator[str]:
    yield from batch_doubted(event, known.plan)
    yield from pour_stopped(event, known.at, known.ripe())


def _crushed(event: Crushed, known: Known) -> Iterator[str]:
    pours = known.state.poured.get((event.plan, event.batch or 0), [])
    first = min((poured for poured in pours if poured < known.at), default=None)
    days = None if first is None else (known.at - first) / timedelta(days=1)
    yield from crush_doubted(event, known.plan, days)
    others = (one.event for one in known.told if isinstance(one.event, Crushed))
    yield from unlike_others(event, others, known.plan)
    yield from _of_one_batch(event, known)


def _of_one_batch(event: Crushed, known: Known) -> Iterator[str]:
    """Numbers that pours of one batch have, of which another may have been typed than is read back."""
    of = (event.plan, event.batch)
    numbers = sorted(one.number for one in known.plan.poured_before if (one.plan, one.was) == of)
    if len(numbers) > 1:
        yield f"batches {listed([str(number) for number in numbers])} are one, poured again: this counts for all of it"


def _counted(event: Counted, known: Known) -> Iterator[str]:
    return count_doubted(event, known.plan, known.told, known.at)


def _blocks_counted(event: BlocksCounted, known: Known) -> Iterator[str]:
    return blocks_doubted(event, known.state)


def _weather(event: WeatherSeen, known: Known) -> Iterator[str]:
    site = known.plan.site
    yield from air_replaced(event, standing(known.entries), known.at, site)
    yield from air_doubted(event, site)


_LOOKS: Final[Mapping[type[Event], Callable[[Any, Known], Iterator[str]]]] = {
    SidesOff: _sides,
    Stripped: _stripped,
    Stacked: _stacked,
    Laid: _laid,
    Rejected: mingled,
    Moved: joined,
    Poured: _poured,
    Passed: _passed,
    Crushed: _crushed,
    Counted: _counted,
    BlocksCounted: _blocks_counted,
    DayLost: _lost,
    PersonAway: _away,
    WeatherSeen: _weather,
}
