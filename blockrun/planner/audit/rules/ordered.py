"""Rules on what is cast: the blocks ordered, the spares asked for, and by when they are needed."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import counted
from blockrun.planner.audit.finding import Rule, Said
from blockrun.planner.audit.rules.cubes import sets_are_right_without

Place = tuple[str, int | None, str, str]
"""Part, course, mark and mix."""


def ordered_blocks(case: Case) -> Iterator[Said]:
    """Cast every block ordered once: as many for each part, course, mark and mix as the order asks."""
    asked: Counter[Place] = Counter()
    for line in case.lines:
        asked[line.part, line.course, line.mark, line.mix] += line.count
    cast = Counter((row.part, row.course, row.mark, row.mix) for row in case.records.casts if not row.spare)
    for place in {**asked, **cast}:
        if asked[place] != cast[place]:
            yield (
                _place_text(place),
                f"{counted(asked[place], 'block')} of {_place_text(place)} ordered, but {cast[place]} cast",
            )


def asked_spares(case: Case) -> Iterator[Said]:
    """Cast at least the asked spares of each mark and mix, and none of a mark and mix that nobody ordered."""
    asked: Counter[tuple[str, str]] = Counter()
    for line in case.spares:
        asked[line.mark, line.mix] += line.count
    cast = Counter((row.mark, row.mix) for row in case.records.casts if row.spare)
    ordered = {(line.mark, line.mix) for line in case.ordered}
    for mark, mix in sorted(asked.keys() | cast.keys()):
        have, want = cast[mark, mix], asked[mark, mix]
        if have < want:
            yield f"{mark} in {mix}", f"{counted(want, 'spare')} of {mark} in {mix} asked for, but {have} cast"
        elif (mark, mix) not in ordered:
            yield f"{mark} in {mix}", f"{counted(have, 'spare')} of {mark} in {mix} cast, but nobody ordered that"


def unwanted_spares(case: Case) -> Iterator[Said]:
    """Cast no spare beyond those asked for where the order says so, but for marks that slabs give."""
    if case.order.further_spares is not False:
        return
    asked = Counter({(line.mark, line.mix): line.count for line in case.spares})
    asked |= _more_than_ordered(case)
    sawn = {(row.mark, row.mix) for row in case.records.casts if case.moulds[row.mould].saw}
    cast = Counter((row.mark, row.mix) for row in case.records.casts if row.spare)
    for mark, mix in sorted(cast.keys() - sawn):
        have, want = cast[mark, mix], asked[mark, mix]
        if have > want:
            said = f"{counted(have, 'spare')} of {mark} in {mix} cast, but {want} asked for and no further ones wanted"
            yield f"{mark} in {mix}", said


def _more_than_ordered(case: Case) -> Counter[tuple[str, str]]:
    """Good blocks that were cast before the plan was made anew, beyond those ordered by now."""
    turns = case.begun.turns if case.begun else ()
    there = Counter((block.mark, block.mix) for turn in turns for block in turn.blocks)
    for line in case.lines:
        there[line.mark, line.mix] -= line.count
    return +there


def spares_have_no_course(case: Case) -> Iterator[Said]:
    """Give a spare neither a course nor a need date."""
    for row in case.records.casts:
        if row.spare and (row.course is not None or row.needed is not None):
            yield f"block {row.cast}", f"block {row.cast} is a spare, but has a course or a need date"


def need_dates(case: Case) -> Iterator[Said]:
    """Plan blocks for the need dates that the order gives to their part and course."""
    asked: defaultdict[Place, Counter[int | None]] = defaultdict(Counter)
    for line in case.lines:
        day = None if line.needed is None else (line.needed - case.site.calendar.start).days
        asked[line.part, line.course, line.mark, line.mix][day] += line.count
    cast: defaultdict[Place, Counter[int | None]] = defaultdict(Counter)
    for row in case.records.casts:
        if not row.spare:
            cast[row.part, row.course, row.mark, row.mix][row.needed] += 1
    for place, days in cast.items():
        wrong = days - asked[place]
        if wrong and days.total() == asked[place].total():
            right = asked[place] - days
            yield (
                _place_text(place),
                f"{counted(wrong.total(), 'block')} of {_place_text(place)} planned for {_days_text(case, wrong)}, "
                f"but the order says {_days_text(case, right)}",
            )


def needless_batches(case: Case) -> Iterator[Said]:
    """Make no batch without which every ordered block and asked spare would still be cast, and each set of cubes."""
    short: Counter[tuple[str, str]] = Counter()
    for line in (*case.lines, *case.spares):
        short[line.mark, line.mix] += line.count
    cast = Counter((row.mark, row.mix) for row in case.records.casts)
    for batch in case.planned_batches:
        of_batch = Counter((row.mark, row.mix) for row in batch.casts)
        enough = all(cast[what] - number >= short[what] for what, number in of_batch.items())
        if enough and sets_are_right_without(case, batch.row.batch):
            yield batch.name, f"{batch.name} is not needed: all that was asked for is cast without it"


def _place_text(place: Place) -> str:
    part, course, mark, mix = place
    where = f"{part} course {course}" if course is not None else part
    return f"{mark} in {mix} for {where}" if where else f"{mark} in {mix}"


def _days_text(case: Case, days: Counter[int | None]) -> str:
    dates = [case.on(day) for day in sorted(day for day in days if day is not None)]
    return ", ".join([*dates, "no date"] if None in days else dates)


ORDERED: tuple[Rule, ...] = (
    ordered_blocks,
    asked_spares,
    unwanted_spares,
    spares_have_no_course,
    need_dates,
    needless_batches,
)
