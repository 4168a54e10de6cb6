"""What is to be built: lists, walls and domes, by part, course and mark; and, apart, which mould can cast a block."""

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
