"""Minutes of a day as bits of a whole number, the first at bit 0: where a task fits is found in a few shifts."""

from __future__ import annotations


def span(start: int, end: int) -> int:
    """Bits of the minutes from ``start`` up to, but not, ``end``."""
    return (1 << end) - (1 << start) if end > start else 0


def starts(free: int, length: int) -> int:
    """Minutes from which so many, one after the other, are free."""
    have = 1
    while have < length:
        more = min(have, length - have)
        free &= free >> more
        have += more
    return free


def first(minutes: int, at: int) -> int | None:
    """First of these minutes at or after ``at``; ``None`` without one."""
    at = max(at, 0)
    later = minutes >> at
    return at + (later & -later).bit_length() - 1 if later else None
