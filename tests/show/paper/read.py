"""What a printed page holds, read back: its words, where each letter stands, and how large it is."""

from __future__ import annotations

import ctypes
import re
from collections.abc import Iterator
from dataclasses import dataclass

import pypdfium2
import pypdfium2.raw as pdfium

_HYPHEN = re.compile("[\u0002\ufffe]\\s*")
"""How the reader gives a hyphen at the end of a line."""


@dataclass(frozen=True)
class Letter:
    """One letter of a page: its box in points from the left and the bottom, and its size."""

    page: int
    text: str
    left: float
    bottom: float
    right: float
    top: float
    size_pt: float


@dataclass(frozen=True)
class Page:
    """One page: its size in points, its words with single blanks, and all its letters."""

    width: float
    height: float
    words: str
    letters: tuple[Letter, ...]

    def sizes_of(self, words: str) -> set[float]:
        """Sizes in which words stand on the page, blanks apart."""
        whole = "".join(letter.text for letter in self.letters)
        sought = "".join(words.split())
        at = whole.find(sought)
        assert at >= 0, f"{words} is not on the page"
        return {letter.size_pt for letter in self.letters[at : at + len(sought)]}


def read_back(pdf: bytes) -> list[Page]:
    """All pages of a PDF."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [_page(document[number], number) for number in range(len(document))]
    finally:
        document.close()


def _page(page: pypdfium2.PdfPage, number: int) -> Page:
    text = page.get_textpage()
    words = " ".join(_HYPHEN.sub("-", text.get_text_bounded().replace("\u200b", "")).split())
    return Page(*page.get_size(), words, tuple(_letters(text, number)))


def _letters(text: pypdfium2.PdfTextPage, page: int) -> Iterator[Letter]:
    matrix = pdfium.FS_MATRIX()
    for index in range(text.count_chars()):
        shown = _HYPHEN.sub("-", chr(pdfium.FPDFText_GetUnicode(text, index)))
        if shown.strip("\u200b \u00a0\r\n"):
            pdfium.FPDFText_GetMatrix(text, index, ctypes.byref(matrix))
            size_pt = pdfium.FPDFText_GetFontSize(text, index) * abs(matrix.d)
            yield Letter(page, shown, *text.get_charbox(index), size_pt)


def moulds_named(words: str) -> set[str]:
    """Moulds and bases in names said together: ``gang-4/01-03`` are three."""
    found = re.findall(r"([\w-]+/b?)(\d\d)(?:-(\d\d))?", words)
    return {f"{stem}{n:02d}" for stem, first, last in found for n in range(int(first), int(last or first) + 1)}
