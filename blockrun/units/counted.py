"""A number of things."""

from __future__ import annotations


def counted(number: int, thing: str, things: str = "") -> str:
    """``1 block``, ``2 blocks``; a thing that ends in -ch takes -es, and ``things`` says any other plural."""
    if number == 1:
        return f"1 {thing}"
    return f"{number} {things or thing + ('es' if thing.endswith('ch') else 's')}"
