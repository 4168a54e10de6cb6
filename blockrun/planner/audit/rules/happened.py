"""Rules on what had happened before a plan was made anew: it is written as it happened, and nothing is planned then."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from typing import TYPE_CHECKING, Final

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import BAG, SIDE_MM, counted, near
from blockrun.planner.audit.finding import Rule, Said

if TYPE_CHECKING:
    from blockrun.planner.audit.records import SawnOut
    from blockrun.planner.begun.facts import BatchPoured, TurnBegun


def batches_as_poured(case: Case) -> Iterator[Said]:
    """Write each batch that was poured with its mixer, its mix, its bags, its moment and its sets of test cubes."""
    n_sets = Counter(rows[0].batch for rows in case.cube_sets)
    for batch in case.begun.batches if case.begun else ():
        name = f"batch {batch.number}"
        if batch.number not in case.batches:
            yield name, f"{name} was poured, and is not in the plan"
        elif said := _otherwise(case, batch, n_sets[batch.number]):
            yield name, f"{name} {said}"


def _otherwise(case: Case, batch: BatchPoured, n_sets: int) -> str:
    """What is written otherwise of a batch than it was; empty where nothing is."""
    made = case.batches[batch.number]
    if (made.mixer.name, made.row.mix) != (batch.mixer, batch.mix) or not near(made.row.bags, batch.bags, BAG):
        return f"was {batch.bags:g} bags of {batch.mix} in the {batch.mixer}, and is written otherwise"
    poured = case.past.minute(batch.poured)
    if made.pour_to != poured:
        return f"was poured by {case.at(poured)}, and is written as poured by {case.at(made.pour_to)}"
    if case.site.test_cubes and n_sets != batch.cubes:
        return f"gave {counted(batch.cubes, 'set')} of test cubes, and is written with {n_sets}"
    return ""


def turns_as_begun(case: Case) -> Iterator[Said]:
    """Write each turn that was begun on its base, with its good blocks, those on their racks and sawn as they are."""
    racks = {rack.name for rack in case.site.racks}
    sawn = {(row.mould, row.turn, row.cavity): row for row in case.records.sawing}
    for turn in case.past.turns.values():
        name = f"{turn.mould} turn {turn.turn}"
        casts = case.casts_of.get((turn.mould, turn.turn), [])
        told = {block.cavity: block.rack for block in turn.blocks if block.rack in racks}
        if _blocks(turn) != Counter((cast.cavity, cast.mark, cast.mix, cast.batch) for cast in casts):
            yield name, f"other blocks are written for {name} than came of it"
        elif any(cast.base != turn.base for cast in casts):
            yield name, f"{name} stood on {turn.base or 'no base'}, and is written otherwise"
        elif elsewhere := [cast for cast in casts if told.get(cast.cavity, cast.rack) != cast.rack]:
            cast = elsewhere[0]
            said = f"block {cast.cast} came to rack {told[cast.cavity]}, and is written on rack {cast.rack}"
            yield f"block {cast.cast}", said
        elif not all(_is_sawn(turn, sawn)):
            yield name, f"the slab of {name} is sawn otherwise than is told"


def _blocks(turn: TurnBegun) -> Counter[tuple[int, str, str, int]]:
    return Counter((block.cavity, block.mark, block.mix, block.batch) for block in turn.blocks)


def _is_sawn(turn: TurnBegun, sawn: Mapping[tuple[str, int, int], SawnOut]) -> Iterator[bool]:
    """For each block of which it is told and written how it lies in its slab, whether these are the same."""
    for block in turn.blocks:
        row = sawn.get((turn.mould, turn.turn, block.cavity))
        if row is not None and block.sawn is not None:
            written = (row.from_left_mm, row.from_bottom_mm, row.length_mm, row.height_mm)
            yield all(near(one, other, SIDE_MM) for one, other in zip(written, block.sawn, strict=True))


def jobs_as_done(case: Case) -> Iterator[Said]:
    """Write each job that was done with the minute at which it was over."""
    for turn in case.turns:
        for job, done in _DONE.items():
            end, written = case.past.end_of(turn, job), turn.ends(job)
            if end is not None and written is not None and written != end:
                said = f"{turn.name} was {done} {case.at(end)}, and is written as {done} {case.at(written)}"
                yield turn.name, said, turn.rows[job]


_DONE: Final = {"sides": "freed of its sides", "strip": "stripped", "clean": "clean"}


def nothing_planned_before(case: Case) -> Iterator[Said]:
    """Plan no batch for the time before the plan was made, and no job that was not done then."""
    for batch in case.planned_batches:
        if batch.start < case.past.now:
            yield batch.name, f"{batch.name} is planned for {case.at(batch.start)}, before {case.at(case.past.now)}"
    for turn in case.turns:
        for job, row in turn.rows.items():
            if row.start < case.past.now and not case.past.has_done(turn, job):
                said = f"{job} of {turn.name} is planned for {case.at(row.start)}, before {case.at(case.past.now)}"
                yield turn.name, said, row


def nothing_more_was_filled(case: Case) -> Iterator[Said]:
    """Fill nothing from a batch that was poured but what was filled from it."""
    for turn in case.turns:
        before = sorted({cast.batch for cast in turn.casts} & case.past.poured)
        if before and not case.past.has_begun(turn):
            yield turn.name, f"{turn.name} is filled from batch {before[0]}, which was poured, and not into it"


HAPPENED: tuple[Rule, ...] = (
    batches_as_poured,
    turns_as_begun,
    jobs_as_done,
    nothing_planned_before,
    nothing_more_was_filled,
)
