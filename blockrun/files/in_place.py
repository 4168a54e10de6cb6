"""New files for a folder that is in use: they come in one by one, and yet all or none, whenever that is broken off.

The folder is there all the time, and what else lies in it is never touched: a journal that somebody writes to
meanwhile, plans that were kept, notes.

1. They are written into a folder of their own in it. Broken off here, the old ones stay.
2. That folder gets the name `COMING`: one step of the system, and from it on the new ones count.
3. What is to go goes, and the new ones are moved to their places. Whoever comes next goes on where this was broken off.
4. `COMING` is empty, and taken away.
"""

from __future__ import annotations

import contextlib
import json
import os
import shutil
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import Final, TypeVar

from blockrun.errors import BadInput
from blockrun.files.disk import alone, said_as_bad_input, sync, sync_all

COMING: Final = ".blockrun.coming"
NEW: Final = ".blockrun.new-"
"""And the number of the process that writes into it."""

GOES: Final = ".goes"
"""A file among the new ones: names of those that are to go."""

Found = TypeVar("Found")

Ours = Callable[[Path], Iterable[str]]
"""Names of what is ours in a folder."""


def nothing_in(folder: Path) -> bool:
    """Whether nothing lies in a folder but what a broken off writer left."""
    return all(entry.name.startswith(NEW) for entry in folder.iterdir())


@contextlib.contextmanager
def renewed(place: Path, ours: Ours) -> Iterator[Path]:
    """A folder to fill, the files of which come into another when the block ends well.

    Parameters
    ----------
    place : folder that they come into.
    ours : tells names of the old files in it that go, unless there is a new one of the name.

    Raises
    ------
    BadInput : something is in the way, nothing may be written there, or they are not all in their places yet.
    OSError : they cannot be written; the old ones stay.
    """
    with alone(place) as held:
        _bring_in(place)
        if held:
            _sweep(place)
        new = place / f"{NEW}{os.getpid()}"
        new.mkdir()
        try:
            yield new
            _check_free(new, place)
            goes = [name for name in ours(place) if not (new / name).exists() and (place / name).is_file()]
            (new / GOES).write_text(json.dumps(goes), encoding="utf-8")
            sync_all(new)
            new.rename(place / COMING)
        finally:
            shutil.rmtree(new, ignore_errors=True)
        _bring_in(place)


def finish(place: Path) -> None:
    """Bring in what was broken off in coming into a folder; wait for whoever is at it just now.

    Raises
    ------
    BadInput : it cannot be brought in.
    """
    if _is_coming(place):
        with alone(place):
            _bring_in(place)


@contextlib.contextmanager
def still(place: Path) -> Iterator[None]:
    """Have nothing come into a folder meanwhile, nor be left half in it.

    Raises
    ------
    BadInput : it cannot be brought in.
    """
    with said_as_bad_input(place), alone(place):
        _bring_in(place)
        yield


def read_whole(place: Path, mark: str, read: Callable[[], Found]) -> Found:
    """Read files of a folder that all came together, though others may come in meanwhile: then read again.

    Parameters
    ----------
    place : the folder.
    mark : a file that every coming brings anew.
    read : reads what is to be read, and has no other effect.

    Raises
    ------
    BadInput : it was broken off, and the rest cannot be brought in.
    """
    while True:
        finish(place)
        before = _which(place / mark)
        if _is_coming(place):
            continue
        try:
            found = read()
        except Exception:  # whatever comes of files that do not belong together
            if not _is_coming(place) and _which(place / mark) == before:
                raise
        else:
            if not _is_coming(place) and _which(place / mark) == before:
                return found


def _is_coming(place: Path) -> bool:
    return os.path.isdir(place / COMING)  # that of a path fails where nobody may look


def _which(file: Path) -> tuple[int, ...] | None:
    """What tells a file from another of its name."""
    try:
        told = os.stat(file)
    except OSError:
        return None
    return told.st_ino, told.st_mtime_ns, told.st_ctime_ns, told.st_size


def _sweep(place: Path) -> None:
    """Take away what writers left that were broken off; none is at it, for one of them is alone here."""
    for left in place.glob(f"{NEW}*"):
        shutil.rmtree(left, ignore_errors=True)


def _check_free(new: Path, place: Path) -> None:
    """Refuse, while the old files still count, places that the new ones could not be moved to."""
    for entry in sorted(new.rglob("*")):
        there = place / entry.relative_to(new)
        if entry.is_dir() and os.path.lexists(there):
            if there.is_symlink() or not there.is_dir():
                raise BadInput("is in the way of a folder", "Move it away.", file=there)
            if not os.access(there, os.W_OK | os.X_OK):
                raise BadInput("you may not write in this folder", "Check its permissions.", file=there)
        elif entry.is_file() and there.is_dir():
            raise BadInput("is a folder in the way of a file", "Move it away.", file=there)


def _bring_in(place: Path) -> None:
    """Do, or go on with, all that is left to do once the new files count; each step may be done again."""
    coming = place / COMING
    if not _is_coming(place):
        return
    then = " The new files are kept, and the next command on this folder brings in the rest."
    with said_as_bad_input(place, "not all new files are in their places", then):
        sync(place)
        _take_out(place, coming / GOES)
        folders = _move(coming, place)
        for folder in (*folders, coming):
            sync(place / folder.relative_to(coming))
        for folder in (*reversed(folders), coming):
            with contextlib.suppress(FileNotFoundError):
                folder.rmdir()
        sync(place)


def _take_out(place: Path, goes: Path) -> None:
    """Take out the files that are to go, before any comes in whose name a disk may hold for the same."""
    with contextlib.suppress(FileNotFoundError):
        for name in json.loads(goes.read_text(encoding="utf-8")):
            (place / name).unlink(missing_ok=True)
        goes.unlink()


def _move(coming: Path, place: Path) -> list[Path]:
    """Move the new files to their places; returns the folders that they lay in, outer ones first."""
    folders = []
    for entry in sorted(coming.rglob("*")):
        there = place / entry.relative_to(coming)
        if entry.is_dir():
            there.mkdir(exist_ok=True)
            folders.append(entry)
        else:
            with contextlib.suppress(FileNotFoundError):  # somebody else has moved it
                entry.replace(there)
    return folders
