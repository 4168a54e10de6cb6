"""Domes: from an order's few sizes to every block, ring by ring.

The section is cut into courses (`courses`, on the curves of `profile`). `settings` finds for each course the blocks
that its lean asks for and the moulds can cast: of the `ways` there are, by `inserts` of the moulds or by `tapers` of
its own, as far as they go round (`wedge`); neighbours end up `sharing` one. Rings are turned so that their joints stand
clear of one another (`stagger`) and cut by doors and windows (`openings`, `pieces`); `faces` tells the true size of
what is left, `volume` adds up, `notes` and `stem` say what a builder must know.
"""

from blockrun.order.domes.inserts import Inserts
from blockrun.order.domes.layout import DomeLayout, Section, lay_dome
from blockrun.order.domes.part import DomeOpening, DomePart
from blockrun.order.domes.rings import Ring
from blockrun.order.domes.ways import Setting, Way

__all__ = ["DomeLayout", "DomeOpening", "DomePart", "Inserts", "Ring", "Section", "Setting", "Way", "lay_dome"]
