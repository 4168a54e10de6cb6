"""A command in a process of its own: how long it took, how much of the processors, and its most memory."""

from __future__ import annotations

import os
import resource
import signal
import subprocess
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

_POLL_S: Final = 0.02
_GRACE_S: Final = 10.0


@dataclass(frozen=True)
class Ran:
    """What a command did.

    ``cpu_s`` and ``peak_mb`` are of the process itself and of those it waited for; ``stopped`` tells that its time
    was over.
    """

    code: int
    seconds: float
    cpu_s: float
    peak_mb: float
    stopped: bool
    said: str


def run(command: Sequence[str], log: Path, longest_s: float) -> Ran:
    """Run a command; one that takes longer is asked to end, and ten seconds later ended.

    What it prints goes to ``log``. This process must be small: until a child has begun its command it is a copy of
    this one, and the most memory of the copy counts as the child's.
    """
    began = time.monotonic()
    with log.open("w", encoding="utf-8") as file:
        child = subprocess.Popen(command, stdout=file, stderr=subprocess.STDOUT, start_new_session=True)
    status, used, stopped = _waited(child.pid, began + longest_s)
    child.returncode = os.waitstatus_to_exitcode(status)
    return Ran(
        child.returncode,
        round(time.monotonic() - began, 2),
        round(used.ru_utime + used.ru_stime, 2),
        round(used.ru_maxrss / 1024, 1),
        stopped,
        log.read_text(encoding="utf-8"),
    )


def _waited(pid: int, until: float) -> tuple[int, resource.struct_rusage, bool]:
    stopped = False
    while True:
        found, status, used = os.wait4(pid, os.WNOHANG)
        if found:
            return status, used, stopped
        now = time.monotonic()
        if now > until:
            os.killpg(pid, signal.SIGKILL if stopped else signal.SIGTERM)
            stopped, until = True, now + _GRACE_S
        time.sleep(_POLL_S)
