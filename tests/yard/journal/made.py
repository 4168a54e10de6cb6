"""Entries for tests, and processes that write them until they are killed."""

from __future__ import annotations

import os
import random
import signal
import subprocess
import sys
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Final

from blockrun.yard.journal import Entry
from blockrun.yard.journal.events import AnyEvent, Fill, Note, Poured, Undone

START: Final = datetime.fromisoformat("2027-04-05T08:00")
ROOT: Final = Path(__file__).parents[3]


def entry(number: int, event: AnyEvent | None = None, *, key: str = "", minutes: int | None = None) -> Entry:
    """The entry of some minute of the journal, a batch poured unless told."""
    after = timedelta(minutes=number if minutes is None else minutes)
    written = (START + timedelta(minutes=number)).replace(tzinfo=UTC)
    return Entry(key or f"k{number}", START + after, written, event or poured(number + 1))


def poured(batch: int) -> Poured:
    fills = (
        Fill(mould="gang-4/01", marks=("full", "full", "full", "cut")),
        Fill(mould="tray-3/02", base="b04", marks=("thin",)),
    )
    return Poured(batch=batch, mix="light", fills=fills, foam_g_l=95.5, wet_density_kg_m3=806.0, who="Ana")


def undone(number: int, key: str) -> Entry:
    return entry(number, Undone(key=key))


def note(number: int, words: str = "rain") -> Entry:
    return entry(number, Note(words=words))


WRITER: Final = """
import sys, time
from datetime import UTC, datetime
from blockrun.yard.journal import Entry, open_journal
from blockrun.yard.journal.events import Note
path, name = sys.argv[1:]
morning = datetime(2027, 4, 5, 8)
with open_journal(path) as journal:
    for number in range(1_000_000):
        key = f"{name}-{number}"
        words = "x" * (number * 37 % 2000 + 1)
        journal.append([Entry(key, morning, morning.replace(tzinfo=UTC), Note(words=words))])
        print(key, flush=True)
        time.sleep(0.01)  # lets the other one in
"""
"""Adds entries one by one, and says of each that it is recorded once it is."""


class Writers:
    """Two processes that write to one journal; one after the other is killed and another put in its place.

    Parameters
    ----------
    path : of the journal.
    seed : of the moments at which they are killed.
    """

    def __init__(self, path: Path, seed: int) -> None:
        self.path, self.chance = path, random.Random(seed)
        self.acknowledged: list[str] = []
        self.killed = 0
        self._running = [self._start(name) for name in ("first", "second")]

    def kill(self, times: int) -> None:
        """Kill writers in turn, each some moment after it has begun to write, until so many are dead."""
        for turn in range(times):
            writer = self._running.pop(0)
            self._heard(writer)
            time.sleep(self.chance.uniform(0.0, 0.12))
            self._end(writer)
            self._running.append(self._start(f"again {turn}"))
        while self._running:
            self._end(self._running.pop())

    def _start(self, name: str) -> subprocess.Popen[str]:
        words = [sys.executable, "-c", WRITER, str(self.path), name]
        return subprocess.Popen(words, cwd=ROOT, stdout=subprocess.PIPE, text=True)

    def _heard(self, writer: subprocess.Popen[str]) -> None:
        assert writer.stdout is not None
        first = writer.stdout.readline().strip()
        assert first
        self.acknowledged.append(first)

    def _end(self, writer: subprocess.Popen[str]) -> None:
        os.kill(writer.pid, signal.SIGKILL)
        assert writer.stdout is not None
        with writer.stdout as said:
            lines = said.read().split("\n")
        self.acknowledged += lines[:-1]  # what was broken off by the kill was never said
        self.killed += writer.wait() == -signal.SIGKILL
