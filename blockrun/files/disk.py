"""What is asked of the system where something shall be on the disk for good, and nobody else at it meanwhile."""

from __future__ import annotations

import contextlib
import errno
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from blockrun.errors import BadInput

FULL: Final = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EFBIG})
"""What a system says where there is no room: a full disk, one's share of it used up, a file as large as they may be."""

LOST: Final = FULL | {errno.EIO}
"""What it may say only when it is asked to put on the disk what it has taken already."""


def sync(path: Path) -> None:
    """Have the system put a file or a folder's entries on the disk now, where it can."""
    try:
        handle = os.open(path, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
    except OSError as error:
        if error.errno in LOST:
            raise


def sync_all(folder: Path) -> None:
    """The same for a folder with all that is in it."""
    for entry in sorted(folder.rglob("*")):
        sync(entry)
    sync(folder)


@contextlib.contextmanager
def alone(folder: Path) -> Iterator[bool]:
    """Wait for whoever else is alone in a folder, and have others wait; it ends with the process, even a killed one.

    Yields
    ------
    Whether that is so: some systems and some disks cannot.
    """
    try:
        import fcntl
    except ImportError:  # Windows
        yield False
        return
    with contextlib.ExitStack() as after:
        handle = os.open(folder, os.O_RDONLY)
        after.callback(os.close, handle)
        held = False
        with contextlib.suppress(OSError):
            fcntl.flock(handle, fcntl.LOCK_EX)
            after.callback(fcntl.flock, handle, fcntl.LOCK_UN)  # else a process begun meanwhile would hold it on
            held = True
        yield held


@contextlib.contextmanager
def said_as_bad_input(path: Path, what: str = "cannot be written", then: str = "") -> Iterator[None]:
    """Say in words what the system says.

    Parameters
    ----------
    path : what it is about.
    what : that could not be done.
    then : what comes once the user has done what is asked of them.
    """
    try:
        yield
    except OSError as error:
        full = error.errno in FULL
        todo = "Make room on the disk, or choose another place." if full else "Check the folder and its permissions."
        raise BadInput(f"{what}: {error.strerror or error}", f"{todo}{then}", file=path) from error
