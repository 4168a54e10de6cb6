"""Domes: from an order's few sizes to every block, ring by ring.

`part` is what the file says and `refuse` what it cannot say; `layout` lays all of it, and `rings` has what is to be
known of a course made up. The section is cut into courses (`courses`, on the curves of `profile`; `frame` is one of
them in it). `settings` finds for each course the blocks that its lean asks for and the moulds can cast: of the `ways`
there are, by `inserts` of the moulds or by `tapers` of its own, as far as they go round (`wedge`), with some
`shorter` ones; neighbours end up `sharing` one. Rings are turned so that their joints stand clear of one another
(`stagger`) and cut by doors and windows (`openings`, `pieces`), on the developed view (`develop`) by half-planes
(`clip`); `faces` tells the true size of what is left, `notes`, `cautions` and `stem` say what a builder must know, of
courses named as in `said`.
"""

from blockrun.order.domes.inserts import Inserts
from blockrun.order.domes.layout import DomeLayout, Section, lay_dome
from blockrun.order.domes.part import DomeOpening, DomePart
from blockrun.order.domes.rings import Ring
from blockrun.order.domes.ways import Setting, Way

__all__ = ["DomeLayout", "DomeOpening", "DomePart", "Inserts", "Ring", "Section", "Setting", "Way", "lay_dome"]
