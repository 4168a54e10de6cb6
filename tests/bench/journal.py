"""The journal under load: ``python -m tests.bench.journal [FOLDER]``.

A hundred thousand entries, then the median of adding one more, and of the disk putting four kilobytes in their place,
which is what most of it waits for; reading all of them and heeding what undoes; looking through the file, reading its
bare pages, a copy. Then a hundred thousand events of a yard at work, read and replayed, and what the commands `ready`
and `status` take after ten thousand, beside one that does nothing. Then a day's sheet typed in after a month's journal
and after one ten times as long. Then two writers, of which one after the other is
killed 200 times: no entry that was said to be recorded may be missing. The folder is on the disk to be measured.
"""

from __future__ import annotations

import os
import resource
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterable, Iterator
from datetime import UTC, timedelta
from functools import partial
from pathlib import Path
from typing import Final

from blockrun.planner.as_planned import load_as_planned
from blockrun.yard.journal import FILE, Entry, create_journal, open_journal, standing
from blockrun.yard.journal.events import (
    AnyEvent,
    Blocks,
    Fill,
    Laid,
    Moved,
    Note,
    Poured,
    Stacked,
    Stripped,
    WeatherSeen,
)
from blockrun.yard.journal.salvage import readable
from blockrun.yard.journal.verify import verify
from blockrun.yard.now import state_of
from blockrun.yard.ready.morning import morning_of
from blockrun.yard.record.recorder import Recorder, Typed
from tests.yard.journal.made import START, Writers, entry, note, undone

ENTRIES: Final = 100_000
AGAIN: Final = 200
KILLS: Final = 200
MORNING: Final = 10_000
SHEET: Final = 500
ROWS: Final = 10
PLANS: Final = Path(__file__).parents[1] / "plans"


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


def worked(number: int) -> Entry:
    """Batch after batch goes from mould to rack to stack and is laid, a day seen now and then, in six moulds."""
    batch, step = divmod(number, 6)
    mould, four = f"gang-4/{batch % 6 + 1:02d}", (Blocks(mark="full", mix="wall", count=4),)
    events: tuple[AnyEvent, ...] = (
        Poured(batch=batch + 1, mix="wall", fills=(Fill(mould=mould, marks=("full",) * 4),)),
        WeatherSeen(day=START.date() + timedelta(days=batch % 60), min_degc=4, max_degc=13),
        Stripped(mould=mould, whole=four),
        Moved(rack="east", blocks=four, mould=mould),
        Stacked(rack="east", blocks=four) if batch % 4 else Note(words="swept"),
        Laid(part="hut", course=batch % 9 + 1, blocks=four) if batch % 3 else Note(words="oiled"),
    )
    return entry(number, events[step], minutes=number * 20)


def measure_state(path: Path) -> Iterator[str]:
    """A yard at work."""
    create_journal(path)
    with open_journal(path) as journal:
        journal.append(map(worked, range(ENTRIES)))
    began = time.process_time()
    with open_journal(path) as journal:
        entries = journal.entries()
    read = time.process_time()
    state = state_of(entries)
    took = time.process_time()
    yield f"{ENTRIES} events read in {read - began:.2f} s and replayed in {took - read:.2f} s of the processor"
    yield f"blocks that are nowhere, or there twice: {abs(state.everywhere().total() - state.cast.total())}"


def measure_morning(path: Path) -> Iterator[str]:
    """Commands of the yard themselves, from their start to their end, and the morning list alone."""
    plan = Path(shutil.copytree(PLANS / "demo", path.parent / "plan"))
    create_journal(plan / FILE)
    with open_journal(plan / FILE) as journal:
        journal.append(map(worked, range(MORNING)))
    at = START + timedelta(minutes=MORNING * 20)
    bare, _ = command("--version")
    for name in ("ready", "status"):
        processor, wall = command(name, str(plan), "--at", f"{at:%Y-%m-%d %H:%M}")
        yield (
            f"{name} after {MORNING} events: {processor:.2f} s of the processor, {processor / bare:.1f} times what a "
            f"command takes that does nothing; {wall:.2f} s from start to end"
        )
    loaded = load_as_planned(plan)
    with open_journal(plan / FILE) as journal:
        alone = statistics.median(seconds(lambda: morning_of(loaded, journal.entries(), at)) for _ in range(5))
    yield f"the list of ready: {alone:.2f} s"


def turned(number: int) -> Entry:
    """A mould of two is filled, stripped, stacked and laid, over and over; the last ones stay on the rack."""
    turn, step = divmod(number, 5)
    two = (Blocks(mark="full", mix="light", count=2),)
    fills = (Fill(mould="gang-2/01", marks=("full", "full")),)
    events: tuple[AnyEvent, ...] = (
        Poured(batch=turn + 1, mix="light", fills=fills, foam_g_l=95, wet_density_kg_m3=720 if turn % 10 == 0 else 806),
        Stripped(mould="gang-2/01", whole=two),
        Moved(rack="east", blocks=two, mould="gang-2/01"),
        Stacked(rack="east", blocks=two) if turn % 10 else Note(words="swept"),
        Laid(part="wall", course=1, blocks=two) if turn % 10 else Note(words="oiled"),
    )
    return entry(number, events[step], minutes=number)


def sheet_typed(recorder: Recorder) -> list[Entry]:
    rows = [Typed(("moved", "1", "full", "of", "others", "to", "west", "again"), f"row {row}") for row in range(ROWS)]
    return [entry for number, row in enumerate(rows) for entry in recorder.drafted(row, number)]


def measure_sheet(path: Path) -> Iterator[str]:
    """Rows of a sheet, each of which is held against all that is recorded."""
    plan, took = load_as_planned(PLANS / "small"), {}
    for n in (SHEET, 10 * SHEET):
        file = path.with_name(f"{n}.sqlite")
        create_journal(file)
        with open_journal(file) as journal:
            journal.append(map(turned, range(n)))
        now = START + timedelta(minutes=n)
        recorder = Recorder(plan, file, now, now.replace(tzinfo=UTC))
        began = time.process_time()
        recorder.keep(partial(sheet_typed, recorder))
        took[n] = time.process_time() - began
    yield f"{ROWS} rows after {SHEET} events: {took[SHEET]:.2f} s of the processor"
    yield f"after ten times as many: {took[10 * SHEET] / took[SHEET]:.1f} times that"


def command(*words: str) -> tuple[float, float]:
    """Seconds of the processor and by the clock that a command takes, the least of some runs."""
    found = []
    for _ in range(9):
        before = resource.getrusage(resource.RUSAGE_CHILDREN)
        script = [sys.executable, "-c", "from blockrun.cli import main; main()", *words]
        wall = seconds(lambda script=script: subprocess.run(script, check=True, capture_output=True))
        after = resource.getrusage(resource.RUSAGE_CHILDREN)
        found.append((after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, wall))
    return min(found)[0], min(wall for _, wall in found)


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
    for measure in (measure_one, measure_state, measure_morning, measure_sheet, measure_kills):
        with tempfile.TemporaryDirectory(dir=where) as folder:
            for line in measure(Path(folder) / FILE):
                sys.stdout.write(f"{line}\n")


if __name__ == "__main__":
    main()
