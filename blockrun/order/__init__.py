"""What is to be built: lists, walls and domes, by part, course and mark; and, apart, which mould can cast a block.

Everything is imported when it is first used: who asks for a mix waits for no wall.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any, Final

if TYPE_CHECKING:
    from blockrun.order.domes import DomePart
    from blockrun.order.lines import OrderLine, spares, takeoff
    from blockrun.order.lists import BlockList, ListRow
    from blockrun.order.load import digest_order, load_order, order_schema
    from blockrun.order.mixes import MixSpec
    from blockrun.order.model import ListPart, Order
    from blockrun.order.need import Need
    from blockrun.order.walls import WallPart

__all__ = [
    "BlockList",
    "DomePart",
    "ListPart",
    "ListRow",
    "MixSpec",
    "Need",
    "Order",
    "OrderLine",
    "WallPart",
    "digest_order",
    "load_order",
    "order_schema",
    "spares",
    "takeoff",
]

_HOMES: Final = {
    "BlockList": "lists",
    "DomePart": "domes",
    "ListPart": "model",
    "ListRow": "lists",
    "MixSpec": "mixes",
    "Need": "need",
    "Order": "model",
    "OrderLine": "lines",
    "WallPart": "walls",
    "digest_order": "load",
    "load_order": "load",
    "order_schema": "load",
    "spares": "lines",
    "takeoff": "lines",
}


def __getattr__(name: str) -> Any:
    if name not in _HOMES:
        raise AttributeError(name)
    return getattr(importlib.import_module(f"blockrun.order.{_HOMES[name]}"), name)
