"""Rules on what had happened before a plan was made anew: it is written as it happened, and nothing is planned then."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import datetime
from typing import TYPE_CHECKING

from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import BAG, near
from blockrun.planner.audit.finding import Rule, Said
from blockrun.planner.audit.records import Cast

if TYPE_CHECKING:
    from blockrun.planner.begun.facts import TurnBegun


def batches_as_poured(case: Case) -> Iterator[Said]:
    """Write each batch that was poured with its mixer, its mix, its bags and its moment."""
    rows = {row.batch: row for row in case.records.batches}
    for batch in case.begun.batches if case.begun else ():
        row, name = rows.get(batch.number), f"batch {batch.number}"
        if row is None:
            yield name, f"{name} was poured, and is not in the plan"
        elif (row.mixer, row.mix) != (batch.mixer, batch.mix) or not near(row.bags, batch.bags, BAG):
            yield name, f"{name} was {batch.bags:g} bags of {batch.mix} in the {batch.mixer}, and is written otherwise"
        elif row.pour_to != case.minute(batch.poured):
            poured = case.at(case.minute(batch.poured))
            yield name, f"{name} was poured by {poured}, and is written as poured by {case.at(row.pour_to)}"


def turns_as_begun(case: Case) -> Iterator[Said]:
    """Write each turn that was begun with its good blocks, and what was done of it by then."""
    for turn in case.begun.turns if case.begun else ():
        name = f"{turn.mould} turn {turn.turn}"
        casts = case.casts_of.get((turn.mould, turn.turn), [])
        if _blocks(turn) != Counter((cast.cavity, cast.mark, cast.mix, cast.batch) for cast in casts):
            yield name, f"other blocks are written for {name} than came of it"
        elif any(cast.base != turn.base for cast in casts):
            yield name, f"{name} stood on {turn.base or 'no base'}, and is written otherwise"
        else:
            yield from _done(case, turn, name, casts[0])


def _blocks(turn: TurnBegun) -> Counter[tuple[int, str, str, int]]:
    return Counter((block.cavity, block.mark, block.mix, block.batch) for block in turn.blocks)


def _done(case: Case, turn: TurnBegun, name: str, cast: Cast) -> Iterator[Said]:
    done: tuple[tuple[str, datetime | None, int | None], ...] = (
        ("freed of its sides", turn.sides_off, cast.sides_off),
        ("stripped", turn.strip, cast.strip),
    )
    for what, moment, written in done:
        if moment is not None and written != case.minute(moment):
            yield name, f"{name} was {what} {case.at(case.minute(moment))}, and is written otherwise"
        if moment is None and what == "stripped" and written is not None and written < case.now:
            yield name, f"{name} was not {what} by {case.at(case.now)}, and is written as {what} {case.at(written)}"


def nothing_planned_before(case: Case) -> Iterator[Said]:
    """Plan no batch, and no task of a turn, for the time before the plan was made."""
    if case.begun is None:
        return
    for number, batch in case.batches.items():
        if number not in case.happened and batch.start < case.now:
            yield batch.name, f"{batch.name} is planned for {case.at(batch.start)}, before {case.at(case.now)}"
    begun = {(turn.mould, turn.turn) for turn in case.begun.turns}
    for turn in case.turns:
        if (turn.mould, turn.number) not in begun and any(row.start < case.now for row in turn.rows.values()):
            yield turn.name, f"tasks of {turn.name} are planned for the time before {case.at(case.now)}"


HAPPENED: tuple[Rule, ...] = (batches_as_poured, turns_as_begun, nothing_planned_before)
