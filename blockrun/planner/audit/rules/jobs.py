"""Rules on the jobs of a turn: sides, strip, move and clean, one row of each, when it may start and how long it is."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from blockrun.cure.age import NEVER
from blockrun.errors import OutOfRange
from blockrun.planner.audit.case import Case
from blockrun.planner.audit.figures import counted, figure
from blockrun.planner.audit.finding import Rule, Said
from blockrun.planner.audit.turns import JOBS, Turn, jobs_of
from blockrun.planner.audit.working import clock_text


def one_row_a_job(case: Case) -> Iterator[Said]:
    """Write one strip, one move and one clean row a turn, with bases one sides row, and no others.

    One clean row more where all was thrown out of a mould before the plan was made anew.
    """
    turns = Counter((turn.mould, turn.base) for turn in case.turns)
    gone = Counter((one.told.mould, one.told.base) for one in case.thrown_out)
    pairs = sorted(turns.keys() | gone.keys() | {pair for _, pair in case.job_rows})
    for pair in pairs:
        mould, base = pair
        for job in JOBS:
            needed = turns[pair] if job in jobs_of(case.moulds[mould]) else 0
            needed += gone[pair] if job == "clean" else 0
            written = len(case.job_rows.get((job, pair), ()))
            if written != needed:
                where = f"{mould} on {base}" if base else mould
                yield where, f"{where} needs {counted(needed, f'{job} row')}, but has {written}"


def job_lengths(case: Case) -> Iterator[Said]:
    """Take for a job the time the site gives to it, and for a move that of all its blocks."""
    rows = [(turn.name, job, row, turn.lengths[job]) for turn in case.turns for job, row in turn.rows.items()]
    rows += [(gone.name, "clean", gone.row, gone.length) for gone in case.thrown_out if gone.row is not None]
    for name, job, row, length in rows:
        if row.end - row.start != length:
            yield (
                name,
                f"{job} of {name} is written {clock_text(row.start)} to {clock_text(row.end)}, but takes {length} min",
                row,
            )


def job_cells(case: Case) -> Iterator[Said]:
    """Write one person and no batch for a job, and its blocks for sides, strip and move but not clean."""
    rows = [(turn.name, job, row, len(turn.casts)) for turn in case.turns for job, row in turn.rows.items()]
    rows += [(gone.name, "clean", gone.row, 0) for gone in case.thrown_out if gone.row is not None]
    for name, job, row, n_blocks in rows:
        for column, right in (("people", 1), ("batch", None), ("blocks", None if job == "clean" else n_blocks)):
            written = getattr(row, column)
            if written != right:
                yield name, f"the {job} row of {name} has {_cell(written)} for {column}, not {_cell(right)}", row


def _cell(value: int | None) -> str:
    return "nothing" if value is None else str(value)


def strip_age(case: Case) -> Iterator[Said]:
    """Strip no sooner than ``strip_at``, nor ``move_at``, hours at 20 degC after the last pour of the turn.

    Either may be a strength: then its hours are those of the weakest mix ordered.
    """
    curing = case.site.curing
    hours = max(case.hours(asked) for asked in (curing.strip_at_h, curing.move_at_h) if asked is not None)
    for turn in case.turns:
        yield from _too_young(case, turn, "strip", "stripped", hours)


def sides_age(case: Case) -> Iterator[Said]:
    """Take sides off no sooner than ``sides_off_at`` hours at 20 degC, or that strength, after the last pour."""
    asked = {turn.kind.kind: turn.kind.sides_off_at_h for turn in case.turns}
    hours = {kind: case.hours(age) for kind, age in asked.items() if age is not None}
    for turn in case.turns:
        if turn.kind.kind in hours:
            yield from _too_young(case, turn, "sides", "freed of its sides", hours[turn.kind.kind])


def _too_young(case: Case, turn: Turn, job: str, done: str, hours: float) -> Iterator[Said]:
    starts = turn.begins(job)
    if starts is None or case.past.has_done(turn, job):
        return
    if starts < turn.last_pour:
        yield (
            turn.name,
            f"{turn.mould} is {done} {case.at(starts)}, before its last pour ends, {case.at(turn.last_pour)}",
            turn.rows[job],
        )
        return
    ripe = _ripe(case, turn, hours)
    if ripe is None or starts < ripe:
        when = "not within the days looked at" if ripe is None else f"only {case.at(ripe)}"
        yield (
            turn.name,
            f"{turn.mould} is {done} {case.at(starts)}, but its last pour reaches {figure(hours)} hours at 20 degC "
            f"{when}",
            turn.rows[job],
        )


def _ripe(case: Case, turn: Turn, hours: float) -> int | None:
    """Minute at which the last pour of a turn has an age; None where it is too far off."""
    try:
        ripe = case.clock(turn.kind).when(turn.last_pour, hours)
    except OutOfRange:
        return None
    return None if ripe >= NEVER else ripe


def thumbs_heeded(case: Case) -> Iterator[Said]:
    """Strip, and take sides off, no sooner than thumbs say that were pressed before the plan was made anew."""
    for turn in case.turns:
        for job, done in (("sides", "freed of its sides"), ("strip", "stripped")):
            starts, put_off = turn.begins(job), case.past.put_off(turn, job)
            if starts is not None and starts < put_off and not case.past.has_done(turn, job):
                said = f"{turn.mould} is {done} {case.at(starts)}, and thumbs put that off to {case.at(put_off)}"
                yield turn.name, said, turn.rows[job]


def sides_before_strip(case: Case) -> Iterator[Said]:
    """Take the sides off before stripping."""
    for turn in case.turns:
        off, strips = turn.ends("sides"), turn.begins("strip")
        if off is not None and strips is not None and strips < off and not case.past.has_done(turn, "strip"):
            said = f"{turn.mould} is stripped {case.at(strips)}, before its sides are off, {case.at(off)}"
            yield turn.name, said, turn.rows["strip"]


def move_at_strip(case: Case) -> Iterator[Said]:
    """Move the blocks to the rack as soon as they are stripped."""
    for turn in case.turns:
        moves, stripped = turn.begins("move"), turn.ends("strip")
        if moves is not None and stripped is not None and moves != stripped:
            yield (
                turn.name,
                f"the blocks of {turn.name} are moved {case.at(moves)}, not when stripped, {case.at(stripped)}",
                turn.rows["move"],
            )


def clean_after_strip(case: Case) -> Iterator[Said]:
    """Clean a mould, or with bases its base, after stripping."""
    for turn in case.turns:
        cleans, stripped = turn.begins("clean"), turn.ends("strip")
        if case.past.has_done(turn, "clean"):
            continue
        if cleans is not None and stripped is not None and cleans < stripped:
            yield (
                turn.name,
                f"{turn.base or turn.mould} is cleaned {case.at(cleans)}, before it is stripped, {case.at(stripped)}",
                turn.rows["clean"],
            )


JOB_RULES: tuple[Rule, ...] = (
    one_row_a_job,
    job_lengths,
    job_cells,
    strip_age,
    sides_age,
    thumbs_heeded,
    sides_before_strip,
    move_at_strip,
    clean_after_strip,
)
