"""Domes: from an order's few sizes to every block, ring by ring.

The section is cut into courses (`courses`, on the curves of `profile`); each course gets the blocks that its lean asks
for and the moulds can cast (`wedge`, `settings`); rings are turned so that their joints stand clear of one another
(`stagger`) and cut by doors and windows (`openings`, `pieces`); `volume` adds up, `notes` and `stem` say what a builder
must know.
"""

from blockrun.order.domes.layout import DomeLayout, Section, lay_dome
from blockrun.order.domes.part import DomeOpening, DomePart
from blockrun.order.domes.rings import Ring
from blockrun.order.domes.settings import Inserts, Setting, Way
from blockrun.order.domes.wedge import Edges

__all__ = ["DomeLayout", "DomeOpening", "DomePart", "Edges", "Inserts", "Ring", "Section", "Setting", "Way", "lay_dome"]
