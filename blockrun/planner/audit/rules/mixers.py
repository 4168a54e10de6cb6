"""Rules on batches beside each other: one at a time in a mixer, one foam generator."""

from __future__ import annotations

from collections.abc import Iterator

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.finding import Rule, Said
from blockrun.planner.audit.sweep import overlaps


def one_batch_a_mixer(case: Case) -> Iterator[Said]:
    """Make one batch at a time in a mixer, from slurry to washed."""
    for mixer in case.mixers:
        spans = [(batch.start, batch.end, batch) for batch in case.batches.values() if batch.mixer.name == mixer]
        for first, second in overlaps(spans):
            if second.row.batch in case.past.poured:
                continue
            yield (
                second.name,
                f"{second.name} starts in the {mixer} {case.at(second.start)}, but {first.name} is in it "
                f"until {case.at(first.end)}",
            )


def one_foam_step_at_a_time(case: Case) -> Iterator[Said]:
    """Serve one mixer at a time with the one foam generator."""
    spans = [(batch.foam_at, batch.pour_from, batch) for batch in case.batches.values()]
    for first, second in overlaps(spans):
        if first.mixer.name != second.mixer.name and second.row.batch not in case.past.poured:
            yield (
                second.name,
                f"{second.name} needs foam at {case.at(second.foam_at)}, but the generator serves {first.name} "
                f"until {case.at(first.pour_from)}",
            )


MIXERS: tuple[Rule, ...] = (one_batch_a_mixer, one_foam_step_at_a_time)
