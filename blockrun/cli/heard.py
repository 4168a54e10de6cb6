"""What becomes of words that reach nobody: a full disk, a closed pipe, no screen at all.

The command does its work to the end, lest half of it be saved; only then it says that words were lost.
"""

from __future__ import annotations

import contextlib
import io
import os
import sys
from collections.abc import Iterator
from typing import Final, TextIO

from blockrun.errors import BadInput
from blockrun.terminal import complain_of

_STREAMS: Final = (0, 1, 2)
"""Numbers that the system gives to what is typed, what is printed, and what is complained of."""


class _Screen(io.TextIOWrapper):
    """A screen that takes all words, shows a letter it lacks as another, and keeps in mind what it could not print."""

    fault: OSError | None = None

    @classmethod
    def over(cls, stream: TextIO) -> _Screen:
        """The same screen, where words may get lost."""
        if isinstance(stream, cls):
            return stream
        return cls(stream.buffer, stream.encoding, "replace", line_buffering=stream.isatty())

    def write(self, text: str) -> int:
        """Print a text, or lose it."""
        with self._minded():
            super().write(text)
        return len(text)

    def flush(self) -> None:
        """Print what is held back, or lose it."""
        with self._minded():
            super().flush()

    @contextlib.contextmanager
    def _minded(self) -> Iterator[None]:
        try:
            yield
        except OSError as fault:
            self.fault = fault
            os.dup2(os.open(os.devnull, os.O_WRONLY), self.fileno())  # where all that follows goes


def open_what_is_closed() -> None:
    """Have all three streams there: else the next file that is opened would be taken for one of them."""
    while (free := os.open(os.devnull, os.O_RDWR)) in _STREAMS:
        os.set_inheritable(free, True)
    os.close(free)
    sys.stdin = sys.stdin or os.fdopen(0, encoding="utf-8")
    sys.stdout = sys.stdout or _Screen(os.fdopen(1, "wb"), "utf-8", "replace")
    sys.stderr = sys.stderr or _Screen(os.fdopen(2, "wb"), "utf-8", "replace")


@contextlib.contextmanager
def heard() -> Iterator[None]:
    """End a command in words and an exit code where something that it said was lost.

    Raises
    ------
    SystemExit : always; with the code of the command, or that of a `BadInput` where it is 0 and words were lost. Those
        that a reader did not wait for are not.
    """
    screen, errors = _Screen.over(sys.stdout), _Screen.over(sys.stderr)
    sys.stdout, sys.stderr = screen, errors
    code: str | int | None = 0
    try:
        yield
    except SystemExit as end:
        code = end.code
    screen.flush()
    if screen.fault and not isinstance(screen.fault, BrokenPipeError):
        done = "" if code else "All else is done: what it writes or records is there. "
        what = f"what there is to say cannot be printed: {screen.fault.strerror}"
        complain_of(BadInput(what, f"{done}Make room, or print elsewhere."))
        code = code or BadInput.exit_code
    errors.flush()
    sys.exit(code)
