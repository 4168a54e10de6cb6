"""The press: sheets of plain data, each set by its template, become one PDF that screen readers can read, too."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any, Final

from blockrun.errors import BadInput
from blockrun.files.day_names import MONTHS
from blockrun.show.page import GLUE, fractions_whole
from blockrun.show.paper.size import Paper
from blockrun.show.site_words import as_the_site_writes

_HERE: Final = Path(__file__).parent
_FONTS: Final = _HERE / "fonts"
_BASE: Final = "base.typ"
_LONG: Final = re.compile(r"[^ \n]{31,}")
_NO_FIGURE: Final = re.compile(rf"(?<!\d){GLUE}(?!\d)")
"""What is glued, but for a figure and what it is of or is the number of: ``2 plinth``, ``400 mm``, ``cavity 3``."""
_MONTH: Final = f"(?:{'|'.join(MONTHS)})"
_IN_A_DATE: Final = re.compile(rf"(?<=\d) (?={_MONTH}\b)|(?<=\b{_MONTH}) (?=\d{{1,2}}\b)")
"""Between a day and its month, whichever comes first."""
_LONG_WORD: Final = re.compile(r"[^ \u00a0\n-]{25,}")
_MAY_BREAK: Final = "\u200b"
_NO_GLYPH: Final = re.compile(r'the text `"(.+?)"` could not be displayed')


class Picture(str):
    """Text of a picture, in SVG: a template gets it letter by letter as it is."""

    __slots__ = ()


@dataclass(frozen=True)
class Sheet:
    """One sheet, of a page or more.

    Attributes
    ----------
    template : name of the template, a file ``NAME.typ`` beside this module with a function ``sheet(head, data)``.
    data : what it is given: mappings, sequences, text and numbers, as JSON has them. Nothing needs escaping.
    """

    template: str
    data: Mapping[str, Any]


@dataclass(frozen=True)
class Head:
    """What stands on every page.

    Attributes
    ----------
    title : of the whole document.
    site, order : names.
    plan : which one it is, in words: ``plan 3 of Fri 9 Apr 2027, 18:53, in place of plan 2``; may be empty.
    paper : its size.
    units : ``SI`` or ``US``: how dates, degrees and thousands are written.
    """

    title: str
    site: str
    order: str
    plan: str
    paper: Paper
    units: str = "SI"


def print_sheets(head: Head, sheets: Sequence[Sheet]) -> bytes:
    """Set sheets one after another.

    Parameters
    ----------
    sheets : in the order in which they are printed, at least one.

    Returns
    -------
    A PDF by PDF/UA-1; equal sheets give equal bytes.

    Raises
    ------
    BadInput : a name has letters that no font of this machine has.
    """
    files = _files(head, sheets)
    try:
        return _compiled(files, ours_only=True)
    except _NoGlyph:
        pass
    try:  # letters our fonts lack, in a name: the machine's own may have them
        return _compiled(files, ours_only=False)
    except _NoGlyph as missing:
        what = f"no font of this machine has the letters {' '.join(missing.letters)}"
        raise BadInput(what, "Install a font that has them, or write the name in other letters.") from None


def told_by(head: Head, sheets: Sequence[Sheet], mark: str) -> list[Any]:
    """What templates tell of how they have set sheets: their metadata of a mark, in the order of the pages.

    Right after these sheets are printed it takes next to no time: what is set is kept.
    """
    import typst

    told = typst.query(  # type: ignore[misc] # its stub leaves out mappings
        _files(head, sheets), f"<{mark}>", field="value", font_paths=[_FONTS], ignore_system_fonts=True
    )
    return list(json.loads(told))


class _NoGlyph(Exception):  # noqa: N818 - nobody sees it
    def __init__(self, letters: Sequence[str]) -> None:
        self.letters = letters


def _files(head: Head, sheets: Sequence[Sheet]) -> dict[str, bytes]:
    """All that the typesetter reads, by the names it knows them by."""
    templates = sorted({sheet.template for sheet in sheets})
    data = _written({"head": asdict(head), "sheets": [asdict(sheet) for sheet in sheets]}, head.units)
    return {
        "main": _main(templates).encode(),
        "data.json": json.dumps(data, ensure_ascii=False, allow_nan=False).encode(),
        **{name: (_HERE / name).read_bytes() for name in (_BASE, *(f"{template}.typ" for template in templates))},
    }


def _written(data: Any, units: str) -> Any:
    """All text as the site writes it; names longer than a box is wide go on in the next line, so nothing is cut off."""
    if isinstance(data, Picture):
        return data
    if isinstance(data, str):
        parted = _LONG.sub(
            lambda glued: _NO_FIGURE.sub(" ", glued[0]), fractions_whole(as_the_site_writes(data, units))
        )
        return _LONG_WORD.sub(lambda word: _MAY_BREAK.join(word[0]), _IN_A_DATE.sub(GLUE, parted))
    if isinstance(data, Mapping):
        return {key: _written(value, units) for key, value in data.items()}
    if isinstance(data, Sequence):
        return [_written(value, units) for value in data]
    return data


def _main(templates: Sequence[str]) -> str:
    """Open each template once, and set one sheet after another."""
    imports = "\n".join(f'#import "{template}.typ" as {template}' for template in templates)
    by_name = ", ".join(f'"{template}": {template}.sheet' for template in templates)
    return f"""#import "{_BASE}": document-of
{imports}
#let by-name = ({by_name},)
#let all = json("data.json")
#show: document-of.with(all.head)
#for one in all.sheets {{ (by-name.at(one.template))(all.head, one.data) }}
"""


def _compiled(files: dict[str, bytes], *, ours_only: bool) -> bytes:
    import typst  # takes a moment to load

    try:
        pdf, warnings = typst.compile_with_warnings(  # type: ignore[call-overload] # its stub leaves out mappings
            files,
            format="pdf",
            font_paths=[_FONTS],
            ignore_system_fonts=ours_only,
            pdf_standards="ua-1",
        )
    except typst.TypstError as fault:
        if letters := _NO_GLYPH.findall(fault.diagnostic):
            raise _NoGlyph(sorted(set(letters))) from None
        raise
    if warnings:
        raise RuntimeError("\n".join(warning.diagnostic for warning in warnings))
    assert isinstance(pdf, bytes)
    return pdf
