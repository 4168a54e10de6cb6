"""A fault of a site or an order at its place in the file that it was read from."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, Protocol, TypeVar

from blockrun.errors import BadInput, BlockrunError, OutOfRange
from blockrun.files.yaml import read_yaml

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from blockrun.site import Site

Fault = TypeVar("Fault", bound=BlockrunError)


class HasSources(Protocol):
    """A site, an order, or the mixes of one: what was read from a file."""

    @property
    def sources(self) -> Mapping[str, Path]: ...  # noqa: D102


@contextmanager
def aged_in(site: Site) -> Iterator[None]:
    """Place an age that is never reached at what asks for it: the datum under which nothing sets, or the strip."""
    try:
        yield
    except OutOfRange as fault:
        if fault.name != "days":
            raise
        raise at(site, fault, "curing", "strip_at" if site.curing.datum_c is None else "datum") from None


def at(source: HasSources, fault: Fault, *where: str | tuple[str, str], at_key: bool = False) -> Fault:
    """The fault with its place in the file of the site or the order, where it was read from one.

    Parameters
    ----------
    where : keys down to the value; (key, value) for the item of a list that has it.
    at_key : point at the key, not at its value.
    """
    path = source.sources.get("")
    return fault if path is None else read_yaml(path).place(fault, where, at_key=at_key)


def of_cubes(site: Site, fault: BlockrunError) -> BadInput | None:
    """What is wrong with the cubes themselves, where the site names them."""
    return at(site, said_again(fault), "curing", "cubes") if fault.name == "cubes" else None


def said_again(fault: BlockrunError) -> BadInput:
    """The same fault as one of a file, without a place."""
    return BadInput(fault.what, fault.todo, name=fault.name, value=fault.value, limit=fault.limit)
