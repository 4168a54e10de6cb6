"""Rules on test cubes: the days on which a mix gives a set, and what it takes of its batch."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator

from blockrun.mix.cubes import days_with_cubes
from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import counted, figure, near
from blockrun.planner.audit.finding import Rule, Said


def sets_of_cubes(case: Case) -> Iterator[Said]:
    """Give one set on the first day of a mix, and on each that begins with a whole lot made since the last."""
    due, given = _due(case), Counter(_place(case, row.batch) for row in case.records.cubes if row.batch in case.batches)
    for mix, day in sorted(due | set(given)):
        wanted = int((mix, day) in due)
        if given[mix, day] != wanted:
            yield (
                f"mix {mix}",
                f"on {case.on(day)} batches of {mix} give {counted(given[mix, day], 'set')} of test cubes; "
                f"due {'is one' if wanted else 'are none'}",
            )


def _due(case: Case) -> set[tuple[str, int]]:
    """Mix and day of each set that is due."""
    if case.site.test_cubes is None:
        return set()
    made: defaultdict[str, dict[int, float]] = defaultdict(dict)
    for batch in case.batches.values():
        of_mix, day = made[batch.row.mix], case.day_of(batch.start)
        of_mix[day] = of_mix.get(day, 0.0) + batch.yield_l
    found = set()
    for mix, by_day in made.items():
        days = sorted(by_day)
        with_cubes = days_with_cubes([by_day[day] for day in days], case.site.test_cubes.every_l)
        found |= {(mix, days[index]) for index in with_cubes}
    return found


def _place(case: Case, batch: int) -> tuple[str, int]:
    made = case.batches[batch]
    return made.row.mix, case.day_of(made.start)


def cubes_as_asked(case: Case) -> Iterator[Said]:
    """Write for each set a batch of the plan, the cubes of a set and the mix they take, overfill included."""
    for row in case.records.cubes:
        name = f"batch {row.batch}"
        sets = case.site.test_cubes
        if row.batch not in case.batches:
            yield name, f"{name} gives test cubes, and is not planned"
        elif sets and (row.cubes != sets.count or not near(row.volume_l, case.cubes_l * (1 + case.site.overfill))):
            yield (
                name,
                f"{name} gives {counted(row.cubes, 'cube')} of {figure(row.volume_l)} L in all; a set is {sets.count} "
                f"of {figure(case.cubes_l * (1 + case.site.overfill))} L",
            )


CUBES: tuple[Rule, ...] = (sets_of_cubes, cubes_as_asked)
