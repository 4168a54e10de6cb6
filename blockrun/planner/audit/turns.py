"""What each turn of a mould must be, worked out again from its blocks and from the starts of its tasks."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Final

from blockrun.planner.audit.figures import whole_minutes
from blockrun.planner.audit.made import Made
from blockrun.planner.audit.records import Cast, Task

if TYPE_CHECKING:
    from blockrun.site import MouldKind

JOBS: Final = ("sides", "strip", "move", "clean")
"""Tasks of a turn, in order."""

Pair = tuple[str, str]
"""A mould and the base under it, "" where there are no bases."""

RowsOfPair = Mapping[tuple[str, Pair], Sequence[Task]]
"""Rows of one job on one mould and base, in order of time."""


@dataclass(frozen=True)
class Turn:
    """One mould filled, stripped and cleaned once. Minutes count from midnight of the first day.

    Attributes
    ----------
    number : as written in its blocks.
    casts, batches : its blocks and the batches they are poured from, never none.
    rows : its tasks by job. A job is missing where the plan has more or fewer rows of it than turns.
    lengths : minutes each job takes.
    """

    mould: str
    base: str
    number: int
    kind: MouldKind
    casts: tuple[Cast, ...]
    batches: tuple[Made, ...]
    rows: Mapping[str, Task]
    lengths: Mapping[str, int]

    @property
    def name(self) -> str:
        """Return the turn as sentences call it, such as ``gang-4/03 turn 2``."""
        return f"{self.mould} turn {self.number}"

    @property
    def start(self) -> int:
        """First pour_from."""
        return min(batch.pour_from for batch in self.batches)

    @property
    def last_pour(self) -> int:
        """Last pour_to: the age of the turn starts here."""
        return max(batch.pour_to for batch in self.batches)

    def begins(self, job: str) -> int | None:
        """Start of a job as written, None where its row is missing."""
        return self.rows[job].start if job in self.rows else None

    def ends(self, job: str) -> int | None:
        """Start of a job as written, and its length on top."""
        return self.rows[job].start + self.lengths[job] if job in self.rows else None

    @property
    def strip(self) -> int:
        """End of stripping; where the row is missing, what the blocks say."""
        end = self.ends("strip")
        return self.casts[0].strip if end is None else end

    @property
    def sides_off(self) -> int | None:
        """End of taking the sides off, None without bases; where the row is missing, what the blocks say."""
        if self.kind.bases is None:
            return None
        end = self.ends("sides")
        return self.casts[0].sides_off if end is None else end

    @property
    def cleaned(self) -> int:
        """End of cleaning; where the row is missing, the end of stripping."""
        end = self.ends("clean")
        return self.strip if end is None else end

    @property
    def mould_free(self) -> int:
        """Minute from which the mould, or with bases its sides, can be filled again."""
        return self.cleaned if self.sides_off is None else self.sides_off


def rows_of_pairs(tasks: Iterable[Task]) -> RowsOfPair:
    """Rows of each job on each mould and base, in order of time."""
    rows: defaultdict[tuple[str, Pair], list[Task]] = defaultdict(list)
    for task in sorted((task for task in tasks if task.task in JOBS), key=lambda task: (task.start, task.end)):
        rows[task.task, (task.mould, task.base)].append(task)
    return rows


def rebuild(
    casts: Iterable[Cast],
    batches: Mapping[int, Made],
    kinds: Mapping[str, MouldKind],
    rows: RowsOfPair,
    move_time_min: float,
) -> tuple[Turn, ...]:
    """Put the turns together from blocks and tasks.

    Tasks do not say their turn. On one mould and base turns follow one another, so the first strip row is that of
    the first turn, and so on; where there are more or fewer rows than turns, none is matched.

    Parameters
    ----------
    casts : all blocks; their moulds and batches exist.
    batches : by number.
    kinds : kind of each mould.
    rows : as :func:`rows_of_pairs` gives them.
    move_time_min : minutes a block takes to the rack.

    Returns
    -------
    Turns by mould, then in order of their start.
    """
    turns = []
    for (mould, base), fills in _fills(casts, batches).items():
        kind = kinds[mould]
        of_pair = {job: rows.get((job, (mould, base)), ()) for job in jobs_of(kind)}
        for nth, fill in enumerate(fills):
            turn = Turn(
                mould=mould,
                base=base,
                number=fill[0].turn,
                kind=kind,
                casts=tuple(fill),
                batches=tuple({cast.batch: batches[cast.batch] for cast in fill}.values()),
                rows={job: of_job[nth] for job, of_job in of_pair.items() if len(of_job) == len(fills)},
                lengths=job_lengths(kind, len(fill), move_time_min),
            )
            turns.append(turn)
    return tuple(sorted(turns, key=lambda turn: (turn.mould, turn.start, turn.number)))


def _fills(casts: Iterable[Cast], batches: Mapping[int, Made]) -> Mapping[Pair, list[list[Cast]]]:
    """Blocks of each turn, by mould and base, in order of their first pour; the first block says the base."""
    by_turn: defaultdict[tuple[str, int], list[Cast]] = defaultdict(list)
    for cast in casts:
        by_turn[cast.mould, cast.turn].append(cast)
    by_pair: defaultdict[Pair, list[list[Cast]]] = defaultdict(list)
    for fill in by_turn.values():
        by_pair[fill[0].mould, fill[0].base].append(fill)
    for fills in by_pair.values():
        fills.sort(key=lambda fill: (min(batches[cast.batch].pour_from for cast in fill), fill[0].turn))
    return by_pair


def jobs_of(kind: MouldKind) -> tuple[str, ...]:
    """Tasks of which each turn has one row: sides only where there are bases."""
    return JOBS if kind.bases is not None else JOBS[1:]


def job_lengths(kind: MouldKind, n_blocks: int, move_time_min: float) -> dict[str, int]:
    """Minutes that each job of a turn takes, rounded up."""
    return {
        "sides": kind.sides_time_min or 0,
        "strip": kind.strip_time_min + (kind.saw.time_min if kind.saw else 0),
        "move": whole_minutes(n_blocks * move_time_min),
        "clean": kind.clean_time_min,
    }
