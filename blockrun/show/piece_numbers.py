"""Numbers of the sawn pieces of a dome: by them its pictures, the take-off and a pencil on each tell them apart."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

Sawn = tuple[str, str]
"""The mark of a block that is cast, and what is sawn off it, in words; of two alike in both either will do."""


def piece_numbers(pieces: Iterable[tuple[int, str, str]]) -> Mapping[Sawn, str]:
    """``x1``, ``x2`` and so on for each way that blocks of a dome are sawn, from the bottom course up.

    Parameters
    ----------
    pieces : course, mark and cut of its blocks in any order; those without a cut get no number.
    """
    sawn = dict.fromkeys((mark, cut) for _, mark, cut in sorted(pieces) if cut)
    return {one: f"x{number}" for number, one in enumerate(sawn, start=1)}
