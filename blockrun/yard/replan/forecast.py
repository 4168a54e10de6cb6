"""A site with a newer forecast: named first among its weather files, so that it counts wherever it has a day."""

from __future__ import annotations

from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Final

from blockrun.errors import BadInput
from blockrun.files.text import read_text
from blockrun.files.yaml import read_yaml

if TYPE_CHECKING:
    from blockrun.files.yaml import Document

_QUOTES: Final = "'\""
_SITE: Final = "site.yaml"


def with_forecast(files: dict[str, Path], forecast: Path, day: date, folder: Path) -> dict[str, Path]:
    """Files of a site with one more, by the names they have in it; the site itself under no name.

    Parameters
    ----------
    files : of the site, likewise.
    forecast : the newer one; days that it does not have come from the others.
    day : names it.
    folder : for the site with one more name in it.

    Raises
    ------
    BadInput : the forecast is not there, or the site names its weather in a way that takes no further name.
    """
    if not forecast.is_file():
        raise BadInput("there is no such file", "Name the forecast as it is now.", file=forecast, name="--weather")
    name = f"forecast-{day}{forecast.suffix}"
    site = folder / _SITE
    site.write_text(_named_first(files[""], name), encoding="utf-8", newline="")
    return {**files, "": site, name: forecast}


def _named_first(path: Path, name: str) -> str:
    """The text of a site file with one more weather file, before the others."""
    text, document = read_text(path), read_yaml(path)
    several = isinstance(document.data.get("weather"), list)
    begin, end = _with_quotes(text, document, ("weather", 0) if several else ("weather",))
    if not several:
        return f"{text[:begin]}[{name}, {text[begin:end]}]{text[end:]}"
    line = text[text.rfind("\n", 0, begin) + 1 : begin]
    between = f"\n{line}" if line.strip() == "-" else ", "
    return f"{text[:begin]}{name}{between}{text[begin:]}"


def _with_quotes(text: str, document: Document, where: tuple[str | int, ...]) -> tuple[int, int]:
    begin, end = document.span(where)
    quoted = begin > 0 and text[begin - 1] in _QUOTES and text[begin - 1] == text[end : end + 1]
    return (begin - 1, end + 1) if quoted else (begin, end)
