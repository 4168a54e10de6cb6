from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pypdfium2
import pytest

from blockrun.show.paper.press import Head, Sheet, print_sheets
from blockrun.show.paper.size import Paper

PLAN = "plan 3 of Mon 5 Apr 2027, 06:10, in place of plan 2"
HEAD = Head("Tool store on paper", "Heron Field yard", "Tool store", PLAN, Paper.A4)

Pages = list[str]
Printed = Callable[..., Pages]


def read_pages(pdf: bytes) -> Pages:
    """Text of each page, as a reader of PDF files finds it, lines joined by blanks."""
    document = pypdfium2.PdfDocument(pdf)
    try:
        return [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]
    finally:
        document.close()


@pytest.fixture
def printed() -> Printed:
    """Print sheets, which fails on a warning and on anything that is not PDF/UA-1, and read them back."""

    def read_back(*sheets: Sheet, paper: Paper = Paper.A4) -> Pages:
        return read_pages(print_sheets(replace(HEAD, paper=paper), sheets))

    return read_back
