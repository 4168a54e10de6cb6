"""A fault of a site or an order at its place in the file that it was read from."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, TypeVar

from blockrun.errors import BlockrunError, OutOfRange
from blockrun.files.yaml import read_yaml

if TYPE_CHECKING:
    from blockrun.order import Order
    from blockrun.site import Site

Fault = TypeVar("Fault", bound=BlockrunError)


@contextmanager
def aged_in(site: Site) -> Iterator[None]:
    """Place an age that is never reached at what asks for it: the datum under which nothing sets, or the strip."""
    try:
        yield
    except OutOfRange as fault:
        if fault.name != "days":
            raise
        raise at(site, fault, "curing", "strip_at" if site.curing.datum_c is None else "datum") from None


def at(source: Site | Order, fault: Fault, *where: str | tuple[str, str], at_key: bool = False) -> Fault:
    """The fault with its place in the file of the site or the order, where it was read from one.

    Parameters
    ----------
    where : keys down to the value; (key, value) for the item of a list that has it.
    at_key : point at the key, not at its value.
    """
    path = source.sources.get("")
    return fault if path is None else read_yaml(path).place(fault, where, at_key=at_key)
