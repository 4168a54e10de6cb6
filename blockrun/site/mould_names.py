"""Names of single moulds and bases: ``gang-4/03`` is mould 3 of its kind, ``tray-3/b07`` base 7."""

from __future__ import annotations


def mould_name(kind: str, number: int) -> str:
    """The name of a mould of a kind, of the sides alone where it has bases."""
    return f"{kind}/{number:02d}"


def base_name(kind: str, number: int) -> str:
    """The name of a base of a kind."""
    return f"{kind}/b{number:02d}"


def kind_named(name: str) -> str:
    """The kind in the name of a mould or a base."""
    return name.rsplit("/", 1)[0]


def number_named(name: str) -> int:
    """The number in the name of a mould or a base."""
    return int(name.rsplit("/", 1)[1].removeprefix("b"))
