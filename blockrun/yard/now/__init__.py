"""What the events of the journal add up to: where every block is, by replay of all that counts.

::

    piles.py       blocks in one place, the oldest first out
    state.py       the places, and what is known of moulds, air and thumbs
    wanted.py      blocks of which batches an event takes first
    replay.py      one event after the other, each a step from one state to the next

No block is made or lost on the way: what was cast, and what was found when somebody counted, is in a mould, out of
one, on a rack, stacked, laid, broken, rejected, or missing since a count. An event that asks for more than is there
moves what is there, and the rest is a clash, told with the entry.
"""

from blockrun.yard.now.piles import UNKNOWN, BatchNo, Kind, Lot, Pile, Pour
from blockrun.yard.now.replay import state_of
from blockrun.yard.now.state import Clash, Filled, Standing, State

__all__ = ["UNKNOWN", "BatchNo", "Clash", "Filled", "Kind", "Lot", "Pile", "Pour", "Standing", "State", "state_of"]
