"""Pictures as pages: one that is as large as a page may hold prints in its own size, as its scale says."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pypdfium2
import pytest

from blockrun.show.cautions import SHORT
from blockrun.show.paper.press import Picture, Sheet, print_sheets
from blockrun.show.paper.size import Paper
from blockrun.show.pictures.paper import HEIGHT_MM, WIDTH_MM
from tests.show.paper.conftest import HEAD

PX_A_MM = 8


@pytest.mark.parametrize("paper", list(Paper))
def test_the_tallest_picture_of_a_wall_prints_in_its_own_size(paper: Paper) -> None:
    """A grey field as wide and high as any picture of a wall may be, measured on the printed page."""
    field = f'<rect width="{WIDTH_MM}" height="{HEIGHT_MM}" fill="#ccc"/>'
    box = f'width="{WIDTH_MM}mm" height="{HEIGHT_MM}mm" viewBox="0 0 {WIDTH_MM} {HEIGHT_MM}"'
    svg = f'<svg xmlns="http://www.w3.org/2000/svg" {box}>{field}</svg>'
    sheet = Sheet("picture", {"title": "Wall north", "svg": Picture(svg), "sideways": True, "cautions": SHORT})
    document = pypdfium2.PdfDocument(print_sheets(replace(HEAD, paper=paper), [sheet]))
    (page,) = document
    grey = np.asarray(page.render(scale=PX_A_MM * 25.4 / 72, grayscale=True).to_pil()) == 0xCC
    document.close()
    wide, high = grey.sum(axis=1).max() / PX_A_MM, grey.sum(axis=0).max() / PX_A_MM
    assert (wide, high) == pytest.approx((WIDTH_MM, HEIGHT_MM), abs=0.3)
