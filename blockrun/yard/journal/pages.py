"""Rows read from the bare pages of a SQLite file, for when no database opens it any more.

A table's rows lie on its leaf pages, each page with a list of where its rows begin; none of it needs the pages above.
So whatever leaf pages are left give their rows, and what is torn gives nothing or nonsense, which the caller can tell.
From the published file format of SQLite (sqlite.org/fileformat2.html), sections 1.3, 1.6 and 2.1.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Final

MAGIC: Final = b"SQLite format 3\x00"
USUAL_PAGE: Final = 4096
LEAF_OF_A_TABLE: Final = 13
HEADER_OF_FILE: Final = 100
HEADER_OF_LEAF: Final = 8
LONGEST_VARINT: Final = 9
NULL: Final = 0
WHOLE_BYTES: Final = {1: 1, 2: 2, 3: 3, 4: 4, 5: 6, 6: 8}
"""Bytes of the kinds of whole number."""

TEXT: Final = 13
"""Odd kinds from here on are text of (kind - 13) / 2 bytes."""

Value = int | str | None


def rows_in(content: bytes) -> Iterator[tuple[int, list[Value]]]:
    """All rows of all tables that can be made out.

    Parameters
    ----------
    content : of the file, or of what is left of it.

    Yields
    ------
    The number of a row and its values, those of a column that is the number as ``None``; rows of other than whole
    numbers and text are left out. Some may be nonsense.
    """
    pages = _Pages(content)
    for number in range(len(pages)):
        for cell in pages.cells(number):
            try:
                yield pages.row(number, cell)
            except (IndexError, ValueError):
                continue


class _Pages:
    def __init__(self, content: bytes) -> None:
        self.content = content
        whole = content.startswith(MAGIC) and len(content) >= HEADER_OF_FILE
        size = int.from_bytes(content[16:18], "big") if whole else USUAL_PAGE
        self.size = 65536 if size == 1 else size if size >= 512 else USUAL_PAGE
        self.usable = self.size - (content[20] if whole else 0)

    def __len__(self) -> int:
        return -(-len(self.content) // self.size)

    def page(self, number: int) -> bytes:
        """Bytes of a page, counted from nought; the last one may be cut short."""
        return self.content[number * self.size : (number + 1) * self.size]

    def cells(self, number: int) -> list[int]:
        """Where the rows of a page begin, if it is a leaf of a table."""
        page, header = self.page(number), HEADER_OF_FILE if number == 0 else 0
        if len(page) < header + HEADER_OF_LEAF or page[header] != LEAF_OF_A_TABLE:
            return []
        n_cells, first = int.from_bytes(page[header + 3 : header + 5], "big"), header + HEADER_OF_LEAF
        return [int.from_bytes(page[at : at + 2], "big") for at in range(first, first + 2 * n_cells, 2)]

    def row(self, number: int, cell: int) -> tuple[int, list[Value]]:
        """The row that begins at a place of a page."""
        page = self.page(number)
        n_bytes, at = _varint(page, cell)
        key, at = _varint(page, at)
        return key, list(_values(self._payload(page, at, n_bytes)))

    def _payload(self, page: bytes, at: int, n_bytes: int) -> bytes:
        """The bytes of a row; of a long one the rest lies on pages of its own, each with the number of the next."""
        most = self.usable - 35
        if n_bytes <= most:
            return _exactly(page, at, n_bytes)
        least = (self.usable - 12) * 32 // 255 - 23
        here = least + (n_bytes - least) % (self.usable - 4)
        here = here if here <= most else least
        parts, left = [_exactly(page, at, here)], n_bytes - here
        follows = int.from_bytes(_exactly(page, at + here, 4), "big")
        while left > 0:
            if not 0 < follows <= len(self) or len(parts) > len(self):
                raise ValueError("the rest of the row is gone")
            page = self.page(follows - 1)
            follows = int.from_bytes(_exactly(page, 0, 4), "big")
            parts.append(_exactly(page, 4, min(left, self.usable - 4)))
            left -= len(parts[-1])
        return b"".join(parts)


def _values(payload: bytes) -> Iterator[Value]:
    size, at = _varint(payload, 0)
    kinds = []
    while at < size:
        kind, at = _varint(payload, at)
        kinds.append(kind)
    for kind in kinds:
        n_bytes = WHOLE_BYTES.get(kind, (kind - TEXT) // 2 if kind >= TEXT and kind % 2 else 0)
        found = _exactly(payload, at, n_bytes)
        at += n_bytes
        yield _value(kind, found)


def _value(kind: int, found: bytes) -> Value:
    if kind == NULL:
        return None
    if kind in WHOLE_BYTES:
        return int.from_bytes(found, "big", signed=True)
    if kind in {8, 9}:
        return kind - 8
    if kind >= TEXT and kind % 2:
        return found.decode()
    raise ValueError("neither a whole number nor text")


def _varint(content: bytes, at: int) -> tuple[int, int]:
    """A number of one to nine bytes, seven bits in each but the ninth, and where it ends."""
    value = 0
    for n_bytes in range(1, LONGEST_VARINT):
        byte = content[at + n_bytes - 1]
        value = value << 7 | byte & 0x7F
        if byte < 0x80:
            return value, at + n_bytes
    return value << 8 | content[at + LONGEST_VARINT - 1], at + LONGEST_VARINT


def _exactly(content: bytes, at: int, n_bytes: int) -> bytes:
    found = content[at : at + n_bytes]
    if len(found) != n_bytes:
        raise ValueError("cut short")
    return found
