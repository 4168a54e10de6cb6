"""Files and folders that commands write, and what they say of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from blockrun.terminal import say, screen

if TYPE_CHECKING:
    from blockrun.planner.as_read import AsRead


def write(path: Path, content: str | bytes, *, replace: bool) -> None:
    """Write one file and say so.

    Raises
    ------
    BadInput : it is there and not to be replaced, or a saved plan's own; its folder is not there, or it cannot be
        written.
    """
    from blockrun.files.writing import write_file

    _check_folder(path)
    _check_no_plans(path)
    write_file(path, content, replace=replace)
    typer.echo(f"written to {path}")


def check_out(path: Path, ending: str, things: str) -> None:
    """Refuse, before any long work, a file by the name of another kind, which nobody could open, or in no folder.

    Raises
    ------
    BadInput : it is a folder, its name does not end so, or its folder is not there.
    """
    _check_ending(path, ending, f"{things} are written as {ending} files", "--out", "plan")
    _check_folder(path)


def _check_ending(path: Path, ending: str, said: str, option: str, usual: str) -> None:
    """Refuse a name that ends otherwise, and say a right one."""
    from blockrun.errors import BadInput

    if path.is_dir():  # what is left empty, such as "$OUT" where that is not set, is the folder one is in
        raise BadInput(f"{said}, and a folder is named", f"Write {option} {path / f'{usual}{ending}'}")
    if path.suffix.lower() != ending:
        what = f"{said}, and {path.name} is named as something else"
        raise BadInput(what, f"Write {option} {path.with_suffix(ending)}")


def _check_folder(path: Path) -> None:
    """Refuse a file in a folder that is not there: more often than not its name is mistyped."""
    if not path.parent.exists():
        from blockrun.errors import BadInput

        raise BadInput("there is no such folder", "Make it first, or write into one that is there.", file=path.parent)


def _check_no_plans(path: Path) -> None:
    """Refuse to replace what a saved plan is read from."""
    from blockrun.planner.folder import MARK

    for folder in (path.parent, path.parent.parent):
        if path.exists() and (folder / MARK).is_file():
            from blockrun.errors import BadInput
            from blockrun.planner.own_files import own_files

            if path.relative_to(folder).as_posix() in own_files(folder):
                raise BadInput("belongs to the plan saved here", "Give another name.", file=path)


def check_svg(picture: Path | None) -> None:
    """Refuse a picture by the name of another kind of file: no viewer would open it.

    Raises
    ------
    BadInput : it is a folder, or its name does not end in .svg.
    """
    if picture is not None:
        _check_ending(picture, ".svg", "pictures are drawn as SVG, which a browser prints", "--picture", "picture")


def changed_since(files: AsRead) -> Iterator[str]:
    """Say which files have changed since a plan of them began to be made."""
    names = [path.name for path in files.changed()]
    if names:
        from blockrun.units import listed

        has, was = ("has", "it was") if len(names) == 1 else ("have", "they were")
        yield (
            f"{listed(names)} {has} changed since the plan began to be made. The plan is of what {was} before, kept "
            "in it; for what has changed, plan again."
        )


def write_pictures(pictures: Mapping[str, str], folder: Path, *, replace: bool) -> None:
    """Write pictures and the page that shows them, all of them or none."""
    from blockrun.files.writing import whole_folder
    from blockrun.show.page import Page
    from blockrun.show.pictures.paper import INDEX, OURS
    from blockrun.units import counted

    with whole_folder(folder, replace=replace, mark=INDEX, line=OURS) as new:
        for name, text in pictures.items():
            (new / name).write_text(text, encoding="utf-8")
    page = Page(screen().width)
    page.line(f"{counted(len(pictures) - 1, 'picture')} written. To see and print them, open:")
    page.verbatim(str(folder / INDEX), label="", indent=0)
    say(page.text())
