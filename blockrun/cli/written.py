"""Files and folders that commands write, and what they say of them."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import typer


def write(path: Path, content: str | bytes, *, replace: bool) -> None:
    """Write one file and say so."""
    from blockrun.files.writing import write_file

    write_file(path, content, replace=replace)
    typer.echo(f"written to {path}")


def check_ending(path: Path, ending: str, things: str) -> None:
    """Refuse a file by the name of another kind: whoever gets it could not open it.

    Raises
    ------
    BadInput : its name does not end so.
    """
    if path.suffix.lower() != ending:
        from blockrun.errors import BadInput

        what = f"{things} are written as {ending} files, and {path.name} is named as something else"
        raise BadInput(what, f"Write --out {path.with_suffix(ending)}")


def check_svg(picture: Path | None) -> None:
    """Refuse a picture by the name of another kind of file: no viewer would open it.

    Raises
    ------
    BadInput : its name does not end in .svg.
    """
    if picture is not None and picture.suffix.lower() != ".svg":
        from blockrun.errors import BadInput

        what = f"pictures are drawn as SVG, and {picture.name} is named as something else"
        raise BadInput(what, f"Write --picture {picture.with_suffix('.svg')}; a browser opens and prints it.")


def write_pictures(pictures: Mapping[str, str], folder: Path, *, replace: bool) -> None:
    """Write pictures and the page that shows them, all of them or none."""
    from blockrun.files.writing import whole_folder
    from blockrun.show.pictures.paper import INDEX
    from blockrun.show.words import counted

    with whole_folder(folder, replace=replace, mark=INDEX) as new:
        for name, text in pictures.items():
            (new / name).write_text(text, encoding="utf-8")
    typer.echo(f"{counted(len(pictures) - 1, 'picture')} in {folder}; open {INDEX} to see and print")
