"""A process that is killed, or a disk that fails, at each single step that changes a folder."""

from __future__ import annotations

import os
import signal
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any, Final

import pytest

STEPS: Final = ("mkdir", "rename", "replace", "unlink", "rmdir", "fsync")
"""What changes a folder, or puts it on the disk."""


def before_each_step(patch: pytest.MonkeyPatch, strike: Callable[[int], None]) -> None:
    """Have something strike before each step, which is told the step's number."""
    done = iter(range(10_000))
    for name in STEPS:
        step = getattr(os, name)

        def struck(*args: Any, step: Callable[..., Any] = step, **named: Any) -> Any:
            strike(next(done))
            return step(*args, **named)

        patch.setattr(os, name, struck)


def killed_at(number: int, work: Callable[[], object]) -> bool:
    """Do some work in another process, which is killed without a word before a step of that number; whether it was."""

    def until_killed() -> None:
        with pytest.MonkeyPatch.context() as patch:
            before_each_step(patch, lambda step: os.kill(os.getpid(), signal.SIGKILL) if step == number else None)
            work()

    _, status = os.waitpid(begun(until_killed), 0)
    assert os.WIFSIGNALED(status) or status == 0, "it came to its end, or to ours"
    return os.WIFSIGNALED(status)


def begun(work: Callable[[], None]) -> int:
    """Have another process do some work; its number."""
    child = os.fork()
    if child == 0:
        status = 1
        try:
            work()
            status = 0
        finally:
            os._exit(status)
    return child


def ended(child: int) -> bool:
    """Whether a process that was begun has done its work by now, which went well."""
    number, status = os.waitpid(child, os.WNOHANG)
    assert status == 0
    return number == child


def killed_at_each_step(
    folder: Callable[[int], Path], work: Callable[[Path], object], every: int = 1
) -> Iterator[Path]:
    """Folders, each a fresh one in which some work was killed so many steps later than in the last, to its end."""
    for number in range(0, 1000, every):
        place = folder(number)
        if not killed_at(number, lambda place=place: work(place)):  # type: ignore[misc]
            return
        yield place
