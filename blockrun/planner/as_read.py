"""The files of a site and an order as they were read: a plan is saved with these, whatever becomes of the files."""

from __future__ import annotations

import contextlib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Self


@dataclass(frozen=True)
class AsRead:
    """What files held when they were read.

    Attributes
    ----------
    contents : by file; one that could not be read again is not among them.
    """

    contents: Mapping[Path, bytes]

    @classmethod
    def of(cls, *sources: Mapping[str, Path]) -> Self:
        """Take copies, as soon as all is read.

        Parameters
        ----------
        sources : of a site, an order: where their files lie.
        """
        found: dict[Path, bytes] = {}
        for path in (path for files in sources for path in files.values()):
            with contextlib.suppress(OSError):
                found[path] = path.read_bytes()
        return cls(found)

    def read(self, path: Path) -> bytes:
        """What a file held.

        Raises
        ------
        OSError : it is none of these, and cannot be read.
        """
        return self.contents[path] if path in self.contents else path.read_bytes()

    def changed(self) -> list[Path]:
        """Files that are gone by now, or hold something else."""
        return [path for path, content in self.contents.items() if _content(path) != content]


def _content(path: Path) -> bytes | None:
    try:
        return path.read_bytes()
    except OSError:
        return None
