"""Pictures of a dome: its developed view, its section, and its table, each an SVG page for A4 or Letter."""

from blockrun.show.pictures.dome_developed import developed_view
from blockrun.show.pictures.dome_section import section_view
from blockrun.show.pictures.dome_table import dome_table

__all__ = ["developed_view", "dome_table", "section_view"]
