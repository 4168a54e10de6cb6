"""Opening a file that should hold text, and saying what is wrong with it if it does not."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Final

from blockrun.errors import BadInput

_LARGEST: Final = 20_000_000
_LINE_END: Final = re.compile("\r\n|[\n\r\x85\u2028\u2029]")


def read_bytes(path: Path) -> bytes:
    """The content of a file.

    Raises
    ------
    BadInput : there is no such file, it cannot be opened, it is empty, or it is over 20 MB.
    """
    try:
        if path.is_dir():
            raise BadInput("is a folder, not a file", "Give the name of a file in it.", file=path)
        if path.stat().st_size > _LARGEST:
            raise BadInput("is over 20 MB", "Split it, or check that it is the right file.", file=path)
        content = path.read_bytes()
    except BadInput:
        raise
    except FileNotFoundError:
        raise BadInput("there is no such file", "Check the name and the folder.", file=path) from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else None
        raise BadInput(
            f"cannot be opened: {reason or error}", "Check the name and the permissions.", file=path
        ) from None
    if not content.strip():
        raise BadInput("is empty", "Check that it was saved.", file=path)
    return content


def read_text(path: Path) -> str:
    """The text of a UTF-8 file, without a byte-order mark.

    Raises
    ------
    BadInput : as `read_bytes`, or it is not text, or it is in another encoding.
    """
    content = read_bytes(path)
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        raise BadInput("is saved as UTF-16, not UTF-8", "Save it again with the encoding UTF-8.", file=path)
    if b"\0" in content:
        raise BadInput("is not a text file", "Check that it is the right file.", file=path)
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise BadInput(
            f"byte {content[error.start]:#04x} is not UTF-8",
            "Save the file again with the encoding UTF-8.",
            file=path,
            line=content[: error.start].count(b"\n") + 1,
        ) from None


def split_lines(text: str) -> list[str]:
    """The lines of a text without their ends, counted as a YAML reader and an editor count them."""
    return _LINE_END.split(text)


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """``Did you mean ...?`` with the nearest known word, or else the list of all of them."""
    names = sorted(known)
    by_letters = {name.lower(): name for name in names}
    close = difflib.get_close_matches(word.lower(), by_letters, n=1, cutoff=0.6)
    return f"Did you mean {by_letters[close[0]]}?" if close else f"Known here: {', '.join(names)}."


@dataclass(frozen=True)
class References:
    """Files that another file names.

    Parameters
    ----------
    folder : where the naming file lies; its references start from there.
    files : where a reference lies instead, when it was moved.
    found : the references asked for so far and the path of each; filled by `find`.
    """

    folder: Path
    files: Mapping[str, Path]
    found: dict[str, Path] = field(default_factory=dict)

    def find(self, reference: str) -> Path:
        """The path of a file named by reference.

        Raises
        ------
        BadInput : there is no such file. It has no place; the naming file's reader adds that.
        """
        path = Path(self.files.get(reference, self.folder / reference))
        try:
            missing = not path.exists()
        except (OSError, ValueError):
            missing = True
        if missing:
            raise BadInput(f"there is no file {reference[:100]}", self._advice(path), value=reference)
        self.found[reference] = path
        return path

    def _advice(self, path: Path) -> str:
        try:
            names = [entry.name for entry in path.parent.iterdir()]
        except (OSError, ValueError):
            names = []
        stems = {Path(name).stem: name for name in names if Path(name).suffix == path.suffix}  # .csv alone is not alike
        close = [
            *(stems[stem] for stem in difflib.get_close_matches(path.stem, stems, n=1, cutoff=0.6)),
            *difflib.get_close_matches(path.name, names, n=1, cutoff=0.8),
        ]
        return f"Did you mean {close[0]}?" if close else "Put it beside the file that names it, or correct the name."
