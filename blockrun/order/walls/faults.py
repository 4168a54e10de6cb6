"""A fault of a wall, at its place in the file."""

from __future__ import annotations

from blockrun.errors import BadInput

Within = tuple[str | int, ...]
"""Keys and indexes from the wall to the mapping that holds the key that is wrong."""


def fault_at(within: Within, key: str, what: str, todo: str) -> BadInput:
    """What is wrong with the value of a key, and what to write instead."""
    fault = BadInput(what, todo, name=key)
    fault.within = within
    return fault
