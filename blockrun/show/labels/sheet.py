"""A sheet of labels as its file describes it: a page with rows of labels that are all of one size."""

from __future__ import annotations

from collections.abc import Iterator
from os import PathLike
from pathlib import Path
from typing import Annotated, Final, NamedTuple, Self

from pydantic import Field, model_validator

from blockrun import units
from blockrun.errors import BadInput
from blockrun.files.models import read_model
from blockrun.files.text import References
from blockrun.files.yaml import read_yaml
from blockrun.order.said import system_of
from blockrun.site.fields import Flag, quantity, whole
from blockrun.site.file_model import FileModel

LEAST_WIDTH_MM: Final = 45.0
LEAST_HEIGHT_MM: Final = 18.0
"""Of a label: its code is scanned and its words are read at arm's length (our choice)."""
_EASE_MM: Final = 0.05
"""Sheets are told in tenths of a millimetre."""

_Page = Annotated[float, quantity("length", "210 mm", least=40, most=2000)]
_Gap = Annotated[float, quantity("length", "2.5 mm", least=0, most=200)]
_Count = Annotated[int, whole("a number of labels", "3", most=50)]


class LabelSheet(FileModel):
    """A page with labels side by side in rows."""

    page_width_mm: _Page = Field(description="Of the sheet, as it goes into the printer; a length")
    page_height_mm: _Page = Field(description="Of the sheet; a length")
    columns: _Count = Field(description="Labels side by side")
    rows: _Count = Field(description="Labels one under the other")
    label_width_mm: Annotated[float, quantity("length", "63.5 mm", least=LEAST_WIDTH_MM, most=2000)] = Field(
        description="Of one label; a length"
    )
    label_height_mm: Annotated[float, quantity("length", "34 mm", least=LEAST_HEIGHT_MM, most=2000)] = Field(
        description="Of one label; a length"
    )
    left_mm: _Gap = Field(description="From the left edge of the sheet to the first label; a length")
    top_mm: _Gap = Field(description="From the top edge of the sheet to the first label; a length")
    gap_across_mm: _Gap = Field(default=0.0, description="Between labels side by side; a length")
    gap_down_mm: _Gap = Field(default=0.0, description="Between labels one under the other; a length")
    outlines: Flag = Field(default=False, description="Print the edge of each label, for plain paper that is cut")

    @property
    def count(self) -> int:
        """Labels of one sheet."""
        return self.columns * self.rows

    def places_mm(self) -> Iterator[tuple[float, float]]:
        """The upper left corner of each label on the page, row by row."""
        for number in range(self.count):
            row, column = divmod(number, self.columns)
            across, down = self.label_width_mm + self.gap_across_mm, self.label_height_mm + self.gap_down_mm
            yield self.left_mm + column * across, self.top_mm + row * down

    @model_validator(mode="after")
    def _fits(self) -> Self:
        faults = [fault for way in (_ACROSS, _DOWN) for fault in _too_much(self, way)]
        if faults:
            raise BadInput.of(faults)
        return self


class _Way(NamedTuple):
    """The keys of one direction, and the word for how long the page is in it."""

    how_many: str
    label: str
    edge: str
    gap: str
    page: str
    word: str


_ACROSS: Final = _Way("columns", "label_width", "left", "gap_across", "page_width", "wide")
_DOWN: Final = _Way("rows", "label_height", "top", "gap_down", "page_height", "high")


def _too_much(sheet: LabelSheet, way: _Way) -> Iterator[BadInput]:
    """Why so many labels do not fit the page in one direction, if they do not."""
    count: int = getattr(sheet, way.how_many)
    label, edge, gap, page = (getattr(sheet, f"{key}_mm") for key in (way.label, way.edge, way.gap, way.page))
    need = edge + count * label + (count - 1) * gap
    if need <= page + _EASE_MM:
        return
    fits = int((page - edge + gap + _EASE_MM) // (label + gap))
    system = system_of(label, edge, gap, page)
    wide, before, between, taken, there = (units.show(mm, "length", system) for mm in (label, edge, gap, need, page))
    what = (
        f"{units.counted(count, 'label')} of {wide} with {way.edge}: {before} and {way.gap}: {between}"
        f" {'takes' if count == 1 else 'take'} {taken}, and"
        f" the page is {there} {way.word}"
    )
    todo = f"Measure {way.label}, {way.edge}, {way.gap} and {way.page} again"
    todo = f"{todo}, or write {way.how_many}: {fits}." if fits > 0 else f"{todo}."
    yield BadInput(what, todo, name=way.how_many, value=count, limit=fits)


def load_label_sheet(path: str | PathLike[str]) -> LabelSheet:
    """Read the file that describes a sheet of labels.

    Raises
    ------
    BadInput : with every fault found, each at its place; or the labels do not fit the page.
    """
    document = read_yaml(Path(path))
    return read_model(LabelSheet, document, References(document.path.parent, {}))
