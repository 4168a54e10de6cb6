"""Writing all or nothing: what is read back is either the whole old thing or the whole new one."""

from __future__ import annotations

import contextlib
import os
import shutil
from collections.abc import Iterator, Mapping
from pathlib import Path

from blockrun.errors import BadInput
from blockrun.files.disk import said_as_bad_input, sync, sync_all
from blockrun.files.in_place import Ours, finish, nothing_in, renewed
from blockrun.files.text import read_text


def write_file(path: Path, content: str | bytes, *, replace: bool = False) -> None:
    """Write a whole file: beside its place first, then renamed into it.

    Raises
    ------
    BadInput : it exists and ``replace`` is false, or it cannot be written.
    """
    write_files({path: content}, replace=replace)


def write_files(contents: Mapping[Path, str | bytes], *, replace: bool = False) -> None:
    """Write several files: all of them beside their places first, then renamed into these, one after the other.

    One that takes another's place has its permissions.

    Raises
    ------
    BadInput : as for `write_file`; all is as it was then.
    """
    for path in contents:
        if path.is_dir():
            raise BadInput("is a folder", "Give the name of a file.", file=path)
        if path.exists() and not replace:
            raise BadInput("exists already", "Give another name, or add --replace.", file=path)
    beside = {path: _sibling(path, "new") for path in contents}
    try:
        for path, new in beside.items():
            with said_as_bad_input(path):
                _write(new, contents[path], path)
        _into_places(beside)
    finally:
        for new in beside.values():
            with contextlib.suppress(OSError):
                new.unlink()


def _into_places(beside: Mapping[Path, Path]) -> None:
    """Rename all; where one cannot be, such as a table that is open elsewhere, those before it get their old text."""
    held = {path: path.read_bytes() if path.exists() else None for path in [*beside][:-1]}
    done: list[Path] = []
    try:
        for path, new in beside.items():
            with said_as_bad_input(path):
                new.replace(path)
                done.append(path)
                sync(path.parent)
    except BadInput:
        for path in held.keys() & done:
            with contextlib.suppress(OSError):
                _put_back(held[path], beside[path], path)
        raise


def _put_back(old: bytes | None, beside: Path, place: Path) -> None:
    """What stood in a place before; None for nothing."""
    if old is None:
        place.unlink()
    else:
        _write(beside, old, place)
        beside.replace(place)


def _write(new: Path, content: str | bytes, place: Path) -> None:
    """Put a file on the disk that shall take a place."""
    new.parent.mkdir(parents=True, exist_ok=True)
    new.write_bytes(content.encode() if isinstance(content, str) else content)
    if place.exists():
        shutil.copymode(place, new)
    sync(new)


@contextlib.contextmanager
def whole_folder(
    path: Path, *, replace: bool = False, mark: str, line: str = "", ours: Ours = lambda _: ()
) -> Iterator[Path]:
    """A new folder to fill, which is there when the block ends well: all of it, or nothing.

    Parameters
    ----------
    path : where the folder shall lie.
    replace : put its files into one that is there. What else lies in that one is left alone: somebody's notes, a
        journal that is written to meanwhile; it may be read whole at all times, see `read_whole`.
    mark : a file that shows a folder to be one of ours; without it none is replaced.
    line : that stands in the mark, where others may name a file so, too.
    ours : tells names of files in the old one that go, unless there are new ones of the names.

    Yields
    ------
    The folder to write into, on the same disk as its place.

    Raises
    ------
    BadInput : a file or folder is in the way, or it cannot be written.
    """
    check_place(path, replace=replace, mark=mark, line=line)
    with said_as_bad_input(path):
        place = path.resolve()
        with renewed(place, ours) if place.is_dir() else _beside(place) as new:
            yield new


@contextlib.contextmanager
def _beside(place: Path) -> Iterator[Path]:
    """A folder to fill beside a place at which there is none; it gets its name when the block ends well."""
    new = _sibling(place, "new")
    shutil.rmtree(new, ignore_errors=True)
    new.mkdir(parents=True)
    try:
        yield new
        sync_all(new)
        new.rename(place)
        sync(place.parent)
    finally:
        shutil.rmtree(new, ignore_errors=True)


def check_place(path: Path, *, replace: bool, mark: str, line: str = "") -> None:
    """Refuse a place at which `whole_folder` would not write; cheap, so ask before long work.

    Raises
    ------
    BadInput : a file is there, or a folder that is not empty and not to be replaced, or not one of ours, or
        nothing may be written there.
    """
    with said_as_bad_input(path):
        if not path.exists():
            _check_writable(path)
            return
        if not path.is_dir():
            raise BadInput("is a file, and a folder is to be written", "Give another name.", file=path)
        finish(path)
        empty = nothing_in(path)
        _check_writable(path)
    if empty:
        return
    if not replace:
        raise BadInput("exists already", "Give another name, or add --replace.", file=path)
    if not (path / mark).is_file():
        raise BadInput(f"holds no {mark}, so it will not be replaced", "Give another name.", file=path)
    if line and line not in read_text(path / mark).splitlines():
        raise BadInput(f"its {mark} is none of ours, so it will not be replaced", "Give another name.", file=path)


def _check_writable(path: Path) -> None:
    """Refuse a folder that may not be changed, or, where there is none yet, the first one above it that there is."""
    folder = next(one for one in (path.resolve(), *path.resolve().parents) if one.exists())
    if not folder.is_dir():
        raise BadInput("is a file, and a folder is to be written in it", "Give another name.", file=folder)
    if not os.access(folder, os.W_OK | os.X_OK):
        raise BadInput("you may not write in this folder", "Choose another place.", file=folder)


def _sibling(path: Path, word: str) -> Path:
    return path.with_name(f".{path.name}.{word}-{os.getpid()}")
