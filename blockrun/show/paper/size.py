"""Sizes of paper, in a file of their own: the command line asks for them before anything is set."""

from __future__ import annotations

from enum import StrEnum


class Paper(StrEnum):
    """Sizes of paper, by what ``--paper`` calls them."""

    A4 = "a4"
    LETTER = "letter"
