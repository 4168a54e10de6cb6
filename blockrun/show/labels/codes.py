"""The code on a label: the line of text as small squares."""

from __future__ import annotations

from typing import Final

import segno

from blockrun.show.paper.press import Picture

QUIET: Final = 4
"""Squares that are left white round a code (ISO/IEC 18004)."""
_MASK: Final = 3
"""Readers know all eight patterns laid over a code; to try which looks best takes longer than all the rest."""


def code_picture(line: str) -> tuple[Picture, int]:
    """A code as SVG, and how many squares it is wide with the white round it.

    Parameters
    ----------
    line : ASCII. Up to a seventh of the squares may be unreadable (error correction M): labels get splashed.
    """
    code = segno.make_qr(line, error="m", boost_error=False, mask=_MASK)
    return Picture(code.svg_inline(border=QUIET)), len(code.matrix) + 2 * QUIET
