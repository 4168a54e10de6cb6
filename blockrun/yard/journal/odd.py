"""What the database finds wrong with its own file, in words of the yard; its own words stand behind them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import Final

_HEADING: Final = re.compile(r"^\*\*\*.*\*\*\*$")
_PAGE: Final = re.compile(r"\b[Pp]age (\d+)")
_INDEX: Final = "index"


def odd_said(lines: Iterable[str]) -> Iterator[str]:
    """Sentences without a full stop: what is wrong with its pages, and with the index of its entries.

    Parameters
    ----------
    lines : of the database; some of several lines.
    """
    told = [line.strip() for some in lines for line in some.splitlines() if not _HEADING.match(line.strip())]
    index = [line for line in told if _INDEX in line]
    pages = [line for line in told if line not in index]
    if pages:
        found = sorted({int(page) for line in pages for page in _PAGE.findall(line)})
        where = f" on {'page' if len(found) == 1 else 'pages'} {', '.join(map(str, found))}" if found else ""
        yield f"the file was changed or torn{where} ({_raw(pages)})"
    if index:
        yield f"the list by which entries are looked up does not fit them, and is made anew with them ({_raw(index)})"


def _raw(lines: list[str]) -> str:
    more = f"; and {len(lines) - 1} more like it" if len(lines) > 1 else ""
    return f"in the words of the database: {lines[0].rstrip('.')}{more}"
