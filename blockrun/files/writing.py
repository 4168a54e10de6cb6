"""Writing all or nothing: what is read back is either the whole old thing or the whole new one."""

from __future__ import annotations

import contextlib
import errno
import os
import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Final

from blockrun.errors import BadInput

FULL: Final = frozenset({errno.ENOSPC, errno.EDQUOT, errno.EFBIG})
"""What a system says where there is no room: a full disk, one's share of it used up, a file as large as they may be."""

LOST: Final = FULL | {errno.EIO}
"""What it may say only when it is asked to put on the disk what it has taken already."""


def write_file(path: Path, content: str | bytes, *, replace: bool = False) -> None:
    """Write a whole file: beside its place first, then renamed into it.

    Raises
    ------
    BadInput : it exists and ``replace`` is false, or it cannot be written.
    """
    if path.is_dir():
        raise BadInput("is a folder", "Give the name of a file.", file=path)
    if path.exists() and not replace:
        raise BadInput("exists already", "Give another name, or add --replace.", file=path)
    new = _sibling(path, "new")
    with _said_as_bad_input(path):
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            new.write_bytes(content.encode() if isinstance(content, str) else content)
            _sync(new)
            new.replace(path)
            _sync(path.parent)
        finally:
            new.unlink(missing_ok=True)


@contextlib.contextmanager
def whole_folder(path: Path, *, replace: bool = False, mark: str) -> Iterator[Path]:
    """A new folder to fill, which takes its place only when the block ends well.

    Parameters
    ----------
    path : where the folder shall lie.
    replace : swap it for one that is there; that one is moved aside whole, and deleted last. What lies in it
        beside what is written anew, such as somebody's notes, is kept.
    mark : a file that shows a folder to be one of ours; without it none is replaced.

    Yields
    ------
    The folder to write into, beside its place.

    Raises
    ------
    BadInput : a file or folder is in the way, or it cannot be written.
    """
    check_place(path, replace=replace, mark=mark)
    place = path.resolve()
    new = _sibling(place, "new")
    with _said_as_bad_input(path):
        shutil.rmtree(new, ignore_errors=True)
        new.mkdir(parents=True)
    try:
        with _said_as_bad_input(path):
            yield new
            for file in sorted(new.rglob("*")):
                _sync(file)
            _swap(new, place)
    finally:
        shutil.rmtree(new, ignore_errors=True)


def check_place(path: Path, *, replace: bool, mark: str) -> None:
    """Refuse a place at which `whole_folder` would not write; cheap, so ask before long work.

    Raises
    ------
    BadInput : a file is there, or a folder that is not empty and not to be replaced, or not one of ours, or
        nothing may be written there.
    """
    with _said_as_bad_input(path):
        if not path.exists():
            _check_writable(path)
            return
        if not path.is_dir():
            raise BadInput("is a file, and a folder is to be written", "Give another name.", file=path)
        empty = not any(path.iterdir())
        _check_writable(path)
    if empty:
        return
    if not replace:
        raise BadInput("exists already", "Give another name, or add --replace.", file=path)
    if not (path / mark).is_file():
        raise BadInput(f"holds no {mark}, so it will not be replaced", "Give another name.", file=path)


def _check_writable(path: Path) -> None:
    """Refuse a place in a folder that may not be changed: the folder it is renamed into, or the first one there is."""
    folder = next(parent for parent in path.resolve().parents if parent.exists())
    if not folder.is_dir():
        raise BadInput("is a file, and a folder is to be written in it", "Give another name.", file=folder)
    if not os.access(folder, os.W_OK | os.X_OK):
        raise BadInput("you may not write in this folder", "Choose another place.", file=folder)


def _swap(new: Path, path: Path) -> None:
    """Put the new folder in its place; an old one stays whole beside it until then, and comes back if that fails."""
    old = _sibling(path, "old")
    shutil.rmtree(old, ignore_errors=True)
    had_one = path.exists()
    if had_one:
        path.rename(old)
    try:
        new.rename(path)
    except BaseException:
        if had_one:
            old.rename(path)
        raise
    _sync(path.parent)
    if had_one:
        for kept in old.iterdir():
            if not (path / kept.name).exists():
                kept.rename(path / kept.name)
    shutil.rmtree(old, ignore_errors=True)


def _sibling(path: Path, word: str) -> Path:
    return path.with_name(f".{path.name}.{word}-{os.getpid()}")


def _sync(path: Path) -> None:
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


@contextlib.contextmanager
def _said_as_bad_input(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        full = error.errno in FULL
        todo = "Make room on the disk, or choose another place." if full else "Check the folder and its permissions."
        raise BadInput(f"cannot be written: {error.strerror or error}", todo, file=path) from error
