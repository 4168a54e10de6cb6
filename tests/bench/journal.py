"""The journal under load: ``python -m tests.bench.journal [FOLDER]``.

A hundred thousand entries, then the median of adding one more, and of the disk putting four kilobytes in their place,
which is what most of it waits for; reading all of them and heeding what undoes; looking through the file, reading its
bare pages, a copy. Then two writers, of which one after the other is killed 200 times: no entry that was said to be
recorded may be missing. The folder is on the disk to be measured.
"""

from __future__ import annotations

import os
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Final

from blockrun.yard.journal import FILE, Entry, create_journal, open_journal, standing
from blockrun.yard.journal.salvage import readable
from blockrun.yard.journal.verify import verify
from tests.yard.journal.made import Writers, entry, note, undone

ENTRIES: Final = 100_000
AGAIN: Final = 200
KILLS: Final = 200


def seconds(work: Callable[[], object]) -> float:
    began = time.perf_counter()
    work()
    return time.perf_counter() - began


def synced(folder: Path) -> Iterable[float]:
    """What the disk takes for a page, asked for again and again."""
    with (folder / "page").open("wb") as file:
        for _ in range(AGAIN):
            file.write(bytes(4096))
            file.flush()
            yield seconds(lambda: os.fsync(file.fileno()))


def told(number: int) -> Entry:
    """A batch each time, a note now and then, and some of these undone."""
    if number % 50 == 49:
        return undone(number, f"k{number - 1}")
    return note(number) if number % 50 == 48 else entry(number)


def measure_one(path: Path) -> Iterator[str]:
    """One writer alone."""
    create_journal(path)
    with open_journal(path) as journal:
        yield f"{ENTRIES} entries at once: {seconds(lambda: journal.append(map(told, range(ENTRIES)))):.2f} s"
        page = statistics.median(synced(path.parent))
        more = range(ENTRIES, ENTRIES + AGAIN)
        one = statistics.median(seconds(lambda number=number: journal.append([entry(number)])) for number in more)
        yield f"one more: median {1000 * one:.1f} ms; the disk takes {1000 * page:.1f} ms for a page"
        began = time.process_time()
        entries = journal.entries()
        counted = standing(entries)
        yield f"{len(counted)} of {len(entries)} stand: {time.process_time() - began:.2f} s of the processor"
        yield f"a copy: {seconds(lambda: journal.backup(path.with_name('copy.sqlite'))):.2f} s"
    yield f"looked through: {seconds(lambda: verify(path)):.2f} s; bare pages: {seconds(lambda: readable(path)):.2f} s"
    yield f"{path.stat().st_size / 1e6:.1f} MB"


def measure_kills(path: Path) -> Iterator[str]:
    """Two writers, killed in turn."""
    create_journal(path)
    writers = Writers(path, seed=1)
    took = seconds(lambda: writers.kill(KILLS))
    with open_journal(path) as journal:
        recorded = {one.key for one in journal.entries()}
    lost = set(writers.acknowledged) - recorded
    yield f"{writers.killed} writers killed in {took:.0f} s, {len(writers.acknowledged)} entries acknowledged"
    yield f"{len(lost)} of these lost, {len(recorded)} recorded; faults of the file: {len(verify(path).faults)}"


def main() -> None:
    where = sys.argv[1] if len(sys.argv) > 1 else None
    for measure in (measure_one, measure_kills):
        with tempfile.TemporaryDirectory(dir=where) as folder:
            for line in measure(Path(folder) / FILE):
                sys.stdout.write(f"{line}\n")


if __name__ == "__main__":
    main()
