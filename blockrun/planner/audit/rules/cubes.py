"""Rules on test cubes, by their meaning in :mod:`blockrun.mix.cubes`: sets a day, their mix, their marks and ages."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence
from itertools import zip_longest
from typing import TYPE_CHECKING, Final

from blockrun.mix.cubes import SetsBy, numbers_of_sets, sets_by_date, sets_by_volume, written_on
from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import counted, figure, near
from blockrun.planner.audit.finding import Rule, Said
from blockrun.planner.audit.records import CubeSet

if TYPE_CHECKING:
    from blockrun.planner.audit.made import Made
    from blockrun.site import CubeSets

_SPECK_L: Final = 1e-6


def sets_of_cubes(case: Case) -> Iterator[Said]:
    """Give as many sets of each mix as its lots take, each on a day on which its lot is made."""
    for mix in sorted({batch.row.mix for batch in case.batches.values()}):
        if breach := _first_breach(case, mix):
            yield f"mix {mix}", _said(case, mix, *breach)


def sets_are_right_without(case: Case, batch: int) -> bool:
    """Tell whether a plan that makes all but one batch would give the sets of its mix as they are due."""
    if any(rows[0].batch == batch for rows in case.cube_sets):
        return False
    return _first_breach(case, case.batches[batch].row.mix, without=batch) is None


def _first_breach(case: Case, mix: str, without: int | None = None) -> tuple[int, int, SetsBy] | None:
    """Day, sets given by its end, and those due, where a mix has given too many or too few."""
    made_l, given = defaultdict[int, float](float), Counter[int]()
    n_sets = Counter(rows[0].batch for rows in case.cube_sets)
    batches = [(number, batch) for number, batch in case.batches.items() if batch.row.mix == mix and number != without]
    for number, batch in batches:
        # a batch that makes nothing is found elsewhere
        made_l[case.day_of(batch.start)] += max(0.0, batch.yield_l)
        given[case.day_of(batch.start)] += n_sets[number] * (number not in case.past.poured)
    planned = {case.day_of(batch.start) for number, batch in batches if number not in case.past.poured}
    counts = _before(case, batches, n_sets, min(planned, default=0))
    for day, due in _due(case, made_l).items():
        if day in planned:
            counts = {so_far + given[day] for so_far in counts}
            right = {so_far for so_far in counts if due.least <= so_far <= due.most}
            if not right:
                return day, min(counts), due
            counts = right
    return None


def _before(case: Case, batches: Sequence[tuple[int, Made]], n_sets: Counter[int], today: int) -> set[int]:
    """Sets given before a plan was made anew: as they were, or as if lots that are over had given what they owed.

    A set that was lost may be made up for, and need not be. Of today's lot it is right either way too, to count what it
    gave or what it owed when the plan was made.
    """
    happened = [(number, batch) for number, batch in batches if number in case.past.poured]
    counts = {sum(n_sets[number] for number, _ in happened)}
    for until in (today, today + 1):
        made_l, given = defaultdict[int, float](float), 0
        for number, batch in happened:
            if case.day_of(batch.start) < until:
                made_l[case.day_of(batch.start)] += max(0.0, batch.yield_l)
                given += n_sets[number]
        # a day to come, for on the last one all lots are over
        for due in list(_due(case, made_l | {until + 1: _SPECK_L}).values())[-2:-1]:
            given = max(due.least, min(due.most, given))
        counts.add(given + sum(n_sets[number] for number, batch in happened if case.day_of(batch.start) >= until))
    return counts


def _said(case: Case, mix: str, day: int, so_far: int, due: SetsBy) -> str:
    wanted = f"{due.least}" if due.least == due.most else f"{due.least} to {due.most}"
    return (
        f"up to {case.on(day)} batches of {mix} have given {counted(so_far, 'set')} of test cubes; due by then "
        f"{'is' if wanted == '1' else 'are'} {wanted}"
    )


def _due(case: Case, made_l: Mapping[int, float]) -> Mapping[int, SetsBy]:
    """Sets that a mix has given by the end of each day on which it is made."""
    sets, days = case.site.test_cubes, list(made_l)
    if sets is None:
        return dict.fromkeys(days, SetsBy(0, 0))
    if not isinstance(sets.every_l, str):
        of_days = sets_by_volume(list(made_l.values()), sets.every_l)
    else:
        of_days = sets_by_date(days, days if sets.every_l == "day" else _delivered(case))
    return dict(zip(days, of_days, strict=True))


def _delivered(case: Case) -> list[int]:
    """Days after the first on which cement comes."""
    days = {(delivery.day - case.working.start).days for delivery in case.site.stock.cement.deliveries}
    return sorted(day for day in days if day > 0)


def cubes_as_asked(case: Case) -> Iterator[Said]:
    """Write for each set a batch of the plan, the cubes of a set and the mix they take, overfill included."""
    sets = case.site.test_cubes
    for rows in case.cube_sets:
        name = f"batch {rows[0].batch}"
        cubes, litres = sum(row.cubes for row in rows), sum(row.volume_l for row in rows)
        if rows[0].batch not in case.batches:
            yield name, f"{name} gives test cubes, and is not planned"
        elif sets and (cubes != sets.count or not near(litres, case.cubes_l * (1 + case.site.overfill))):
            yield (
                name,
                f"{name} gives {counted(cubes, 'cube')} of {figure(litres)} L in all; a set is {sets.count} "
                f"of {figure(case.cubes_l * (1 + case.site.overfill))} L",
            )


def cubes_marked(case: Case) -> Iterator[Said]:
    """Number sets by the clock but for those given before, mark their cubes and name the days of crushing them."""
    sets = case.site.test_cubes
    if sets is None:
        return
    counts = Counter(rows[0].batch for rows in case.cube_sets)  # its order is theirs
    numbered = numbers_of_sets(counts.items(), case.begun.sets if case.begun else {})
    for (_, number), rows in zip(numbered, case.cube_sets, strict=True):
        if rows[0].batch in case.batches:
            yield from _marked(case, sets, number, rows)


def _marked(case: Case, sets: CubeSets, number: int, rows: list[CubeSet]) -> Iterator[Said]:
    day = case.day_of(case.batches[rows[0].batch].start)
    crushed: list[int | None] = [case.working.working_day(day + age) for age in sets.crush_after_d]
    labels = written_on(number, sets.count, len(sets.crush_after_d))
    due = [(number, cubes, marked, crush) for (cubes, marked), crush in zip(labels, crushed or [None], strict=True)]
    written = sorted(
        ((row.set, row.cubes, row.marked, row.crush) for row in rows), key=lambda row: (row[3] or 0, row[2])
    )
    for right, wrong in zip_longest(due, written):
        if right != wrong:
            says, is_due = (_row_said(case, row) for row in (wrong, right))
            yield (
                f"batch {rows[0].batch}",
                f"of the cubes of batch {rows[0].batch} the plan says {says}; due is {is_due}",
            )
            return


def _row_said(case: Case, row: tuple[int, int, str, int | None] | None) -> str:
    if row is None:
        return "nothing more"
    number, cubes, marked, crush = row
    when = f"crushed on {case.on(crush)}" if crush is not None else "no day to crush"
    return f"{counted(cubes, 'cube')} of set {number}, marked {marked or 'nothing'}, {when}"


CUBES: tuple[Rule, ...] = (sets_of_cubes, cubes_as_asked, cubes_marked)
