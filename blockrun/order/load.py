"""From an order file to an order."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from os import PathLike
from pathlib import Path
from typing import Any

from blockrun.errors import BadInput
from blockrun.files.digests import digest
from blockrun.files.models import read_model, refuse_other
from blockrun.files.text import References
from blockrun.files.yaml import read_yaml
from blockrun.order.checks import find_faults
from blockrun.order.lines import OrderLine
from blockrun.order.model import Order, OrderFile
from blockrun.site.file_model import in_order


def load_order(path: str | PathLike[str], *, files: Mapping[str, Path] | None = None) -> Order:
    """Read an order file, and the block lists and drawings it names.

    Parameters
    ----------
    path : the YAML file.
    files : where a file it names lies, when that is not beside it; by the name written in the YAML.

    Raises
    ------
    BadInput : with every fault found, each at its place.
    """
    document = read_yaml(Path(path))
    refuse_other(document, due="order", other="site")
    references = References(document.path.parent, files or {})
    written = read_model(OrderFile, document, references)
    faults = list(find_faults(written, document))
    if faults:
        raise BadInput.of(faults)
    order = in_order(written.order())
    order._sources.update({"": document.path, **references.found})
    return order


def digest_order(order: Order, lines: Iterable[OrderLine]) -> str:
    """SHA-256 of what an order and its lines say; the same for the same content in any order of rows or spacing."""
    return digest(
        {
            "order": order.name,
            "mixes": order.mixes,
            "spares": order.spares,
            "further_spares": order.further_spares,
            "lines": list(lines),
        }
    )


def order_schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of an order file, for editors."""
    schema = OrderFile.model_json_schema(by_alias=True)
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema, "title": "blockrun order"}
