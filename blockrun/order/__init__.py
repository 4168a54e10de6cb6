"""What is to be built: lists of blocks, by part, course and mark."""

from blockrun.order.model import BlockList, ListPart, ListRow, MixSpec, Need, Order

__all__ = ["BlockList", "ListPart", "ListRow", "MixSpec", "Need", "Order"]
