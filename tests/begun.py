"""Commands begun in a process of their own, and ended whatever comes of them."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import Final, Protocol

ROOT: Final = Path(__file__).parent.parent


class Begin(Protocol):
    """Begins a script with words, and comes back when it has said a line."""

    def __call__(self, script: str, *words: object, says: str) -> subprocess.Popen[str]: ...


@contextmanager
def beginning() -> Iterator[Begin]:
    """Each is begun in a session of its own, as a terminal begins a command."""
    started: list[subprocess.Popen[str]] = []

    def begin(script: str, *words: object, says: str) -> subprocess.Popen[str]:
        doing = subprocess.Popen(
            [sys.executable, "-c", script, *map(str, words)],
            cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, start_new_session=True,
        )  # fmt: skip
        started.append(doing)
        assert doing.stdout is not None
        assert doing.stdout.readline() == f"{says}\n"
        return doing

    yield begin
    for doing in started:
        doing.kill()
        doing.communicate()
